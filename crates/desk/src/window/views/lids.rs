//! Lids and lugs, from the front and in the cut.

use egui::{Color32, Stroke};
use layout::LaidEye;
use layout::geometry::{Point, Vector};
use layout::lid::Which;
use layout::lug::Lug;

use super::ink::{BOLD, FINE, Ink};
use crate::window::state::Desk;

/// Steps in which an edge or an arc is drawn.
const STEPS: u32 = 48;

/// Draws lids and lugs of all eyes as the audience sees them.
pub(super) fn draw(ink: &Ink<'_>, desk: &Desk) {
    for (index, eye) in desk.laid().eyes.iter().enumerate() {
        if let Some(lids) = &eye.lids {
            for which in Which::ALL {
                if let Some(lid) = lids.lid(which) {
                    let leading = desk.edge_of(index, which);
                    let edges = [leading, leading + lid.extent];
                    shell(ink, eye.centre, lids.outer_radius, edges, which);
                }
            }
        }
        for lug in eye.lugs.iter().flatten() {
            let edge = Stroke::new(BOLD, ink.palette.accent);
            ink.convex(&lug.foot(), ink.palette.plate, edge);
        }
    }
}

/// The part of a lid's outer sphere that faces the audience: between its leading edge and its
/// trailing one, or the rim where that lies behind it.
fn shell(ink: &Ink<'_>, centre: Point, outer: f64, [leading, trailing]: [f64; 2], which: Which) {
    use std::f64::consts::FRAC_PI_2;
    let (leading, trailing) = (leading.max(-FRAC_PI_2), trailing.min(FRAC_PI_2));
    if trailing <= leading {
        return;
    }
    let edge = |angle: f64| -> Vec<Point> {
        let place = |step: u32| {
            let across = std::f64::consts::PI * f64::from(step) / f64::from(STEPS);
            let (out, up) = (across.cos(), across.sin() * angle.sin());
            centre + Vector::new(out, which.sign() * up) * outer
        };
        (0..=STEPS).map(place).collect()
    };
    let (front, back) = (edge(leading), edge(trailing));
    band(ink, &front, &back);
    for path in [front, back] {
        let stroke = Stroke::new(1.3, ink.palette.lid_edge);
        ink.painter.add(egui::Shape::line(ink.path(&path), stroke));
    }
}

/// Fills what lies between two edges of as many places.
fn band(ink: &Ink<'_>, one: &[Point], other: &[Point]) {
    let places: Vec<Point> = one.iter().zip(other).flat_map(|(&a, &b)| [a, b]).collect();
    let index = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let triangles: Vec<u32> = (0..places.len().saturating_sub(2))
        .flat_map(|at| [at, at + 1, at + 2].map(index))
        .collect();
    ink.mesh(&places, &triangles, ink.palette.lid);
}

/// Draws the lids of an eye where the cut through its ball's `centre` meets them, and the lug and
/// pivot behind it.
pub(super) fn cut(ink: &Ink<'_>, desk: &Desk, eye: &LaidEye, centre: Point) {
    let Some(lids) = &eye.lids else {
        return;
    };
    for which in Which::ALL {
        let Some(lid) = lids.lid(which) else {
            continue;
        };
        let from = desk.edge_of(desk.chosen_eye, which);
        let to = from + lid.extent;
        let arc = |radius: f64| -> Vec<Point> {
            let place = |step: u32| {
                let angle = from + (to - from) * f64::from(step) / f64::from(STEPS);
                // Forward is to the left.
                centre + Vector::new(-angle.cos(), which.sign() * angle.sin()) * radius
            };
            (0..=STEPS).map(place).collect()
        };
        let (inside, outside) = (arc(lids.inner_radius), arc(lids.outer_radius));
        band(ink, &inside, &outside);
        let around: Vec<Point> = inside
            .into_iter()
            .chain(outside.into_iter().rev())
            .collect();
        ink.closed(&around, Stroke::new(1.2, ink.palette.lid_edge));
    }
    if let Some([lug, _]) = &eye.lugs {
        lug_behind(ink, lug);
    }
}

/// The lug that stands on the plate's face behind the cut, with its pivot hole.
fn lug_behind(ink: &Ink<'_>, lug: &Lug) {
    // (y, z) of the plate's frame; the view shows depth to the right.
    let seen = |at: Point| Point::new(-at.y, at.x);
    let around: Vec<Point> = lug.profile().flattened().into_iter().map(seen).collect();
    ink.dashed_closed(&around, Stroke::new(FINE, ink.palette.accent));
    let pivot = seen(Point::new(lug.centre.y, lug.pivot_height));
    let edge = Stroke::new(FINE, ink.palette.ink);
    ink.circle(pivot, lug.hole / 2.0, Color32::TRANSPARENT, edge);
}
