//! What turns, an eye or a lid, and where the tip of a lever on it is in each pose.

use std::f64::consts::FRAC_PI_2;

use crate::drive::{Moves, Turn};
use crate::geometry::space::{Place, Way};
use crate::limits::TOLERANCE;
use crate::problem::SMALLEST;
use crate::project::Project;
use crate::seat::SeatFit;

/// A pose of a moved thing, radians.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// Its own turn: the place of a lid's leading edge, or the side turn or lift.
    pub own: f64,
    /// The eye's other turn; lids have none.
    pub other: f64,
}

/// Poses at even steps over an own and another turn, radians, so many of each: rows of one other turn each.
pub(crate) fn grid([owns, others]: [[f64; 2]; 2], [own, other]: [u32; 2]) -> Vec<Vec<Pose>> {
    let row = |other| steps(owns, own).map(move |own| Pose { own, other });
    { steps(others, other) }
        .map(|other| row(other).collect())
        .collect()
}

/// Even steps over a range; one if it has no length.
fn steps([low, high]: [f64; 2], count: u32) -> impl Iterator<Item = f64> {
    let count = if high > low { count.max(2) } else { 1 };
    let step = (high - low) / f64::from((count - 1).max(1));
    (0..count).map(move |index| low + step * f64::from(index))
}

/// What turns, and the angles it counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Turned {
    /// A lid, from its place `closed`: `up` is 1 for an upper lid, whose angle grows from forward
    /// toward up, and −1 for a lower one.
    Lid { up: f64, closed: f64 },
    /// The eye about y.
    Side,
    /// The eye about −x, which a side turn takes along.
    Lift,
}

impl Turned {
    /// What a drive or a rod moves; None for a lid that its eye does not have.
    pub(crate) fn of(project: &Project, moves: Moves) -> Option<Self> {
        Some(match moves {
            Moves::Gaze { turn, .. } => match turn {
                Turn::Side => Self::Side,
                Turn::Lift => Self::Lift,
            },
            Moves::Lid { eye, which } => Self::Lid {
                up: which.sign(),
                closed: project
                    .parts_of(eye)
                    .lids
                    .as_ref()?
                    .lid(which)?
                    .closed
                    .radians(),
            },
        })
    }

    pub(crate) fn is_lid(self) -> bool {
        matches!(self, Self::Lid { .. })
    }

    /// The pose that lever tips are given in: looking straight ahead, or with the lid shut.
    pub(crate) fn rest(self) -> Pose {
        let own = match self {
            Self::Lid { closed, .. } => closed,
            Self::Side | Self::Lift => 0.0,
        };
        Pose { own, other: 0.0 }
    }

    /// The side turn and the lift of a pose.
    fn turns(self, pose: Pose) -> [f64; 2] {
        match self {
            Self::Lid { up, closed } => [0.0, up * (pose.own - closed)],
            Self::Side => [pose.own, pose.other],
            Self::Lift => [pose.other, pose.own],
        }
    }

    /// A tip at rest, from the ball's centre, turned into a pose: by its lift about −x, and by its side turn
    /// about y, which takes the lift along.
    pub(crate) fn turn(self, pose: Pose, tip: Way) -> Way {
        let [side, lift] = self.turns(pose);
        turned_aside(side, turned_up(lift, tip))
    }

    /// The tip at rest of one that is `tip` in a pose.
    fn turn_back(self, pose: Pose, tip: Way) -> Way {
        let [side, lift] = self.turns(pose);
        turned_up(-lift, turned_aside(-side, tip))
    }

    /// The axis about which its own turn goes in a pose, by the right hand.
    pub(crate) fn axis(self, pose: Pose) -> Way {
        match self {
            Self::Lid { up, .. } => -Way::x() * up,
            Self::Side => Way::y(),
            Self::Lift => lift_axis(pose.other),
        }
    }

    /// The axis about which the other turn goes in a pose; none of a lid.
    fn other_axis(self, pose: Pose) -> Option<Way> {
        match self {
            Self::Lid { .. } => None,
            Self::Side => Some(lift_axis(pose.own)),
            Self::Lift => Some(Way::y()),
        }
    }

    fn distance_from_axis(self, tip: Way) -> f64 {
        match self {
            Self::Side => tip.x.hypot(tip.z),
            Self::Lid { .. } | Self::Lift => tip.y.hypot(tip.z),
        }
    }
}

/// Turned by `angle` about −x, from forward toward up.
fn turned_up(angle: f64, way: Way) -> Way {
    let (sin, cos) = angle.sin_cos();
    Way::new(way.x, way.y * cos + way.z * sin, way.z * cos - way.y * sin)
}

/// Turned by `angle` about y, from forward to the right.
fn turned_aside(angle: f64, way: Way) -> Way {
    let (sin, cos) = angle.sin_cos();
    Way::new(way.x * cos + way.z * sin, way.y, way.z * cos - way.x * sin)
}

/// The axis of a lift, −x, as a side turn takes it along.
fn lift_axis(side: f64) -> Way {
    let (sin, cos) = side.sin_cos();
    Way::new(-cos, 0.0, sin)
}

