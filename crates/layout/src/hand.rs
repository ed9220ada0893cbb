//! The hand and what keeps it off the moving parts: what a project keeps of them, and how thick
//! hands are.

use serde::{Deserialize, Serialize};

use crate::problem::{self, Problem};

/// How far the foam stands off what the rings sweep, mm, if the maker does not say: foam is cut by
/// hand and swells a little when it is pressed. Own choice.
pub const FOAM_CLEARANCE: f64 = 3.0;

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

/// The percentiles of a group that are known: how many in 100 are thinner.
pub const PERCENTILES: [u32; 3] = [5, 50, 95];

/// Thickness of hands at the middle knuckle without the thumb, mm, in one group of people.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandThickness {
    /// Of whom.
    pub of: &'static str,
    /// Those of [`PERCENTILES`].
    pub percentiles: [f64; 3],
    /// Where the figures come from.
    pub source: &'static str,
    /// How well they are known.
    pub status: &'static str,
}

const STADIUM: &str = "ANSUR II (Gordon et al., Natick/TR-15/007, 2014): hand circumference C and \
     breadth w of each person as a stadium, (C − 2w)/(π − 2)";
const ESTIMATE: &str = "an estimate computed from surveyed sizes; no large survey measured thickness. \
     Means measured by Garrett (AMRL-TR-69-42, 1970, as reported): men 32.9 mm, women 27.6 mm";

/// What is known of the thickness of hands.
pub const HAND_THICKNESS: [HandThickness; 2] = [
    HandThickness {
        of: "men",
        percentiles: [25.4, 31.5, 37.7],
        source: STADIUM,
        status: ESTIMATE,
    },
    HandThickness {
        of: "women",
        percentiles: [21.0, 26.3, 32.4],
        source: STADIUM,
        status: ESTIMATE,
    },
];

/// How many in 100 hands of a group are thinner than a given one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Percentile {
    /// Fewer than 5.
    Below5,
    /// About so many, found between the known percentiles by a straight line.
    About(f64),
    /// More than 95.
    Above95,
}

impl HandThickness {
    /// Where a hand of `thickness`, mm, stands in the group.
    pub fn percentile(&self, thickness: f64) -> Percentile {
        let [low, middle, high] = self.percentiles;
        let between = |from: f64, to: f64| (thickness - from) / (to - from) * 45.0;
        if thickness < low {
            Percentile::Below5
        } else if thickness <= middle {
            Percentile::About(5.0 + between(low, middle))
        } else if thickness <= high {
            Percentile::About(50.0 + between(middle, high))
        } else {
            Percentile::Above95
        }
    }
}

impl Percentile {
    /// The percentile as words, such as "about 74 in 100" of those hands that are thinner.
    pub fn words(self) -> String {
        match self {
            Self::Below5 => "fewer than 5 in 100".to_owned(),
            Self::About(share) => format!("about {share:.0} in 100"),
            Self::Above95 => "more than 95 in 100".to_owned(),
        }
    }
}

impl Hand {
    /// How this hand's thickness compares, for a note beside it.
    pub fn thickness_words(&self) -> String {
        let [men, women] = HAND_THICKNESS.map(|of| of.percentile(self.thickness_mm).words());
        format!("thicker than the hands of {men} men and {women} women, by an estimate")
    }
}
