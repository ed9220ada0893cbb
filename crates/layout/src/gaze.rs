//! How far the eyes turn, and how they meet at a point.

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::problem::{self, Problem};

/// The largest gaze that the character uses; each turn works to both sides.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gaze {
    /// Largest turn about y, toe-in included.
    pub side: Degrees,
    /// Largest turn about x.
    pub lift: Degrees,
    /// Whether both turns are used together.
    pub together: bool,
    /// Distance of the point that the eyes look at, mm, in front of their mid-point.
    pub looks_at: f64,
}

impl Gaze {
    /// The tilt that the ring must be able to take, radians: that of both turns together,
    /// acos(cos α·cos β), or the larger one if they are never combined.
    pub fn working_tilt(&self) -> f64 {
        self.tilt_of(self.side.radians(), self.lift.radians())
    }

    /// The same of an eye whose largest turns are these, radians.
    pub(crate) fn tilt_of(&self, side: f64, lift: f64) -> f64 {
        if self.together {
            tilt(side, lift)
        } else {
            side.abs().max(lift.abs())
        }
    }

    /// How far each of two eyes turns inward to look at the point, radians: atan((S/2)/D) for a
    /// spacing S, mm (plane geometry; the half angle of vergence).
    pub fn toe_in(&self, spacing: f64) -> f64 {
        (spacing / 2.0).atan2(self.looks_at)
    }

    /// How much nearer the two pupils stand than the eyes' centres, mm: 2·R·sin(toe-in).
    pub fn pupils_nearer(&self, spacing: f64, ball_radius: f64) -> f64 {
        2.0 * ball_radius * self.toe_in(spacing).sin()
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::within(&format!("{at}.side"), self.side.0, 0.0..=90.0, "°")?;
        problem::within(&format!("{at}.lift"), self.lift.0, 0.0..=90.0, "°")?;
        problem::within(&format!("{at}.looks_at"), self.looks_at, 1.0..=1e6, "mm")
    }
}

/// Tilt of an eye's axis, radians, under a side turn and a lift, radians: acos(cos α·cos β),
/// written so that small turns lose no digits.
pub fn tilt(side: f64, lift: f64) -> f64 {
    (side.sin() * lift.cos())
        .hypot(lift.sin())
        .atan2(side.cos() * lift.cos())
}

/// What takes up the play of an eye in its seat.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SeatedBy {
    /// A cord or spring on the ring.
    Elastic {
        /// Its pull, N.
        pull_n: f64,
    },
    /// The lids.
    Lids,
    /// Nothing.
    Nothing,
}

impl SeatedBy {
    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        match *self {
            Self::Elastic { pull_n } => {
                problem::within(&format!("{at}.pull_n"), pull_n, 0.0..=1_000.0, "N")
            }
            Self::Lids | Self::Nothing => Ok(()),
        }
    }
}
