//! How far slots spread around what the plate carries.

use crate::geometry::{Gap, Point, polygon};
use crate::laid::Laid;
use crate::project::Project;
use crate::tie::TieSlot;
use crate::wording;

/// A place where the plate carries something that pulls at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// What is there.
    pub name: String,
    /// Where, in the plate's plane, mm.
    pub at: Point,
}

/// Every eye centre, and every sheath stop that there is.
pub fn held(project: &Project, laid: &Laid) -> Vec<Held> {
    let eyes = laid.eyes.iter().enumerate().map(|(index, eye)| Held {
        name: project.eye_name(index),
        at: eye.centre,
    });
    let drives = project.drives.iter().zip(&laid.drives);
    let stops = drives.filter_map(|(drive, laid)| {
        let stop = laid.pull.as_ref().ok()?.stop;
        Some(Held {
            name: wording::piece("sheath stop", &drive.name),
            at: Point::new(stop.x, stop.y),
        })
    });
    eyes.chain(stops).collect()
}

/// The middles of some slots, where their ties pull, mm.
pub fn middles(slots: &[TieSlot]) -> Vec<Point> {
    slots.iter().map(|slot| slot.at.into()).collect()
}

/// The gap, mm, from a place to the edge of the hull of slots with these `middles`; negative if it lies
/// outside. None without slots.
pub fn room(middles: &[Point], at: Point) -> Option<Gap> {
    polygon::room_around(&hull(middles), at)
}

/// The convex hull of some places, counter-clockwise. Fewer than three, or all in a line, give a hull
/// without an inside.
pub(super) fn hull(places: &[Point]) -> Vec<Point> {
    let mut sorted = places.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    polygon::convex_hull(&sorted)
}
