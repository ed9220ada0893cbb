//! A project laid out round a plate from the shelf.

use super::eyes::partners;
use super::placement::Placement;
use super::plate::ShelfPlate;
use super::slots;
use super::work::Work;
use crate::cable_hole::PlateHole;
use crate::plate::PlateOutline;
use crate::project::Project;
use crate::tie::{self, TieSlot};

/// A plate of the shelf that a project takes over, with what is made in it for that.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenPlate {
    plate: ShelfPlate,
    placement: Placement,
    slots: Vec<TieSlot>,
    cable_holes: Vec<PlateHole>,
    filed: Option<Vec<[f64; 2]>>,
}

impl TakenPlate {
    /// A plate at its place, as its [`Work`] leaves it: with the slots and cable holes that are made or widened, and
    /// filed where it must be.
    pub fn new(plate: ShelfPlate, placement: Placement, work: &Work) -> Self {
        Self {
            plate,
            placement,
            slots: work.slots.clone(),
            cable_holes: work.cable_holes.clone(),
            filed: work.filed.clone(),
        }
    }

    /// The project with the plate in its head: see [`taken`].
    pub(crate) fn taken_over(&self, project: &Project) -> Option<Project> {
        let mut over = taken(project, &self.plate, self.placement)?;
        over.ties.clone_from(&self.slots);
        over.plate.cable_holes.clone_from(&self.cable_holes);
        if let Some(edge) = &self.filed {
            over.plate.outline = drawn(edge.clone());
        }
        Some(over)
    }
}

fn drawn(outline: Vec<[f64; 2]>) -> PlateOutline {
    PlateOutline::Drawn {
        outline,
        smooth: false,
    }
}

/// The project with `plate` in its head, placed there: every eye moves to its opening, the outline
/// becomes the plate's, without any pad, and the slots are the plate's, each led to the anchor hole
/// within reach that is nearest. A thickness that was measured comes along. Stops and corners of
/// a drive go with its eye; where a sheath leaves the head stays. Lids stay level, also in a plate
/// that is turned. Its own cable holes are left out: a [`TakenPlate`] brings them.
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
    next.plate.outline = drawn(outline.iter().map(|&at| placement.place(at)).collect());
    next.plate.trim_to_head = false;
    next.plate.padded = false;
    next.plate.cable_holes.clear();
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
