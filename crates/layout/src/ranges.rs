//! How far every part turns: as the project says, or as far as a rod takes it.

use crate::angle::Degrees;
use crate::drive::{Moves, Turn};
use crate::gaze::Gaze;
use crate::lid::{Lids, Which};
use crate::project::Project;

/// The turns of all parts, radians.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ranges {
    /// What follows a rod, and between which places; the rest turns as the project says.
    followed: Vec<(Moves, [f64; 2])>,
}

impl Ranges {
    /// Notes how far a rod takes a part.
    pub(crate) fn follow(&mut self, moves: Moves, range: [f64; 2]) {
        self.followed.push((moves, range));
    }

    fn followed(&self, moves: Moves) -> Option<[f64; 2]> {
        let mut all = self.followed.iter();
        all.find(|(part, _)| *part == moves)
            .map(|&(_, range)| range)
    }

    /// The two ends of a part's turn, from shut to open for a lid and from low to high for a gaze; None
    /// for a lid that its eye does not have.
    pub fn of(&self, project: &Project, moves: Moves) -> Option<[f64; 2]> {
        let nominal = match moves {
            Moves::Gaze { turn, .. } => {
                let most = turn.largest(&project.gaze);
                [-most, most]
            }
            Moves::Lid { eye, which } => {
                let lid = project.parts_of(eye).lids.as_ref()?.lid(which)?;
                [lid.closed, lid.open].map(Degrees::radians)
            }
        };
        Some(self.followed(moves).unwrap_or(nominal))
    }

    /// How far an eye turns at most, to either side.
    pub fn largest(&self, project: &Project, eye: usize, turn: Turn) -> f64 {
        let range = self.of(project, Moves::Gaze { eye, turn });
        let ends = range.into_iter().flatten();
        ends.map(f64::abs).fold(0.0, f64::max)
    }

    /// How far the eye's other turn goes at most while this part turns, to either side: not at all for
    /// a lid, or where the two turns are never combined.
    pub fn other(&self, project: &Project, moves: Moves) -> f64 {
        match moves {
            Moves::Gaze { .. } if project.gaze.together => self.crossing(project, moves),
            _ => 0.0,
        }
    }

    /// How far the eye's other turn goes at most, to either side, whether together with this part's or not;
    /// not at all for a lid.
    pub fn crossing(&self, project: &Project, moves: Moves) -> f64 {
        match moves {
            Moves::Gaze { eye, turn } => self.largest(project, eye, turn.other()),
            Moves::Lid { .. } => 0.0,
        }
    }

    /// The tilt that the ring of an eye must be able to take.
    pub fn working_tilt(&self, project: &Project, eye: usize) -> f64 {
        let [side, lift] = [Turn::Side, Turn::Lift].map(|turn| self.largest(project, eye, turn));
        project.gaze.tilt_of(side, lift)
    }

    /// The lids of an eye; one that follows a rod is as far open as that takes it.
    pub fn lids(&self, project: &Project, eye: usize) -> Option<Lids> {
        let mut lids = project.parts_of(eye).lids?;
        for which in Which::ALL {
            if let Some([_, open]) = self.followed(Moves::Lid { eye, which })
                && let Some(lid) = lids.lid_mut(which)
            {
                lid.open = Degrees::from_radians(open);
            }
        }
        Some(lids)
    }
}

impl Turn {
    /// The eye's other turn.
    pub fn other(self) -> Self {
        match self {
            Self::Side => Self::Lift,
            Self::Lift => Self::Side,
        }
    }

    /// The largest turn of this kind that a character uses, radians.
    fn largest(self, gaze: &Gaze) -> f64 {
        match self {
            Self::Side => gaze.side.radians().abs(),
            Self::Lift => gaze.lift.radians().abs(),
        }
    }
}
