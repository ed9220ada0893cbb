//! The hand and what keeps it off the moving parts, as a project keeps them.

use serde::{Deserialize, Serialize};

use crate::problem::{self, Problem};

/// The guard behind the plate, the hand behind it and the head upon it. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hand {
    /// Chord of the guard's arc.
    pub guard_chord: f64,
    /// Bow of the guard's arc.
    pub guard_bow: f64,
    /// How far the guard's edges stand behind the plate's back face.
    pub guard_edge: f64,
    /// Length of the guard along its axis.
    pub guard_length: f64,
    /// Direction of the guard's axis.
    pub guard_axis: GuardAxis,
    /// Thickness of the hand.
    pub thickness_mm: f64,
    /// Mass of the head, g.
    pub head_mass_g: f64,
    /// Centre of mass of the head, in the plate's frame.
    pub mass_centre: [f64; 3],
}

/// Direction of the guard's axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum GuardAxis {
    /// To the right.
    X,
    /// Up.
    Y,
}

impl Hand {
    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size(&format!("{at}.guard_chord"), self.guard_chord)?;
        problem::size_or_none(&format!("{at}.guard_bow"), self.guard_bow)?;
        problem::size_or_none(&format!("{at}.guard_edge"), self.guard_edge)?;
        problem::size(&format!("{at}.guard_length"), self.guard_length)?;
        problem::size(&format!("{at}.thickness_mm"), self.thickness_mm)?;
        problem::within(
            &format!("{at}.head_mass_g"),
            self.head_mass_g,
            0.0..=1e5,
            "g",
        )?;
        problem::place(&format!("{at}.mass_centre"), self.mass_centre)
    }
}
