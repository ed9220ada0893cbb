//! How far slots spread around what the plate carries.

use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
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

/// The gap, mm, from a place to the edge of the hull of some slots; negative if it lies outside. None without
/// slots.
pub fn room(slots: &[TieSlot], at: Point) -> Option<Gap> {
    let discs: Vec<Disc> = slots.iter().flat_map(|slot| slot.discs(0.0)).collect();
    Outline::hull(&discs).room_around(at)
}

/// The least signed distance, mm, of what is held inside the hull of some slots; None without slots.
pub(super) fn least(slots: &[TieSlot], held: &[Held]) -> Option<f64> {
    let rooms = held.iter().filter_map(|held| room(slots, held.at));
    rooms.map(|room| room.distance).reduce(f64::min)
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
