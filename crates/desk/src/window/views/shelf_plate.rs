//! The plate of the shelf that was chosen, on the front view where it fits best, and what is to be done to it.

use egui::{Align2, Stroke, vec2};
use layout::State;
use layout::geometry::Point;
use layout::shelf::{Placed, ShelfPlate, Verdict, Work};
use layout::tie;

use super::ink::{BOLD, Ink};
use crate::window::shelf_work::OpenShelf;
use crate::window::state::Desk;

/// Width of a line along an edge that is to be filed, in points.
const FILED: f32 = 4.0;

/// From a mark to the middle of its number, both ways, and radius of the disc behind that, in points.
const BESIDE: f32 = 12.0;
const BADGE: f32 = 8.0;

/// Draws its edge, openings, slots and cable holes, and marks the holes to make and the edge to file.
pub(super) fn draw(ink: &Ink<'_>, desk: &Desk) {
    let Some((plate, looked_at)) = desk.shelf.as_ref().and_then(OpenShelf::shown) else {
        return;
    };
    let Some(placed) = &looked_at.fit.placed else {
        return;
    };
    let verdict = looked_at.fit.verdict(looked_at.work.as_ref());
    let state = verdict.map_or(placed.state, Verdict::state);
    as_it_is(ink, plate, placed, state);
    if let Some(work) = &looked_at.work {
        to_do(ink, work);
    }
}

/// The plate at its place, in the colour of what it comes to.
fn as_it_is(ink: &Ink<'_>, plate: &ShelfPlate, placed: &Placed, state: State) {
    let placement = placed.placement;
    let place = |at: [f64; 2]| Point::from(placement.place(at));
    let edge = Stroke::new(BOLD, ink.palette.state(state));
    let outline = plate.outline.iter().flatten();
    let corners: Vec<Point> = outline.map(|&corner| place(corner)).collect();
    ink.dashed_closed(&corners, edge);
    for (index, eye) in plate.eyes.iter().enumerate() {
        let radius = plate.parts_of(index).opening_radius();
        if let (Some(centre), Some(radius)) = (eye.centre, radius) {
            ink.dashed_circle(place(centre), radius, edge);
        }
    }
    for slot in &plate.slots {
        let slot = slot.placed(placement, tie::USUAL);
        ink.dashed_closed(&slot.outline().flattened(), edge);
    }
    for hole in &plate.cable_holes {
        ink.dashed_closed(&hole.placed(placement).shape().outline().flattened(), edge);
    }
}

/// Marks what is to be done, with the numbers that the list of it has.
fn to_do(ink: &Ink<'_>, work: &Work) {
    let (colour, paper) = (ink.palette.ink, ink.palette.paper);
    let number = |index: usize, at: [f64; 2]| {
        let at = ink.camera.to_screen(at.into()) + vec2(BESIDE, -BESIDE);
        ink.painter
            .circle(at, BADGE, colour, Stroke::new(1.0, paper));
        ink.text(at, Align2::CENTER_CENTER, &(index + 1).to_string(), paper);
    };
    for (index, drilling) in work.drilling.iter().enumerate() {
        let hole = drilling.outline().flattened();
        ink.convex(&hole, ink.palette.paper, Stroke::new(BOLD, colour));
        number(index, drilling.at);
    }
    let first = work.drilling.len();
    for (index, filing) in work.filing.iter().enumerate() {
        let line: Vec<Point> = filing.line.iter().map(|&at| at.into()).collect();
        let stroke = Stroke::new(FILED, ink.palette.fouls.gamma_multiply(0.6));
        ink.painter.line(ink.path(&line), stroke);
        number(first + index, filing.at);
    }
}
