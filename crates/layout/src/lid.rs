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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Which {
    /// The lid above.
    Upper,
    /// The lid below.
    Lower,
}

impl Which {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Upper, Self::Lower];

    /// 1 for the upper lid, whose angles go up, and −1 for the lower one.
    pub fn sign(self) -> f64 {
        match self {
            Self::Upper => 1.0,
            Self::Lower => -1.0,
        }
    }
}

impl Lids {
    /// Lids that a ball of `radius`, mm, can start with: own choice.
    pub fn around(radius: f64) -> Self {
        const GAP: f64 = 0.8;
        const SHELL: f64 = 1.6;
        const LUG: f64 = 3.0;
        const BESIDE: f64 = 2.0;
        let outer = radius + GAP + SHELL;
        let lid = |open, extent| Lid {
            open: Degrees(open),
            closed: Degrees(-0.5),
            extent: Degrees(extent),
        };
        Self {
            gap: GAP,
            shell: SHELL,
            pivot_spacing: (2.0 * (outer + BESIDE) + LUG).ceil(),
            // A 3 mm bolt with a fine clearance hole (ISO 273, as reported).
            pivot_hole: 3.2,
            lug_thickness: LUG,
            lug_width: 10.0,
            lever_width: 5.0,
            upper: Some(lid(33.0, 63.0)),
            lower: Some(lid(36.0, 60.0)),
        }
    }

    /// One of the lids, if the eye has it.
    pub fn lid(&self, which: Which) -> Option<Lid> {
        match which {
            Which::Upper => self.upper,
            Which::Lower => self.lower,
        }
    }

    pub(crate) fn lid_mut(&mut self, which: Which) -> Option<&mut Lid> {
        match which {
            Which::Upper => self.upper.as_mut(),
            Which::Lower => self.lower.as_mut(),
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
    /// Where the leading edge is, radians from forward, when the lid is shut by `share`: 0 open, 1
    /// shut.
    pub fn leading(&self, share: f64) -> f64 {
        let (open, closed) = (self.open.radians(), self.closed.radians());
        open + (closed - open) * share
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        for (name, value) in [("open", self.open), ("closed", self.closed)] {
            problem::within(&format!("{at}.{name}"), value.0, -180.0..=180.0, "°")?;
        }
        problem::within(&format!("{at}.extent"), self.extent.0, 0.0..=180.0, "°")
    }
}
