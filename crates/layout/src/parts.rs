//! The parts set: the dimensions that make eyes interchangeable.

use serde::{Deserialize, Serialize};

use crate::lid::Lids;
use crate::problem::{self, Problem};
use crate::ring::{Ring, RingFit};
use crate::seat::{Seat, SeatFit};

/// One parts set. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parts {
    /// What the maker calls the set.
    pub name: String,
    /// Nominal ball diameter.
    pub ball_diameter: f64,
    /// How much larger than nominal a bought ball may be.
    pub ball_plus: f64,
    /// The opening's wall.
    pub seat: Seat,
    /// The retaining ring.
    pub ring: Ring,
    /// The lids, if the eye has any.
    pub lids: Option<Lids>,
    /// Mass of ball and ring, g, if they were weighed.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub eye_mass_g: Option<f64>,
}

impl Parts {
    /// The seat in a plate of `thickness`, mm.
    ///
    /// # Errors
    /// As [`Seat::fit`].
    pub fn seat_fit(&self, thickness: f64) -> Result<SeatFit, Problem> {
        self.seat.fit(self.ball_diameter, thickness)
    }

    /// The ring on its ball, in a plate of `thickness`, mm.
    ///
    /// # Errors
    /// As [`Seat::fit`] and [`Ring::fit`].
    pub fn ring_fit(&self, thickness: f64) -> Result<RingFit, Problem> {
        self.ring.fit(self.seat_fit(thickness)?)
    }

    pub(crate) fn check(&self, at: &str, thickness: f64) -> Result<(), Problem> {
        problem::size(&format!("{at}.ball_diameter"), self.ball_diameter)?;
        problem::size_or_none(&format!("{at}.ball_plus"), self.ball_plus)?;
        if let Some(mass) = self.eye_mass_g {
            problem::within(&format!("{at}.eye_mass_g"), mass, 0.0..=10_000.0, "g")?;
        }
        self.seat.check(&format!("{at}.seat"))?;
        self.ring.check(&format!("{at}.ring"))?;
        if let Some(lids) = &self.lids {
            lids.check(&format!("{at}.lids"))?;
        }
        self.seat_fit(thickness).map(drop).map_err(|p| Problem {
            field: p.field.replacen("parts", at, 1),
            ..p
        })
    }
}
