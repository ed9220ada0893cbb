//! The shelf as a file holds it: plates with what is known of them.

use serde::{Deserialize, Serialize};

use super::openings;
use super::parts::{ShelfParts, known};
use super::placement::Placement;
use crate::angle::Degrees;
use crate::cable_hole::PlateHole;
use crate::closed_curve::{self, CurveOf};
use crate::problem::{self, Problem};
use crate::project::{LONGEST_NAME, MOST_ENTRIES};
use crate::tie::TieSlot;

/// The version of the shelf's file format that this build writes.
pub const VERSION: u32 = 1;

/// Most plates on a shelf: more than a workshop keeps, few enough to try them all.
pub const MOST_PLATES: usize = 1_000;

/// Most corners of a plate's outline: a scan can be thinned to these without losing a hundredth of a
/// millimetre that matters.
pub const MOST_CORNERS: usize = 400;

/// The plates that a maker has.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shelf {
    /// Version of the file format.
    pub version: u32,
    /// The plates.
    pub plates: Vec<ShelfPlate>,
}

/// A plate that exists. Lengths in mm, in its own frame: x to the right as the audience sees it, y up,
/// the eyes level as the face has them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfPlate {
    /// What the maker calls it. Nothing is ever matched by it.
    pub name: String,
    /// The parts that it is made for, as far as they are known.
    pub parts: ShelfParts,
    /// Thickness, if it was measured.
    pub thickness: Option<f64>,
    /// The openings.
    pub eyes: Vec<ShelfEye>,
    /// The corners of its outline, counter-clockwise, with straight edges between them; None if it
    /// was not measured.
    pub outline: Option<Vec<[f64; 2]>>,
    /// The slots for cable ties.
    pub slots: Vec<ShelfSlot>,
    /// The holes for cables.
    pub cable_holes: Vec<PlateHole>,
}

/// An opening of a shelf plate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfEye {
    /// Its centre. Neither opening of a pair has one whose spacing was not measured: the first is then the
    /// left one, and the middle between them the plate's origin.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub centre: Option<[f64; 2]>,
    /// Its own parts, if they differ from the plate's.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub parts: Option<Box<ShelfParts>>,
}

/// A slot of a shelf plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfSlot {
    /// Its centre.
    pub at: [f64; 2],
    /// Direction of its long side, counter-clockwise from +x.
    pub angle: Degrees,
    /// Width and thickness of the tie that passes it, if that was tried.
    pub tie: Option<[f64; 2]>,
}

impl Shelf {
    /// A shelf without a plate.
    pub fn empty() -> Self {
        Self {
            version: VERSION,
            plates: Vec::new(),
        }
    }

    /// Whether every plate of it can be tried. That several have one name is no problem; see
    /// [`same_names`](Self::same_names).
    ///
    /// # Errors
    /// The first [`Problem`] found, in the order of the file's fields.
    pub fn check(&self) -> Result<(), Problem> {
        Self::check_frame(self.version, self.plates.len())?;
        let mut plates = self.plates.iter().enumerate();
        plates.try_for_each(|(index, plate)| plate.check(&format!("plates[{index}]")))
    }

    /// Whether a file of this version with so many entries is a shelf, whatever its entries are.
    ///
    /// # Errors
    /// The first [`Problem`] found.
    pub fn check_frame(version: u32, entries: usize) -> Result<(), Problem> {
        if version != VERSION {
            return Err(Problem::new(
                "version",
                format!(
                    "The shelf has version {version}, and this program reads version {VERSION}."
                ),
                "Open it with the program that wrote it.",
            ));
        }
        at_most("plates", entries, MOST_PLATES)
    }
}

impl ShelfPlate {
    /// A plate of which nothing is known but where its openings are, mm.
    pub fn unmeasured(name: impl Into<String>, eyes: &[[f64; 2]]) -> Self {
        let eye = |&centre| ShelfEye {
            centre: Some(centre),
            parts: None,
        };
        Self {
            name: name.into(),
            parts: ShelfParts::default(),
            thickness: None,
            eyes: eyes.iter().map(eye).collect(),
            outline: None,
            slots: Vec::new(),
            cable_holes: Vec::new(),
        }
    }

