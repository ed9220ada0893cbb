//! The guard behind the plate and the hand's room, in the cut.

use egui::{Align2, Stroke};
use layout::geometry::Point;
use layout::guard::Guard;
use layout::hand::{FOAM_CLEARANCE, GuardAxis};

use super::ink::{BOLD, FINE, Ink};
use super::labels::Labels;
use crate::window::state::Desk;

/// Distance between the dots that the mesh is drawn by, and their size, in points.
const DOTS: [f32; 2] = [5.0, 1.4];

/// How far the middle of a label stands from what it is of, in points.
const BESIDE: f32 = 12.0;

/// Steps in which the guard's arc is drawn.
const STEPS: u32 = 48;

/// Draws guard and foam from the front: the guard's edge, and the holes that the foam gets.
pub(super) fn plan(ink: &Ink<'_>, desk: &Desk) {
    let laid = desk.laid();
    for hole in laid.foam_holes(FOAM_CLEARANCE) {
        ink.dashed_circle(
            hole.centre,
            hole.radius,
            Stroke::new(FINE, ink.palette.faint),
        );
    }
    if let Ok(guard) = &laid.guard {
        let mut edge = ink.path(&guard.plan().flattened());
        edge.extend(edge.first().copied());
        ink.painter.add(egui::Shape::dotted_line(
            &edge,
            ink.palette.ink,
            DOTS[0],
            DOTS[1],
        ));
    }
}

/// Draws the guard where the cut at `x` meets it, foam and hand room, and the cavity's end.
pub(super) fn cut(ink: &Ink<'_>, labels: &mut Labels, desk: &Desk, x: f64) {
    let project = desk.project();
    let (hand, thickness) = (&project.hand, project.plate.thickness);
    let Ok(own) = &desk.laid().guard else {
        // The finding says why there is none.
        return;
    };
    let (guard, deepest) = (section(own, x), -own.deepest());
    // Foam fills what lies between plate and guard.
    let foam = Stroke::new(FINE, ink.palette.faint);
    for end in [guard.first(), guard.last()].into_iter().flatten() {
        ink.dashed(&ink.path(&[Point::new(thickness, end.y), *end]), foam);
    }
    let edge = Stroke::new(BOLD, ink.palette.ink);
    ink.painter.add(egui::Shape::dotted_line(
        &ink.path(&guard),
        ink.palette.ink,
        DOTS[0],
        DOTS[1],
    ));
    let half = hand.guard_length / 2.0;
    let far = deepest + hand.thickness_mm;
    let room = [
        Point::new(deepest, -half),
        Point::new(far, -half),
        Point::new(far, half),
        Point::new(deepest, half),
    ];
    ink.convex(&room, ink.palette.lid.gamma_multiply(0.25), Stroke::NONE);
    let end = project.head.cavity_depth;
    ink.painter.line_segment(
        [Point::new(end, -half), Point::new(end, half)].map(|at| ink.camera.to_screen(at)),
        edge,
    );
    let top = guard.last().copied().unwrap_or_default();
    let bottom = guard.first().copied().unwrap_or_default();
    // What stands side by side is named above and below in turn: a thick hand comes near the cavity's end.
    let between = f64::midpoint;
    for (at, off, text) in [
        (
            Point::new(between(thickness, top.x), top.y),
            -BESIDE,
            "foam",
        ),
        (bottom, BESIDE, "guard"),
        (
            Point::new(between(deepest, far), half),
            -BESIDE,
            "hand room",
        ),
        (Point::new(end, -half), BESIDE, "cavity"),
    ] {
        let at = ink.camera.to_screen(at);
        let at = at + egui::vec2(0.0, off);
        labels.keep_free(ink.text(at, Align2::CENTER_CENTER, text, ink.palette.faint));
    }
}

/// The guard in the cut at `x`: places (depth behind the plate's front face, height), mm.
fn section(guard: &Guard, x: f64) -> Vec<Point> {
    let place = |step: u32| {
        let along = 2.0 * f64::from(step) / f64::from(STEPS) - 1.0;
        match guard.axis {
            GuardAxis::Y => Point::new(-guard.depth_at(x), along * guard.length / 2.0),
            GuardAxis::X => {
                let height = along * guard.half_chord;
                Point::new(-guard.depth_at(height), height)
            }
        }
    };
    (0..=STEPS).map(place).collect()
}
