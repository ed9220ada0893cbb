//! How a cable pulls on its lever: the chord of the lever tip's turn, the sheath's stop on it, and how
//! square and how far it pulls over the turn.

use std::f64::consts::FRAC_PI_2;

use nalgebra::Rotation3;

use crate::drive::{Drive, End, Moves, Returns, Turn};
use crate::geometry::space::{Place, Way};
use crate::lid::Which;
use crate::problem::{Problem, SMALLEST};
use crate::project::Project;
use crate::search::{self, Search};
use crate::seat::SeatFit;
use crate::wording;

/// A chord shorter than this, mm, has no direction.
const NO_CHORD: f64 = 1e-6;

/// A tip nearer to its stop than this, mm, is not pulled in any direction.
const AT_STOP: f64 = 1e-9;

/// What a drive turns, and the angles it counts.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Turned {
    /// A lid, from its place `closed`: `up` is 1 for an upper lid, whose angle grows from forward
    /// toward up, and −1 for a lower one.
    Lid { up: f64, closed: f64 },
    /// The eye about y.
    Side,
    /// The eye about −x, which a side turn takes along.
    Lift,
}

/// A pose of the moved thing, radians.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// The drive's own turn: the place of a lid's leading edge, or the side turn or lift.
    pub own: f64,
    /// The eye's other turn; lids have none.
    pub other: f64,
}

/// How the cable pulls in one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulled {
    /// Place of the lever tip, mm.
    pub tip: Place,
    /// Angle between the wire and the cable line u, radians.
    pub error: f64,
    /// Moment arm as a share of the tip's distance from its axis: that of the drive's own turn about
    /// the axis as the pose has it; negative where the pull turns the other way.
    pub arm_share: f64,
    /// Length of bare wire from the stop to the tip, mm.
    pub unsupported: f64,
}

/// The worst over all poses that the character uses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// Largest pull error, radians.
    pub error: f64,
    /// Where it occurs.
    pub error_at: Pose,
    /// Least moment arm as a share, without its sign; 0 where the pull turns over.
    pub arm_share: f64,
    /// Longest bare wire, mm.
    pub unsupported: f64,
}

/// A lever, its cable line and its stop, in the plate's frame. Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Centre of the ball; all axes pass it.
    pub centre: Place,
    /// The tip's distance r from the axis of the drive's own turn.
    pub radius: f64,
    /// The pose nearest the sheath.
    pub near_pose: Pose,
    /// The other end of the turn.
    pub far_pose: Pose,
    /// Place of the tip in the near pose.
    pub near: Place,
    /// Place of the tip in the far pose.
    pub far: Place,
    /// The cable line u, from near to far.
    pub along: Way,
    /// Where the sheath ends.
    pub stop: Place,
    /// Largest other turn that is used together with the drive's own, to both sides.
    pub other: f64,
    turned: Turned,
    tip: Way,
    on_line: bool,
}

impl Pull {
    /// The pull of drive `index` of a project, whose eye sits in `seat`.
    ///
    /// # Errors
    /// A [`Problem`] if the drive cannot work: nothing there to move, a turn over no angle or beyond a
    /// quarter turn to a side, a `near` that is no end of it, or a tip on its axis or inside its ball.
    pub fn of(project: &Project, index: usize, seat: &SeatFit) -> Result<Self, Problem> {
        let drive = &project.drives[index];
        let about = About { drive, index };
        let eye = drive.moves.eye();
        let (turned, [low, high], other) = about.turn(project, eye)?;
        let tip = Way::from(drive.tip);
        let radius = turned.distance_from_axis(tip);
        if radius < SMALLEST {
            return Err(about.problem(
                "tip",
                "has its lever tip on the axis it should turn about",
                "Move the tip away from the axis.",
            ));
        }
        if !turned.is_lid() && tip.norm() <= seat.ball_radius {
            return Err(about.problem(
                "tip",
                "has its lever tip inside the ball",
                "Put the tip outside the ball.",
            ));
        }
        let [near_pose, far_pose] = match drive.near {
            End::Closed | End::Low => [low, high],
            End::Open | End::High => [high, low],
        }
        .map(|own| Pose { own, other: 0.0 });
        let [x, y] = project.eyes[eye].centre;
        let centre = Place::new(x, y, seat.centre_height);
        let place = |pose| centre + turned.rotation(pose) * tip;
        let (near, far) = (place(near_pose), place(far_pose));
        let along = (far - near).try_normalize(NO_CHORD).ok_or_else(|| {
            about.problem(
                "moves",
                "turns over no angle",
                "Give it a turn, or remove it.",
            )
        })?;
        Ok(Self {
            centre,
            radius,
            near_pose,
            far_pose,
            near,
            far,
            along,
            stop: drive
                .stop
                .map_or(near - along * drive.standoff, Place::from),
            other,
            turned,
            tip,
            on_line: drive.stop.is_none(),
        })
    }

