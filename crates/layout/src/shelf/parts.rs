//! The dimensions of a shelf plate that make its parts interchangeable, as far as they are known.

use serde::{Deserialize, Serialize};

use crate::lid::Lids;
use crate::parts::Parts;
use crate::problem::{self, Problem};
use crate::ring::Ring;
use crate::seat::Seat;

/// A parts set of which some dimensions may not have been measured. Lengths in mm.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfParts {
    /// Nominal ball diameter.
    pub ball_diameter: Option<f64>,
    /// The openings' wall.
    pub seat: Option<ShelfSeat>,
    /// The retaining ring.
    pub ring: ShelfRing,
    /// The lids.
    pub lids: Option<ShelfLids>,
}

/// A seat of which some dimensions may not have been measured. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ShelfSeat {
    /// As [`Seat::Plain`].
    Plain {
        /// Diameter of the opening.
        opening_diameter: Option<f64>,
    },
    /// As [`Seat::Spherical`].
    Spherical {
        /// Height of the ball's centre above the plate's front face.
        centre_height: Option<f64>,
        /// Gap between ball and seat.
        running_clearance: Option<f64>,
    },
}

/// A ring of which some dimensions may not have been measured. Lengths in mm, as in [`Ring`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfRing {
    /// Depth of its front face behind the ball's centre.
    pub depth: Option<f64>,
    /// Thickness.
    pub thickness: Option<f64>,
    /// Outer diameter.
    pub outer_diameter: Option<f64>,
    /// Leg of the bevel.
    pub bevel: Option<f64>,
}

/// What a plate is made for: bare balls, or lids of which some dimensions may not have been
/// measured. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ShelfLids {
    /// It carries no lids.
    Without,
    /// It carries lids.
    With {
        /// Distance between the mid-planes of the two lugs of an eye.
        pivot_spacing: Option<f64>,
        /// Diameter of the pivot hole.
        pivot_hole: Option<f64>,
        /// Gap between ball and lid.
        gap: Option<f64>,
        /// Thickness of a lid's shell.
        shell: Option<f64>,
    },
}

impl ShelfParts {
    /// The dimensions of a parts set, all of them known.
    pub fn of(parts: &Parts) -> Self {
        Self {
            ball_diameter: Some(parts.ball_diameter),
            seat: Some(ShelfSeat::of(parts.seat)),
            ring: ShelfRing::of(&parts.ring),
            lids: Some(ShelfLids::of(parts.lids.as_ref())),
        }
    }

    pub(super) fn check(&self, at: &str) -> Result<(), Problem> {
        known(
            problem::size,
            &format!("{at}.ball_diameter"),
            self.ball_diameter,
        )?;
        if let Some(seat) = &self.seat {
            seat.check(&format!("{at}.seat"))?;
        }
        self.ring.check(&format!("{at}.ring"))?;
        match &self.lids {
            Some(lids) => lids.check(&format!("{at}.lids")),
            None => Ok(()),
        }
    }
}

impl ShelfSeat {
    fn of(seat: Seat) -> Self {
        match seat {
            Seat::Plain { opening_diameter } => Self::Plain {
                opening_diameter: Some(opening_diameter),
            },
            Seat::Spherical {
                centre_height,
                running_clearance,
            } => Self::Spherical {
                centre_height: Some(centre_height),
                running_clearance: Some(running_clearance),
            },
        }
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        match *self {
            Self::Plain { opening_diameter } => known(
                problem::size,
                &format!("{at}.opening_diameter"),
                opening_diameter,
            ),
            Self::Spherical {
                centre_height,
                running_clearance,
            } => {
                let size = problem::size_or_none;
                known(size, &format!("{at}.centre_height"), centre_height)?;
                known(size, &format!("{at}.running_clearance"), running_clearance)
            }
        }
    }
}

impl ShelfRing {
    fn of(ring: &Ring) -> Self {
        Self {
            depth: Some(ring.depth),
            thickness: Some(ring.thickness),
            outer_diameter: Some(ring.outer_diameter),
            bevel: Some(ring.bevel),
        }
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        let size = problem::size;
        known(size, &format!("{at}.depth"), self.depth)?;
        known(size, &format!("{at}.thickness"), self.thickness)?;
        known(size, &format!("{at}.outer_diameter"), self.outer_diameter)?;
        known(problem::size_or_none, &format!("{at}.bevel"), self.bevel)
    }
}

impl ShelfLids {
    fn of(lids: Option<&Lids>) -> Self {
        match lids.filter(|lids| lids.any()) {
            None => Self::Without,
            Some(lids) => Self::With {
                pivot_spacing: Some(lids.pivot_spacing),
                pivot_hole: Some(lids.pivot_hole),
                gap: Some(lids.gap),
                shell: Some(lids.shell),
            },
        }
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        let Self::With {
            pivot_spacing,
            pivot_hole,
            gap,
            shell,
        } = *self
        else {
            return Ok(());
        };
        let size = problem::size;
        known(size, &format!("{at}.pivot_spacing"), pivot_spacing)?;
        known(size, &format!("{at}.pivot_hole"), pivot_hole)?;
        known(problem::size_or_none, &format!("{at}.gap"), gap)?;
        known(size, &format!("{at}.shell"), shell)
    }
}

/// Refuses a dimension that is known and not in its range.
pub(super) fn known<T>(
    check: impl Fn(&str, T) -> Result<(), Problem>,
    field: &str,
    value: Option<T>,
) -> Result<(), Problem> {
    value.map_or(Ok(()), |value| check(field, value))
}
