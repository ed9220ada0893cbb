//! What a maker found out about their own tools.

use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

use crate::problem::{self, LARGEST, Problem};
use crate::project::LONGEST_NAME;

/// A workshop's settings. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Workshop {
    /// What the maker calls it, such as the printer and its plastic.
    pub name: String,
    /// What holes come out smaller by, in diameter.
    pub hole_allowance: f64,
    /// Running clearance that lets a ball turn freely in a seat.
    pub running_clearance: f64,
    /// Width of what the cutter takes away.
    pub kerf: f64,
    /// Width and depth of the printer's bed.
    pub bed: [f64; 2],
    /// Eye spacing over the face's width that the maker likes, if they have such a ratio.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub spacing_ratio: Option<f64>,
}

/// Ratios of a spacing to a face's width that can be kept: beyond them eyes stand in one another, or outside.
pub const RATIOS: RangeInclusive<f64> = 0.05..=1.0;

impl Workshop {
    /// A workshop about which nothing was found out yet: exact holes and cuts, and a bed of a common
    /// size (common practice, no source).
    pub fn unknown(running_clearance: f64) -> Self {
        Self {
            name: String::new(),
            hole_allowance: 0.0,
            running_clearance,
            kerf: 0.0,
            bed: [220.0, 220.0],
            spacing_ratio: None,
        }
    }

    /// Whether a part of this size, mm, lies on the bed, either way round.
    pub fn holds(&self, [width, depth]: [f64; 2]) -> bool {
        let [across, along] = self.bed;
        (width <= across && depth <= along) || (width <= along && depth <= across)
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        if self.name.chars().count() > LONGEST_NAME {
            return Err(Problem::new(
                format!("{at}.name"),
                format!("The workshop's name is longer than {LONGEST_NAME} characters."),
                "Use a shorter one.",
            ));
        }
        let within = |field: &str, value, most| {
            problem::within(&format!("{at}.{field}"), value, 0.0..=most, "mm")
        };
        within("hole_allowance", self.hole_allowance, 2.0)?;
        within("running_clearance", self.running_clearance, 10.0)?;
        within("kerf", self.kerf, 10.0)?;
        for side in self.bed {
            problem::within(&format!("{at}.bed"), side, 10.0..=LARGEST, "mm")?;
        }
        if let Some(ratio) = self.spacing_ratio {
            problem::within(&format!("{at}.spacing_ratio"), ratio, RATIOS, "")?;
        }
        Ok(())
    }
}