    /// How far the drive's own turn goes, Δ, radians.
    pub fn turn(&self) -> f64 {
        (self.far_pose.own - self.near_pose.own).abs()
    }

    /// The straight distance between the tip's two ends, 2·r·sin(Δ/2), mm.
    pub fn stroke(&self) -> f64 {
        2.0 * self.radius * (self.turn() / 2.0).sin()
    }

    /// Distance from the stop to the tip's near end, mm.
    pub fn standoff(&self) -> f64 {
        (self.near - self.stop).norm()
    }

    /// How far the wire moves in its sheath over the drive's own turn, mm: what a finger pulls.
    pub fn travel(&self) -> f64 {
        ((self.far - self.stop).norm() - self.standoff()).abs()
    }

    /// Place of the lever tip in a pose.
    pub fn tip_at(&self, pose: Pose) -> Place {
        self.centre + self.turned.rotation(pose) * self.tip
    }

    /// Where the lever bar starts on its axis; for a gaze the ball's centre.
    pub fn lever_root(&self) -> Place {
        match self.turned {
            Turned::Lid { .. } => self.centre + Way::x() * self.tip.x,
            Turned::Side | Turned::Lift => self.centre,
        }
    }

    /// Whether a lid is moved, and not a gaze.
    pub fn moves_lid(&self) -> bool {
        self.turned.is_lid()
    }

    /// How the cable pulls in a pose: for charts over the turn, too.
    pub fn at(&self, pose: Pose) -> Pulled {
        let tip = self.tip_at(pose);
        let wire = tip - self.stop;
        let unsupported = wire.norm();
        let direction = wire.try_normalize(AT_STOP).unwrap_or(self.along);
        let axis = self.turned.axis(pose);
        let turning = (tip - self.centre).cross(&direction).dot(&axis);
        Pulled {
            tip,
            error: direction
                .cross(&self.along)
                .norm()
                .atan2(direction.dot(&self.along)),
            arm_share: turning / self.radius,
            unsupported,
        }
    }

    /// The worst over the drive's own turn with all of the other turn that is used together.
    ///
    /// For a stop on the cable line and no other turn these are closed forms: with q = standoff +
    /// r·sin(Δ/2) and D² = q² + r²·cos²(Δ/2), the error asin(r/D) − atan(r·cos(Δ/2)/q) where the wire
    /// touches the tip's circle, the arm cos(Δ/2) at both ends, the wire longest at the far end. Else
    /// they are searched for (see [`Search::largest`]).
    pub fn worst(&self) -> Worst {
        if self.on_line && self.other == 0.0 {
            return self.worst_on_line();
        }
        let search = Search::over(self.ranges(), |[own, other]| self.at(Pose { own, other }));
        let ([own, other], error) = search.largest(|pulled| pulled.error);
        let least = -search.largest(|pulled| -pulled.arm_share).1;
        Worst {
            error,
            error_at: Pose { own, other },
            // A pull that turns the other way does so in all poses, or it turns over and its arm passes 0.
            arm_share: if least < 0.0 {
                (-search.largest(|pulled| pulled.arm_share).1).max(0.0)
            } else {
                least
            },
            unsupported: search.largest(|pulled| pulled.unsupported).1,
        }
    }

    /// The largest share of a force on the lever that goes forward, toward the audience, over all poses
    /// that are used together: that of a pull, or of a push, too, where the wire takes its part back.
    /// 0 where none does.
    pub fn forward(&self, returns: Returns) -> f64 {
        let share = |[own, other]: [f64; 2]| {
            let tip = self.tip_at(Pose { own, other });
            let wire = tip - self.stop;
            -wire.z / wire.norm().max(AT_STOP)
        };
        let pull = search::largest(self.ranges(), share).1;
        let push = || search::largest(self.ranges(), |pose| -share(pose)).1;
        match returns {
            Returns::Push => pull.max(push()),
            Returns::Spring | Returns::Elastic => pull,
        }
        .max(0.0)
    }

    /// The own turn, and the other one that is used together with it, radians.
    fn ranges(&self) -> [[f64; 2]; 2] {
        let ends = [self.near_pose.own, self.far_pose.own];
        let own = [ends[0].min(ends[1]), ends[0].max(ends[1])];
        [own, [-self.other, self.other]]
    }