    /// The parts of opening `index`: its own, or the plate's.
    pub fn parts_of(&self, index: usize) -> &ShelfParts {
        let own = self.eyes.get(index).and_then(|eye| eye.parts.as_deref());
        own.unwrap_or(&self.parts)
    }

    /// The centres of its openings, mm; None while its spacing is not measured.
    pub fn centres(&self) -> Option<Vec<[f64; 2]>> {
        self.eyes.iter().map(|eye| eye.centre).collect()
    }

    /// Whether the plate can be tried in a head; `at` is where a file has it.
    ///
    /// # Errors
    /// The first [`Problem`] found, in the order of the file's fields, and then of the openings together.
    pub fn check(&self, at: &str) -> Result<(), Problem> {
        self.check_figures(at)?;
        openings::check(self, at)
    }

    /// The same, but whether the openings can be where they are said to be: of a plate that is still being
    /// measured, that is not known.
    pub(super) fn check_figures(&self, at: &str) -> Result<(), Problem> {
        if self.name.chars().count() > LONGEST_NAME {
            return Err(Problem::new(
                format!("{at}.name"),
                format!("The plate's name is longer than {LONGEST_NAME} characters."),
                "Use a shorter one.",
            ));
        }
        self.parts.check(&format!("{at}.parts"))?;
        known(problem::size, &format!("{at}.thickness"), self.thickness)?;
        at_most(&format!("{at}.eyes"), self.eyes.len(), MOST_ENTRIES)?;
        if self.eyes.is_empty() {
            return Err(Problem::new(
                format!("{at}.eyes"),
                format!("The plate “{}” has no opening.", self.name),
                "Add at least one.",
            ));
        }
        openings::check_known(self, at)?;
        for (index, eye) in self.eyes.iter().enumerate() {
            let place = problem::place;
            known(place, &format!("{at}.eyes[{index}].centre"), eye.centre)?;
            if let Some(parts) = &eye.parts {
                parts.check(&format!("{at}.eyes[{index}].parts"))?;
            }
        }
        if let Some(outline) = &self.outline {
            let field = format!("{at}.outline");
            at_most(&field, outline.len(), MOST_CORNERS)?;
            closed_curve::check(CurveOf::Plate, &field, outline, false)?;
        }
        at_most(&format!("{at}.slots"), self.slots.len(), MOST_ENTRIES)?;
        for (index, slot) in self.slots.iter().enumerate() {
            slot.check(&format!("{at}.slots[{index}]"))?;
        }
        let holes = format!("{at}.cable_holes");
        at_most(&holes, self.cable_holes.len(), MOST_ENTRIES)?;
        for (index, hole) in self.cable_holes.iter().enumerate() {
            hole.check(&format!("{holes}[{index}]"))?;
        }
        Ok(())
    }
}

impl ShelfSlot {
    /// The slot where it comes to lie, for a tie of the `usual` size, mm, if none was tried in it, and
    /// leading nowhere yet.
    pub fn placed(&self, placement: Placement, usual: [f64; 2]) -> TieSlot {
        TieSlot {
            at: placement.place(self.at),
            angle: placement.direction(self.angle),
            tie: self.tie.unwrap_or(usual),
            anchor: None,
            locked: false,
        }
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        problem::place(&format!("{at}.at"), self.at)?;
        problem::within(&format!("{at}.angle"), self.angle.0, -360.0..=360.0, "°")?;
        let mut sides = self.tie.into_iter().flatten();
        sides.try_for_each(|side| problem::size(&format!("{at}.tie"), side))
    }
}

impl PlateHole {
    /// The hole where it comes to lie in a head.
    pub fn placed(&self, placement: Placement) -> Self {
        Self {
            ends: self.ends.map(|end| placement.place(end)),
            ..*self
        }
    }
}

/// Refuses a list of more than `most` entries.
fn at_most(field: &str, count: usize, most: usize) -> Result<(), Problem> {
    if count <= most {
        return Ok(());
    }
    Err(Problem::new(
        field,
        format!("`{field}` has {count} entries, more than {most}."),
        "Remove some.",
    ))
}
