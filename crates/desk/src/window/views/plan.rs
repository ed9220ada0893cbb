//! The head and the plate on the front view.

use egui::{Align2, Color32, Rect, Stroke, vec2};
use layout::closed_curve::CurveOf;
use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::limits::Rule;
use layout::{State, wording};

use super::drives;
use super::ink::{BOLD, FINE, Ink};
use super::labels::Labels;
use super::shapes::Shapes;
use crate::window::inspector::plate::hole_name;
use crate::window::state::Desk;

/// Draws the plate's body and edge.
pub(super) fn plate(ink: &Ink<'_>, shapes: &Shapes) {
    ink.mesh(
        &shapes.plate_edge,
        &shapes.plate_triangles,
        ink.palette.plate,
    );
    ink.closed(&shapes.plate_edge, Stroke::new(BOLD, ink.palette.accent));
}

/// Draws the edges of plate and openings, and nothing that would hide what lies under them.
pub(super) fn edges(ink: &Ink<'_>, desk: &Desk, shapes: &Shapes) {
    let edge = Stroke::new(BOLD, ink.palette.accent.gamma_multiply(0.7));
    ink.closed(&shapes.plate_edge, edge);
    for opening in desk.laid().eyes.iter().filter_map(layout::LaidEye::opening) {
        ink.circle(opening.centre, opening.radius, Color32::TRANSPARENT, edge);
    }
}

/// Draws the curve of a drawn plate, which its pads may hide.
pub(super) fn drawn_curve(ink: &Ink<'_>, desk: &Desk) {
    let mut curve = ink.path(&CurveOf::Plate.corners(desk.project()));
    curve.extend(curve.first().copied());
    ink.dashed(&curve, Stroke::new(FINE, ink.palette.accent));
}

/// Draws the head's inside wall, and how near to it the plate may come.
pub(super) fn head(ink: &Ink<'_>, desk: &Desk, shapes: &Shapes) {
    let mut inset = ink.path(&shapes.inset);
    inset.extend(inset.first().copied());
    ink.dashed(
        &inset,
        Stroke::new(FINE, ink.palette.faint.gamma_multiply(0.55)),
    );
    ink.closed(&desk.laid().wall, Stroke::new(BOLD, ink.palette.ink));
}

/// Draws the smallest head for the plate, dashed, and says how large it is; returns what the words cover.
pub(super) fn smallest_head(ink: &Ink<'_>, desk: &Desk) -> Option<Rect> {
    /// Room between the outline and its words, in points.
    const BELOW: f32 = 4.0;
    let head = desk.smallest.as_ref()?.as_ref().ok()?;
    let edge = Stroke::new(BOLD, ink.palette.ink);
    ink.dashed_closed(&head.outline.flattened(), edge);
    let [low, high] = head.outline.bounds()?;
    let bottom = Point::new(f64::midpoint(low.x, high.x), low.y);
    let at = ink.camera.to_screen(bottom) + vec2(0.0, BELOW);
    let words = format!("Smallest head {}", desk.in_words(head.size));
    Some(ink.text(at, Align2::CENTER_TOP, &words, ink.palette.ink))
}

/// Draws the edges of openings and cable holes.
pub(super) fn openings(ink: &Ink<'_>, desk: &Desk) {
    for hole in desk.laid().cable_holes() {
        let edge = Stroke::new(BOLD, ink.palette.accent);
        ink.convex(&hole.outline().flattened(), ink.palette.paper, edge);
    }
    for opening in desk.laid().eyes.iter().filter_map(layout::LaidEye::opening) {
        let edge = Stroke::new(BOLD, ink.palette.accent);
        ink.circle(opening.centre, opening.radius, ink.palette.paper, edge);
    }
}

/// Names the cable holes that the plate came with, as its step lists them.
pub(super) fn hole_names(ink: &Ink<'_>, desk: &Desk, labels: &mut Labels) {
    for (index, hole) in desk.laid().plate_holes.iter().enumerate() {
        let at = ink.camera.to_screen(hole.middle());
        let edge = ink.path(&hole.outline().flattened());
        labels.keep_free(Rect::from_points(&edge));
        let state = drives::state(desk, &wording::plate_hole(index));
        drives::name(ink, labels, at, &hole_name(index), state);
    }
}

/// Draws the slots with the pads that they want, the anchor holes, and each tie's way between them.
pub(super) fn ties(ink: &Ink<'_>, desk: &Desk) {
    let project = desk.project();
    let pad = project
        .limits
        .of(Rule::SlotEdge, project.plate.thickness)
        .wanted;
    let fine = Stroke::new(FINE, ink.palette.accent.gamma_multiply(0.6));
    for slot in &project.ties {
        let around = Outline::hull(&slot.discs(pad.max(0.0))).flattened();
        ink.closed(&around, fine);
    }
    for slot in &project.ties {
        let hole = slot
            .anchor
            .and_then(|index| project.head.anchor_holes.get(index));
        if let Some(hole) = hole {
            let run = ink.path(&[slot.at.into(), hole.at.into()]);
            ink.dashed(&run, Stroke::new(FINE, ink.palette.faint));
        }
    }
    let edge = Stroke::new(1.2, ink.palette.ink);
    for hole in &project.head.anchor_holes {
        ink.circle(
            Point::from(hole.at),
            hole.diameter / 2.0,
            ink.palette.paper,
            edge,
        );
    }
    for slot in &desk.laid().slots {
        ink.convex(&slot.flattened(), ink.palette.paper, edge);
    }
}

/// Draws the slots that are proposed, their ties' ways, and the plate's edge as it is with them.
pub(super) fn proposed_slots(ink: &Ink<'_>, desk: &Desk) {
    let (Some(Ok(proposal)), Some(laid)) = (desk.slots_found(), desk.slots_laid()) else {
        return;
    };
    let stroke = Stroke::new(BOLD, ink.palette.state(State::Clear));
    ink.dashed_closed(&laid.plate.flattened(), stroke);
    for slot in &proposal.slots {
        ink.closed(&slot.outline().flattened(), stroke);
        let holes = &desk.project().head.anchor_holes;
        if let Some(hole) = slot.anchor.and_then(|index| holes.get(index)) {
            let way = ink.path(&[slot.at.into(), hole.at.into()]);
            ink.dashed(&way, Stroke::new(FINE, stroke.color));
        }
    }
}

/// Draws how far each ring sweeps at the working tilt.
pub(super) fn sweeps(ink: &Ink<'_>, desk: &Desk) {
    let colour: Color32 = ink.palette.ring_edge;
    for sweep in desk.laid().eyes.iter().filter_map(layout::LaidEye::sweep) {
        ink.dashed_circle(sweep.centre, sweep.radius, Stroke::new(FINE, colour));
    }
}
