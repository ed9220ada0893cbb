//! Rods with the levers at their ends, from the front and in the cut.

use egui::Stroke;
use layout::drive::Moves;
use layout::geometry::Point;
use layout::geometry::space::Place;
use layout::handle;
use layout::linkage::Linkage;
use layout::rod::{Rod, RodEnd};

use super::drives::{self, Drawn};
use super::ink::Ink;
use super::labels::Labels;
use crate::window::state::Desk;

/// Width of a rod as it is drawn, and radius of its joints, in points.
const ROD: f32 = 2.4;
const JOINT: f32 = 3.2;

/// Draws the rods between parts that are wanted, as they are seen from the front.
pub(super) fn front(ink: &Ink<'_>, desk: &Desk, wanted: fn(Moves) -> bool) {
    let from_front = |at: Place| Point::new(at.x, at.y);
    for (index, rod, linkage) in shown(desk).filter(|(_, rod, _)| wanted(rod.driver)) {
        draw(ink, desk, index, (rod, linkage), &from_front);
    }
}

/// Draws the rods at the chosen eye in its side cut.
pub(super) fn cut(ink: &Ink<'_>, desk: &Desk) {
    let from_side = |at: Place| Point::new(-at.z, at.y);
    for (index, rod, linkage) in shown(desk) {
        if rod
            .ends()
            .iter()
            .any(|(moves, _)| moves.eye() == desk.chosen_eye)
        {
            draw(ink, desk, index, (rod, linkage), &from_side);
        }
    }
}

/// Names every rod at what it takes along, with the mark of its worst state.
pub(super) fn names(ink: &Ink<'_>, desk: &Desk, labels: &mut Labels) {
    for (_, rod, linkage) in shown(desk) {
        let [_, end] = linkage.ends_at(desk.stance_of(rod.driver));
        let at = ink.camera.to_screen(Point::new(end.x, end.y));
        drives::name(ink, labels, at, &rod.name, drives::state(desk, &rod.name));
    }
}

/// Where an end of a rod shows in the plate's frame, mm: it goes with its lever.
pub(super) fn place(desk: &Desk, index: usize, end: RodEnd) -> Option<[f64; 3]> {
    let Some((rod, linkage)) = worked_out(desk, index) else {
        return handle::rod_end(desk.project(), index, end);
    };
    let [driver, follower] = linkage.ends_at(desk.stance_of(rod.driver));
    Some(match end {
        RodEnd::Driver => driver.into(),
        RodEnd::Follower => follower.into(),
    })
}

/// Where an end of a rod that shows `at` is as the project gives it.
pub(super) fn at_rest(desk: &Desk, index: usize, end: RodEnd, at: [f64; 3]) -> [f64; 3] {
    worked_out(desk, index).map_or(at, |(rod, linkage)| {
        let stance = desk.stance_of(rod.driver);
        drives::rounded(linkage.rest_of(end, stance, at.into()))
    })
}

fn worked_out(desk: &Desk, index: usize) -> Option<(&Rod, &Linkage)> {
    let rod = desk.project().rods.get(index)?;
    let linkage = desk.laid().rods.get(index)?.as_ref().ok()?;
    Some((rod, linkage))
}

/// The rods that the step is about and that can be worked out.
fn shown(desk: &Desk) -> impl Iterator<Item = (usize, &Rod, &Linkage)> {
    let indices = 0..desk.project().rods.len();
    let rods = indices.filter_map(|index| {
        let (rod, linkage) = worked_out(desk, index)?;
        Some((index, rod, linkage))
    });
    rods.filter(|(_, rod, _)| drives::belongs_to(desk.step, rod.driver))
}

fn draw(
    ink: &Ink<'_>,
    desk: &Desk,
    index: usize,
    (rod, linkage): (&Rod, &Linkage),
    onto: &dyn Fn(Place) -> Point,
) {
    let strength = drives::strength(desk, desk.chosen_rod == index);
    let drawn = Drawn {
        ink,
        onto,
        strength,
    };
    let stance = desk.stance_of(rod.driver);
    for ((moves, _), lever) in rod.ends().into_iter().zip(linkage.levers_at(stance)) {
        drawn.lever(desk, moves, lever);
    }
    let colour = drawn.quiet(ink.palette.ink);
    let ends = linkage
        .ends_at(stance)
        .map(|end| ink.camera.to_screen(onto(end)));
    ink.painter.line_segment(ends, Stroke::new(ROD, colour));
    for joint in ends {
        let edge = Stroke::new(1.4, colour);
        ink.painter.circle(joint, JOINT, ink.palette.paper, edge);
    }
}
