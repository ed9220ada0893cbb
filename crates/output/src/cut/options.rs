//! What the maker says of tool and material.

use std::ops::RangeInclusive;

use layout::problem;

use super::CutError;

pub use layout::hand::FOAM_CLEARANCE;

/// Kerfs that can be entered, mm: from none to that of a wide router bit.
const KERF: RangeInclusive<f64> = 0.0..=10.0;

/// Hole allowances that can be entered, mm: printed holes come out 0.1 to 0.2 mm small (two makers'
/// guides, as reported), and ten times that is no allowance but a fault.
const HOLE_ALLOWANCE: RangeInclusive<f64> = 0.0..=2.0;

/// Foam clearances that can be entered, mm.
const CLEARANCE: RangeInclusive<f64> = 0.0..=50.0;

/// What the maker says of tool and material. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOptions {
    /// Width of what the tool takes away. The part's edge is drawn half of it farther out, and each
    /// hole's half of it farther in.
    pub kerf: f64,
    /// What holes come out smaller by: it is added to their diameter, and to a slot's length and
    /// width.
    pub hole_allowance: f64,
    /// How far the foam stands off what the ring sweeps.
    pub foam_clearance: f64,
}

impl Default for CutOptions {
    fn default() -> Self {
        Self {
            kerf: 0.0,
            hole_allowance: 0.0,
            foam_clearance: FOAM_CLEARANCE,
        }
    }
}

impl CutOptions {
    /// Refuses what is no number or out of range.
    pub(super) fn check(&self) -> Result<(), CutError> {
        for (name, value, range) in [
            ("kerf", self.kerf, KERF),
            ("hole_allowance", self.hole_allowance, HOLE_ALLOWANCE),
            ("foam_clearance", self.foam_clearance, CLEARANCE),
        ] {
            problem::within(name, value, range, "mm")?;
        }
        Ok(())
    }
}
