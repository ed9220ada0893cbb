//! How a cable pulls on its lever: the chord of the lever tip's turn, the sheath's stop on it, and how
//! square and how far it pulls over the turn.

use std::f64::consts::{PI, TAU};

use crate::drive::{End, Returns};
use crate::geometry::space::{Place, Way};
use crate::problem::{About, Problem};
use crate::project::Project;
use crate::ranges::Ranges;
use crate::search::{self, Search};
use crate::seat::SeatFit;
use crate::turned::{Arm, NO_LID, Pose, Turned, beyond_quarter};

/// A chord shorter than this, mm, has no direction.
const NO_CHORD: f64 = 1e-6;

/// A tip nearer to its stop than this, mm, is not pulled in any direction.
const AT_STOP: f64 = 1e-9;

/// A share of an arm below this is none: a wire in line with its lever pulls it nowhere, but for rounding.
const NO_ARM: f64 = 1e-9;

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
    /// Largest other turn at all, to both sides: with the drive's own at rest where they are not used together.
    crossing: f64,
    arm: Arm,
    on_line: bool,
}

impl Pull {
    /// The pull of drive `index` of a project, whose eye sits in `seat`, and whose parts turn as far
    /// as `ranges` tell.
    ///
    /// # Errors
    /// A [`Problem`] if the drive cannot work: nothing there to move, a turn over no angle or beyond a
    /// quarter turn to a side, a `near` that is no end of it, or a tip on its axis or inside its ball.
    pub fn of(
        project: &Project,
        index: usize,
        seat: &SeatFit,
        ranges: &Ranges,
    ) -> Result<Self, Problem> {
        let drive = &project.drives[index];
        let about = About {
            kind: "drive",
            name: &drive.name,
            at: format!("drives[{index}]"),
        };
        let turned = Turned::of(project, drive.moves).zip(ranges.of(project, drive.moves));
        let (turned, [low, high]) =
            turned.ok_or_else(|| about.problem("moves", NO_LID.sentence, NO_LID.remedy))?;
        if turned.is_lid() != matches!(drive.near, End::Open | End::Closed) {
            return Err(about.problem(
                "near",
                "has a near end that its turn does not have",
                "Use open or closed for a lid, low or high for a gaze.",
            ));
        }
        if beyond_quarter([low, high]) {
            return Err(about.problem(
                "moves",
                "turns beyond a quarter turn from straight ahead",
                "Let the turn stay within a quarter turn to each side.",
            ));
        }
        let eye = project.eyes[drive.moves.eye()].centre;
        let arm = Arm::of(turned, drive.tip, eye, seat)
            .map_err(|misfit| about.problem("tip", misfit.sentence, misfit.remedy))?;
        let [near_pose, far_pose] = match drive.near {
            End::Closed | End::Low => [low, high],
            End::Open | End::High => [high, low],
        }
        .map(|own| Pose { own, other: 0.0 });
        let place = |pose| arm.tip_at(pose);
        let (near, far) = (place(near_pose), place(far_pose));
        let along = (far - near).try_normalize(NO_CHORD).ok_or_else(|| {
            about.problem(
                "moves",
                "turns over no angle",
                "Give it a turn, or remove it.",
            )
        })?;
        Ok(Self {
            radius: arm.radius(),
            near_pose,
            far_pose,
            near,
            far,
            along,
            stop: drive
                .stop
                .map_or(near - along * drive.standoff, Place::from),
            other: ranges.other(project, drive.moves),
            crossing: ranges.crossing(project, drive.moves),
            arm,
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
        self.arm.tip_at(pose)
    }

    /// Where the lever tip is at rest, as a project gives it, if it is at `place` in a pose.
    pub fn rest_of(&self, pose: Pose, place: Place) -> Place {
        self.arm.rest_of(pose, place)
    }

    /// Where the lever bar starts on its axis; for a gaze the ball's centre.
    pub fn lever_root(&self) -> Place {
        self.arm.root()
    }

    /// Whether a lid is moved, and not a gaze.
    pub fn moves_lid(&self) -> bool {
        self.arm.turned.is_lid()
    }

    /// How the cable pulls in a pose: for charts over the turn, too.
    pub fn at(&self, pose: Pose) -> Pulled {
        let tip = self.tip_at(pose);
        let wire = tip - self.stop;
        let unsupported = wire.norm();
        let direction = wire.try_normalize(AT_STOP).unwrap_or(self.along);
        let axis = self.arm.turned.axis(pose);
        let turning = (tip - self.arm.centre).cross(&direction).dot(&axis);
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
        let worst = self.worst_found();
        Worst {
            arm_share: if worst.arm_share < NO_ARM {
                0.0
            } else {
                worst.arm_share
            },
            ..worst
        }
    }

    fn worst_found(&self) -> Worst {
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

    /// How far the eye's other turn draws the wire in or out, mm, and where it does so most: at any own turn
    /// where both are used together, else at rest. None where there is no such turn.
    ///
    /// At any own turn the square of the wire's length is a constant less twice the swing of the tip
    /// toward the stop: it is longest and shortest at the ends of the other turn, or where that swing
    /// has its peak or its trough. Over the own turn the most is searched for.
    pub fn crosstalk(&self) -> Option<(f64, Pose)> {
        if self.crossing == 0.0 {
            return None;
        }
        let own = if self.other == 0.0 {
            [0.0; 2]
        } else {
            self.own_range()
        };
        let ([own, _], most) = search::largest([own, [0.0; 2]], |[own, _]| {
            self.crosstalk_at(own).map_or(0.0, |(change, _)| change)
        });
        Some((most, self.crosstalk_at(own)?.1))
    }

    /// The same at one own turn.
    fn crosstalk_at(&self, own: f64) -> Option<(f64, Pose)> {
        let swing = self.arm.other_swing(own, self.stop - self.arm.centre)?;
        let length = |other| (self.tip_at(Pose { own, other }) - self.stop).norm();
        let at_rest = length(0.0);
        let peak = swing.peak();
        let trough = (peak + TAU).rem_euclid(TAU) - PI;
        let turns = [-self.crossing, self.crossing, peak, trough];
        let used = turns.into_iter().filter(|turn| turn.abs() <= self.crossing);
        let changes = used.map(|other| ((length(other) - at_rest).abs(), Pose { own, other }));
        changes.max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The ends of the drive's own turn, the lower one first.
    fn own_range(&self) -> [f64; 2] {
        let ends = [self.near_pose.own, self.far_pose.own];
        [ends[0].min(ends[1]), ends[0].max(ends[1])]
    }

    /// The own turn, and the other one that is used together with it, radians.
    fn ranges(&self) -> [[f64; 2]; 2] {
        [self.own_range(), [-self.other, self.other]]
    }

    /// Ranges of the drive's own turn and of the other turn, radians, that hold all its poses: one where both are
    /// used together, else each turn alone.
    pub(crate) fn all_ranges(&self) -> Vec<[[f64; 2]; 2]> {
        if self.other > 0.0 || self.crossing <= 0.0 {
            return vec![self.ranges()];
        }
        let rest = self.arm.turned.rest().own;
        let crossing = [-self.crossing, self.crossing];
        vec![self.ranges(), [[rest; 2], crossing]]
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
