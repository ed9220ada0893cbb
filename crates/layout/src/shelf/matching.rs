//! Whether a shelf plate takes a project's parts: dimensions are compared, never names.

use serde::Serialize;

use super::eyes::partners;
use super::parts::{ShelfLids, ShelfParts, ShelfSeat};
use super::plate::ShelfPlate;
use crate::project::Project;

/// How far balls of one size may differ, mm: half of what a bought ball may be larger. Own choice.
const BALL: f64 = 0.3;

/// How far openings, seats and rings of one set may differ, mm: what callipers and a good printer
/// leave open together, and less than the clearances that were planned for. Own choice.
pub(super) const FITTED: f64 = 0.2;

/// How far lugs of one set may stand nearer or farther apart, mm: the moving fit of printed parts,
/// less a little. Own choice.
const PIVOTS: f64 = 0.3;

/// How far a running clearance or the gap under a lid may differ, mm: half of a usual clearance. Own
/// choice.
const GAP: f64 = 0.2;

/// The kind of lids of a plate that carries none.
pub(super) const WITHOUT_LIDS: &str = "none";

/// One dimension in which a plate differs from what a project needs, or that must be measured.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// The dimension.
    pub dimension: &'static str,
    /// The eye that it is about, or "eyes" where it holds for all.
    pub part: String,
    /// What the plate has.
    pub shelf: Held,
    /// What the project needs.
    pub wanted: Held,
    /// How far the two may differ, mm.
    pub tolerance: f64,
}

/// What is known of a dimension.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Held {
    /// Nothing: it must be measured.
    Unknown,
    /// Its length, mm.
    Length(f64),
    /// How many there are.
    Count(usize),
    /// Which kind it is.
    Kind(&'static str),
}

impl Difference {
    /// Whether the dimension must be measured before anything can be said.
    pub fn is_unknown(&self) -> bool {
        self.shelf == Held::Unknown
    }
}

/// The dimensions of the parts set in which `plate` differs from what `project` needs by more than
/// their tolerance, and those that must be measured. Neither name nor spacing is compared.
pub fn matching(plate: &ShelfPlate, project: &Project) -> Vec<Difference> {
    let mut found = Found {
        part: String::new(),
        differences: Vec::new(),
    };
    found.part = "eyes".to_owned();
    let [has, needs] = [plate.eyes.len(), project.eyes.len()].map(Held::Count);
    if has != needs {
        found.push("number of eyes", has, needs, 0.0);
    }
    for (opening, eye) in partners(plate, project) {
        let own = plate.eyes[opening].parts.is_some() || project.eyes[eye].parts.is_some();
        found.part = if own {
            project.eye_name(eye)
        } else {
            "eyes".to_owned()
        };
        let needed = ShelfParts::of(project.parts_of(eye));
        found.compare(plate.parts_of(opening), &needed);
    }
    found.differences
}

/// The differences found so far.
struct Found {
    /// The eyes that are being looked at.
    part: String,
    differences: Vec<Difference>,
}

impl Found {
    fn push(&mut self, dimension: &'static str, shelf: Held, wanted: Held, tolerance: f64) {
        let difference = Difference {
            dimension,
            part: self.part.clone(),
            shelf,
            wanted,
            tolerance,
        };
        if !self.differences.contains(&difference) {
            self.differences.push(difference);
        }
    }

    /// Compares a length; one that the project does not have is not asked for.
    fn length(
        &mut self,
        dimension: &'static str,
        shelf: Option<f64>,
        wanted: Option<f64>,
        tolerance: f64,
    ) {
        let Some(wanted) = wanted else {
            return;
        };
        let held = shelf.map_or(Held::Unknown, Held::Length);
        let alike = |shelf: f64| (shelf - wanted).abs() <= tolerance + crate::limits::TOLERANCE;
        if !shelf.is_some_and(alike) {
            self.push(dimension, held, Held::Length(wanted), tolerance);
        }
    }

    fn compare(&mut self, shelf: &ShelfParts, wanted: &ShelfParts) {
        let diameters = (shelf.ball_diameter, wanted.ball_diameter);
        self.length("ball diameter", diameters.0, diameters.1, BALL);
        self.seat(shelf.seat, wanted.seat);
        let (has, needs) = (&shelf.ring, &wanted.ring);
        self.length("depth of the ring", has.depth, needs.depth, FITTED);
        let thickness = (has.thickness, needs.thickness);
        self.length("thickness of the ring", thickness.0, thickness.1, FITTED);
        let outer = (has.outer_diameter, needs.outer_diameter);
        self.length("outer diameter of the ring", outer.0, outer.1, FITTED);
        self.length("bevel of the ring", has.bevel, needs.bevel, FITTED);
        self.lids(shelf.lids, wanted.lids);
    }

    fn seat(&mut self, shelf: Option<ShelfSeat>, wanted: Option<ShelfSeat>) {
        let kind = |seat: Option<ShelfSeat>| match seat {
            None => Held::Unknown,
            Some(ShelfSeat::Plain { .. }) => Held::Kind("plain"),
            Some(ShelfSeat::Spherical { .. }) => Held::Kind("spherical"),
        };
        match (shelf, wanted) {
            (
                Some(ShelfSeat::Plain {
                    opening_diameter: has,
                }),
                Some(ShelfSeat::Plain {
                    opening_diameter: needs,
                }),
            ) => self.length("diameter of the opening", has, needs, FITTED),
            (
                Some(ShelfSeat::Spherical {
                    centre_height: has,
                    running_clearance,
                }),
                Some(ShelfSeat::Spherical {
                    centre_height: needs,
                    running_clearance: wanted,
                }),
            ) => {
                self.length("height of the ball's centre", has, needs, FITTED);
                self.length("running clearance", running_clearance, wanted, GAP);
            }
            _ => self.push("kind of seat", kind(shelf), kind(wanted), 0.0),
        }
    }

    fn lids(&mut self, shelf: Option<ShelfLids>, wanted: Option<ShelfLids>) {
        let kind = |lids: Option<ShelfLids>| match lids {
            None => Held::Unknown,
            Some(ShelfLids::Without) => Held::Kind(WITHOUT_LIDS),
            Some(ShelfLids::With { .. }) => Held::Kind("lids"),
        };
        match (shelf, wanted) {
            (
                Some(ShelfLids::With {
                    pivot_spacing: has_pivots,
                    pivot_hole: has_hole,
                    gap: has_gap,
                    shell: has_shell,
                }),
                Some(ShelfLids::With {
                    pivot_spacing,
                    pivot_hole,
                    gap,
                    shell,
                }),
            ) => {
                self.length("pivot spacing", has_pivots, pivot_spacing, PIVOTS);
                self.length("pivot hole", has_hole, pivot_hole, FITTED);
                self.length("gap under the lids", has_gap, gap, GAP);
                self.length("shell of the lids", has_shell, shell, FITTED);
            }
            // Bare balls sit in any plate that was made for lids.
            (_, Some(ShelfLids::Without)) => {}
            _ => self.push("lids", kind(shelf), kind(wanted), 0.0),
        }
    }
}
