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
    // In axes along the lines and across them.
    let turned: Vec<Point> = corners
        .iter()
        .map(|at| Point::new(at.coords.dot(&along), at.coords.dot(&across)))
        .collect();
    let offs = turned.iter().map(|at| at.y);
    let (low, high) = offs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), off| {
        (low.min(off), high.max(off))
    });
    let mut strokes = Vec::new();
    let mut off = (low / PITCH).floor() * PITCH + PITCH;
    while off < high {
        let mut ends: Vec<f64> = polygon::edges(&turned)
            .filter(|edge| (edge.start.y < off) != (edge.end.y < off))
            .map(|edge| {
                let share = (off - edge.start.y) / (edge.end.y - edge.start.y);
                edge.start.x + (edge.end.x - edge.start.x) * share
            })
            .collect();
        ends.sort_by(f64::total_cmp);
        for pair in ends.chunks_exact(2) {
            let [from, to] = [pair[0], pair[1]].map(|x| Point::from(along * x + across * off));
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