    fn worst_on_line(&self) -> Worst {
        let half = self.turn() / 2.0;
        let (standoff, r) = (self.standoff(), self.radius);
        let (q, arm) = (standoff + r * half.sin(), r * half.cos());
        let to_axis = arm.atan2(q);
        let touching = (r / q.hypot(arm)).min(1.0).asin();
        // The wire touches the circle where the lever stands square to it; the lever at mid-turn
        // stands square to the cable line.
        let before_middle = touching - to_axis;
        let middle = (self.near_pose.own + self.far_pose.own) / 2.0;
        let back = (self.near_pose.own - self.far_pose.own).signum();
        let own = middle + back * before_middle;
        Worst {
            error: before_middle,
            error_at: Pose { own, other: 0.0 },
            arm_share: half.cos().max(0.0),
            unsupported: standoff + self.stroke(),
        }
    }
}

impl Turned {
    fn is_lid(self) -> bool {
        matches!(self, Self::Lid { .. })
    }

    /// From the place that the project gives the tip in: `R_y`(side)·`R_−x`(lift) for a gaze.
    fn rotation(self, pose: Pose) -> Rotation3<f64> {
        let lift = |angle: f64| Rotation3::from_axis_angle(&-Way::x_axis(), angle);
        let side = |angle: f64| Rotation3::from_axis_angle(&Way::y_axis(), angle);
        match self {
            Self::Lid { up, closed } => lift(up * (pose.own - closed)),
            Self::Side => side(pose.own) * lift(pose.other),
            Self::Lift => side(pose.other) * lift(pose.own),
        }
    }

    /// The axis about which the drive's own turn goes in a pose, by the right hand.
    fn axis(self, pose: Pose) -> Way {
        match self {
            Self::Lid { up, .. } => -Way::x() * up,
            Self::Side => Way::y(),
            Self::Lift => {
                let (sin, cos) = pose.other.sin_cos();
                Way::new(-cos, 0.0, sin)
            }
        }
    }

    fn distance_from_axis(self, tip: Way) -> f64 {
        match self {
            Self::Side => tip.x.hypot(tip.z),
            Self::Lid { .. } | Self::Lift => tip.y.hypot(tip.z),
        }
    }
}

/// A drive, for sentences about it.
struct About<'a> {
    drive: &'a Drive,
    index: usize,
}

impl About<'_> {
    fn problem(&self, field: &str, sentence: &str, remedy: &str) -> Problem {
        let drive = wording::drive(&self.drive.name);
        Problem::new(
            format!("drives[{}].{field}", self.index),
            format!("The {drive} {sentence}."),
            remedy,
        )
    }

    /// What is turned, the low and the high end of its turn, and the other turn used together.
    fn turn(&self, project: &Project, eye: usize) -> Result<(Turned, [f64; 2], f64), Problem> {
        let gaze = &project.gaze;
        let (side, lift) = (gaze.side.radians().abs(), gaze.lift.radians().abs());
        let together = |other: f64| if gaze.together { other } else { 0.0 };
        let lid_end = matches!(self.drive.near, End::Open | End::Closed);
        let (turned, range, other) = match self.drive.moves {
            Moves::Gaze { turn, .. } => {
                let (turned, own, other) = match turn {
                    Turn::Side => (Turned::Side, side, lift),
                    Turn::Lift => (Turned::Lift, lift, side),
                };
                (turned, [-own, own], together(other))
            }
            Moves::Lid { which, .. } => {
                let lids = project.parts_of(eye).lids.as_ref();
                let lid = lids.and_then(|lids| lids.lid(which)).ok_or_else(|| {
                    self.problem(
                        "moves",
                        "moves a lid that its eye does not have",
                        "Add the lid, or let the drive move something else.",
                    )
                })?;
                let (closed, open) = (lid.closed.radians(), lid.open.radians());
                let up = match which {
                    Which::Upper => 1.0,
                    Which::Lower => -1.0,
                };
                (Turned::Lid { up, closed }, [closed, open], 0.0)
            }
        };
        if turned.is_lid() != lid_end {
            return Err(self.problem(
                "near",
                "has a near end that its turn does not have",
                "Use open or closed for a lid, low or high for a gaze.",
            ));
        }
        let most = FRAC_PI_2 + crate::limits::TOLERANCE;
        if range.iter().any(|end| end.abs() > most) {
            return Err(self.problem(
                "moves",
                "turns beyond a quarter turn from straight ahead",
                "Let the turn stay within a quarter turn to each side.",
            ));
        }
        Ok((turned, range, other))
    }
}
