//! Lids and lugs, from the front and in the cut.

use egui::{Color32, Stroke};
use layout::geometry::{Point, Vector};
use layout::lid::{Lid, Lids, Which};
use layout::seat::SeatFit;

use super::ink::{BOLD, FINE, Ink};
use crate::window::state::Desk;

/// Steps in which an edge or an arc is drawn.
const STEPS: u32 = 48;

/// The lids of an eye, if it has any.
pub(super) fn of(desk: &Desk, eye: usize) -> Option<Lids> {
    let lids = desk.project().parts_of(eye).lids?;
    (lids.upper.is_some() || lids.lower.is_some()).then_some(lids)
}

/// Draws lids and lugs of all eyes as the audience sees them.
pub(super) fn draw(ink: &Ink<'_>, desk: &Desk) {
    for (index, eye) in desk.laid().eyes.iter().enumerate() {
        let Some(lids) = of(desk, index) else {
            continue;
        };
        let outer = desk.project().parts_of(index).ball_diameter / 2.0 + lids.gap + lids.shell;
        for which in Which::ALL {
            if let Some(lid) = lids.lid(which) {
                shell(ink, eye.centre, outer, &lid, which, desk.pose.shut);
            }
        }
        lugs(ink, eye.centre, &lids);
    }
}

/// The part of a lid's outer sphere that faces the audience: between its leading edge and its
/// trailing one, or the rim where that lies behind it.
fn shell(ink: &Ink<'_>, centre: Point, outer: f64, lid: &Lid, which: Which, shut: f64) {
    use std::f64::consts::FRAC_PI_2;
    let leading = lid.leading(shut);
    let trailing = (leading + lid.extent.radians()).min(FRAC_PI_2);
    let leading = leading.max(-FRAC_PI_2);
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

fn lugs(ink: &Ink<'_>, centre: Point, lids: &Lids) {
    let half = Vector::new(lids.lug_thickness, lids.lug_width) / 2.0;
    for side in [-1.0, 1.0] {
        let middle = centre + Vector::new(side * lids.pivot_spacing / 2.0, 0.0);
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        let corners = corners.map(|(x, y)| middle + Vector::new(x * half.x, y * half.y));
        let edge = Stroke::new(BOLD, ink.palette.accent);
        ink.convex(&corners, ink.palette.plate, edge);
    }
}

/// Draws the lids where the cut through the ball's `centre` meets them, and the lug and pivot
/// behind it.
pub(super) fn cut(ink: &Ink<'_>, lids: &Lids, seat: &SeatFit, centre: Point, shut: f64) {
    let inner = seat.ball_radius + lids.gap;
    for which in Which::ALL {
        let Some(lid) = lids.lid(which) else {
            continue;
        };
        let from = lid.leading(shut);
        let to = from + lid.extent.radians();
        let arc = |radius: f64| -> Vec<Point> {
            let place = |step: u32| {
                let angle = from + (to - from) * f64::from(step) / f64::from(STEPS);
                // Forward is to the left.
                centre + Vector::new(-angle.cos(), which.sign() * angle.sin()) * radius
            };
            (0..=STEPS).map(place).collect()
        };
        let (inside, outside) = (arc(inner), arc(inner + lids.shell));
        band(ink, &inside, &outside);
        let around: Vec<Point> = inside
            .into_iter()
            .chain(outside.into_iter().rev())
            .collect();
        ink.closed(&around, Stroke::new(1.2, ink.palette.lid_edge));
    }
    lug_behind(ink, lids, centre);
}

/// The lug that stands on the plate's face behind the cut, with its pivot hole.
fn lug_behind(ink: &Ink<'_>, lids: &Lids, centre: Point) {
    let stroke = Stroke::new(FINE, ink.palette.accent);
    let half = lids.lug_width / 2.0;
    let turn = |step: u32| {
        let angle = std::f64::consts::PI * (0.5 + f64::from(step) / f64::from(STEPS));
        centre + Vector::new(angle.cos(), angle.sin()) * half
    };
    let face = [
        Point::new(0.0, centre.y + half),
        Point::new(0.0, centre.y - half),
    ];
    let around: Vec<Point> = [face[0]]
        .into_iter()
        .chain((0..=STEPS).map(turn))
        .chain([face[1]])
        .collect();
    ink.dashed(&ink.path(&around), stroke);
    let edge = Stroke::new(FINE, ink.palette.ink);
    ink.circle(centre, lids.pivot_hole / 2.0, Color32::TRANSPARENT, edge);
}
