//! Drives, as a project keeps them.

use serde::{Deserialize, Serialize};

use crate::lid::Which;
use crate::problem::{self, Problem};

/// One moved thing with its lever, cable line, sheath stop and route. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drive {
    /// What the maker calls it.
    pub name: String,
    /// What it moves.
    pub moves: Moves,
    /// Lever tip, relative to the ball's centre: looking straight ahead, or with the lid shut.
    pub tip: [f64; 3],
    /// The end of the turn that lies nearest the sheath.
    pub near: End,
    /// Distance from the sheath stop to the lever tip's near end.
    pub standoff: f64,
    /// Where the sheath ends, in the plate's frame, if not where the standoff puts it.
    pub stop: Option<[f64; 3]>,
    /// The straight piece of sheath behind its stop.
    pub lead: f64,
    /// Wire and sheath.
    pub cable: Cable,
    /// Corners which the route cuts, in the plate's frame.
    pub via: Vec<[f64; 3]>,
    /// Where the sheath leaves, in the plate's frame.
    pub exit: [f64; 3],
    /// What the moved thing resists with, N·mm.
    pub torque_nmm: f64,
    /// What takes the moved thing back; a spring, if a file does not say.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::bare")]
    pub returns: Option<Returns>,
    /// Whether its route stays as it is when others are proposed; not, if a file does not say.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub locked: bool,
}

/// What takes a moved thing back when its cable is let go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Returns {
    /// A spring.
    #[default]
    Spring,
    /// An elastic cord.
    Elastic,
    /// The wire itself, which is pushed and must not buckle.
    Push,
}

/// Most corners of one route: far more than a sheath turns inside a head.
pub const MOST_CORNERS: usize = 32;

/// What a drive moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Moves {
    /// A lid of the eye with this index.
    Lid {
        /// Index of the eye, from 0.
        eye: usize,
        /// Which of its lids.
        which: Which,
    },
    /// The eye with this index.
    Gaze {
        /// Index of the eye, from 0.
        eye: usize,
        /// About which axis.
        turn: Turn,
    },
}

/// One of the two turns of a gaze.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Turn {
    /// About y.
    Side,
    /// About x.
    Lift,
}

/// An end of a turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum End {
    /// The lid is open.
    Open,
    /// The lid is shut.
    Closed,
    /// The gaze is at its negative end.
    Low,
    /// The gaze is at its positive end.
    High,
}

/// A moving wire and the tube that holds it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cable {
    /// Diameter of the wire, mm.
    pub inner_diameter: f64,
    /// Outer diameter of the sheath, mm.
    pub sheath_diameter: f64,
    /// Young's modulus of the wire, GPa.
    pub modulus_gpa: f64,
    /// Coefficient of friction between wire and sheath.
    pub friction: f64,
    /// Least bend radius of the sheath, mm.
    pub least_bend_radius: f64,
}

impl Moves {
    /// The index of the eye whose lid it moves, or that it turns.
    pub fn eye(self) -> usize {
        match self {
            Self::Lid { eye, .. } | Self::Gaze { eye, .. } => eye,
        }
    }

    /// The same part of another eye.
    #[must_use]
    pub fn of_eye(self, eye: usize) -> Self {
        match self {
            Self::Lid { which, .. } => Self::Lid { eye, which },
            Self::Gaze { turn, .. } => Self::Gaze { eye, turn },
        }
    }
}

impl Drive {
    /// What takes the moved thing back.
    pub fn returned_by(&self) -> Returns {
        self.returns.unwrap_or_default()
    }

    pub(crate) fn check(&self, at: &str, eyes: usize) -> Result<(), Problem> {
        let eye = self.moves.eye();
        if eye >= eyes {
            return Err(Problem::new(
                format!("{at}.moves.eye"),
                format!("`{at}` moves eye {eye}, and there is none with that index."),
                format!("Use an index from 0 to {}.", eyes.saturating_sub(1)),
            ));
        }
        problem::place(&format!("{at}.tip"), self.tip)?;
        problem::place(&format!("{at}.exit"), self.exit)?;
        if let Some(stop) = self.stop {
            problem::place(&format!("{at}.stop"), stop)?;
        }
        if self.via.len() > MOST_CORNERS {
            return Err(Problem::new(
                format!("{at}.via"),
                format!("`{at}.via` has more than {MOST_CORNERS} points."),
                "Remove some.",
            ));
        }
        for (index, via) in self.via.iter().enumerate() {
            problem::place(&format!("{at}.via[{index}]"), *via)?;
        }
        problem::size_or_none(&format!("{at}.standoff"), self.standoff)?;
        problem::size_or_none(&format!("{at}.lead"), self.lead)?;
        problem::within(
            &format!("{at}.torque_nmm"),
            self.torque_nmm,
            0.0..=1e5,
            "N·mm",
        )?;
        self.cable.check(&format!("{at}.cable"))
    }
}

impl Cable {
    fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size(&format!("{at}.inner_diameter"), self.inner_diameter)?;
        problem::size(&format!("{at}.sheath_diameter"), self.sheath_diameter)?;
        problem::size(&format!("{at}.least_bend_radius"), self.least_bend_radius)?;
        problem::within(
            &format!("{at}.modulus_gpa"),
            self.modulus_gpa,
            0.001..=1e4,
            "GPa",
        )?;
        problem::within(&format!("{at}.friction"), self.friction, 0.0..=10.0, "")
    }
}
