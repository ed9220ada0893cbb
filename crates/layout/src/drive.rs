//! Drives, as a project keeps them.

use serde::{Deserialize, Serialize};

use crate::lid::Which;
use crate::problem::{self, Problem};
use crate::wording;

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
    /// What the moved thing resists with, and all that follows it by rods, N·mm.
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
    /// Whether both move the same lid, or the same eye by any turn of its gaze.
    pub fn is_of_same_part(self, other: Self) -> bool {
        match (self, other) {
            (Self::Gaze { eye, .. }, Self::Gaze { eye: theirs, .. }) => eye == theirs,
            _ => self == other,
        }
    }

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
        if self.moves.eye() >= eyes {
            return Err(self.moves_no_eye(at, eyes));
        }
        self.check_places(at)?;
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

    /// That the eye it moves is none of the project's.
    pub(crate) fn moves_no_eye(&self, at: &str, eyes: usize) -> Problem {
        let drive = wording::drive(&self.name);
        Problem::new(
            format!("{at}.moves.eye"),
            format!("The {drive} moves an eye that is not there."),
            format!(
                "Let it move another; in a file, eyes count from 0 to {}.",
                eyes.saturating_sub(1)
            ),
        )
    }

    fn check_places(&self, at: &str) -> Result<(), Problem> {
        let drive = wording::drive(&self.name);
        let check = |field: &str, name: &str, place: [f64; 3]| {
            let checked = problem::place(&format!("{at}.{field}"), place);
            checked.map_err(|problem| problem.called(&format!("{name} of the {drive}")))
        };
        check("tip", "The lever tip", self.tip)?;
        check("exit", "The exit", self.exit)?;
        if let Some(stop) = self.stop {
            check("stop", "The sheath stop", stop)?;
        }
        if self.via.len() > MOST_CORNERS {
            return Err(Problem::new(
                format!("{at}.via"),
                format!("The route of the {drive} has more than {MOST_CORNERS} points."),
                "Remove some.",
            ));
        }
        for (index, &via) in self.via.iter().enumerate() {
            let name = format!("Route point {}", index + 1);
            check(&format!("via[{index}]"), &name, via)?;
        }
        Ok(())
    }
}

/// Refuses drives of which one has no name, or two have the same: tables and file names tell them
/// apart by nothing else.
pub(crate) fn check_names(drives: &[Drive], at: &str) -> Result<(), Problem> {
    for (index, drive) in drives.iter().enumerate() {
        let field = format!("{at}[{index}].name");
        let name = drive.name.trim();
        if name.is_empty() {
            let sentence = "A drive has no name.";
            return Err(Problem::new(field, sentence, "Give it one of its own."));
        }
        if is_taken(&drives[..index], name) {
            let sentence = format!("Two drives are called “{name}”.");
            return Err(Problem::new(
                field,
                sentence,
                "Give each a name of its own.",
            ));
        }
    }
    Ok(())
}

fn is_taken(drives: &[Drive], name: &str) -> bool {
    drives.iter().any(|drive| drive.name.trim() == name.trim())
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
        problem::within(&format!("{at}.friction"), self.friction, 0.0..=10.0, "")?;
        if self.inner_diameter >= self.sheath_diameter {
            return Err(Problem::new(
                format!("{at}.inner_diameter"),
                format!(
                    "The wire, {} mm, is at least as thick as its sheath, {} mm.",
                    self.inner_diameter, self.sheath_diameter
                ),
                "Use a thinner wire, or a thicker sheath first.",
            ));
        }
        Ok(())
    }
}
