//! Lids, as a project keeps them.

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::problem::{self, Problem};

/// The lids of an eye and the lugs that carry them. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lids {
    /// Gap between ball and lid.
    pub gap: f64,
    /// Thickness of the lid's shell.
    pub shell: f64,
    /// Distance between the mid-planes of the two lugs.
    pub pivot_spacing: f64,
    /// Diameter of the pivot hole.
    pub pivot_hole: f64,
    /// Thickness of a lug along the pivot axis.
    pub lug_thickness: f64,
    /// Width of a lug.
    pub lug_width: f64,
    /// Width of a lever bar.
    pub lever_width: f64,
    /// The upper lid.
    pub upper: Option<Lid>,
    /// The lower lid.
    pub lower: Option<Lid>,
}

/// One lid: angles from forward toward up, a lower lid mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lid {
    /// Place of the leading edge when open.
    pub open: Degrees,
    /// Place of the leading edge when shut.
    pub closed: Degrees,
    /// How far the lid reaches behind its leading edge.
    pub extent: Degrees,
}

/// One of the two lids of an eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Which {
    /// The lid above.
    Upper,
    /// The lid below.
    Lower,
}

impl Lids {
    /// The lid of this name, if there is one.
    pub fn of(&self, which: Which) -> Option<&Lid> {
        match which {
            Which::Upper => self.upper.as_ref(),
            Which::Lower => self.lower.as_ref(),
        }
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size_or_none(&format!("{at}.gap"), self.gap)?;
        for (name, value) in [
            ("shell", self.shell),
            ("pivot_spacing", self.pivot_spacing),
            ("pivot_hole", self.pivot_hole),
            ("lug_thickness", self.lug_thickness),
            ("lug_width", self.lug_width),
            ("lever_width", self.lever_width),
        ] {
            problem::size(&format!("{at}.{name}"), value)?;
        }
        for (name, lid) in [("upper", self.upper), ("lower", self.lower)] {
            if let Some(lid) = lid {
                lid.check(&format!("{at}.{name}"))?;
            }
        }
        Ok(())
    }
}

impl Lid {
    fn check(&self, at: &str) -> Result<(), Problem> {
        for (name, value) in [("open", self.open), ("closed", self.closed)] {
            problem::within(&format!("{at}.{name}"), value.0, -180.0..=180.0, "°")?;
        }
        problem::within(&format!("{at}.extent"), self.extent.0, 0.0..=180.0, "°")
    }
}
