//! A project laid out round a plate from the shelf.

use super::eyes::partners;
use super::placement::Placement;
use super::plate::ShelfPlate;
use super::slots;
use crate::plate::PlateOutline;
use crate::project::Project;
use crate::tie::{self, TieSlot};

/// A plate of the shelf that a project takes over, with what is made in it for that.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenPlate {
    /// The plate.
    pub plate: ShelfPlate,
    /// Where it goes.
    pub placement: Placement,
    /// Its slots in the project's frame, those that are to be made and widened among them: see
    /// [`Work::slots`](super::Work::slots).
    pub slots: Vec<TieSlot>,
}

impl TakenPlate {
    /// The project with the plate in its head: see [`taken`].
    pub(crate) fn taken_over(&self, project: &Project) -> Option<Project> {
        let over = taken(project, &self.plate, self.placement)?;
        Some(Project {
            ties: self.slots.clone(),
            ..over
        })
    }
}

/// The project with `plate` in its head, placed there: every eye moves to its opening, the outline
/// becomes the plate's, without any pad, and the slots are the plate's, each led to the anchor hole
/// within reach that is nearest. A thickness that was measured comes along. Stops and corners of
/// a drive go with its eye; where a sheath leaves the head stays. Lids stay level, also in a plate
/// that is turned.
///
/// None if the plate's outline or spacing is not known, or if it has not one opening for each eye.
pub fn taken(project: &Project, plate: &ShelfPlate, placement: Placement) -> Option<Project> {
    let (outline, centres) = (plate.outline.as_ref()?, plate.centres()?);
    if plate.eyes.len() != project.eyes.len() {
        return None;
    }
    let mut next = project.clone();
    for (opening, eye) in partners(plate, project) {
        let to = placement.place(centres[opening]);
        let from = std::mem::replace(&mut next.eyes[eye].centre, to);
        let carry = |place: &mut [f64; 3]| {
            place[0] += to[0] - from[0];
            place[1] += to[1] - from[1];
        };
        let drives = next.drives.iter_mut();
        for drive in drives.filter(|drive| drive.moves.eye() == eye) {
            drive.stop.iter_mut().chain(&mut drive.via).for_each(carry);
        }
    }
    next.plate.outline = PlateOutline::Drawn {
        outline: outline.iter().map(|&at| placement.place(at)).collect(),
        smooth: false,
    };
    next.plate.trim_to_head = false;
    next.plate.padded = false;
    next.plate.thickness = plate.thickness.unwrap_or(project.plate.thickness);
    let usual = project.ties.first().map_or(tie::USUAL, |slot| slot.tie);
    let slots = plate.slots.iter().map(|slot| {
        let slot = slot.placed(placement, usual);
        let reach = slots::reach(slot.at, &project.head.anchor_holes);
        TieSlot {
            anchor: reach.filter(|reach| reach.within).map(|reach| reach.anchor),
            ..slot
        }
    });
    next.ties = slots.collect();
    Some(next)
}
