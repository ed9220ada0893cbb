//! The plate that a project lays out, for the shelf.

use super::parts::ShelfParts;
use super::plate::{MOST_CORNERS, ShelfEye, ShelfPlate, ShelfSlot};
use super::thinned::thinned;
use crate::cable_hole::PlateHole;
use crate::laid::Laid;
use crate::project::Project;

impl ShelfPlate {
    /// The plate that a project lays out, moved so that the middle of its eyes is the origin:
    /// wherever two heads have one plate, it goes onto the shelf alike. Its outline is None if the project
    /// lays none out.
    pub fn of(project: &Project) -> Self {
        let laid = Laid::out(project);
        let origin = middle(project.eyes.iter().map(|eye| eye.centre));
        let moved = |[x, y]: [f64; 2]| [x - origin[0], y - origin[1]].map(written);
        let eyes = project.eyes.iter().map(|eye| ShelfEye {
            centre: Some(moved(eye.centre)),
            parts: eye.parts.as_ref().map(|own| Box::new(ShelfParts::of(own))),
        });
        let slots = project.ties.iter().map(|slot| ShelfSlot {
            at: moved(slot.at),
            angle: slot.angle,
            tie: Some(slot.tie),
        });
        let corners = thinned(&laid.plate.flattened(), MOST_CORNERS);
        let corners: Vec<_> = corners.iter().map(|&corner| moved(corner.into())).collect();
        Self {
            name: project.name.clone(),
            parts: ShelfParts::of(&project.parts),
            thickness: Some(project.plate.thickness),
            eyes: eyes.collect(),
            outline: (corners.len() >= 3).then_some(corners),
            slots: slots.collect(),
            cable_holes: laid
                .cable_holes()
                .map(|hole| PlateHole {
                    ends: hole.ends.map(|end| moved(end.into())),
                    ..PlateHole::from(hole)
                })
                .collect(),
        }
    }
}

/// A length without what moving it leaves behind its millionths, mm: none of them is a digit that anyone measured.
fn written(mm: f64) -> f64 {
    const STEPS: f64 = 1e9;
    (mm * STEPS).round() / STEPS
}

/// The mean of some places; the origin if there is none.
pub(super) fn middle(places: impl ExactSizeIterator<Item = [f64; 2]>) -> [f64; 2] {
    let count = places.len().max(1) as f64;
    let sum = places.fold([0.0; 2], |sum, at| [sum[0] + at[0], sum[1] + at[1]]);
    sum.map(|side| side / count)
}
