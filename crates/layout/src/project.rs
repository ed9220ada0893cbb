//! A project: everything that is known about one character's plate.

use serde::{Deserialize, Serialize};

use crate::closed_curve::CurveOf;
use crate::draft::Draft;
use crate::drive::{self, Drive};
use crate::eye::Eye;
use crate::gaze::{Gaze, SeatedBy};
use crate::hand::Hand;
use crate::head::Head;
use crate::limits::Limits;
use crate::parts::Parts;
use crate::plate::Plate;
use crate::problem::Problem;
use crate::rod::{self, Rod};
use crate::tie::TieSlot;
use crate::title_block::TitleBlock;
use crate::tracing::Tracing;
use crate::workshop::Workshop;

/// The version of the file format that this build writes.
pub const VERSION: u32 = 1;

/// Most eyes, slots, drives, rods or anchor holes in one project: far more than a head holds, few
/// enough that every pair can be checked.
pub const MOST_ENTRIES: usize = 64;

/// Longest name, in characters.
pub const LONGEST_NAME: usize = 80;

/// One character's plate. Lengths in mm, in the plate's frame: x to the right as the audience sees
/// it, y up, z toward the audience, the front face at z = 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Project {
    /// Version of the file format.
    pub version: u32,
    /// The character's name.
    pub name: String,
    /// The head.
    pub head: Head,
    /// The parts that every eye without its own uses.
    pub parts: Parts,
    /// The eyes.
    pub eyes: Vec<Eye>,
    /// How far they turn.
    pub gaze: Gaze,
    /// What takes up their play.
    pub seated_by: SeatedBy,
    /// The plate.
    pub plate: Plate,
    /// The slots for cable ties.
    pub ties: Vec<TieSlot>,
    /// What moves eyes and lids.
    pub drives: Vec<Drive>,
    /// What lets one of them follow another.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rods: Vec<Rod>,
    /// The hand behind the plate.
    pub hand: Hand,
    /// Limits that differ from the starting values.
    pub limits: Limits,
    /// The picture under the front view, if there is one to trace.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub tracing: Option<Tracing>,
    /// The curve that is being drawn point by point, until it is closed.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub draft: Option<Draft>,
    /// What the maker found out about their own tools.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub workshop: Option<Workshop>,
    /// What the sheet's title block says.
    #[serde(default, skip_serializing_if = "TitleBlock::is_blank")]
    pub title_block: TitleBlock,
}

impl Project {
    /// The parts of eye `index`: its own, or the project's.
    pub fn parts_of(&self, index: usize) -> &Parts {
        self.eyes
            .get(index)
            .and_then(|eye| eye.parts.as_deref())
            .unwrap_or(&self.parts)
    }

    /// Where a file has the parts of eye `index`.
    pub(crate) fn parts_field(&self, index: usize) -> String {
        match self.eyes.get(index).and_then(|eye| eye.parts.as_ref()) {
            Some(_) => format!("eyes[{index}].parts"),
            None => "parts".to_owned(),
        }
    }

    /// What eye `index` is called.
    pub fn eye_name(&self, index: usize) -> String {
        crate::eye::name(&self.eyes, index)
    }

    /// The eye that lies across the centre line from eye `index`, within `tolerance`, mm.
    pub fn mirror_eye(&self, index: usize, tolerance: f64) -> Option<usize> {
        mirrored(self.eyes.iter().map(|eye| eye.centre), index, tolerance)
    }

    /// The slot that lies across the centre line from slot `index`, within `tolerance`, mm.
    pub fn mirror_slot(&self, index: usize, tolerance: f64) -> Option<usize> {
        mirrored(self.ties.iter().map(|slot| slot.at), index, tolerance)
    }

    /// The anchor hole that lies across the centre line from hole `index`, within `tolerance`, mm.
    pub fn mirror_anchor(&self, index: usize, tolerance: f64) -> Option<usize> {
        let holes = self.head.anchor_holes.iter();
        mirrored(holes.map(|hole| hole.at), index, tolerance)
    }

    /// The point of a drawn curve that lies across the centre line from point `index`, within
    /// `tolerance`, mm.
    pub fn mirror_point(&self, curve: CurveOf, index: usize, tolerance: f64) -> Option<usize> {
        let (points, _) = curve.get(self)?;
        mirrored(points.iter().copied(), index, tolerance)
    }

    /// Whether a plate can be laid out from this project at all.
    ///
    /// # Errors
    /// The first [`Problem`] found, in the order of the file's fields.
    pub fn check(&self) -> Result<(), Problem> {
        if self.name.chars().count() > LONGEST_NAME {
            return Err(Problem::new(
                "name",
                format!("The name is longer than {LONGEST_NAME} characters."),
                "Use a shorter one.",
            ));
        }
        for (field, count) in [
            ("head.anchor_holes", self.head.anchor_holes.len()),
            ("eyes", self.eyes.len()),
            ("plate.cable_holes", self.plate.cable_holes.len()),
            ("ties", self.ties.len()),
            ("drives", self.drives.len()),
            ("rods", self.rods.len()),
        ] {
            if count > MOST_ENTRIES {
                return Err(Problem::new(
                    field,
                    format!("`{field}` has {count} entries, more than {MOST_ENTRIES}."),
                    "Remove some.",
                ));
            }
        }
        if self.eyes.is_empty() {
            return Err(Problem::new(
                "eyes",
                "The project has no eye.",
                "Add at least one.",
            ));
        }
        self.head.check("head")?;
        self.plate.check("plate")?;
        let thickness = self.plate.thickness;
        self.parts.check("parts", thickness)?;
        for (index, eye) in self.eyes.iter().enumerate() {
            eye.check(&format!("eyes[{index}]"), &self.parts, thickness)?;
        }
        self.gaze.check("gaze")?;
        self.seated_by.check("seated_by")?;
        for (index, slot) in self.ties.iter().enumerate() {
            slot.check(&format!("ties[{index}]"), self.head.anchor_holes.len())?;
        }
        for (index, drive) in self.drives.iter().enumerate() {
            drive.check(&format!("drives[{index}]"), self.eyes.len())?;
        }
        drive::check_names(&self.drives, "drives")?;
        rod::check_all(&self.rods, self.eyes.len())?;
        self.hand.check("hand")?;
        self.limits.check("limits")?;
        if let Some(tracing) = &self.tracing {
            tracing.check("tracing")?;
        }
        if let Some(draft) = &self.draft {
            draft.check("draft")?;
        }
        if let Some(workshop) = &self.workshop {
            workshop.check("workshop")?;
        }
        Ok(())
    }
}

/// The index of the other place that is nearest to the mirror image of the one at `index`, if within
/// `tolerance`.
fn mirrored(
    places: impl Iterator<Item = [f64; 2]> + Clone,
    index: usize,
    tolerance: f64,
) -> Option<usize> {
    let at = places.clone().nth(index)?;
    places
        .enumerate()
        .filter(|&(other, _)| other != index)
        .map(|(other, place)| (other, (place[0] + at[0]).hypot(place[1] - at[1])))
        .filter(|&(_, distance)| distance <= tolerance)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(other, _)| other)
}
