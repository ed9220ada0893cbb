//! How wide the openings of a shelf plate are, and whether they and its cable holes can be where they are said to be.

use super::made::middle;
use super::parts::{ShelfParts, ShelfSeat};
use super::plate::ShelfPlate;
use crate::cable_hole::CableHole;
use crate::cable_hole::MEASURED;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::geometry::{Point, polygon};
use crate::problem::{self, Problem};

impl ShelfParts {
    /// Radius of an opening at the plate's front face, where it is widest, mm, as [`Seat::fit`](crate::seat::Seat::fit)
    /// has it; None where too little of the seat is known, or where its sphere ends before the plate.
    pub fn opening_radius(&self) -> Option<f64> {
        match self.seat? {
            ShelfSeat::Plain { opening_diameter } => opening_diameter.map(|wide| wide / 2.0),
            ShelfSeat::Spherical {
                centre_height,
                running_clearance,
            } => {
                let seat_radius = self.ball_diameter? / 2.0 + running_clearance?;
                let squared = seat_radius.powi(2) - centre_height?.powi(2);
                (squared > 0.0).then(|| squared.sqrt())
            }
        }
    }
}

impl ShelfPlate {
    /// The middle of its openings in its own frame, mm.
    pub fn middle(&self) -> [f64; 2] {
        middle(self.centres().unwrap_or_default().into_iter())
    }
}

/// Refuses a plate that leaves the place of an opening open, but for both of a pair.
pub(super) fn check_known(plate: &ShelfPlate, at: &str) -> Result<(), Problem> {
    let open: Vec<bool> = plate.eyes.iter().map(|eye| eye.centre.is_none()).collect();
    let Some(first) = open.iter().position(|&open| open) else {
        return Ok(());
    };
    if open == [true; 2] {
        return Ok(());
    }
    Err(Problem::new(
        format!("{at}.eyes[{first}]"),
        format!(
            "Opening {} of the plate “{}” has no `centre`.",
            first + 1,
            plate.name
        ),
        "Say where it lies; only a pair whose spacing is not measured may leave out both.",
    ))
}

/// Refuses cable holes that lie beside the plate's outline, and openings that lie beside the plate's outline or on each other by more than callipers
/// leave open; one whose width is not known counts as its centre.
pub(super) fn check(plate: &ShelfPlate, at: &str) -> Result<(), Problem> {
    let Some(centres) = plate.centres() else {
        return Ok(());
    };
    let corners: Vec<Point> = plate
        .outline
        .iter()
        .flatten()
        .map(|&at| at.into())
        .collect();
    let edge = Bounded::of(&Outline::polygon(&corners));
    let opening = |index: usize| {
        let radius = plate.parts_of(index).opening_radius();
        (Point::from(centres[index]), radius.unwrap_or(0.0))
    };
    for (index, hole) in plate.cable_holes.iter().enumerate() {
        let hole = CableHole {
            ends: hole.ends.map(Into::into),
            radius: hole.width / 2.0,
            lean: 0.0,
        };
        if edge.as_ref().is_some_and(|edge| !hole.lies_in(edge)) {
            return Err(Problem::new(
                format!("{at}.cable_holes[{index}]"),
                format!(
                    "Cable hole {} of the plate “{}” lies beside the plate.",
                    index + 1,
                    plate.name
                ),
                "Measure where it lies, and the outline, again.",
            ));
        }
    }
    let refused = |index: usize, sentence: String, remedy: &str| {
        let field = format!("{at}.eyes[{index}].centre");
        let name = &plate.name;
        Err(Problem::new(
            field,
            format!("Opening {} of the plate “{name}” {sentence}.", index + 1),
            remedy,
        ))
    };
    for index in 0..centres.len() {
        let (centre, radius) = opening(index);
        if let Some(edge) = &edge
            && edge.room_around(centre).distance < radius - MEASURED
        {
            let sentence = if polygon::contains(&corners, centre) {
                "reaches over the plate's edge"
            } else {
                "lies beside the plate"
            };
            let remedy = "Measure where it lies and how wide it is, and the outline, again.";
            return refused(index, sentence.to_owned(), remedy);
        }
        for other in 0..index {
            let (other_centre, other_radius) = opening(other);
            let apart = (centre - other_centre).norm();
            if apart < (radius + other_radius - MEASURED).max(problem::SMALLEST) {
                let sentence = format!("lies on opening {}", other + 1);
                return refused(index, sentence, "Measure how far they stand apart again.");
            }
        }
    }
    Ok(())
}
