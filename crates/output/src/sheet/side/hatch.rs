//! Hatching: what is cut is filled with parallel narrow lines.

use layout::geometry::{Point, Vector, polygon};

use crate::drawing::{Layer, LineType, Stroke};
use crate::sheet::style::NARROW;

/// Distance of hatch lines, mm. Own choice: thin parts still get some, and wide ones do not go dark.
const PITCH: f64 = 2.0;

/// The lines that fill a polygon, rising to the right, or falling where parts meet: at 45° (ISO 128,
/// from memory).
pub(super) fn lines(corners: &[Point], rising: bool) -> Vec<Stroke> {
    let up = if rising { 1.0 } else { -1.0 };
    let along = Vector::new(1.0, up).normalize();
    let across = Vector::new(-along.y, along.x);
    // In axes across the lines and along them.
    let turned: Vec<Point> = corners
        .iter()
        .map(|at| Point::new(at.coords.dot(&across), at.coords.dot(&along)))
        .collect();
    let offs = turned.iter().map(|at| at.x);
    let (low, high) = offs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), off| {
        (low.min(off), high.max(off))
    });
    let mut strokes = Vec::new();
    let mut off = (low / PITCH).floor() * PITCH + PITCH;
    while off < high {
        for span in polygon::spans(&turned, off) {
            let [from, to] = span.map(|reach| Point::from(along * reach + across * off));
            strokes.push(Stroke::line(
                from,
                to,
                LineType::Continuous,
                NARROW,
                Layer::Hatch,
            ));
        }
        off += PITCH;
    }
    strokes
}