/// Whether a turn goes beyond a quarter turn from straight ahead, radians.
pub(crate) fn beyond_quarter(range: [f64; 2]) -> bool {
    range.iter().any(|end| end.abs() > FRAC_PI_2 + TOLERANCE)
}

/// A lever on what turns. Lengths in mm, in the plate's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Arm {
    pub(crate) turned: Turned,
    /// Centre of the ball; all axes pass it.
    pub(crate) centre: Place,
    /// The tip from there in the pose at rest.
    tip: Way,
}

/// Why a lever cannot turn anything: what to say of its drive or rod, and the way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Misfit {
    pub(crate) sentence: &'static str,
    pub(crate) remedy: &'static str,
}

/// What is wrong where [`Turned::of`] finds nothing.
pub(crate) const NO_LID: Misfit = Misfit {
    sentence: "moves a lid that its eye does not have",
    remedy: "Add the lid, or let something else be moved.",
};

impl Arm {
    /// The lever with its tip at `tip` from the centre of the ball of `eye`, which sits in `seat`.
    pub(crate) fn of(
        turned: Turned,
        tip: [f64; 3],
        eye: [f64; 2],
        seat: &SeatFit,
    ) -> Result<Self, Misfit> {
        let arm = Self {
            turned,
            centre: Place::new(eye[0], eye[1], seat.centre_height),
            tip: tip.into(),
        };
        if arm.radius() < SMALLEST {
            return Err(Misfit {
                sentence: "has its lever tip on the axis it should turn about",
                remedy: "Move the tip away from the axis.",
            });
        }
        if !turned.is_lid() && arm.tip.norm() <= seat.ball_radius {
            return Err(Misfit {
                sentence: "has its lever tip inside the ball",
                remedy: "Put the tip outside the ball.",
            });
        }
        Ok(arm)
    }

    /// The tip's distance from the axis of its own turn.
    pub(crate) fn radius(&self) -> f64 {
        self.turned.distance_from_axis(self.tip)
    }

    /// The tip's distance from the ball's centre.
    pub(crate) fn reach(&self) -> f64 {
        self.tip.norm()
    }

    /// Where the tip is at rest if it is at `place` in a pose.
    pub(crate) fn rest_of(&self, pose: Pose, place: Place) -> Place {
        self.centre + self.turned.turn_back(pose, place - self.centre)
    }

    /// Place of the tip in a pose.
    pub(crate) fn tip_at(&self, pose: Pose) -> Place {
        self.centre + self.turned.turn(pose, self.tip)
    }

    /// Where the lever bar starts on its axis; for a gaze the ball's centre.
    pub(crate) fn root(&self) -> Place {
        match self.turned {
            Turned::Lid { .. } => self.centre + Way::x() * self.tip.x,
            Turned::Side | Turned::Lift => self.centre,
        }
    }

    /// The way of the tip as its own turn leaves the pose at rest.
    pub(crate) fn round(&self, other: f64) -> Round {
        match self.turned {
            Turned::Lid { .. } => Round::of(self.tip, self.turned.axis(self.turned.rest())),
            Turned::Side => Round::of(turned_up(other, self.tip), Way::y()),
            Turned::Lift => Round::of(turned_aside(other, self.tip), lift_axis(other)),
        }
    }

    /// How far the tip lies `toward` something as the other turn goes from 0; None of a lid.
    pub(crate) fn other_swing(&self, own: f64, toward: Way) -> Option<Swing> {
        let pose = Pose { own, other: 0.0 };
        let axis = self.turned.other_axis(pose)?;
        let way = Round::of(self.tip_at(pose) - self.centre, axis);
        Some(way.swing(toward))
    }
}

/// The way of a point that turns about an axis through the origin: middle + out·cos φ + ahead·sin φ, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Round {
    middle: Way,
    out: Way,
    ahead: Way,
}

impl Round {
    /// A point at `start`, turned about an axis (a unit vector).
    fn of(start: Way, axis: Way) -> Self {
        let middle = axis * start.dot(&axis);
        Self {
            middle,
            out: start - middle,
            ahead: axis.cross(&start),
        }
    }

    /// Where it is, by the cosine and the sine of its turn.
    pub(crate) fn at(&self, [cos, sin]: [f64; 2]) -> Way {
        self.middle + self.out * cos + self.ahead * sin
    }

    /// How far it lies along a direction.
    pub(crate) fn swing(&self, toward: Way) -> Swing {
        Swing {
            level: self.middle.dot(&toward),
            cos: self.out.dot(&toward),
            sin: self.ahead.dot(&toward),
            radius: self.out.norm(),
        }
    }
}

/// How far a point that turns lies along a direction: level + cos·cos φ + sin·sin φ, mm times the
/// direction's own length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Swing {
    pub(crate) level: f64,
    pub(crate) cos: f64,
    pub(crate) sin: f64,
    /// The point's distance from its axis, mm.
    pub(crate) radius: f64,
}

impl Swing {
    /// How far it swings to either side of its level.
    pub(crate) fn height(self) -> f64 {
        self.cos.hypot(self.sin)
    }

    /// The turn at which it lies farthest along, radians from −π to π.
    pub(crate) fn peak(self) -> f64 {
        self.sin.atan2(self.cos)
    }
}
