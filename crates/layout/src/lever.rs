//! Lever bars and the plate.

use std::f64::consts::{PI, TAU};

use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::space::{self, Near, Piece, Place};
use crate::pull::Pull;
use crate::turned::Pose;

/// Width of a lever where no lid says it, mm: that of the lids' levers. Own choice.
pub const WIDTH: f64 = 5.0;

/// Thickness of a lever, mm: as that of a lug, so that both are as stiff. Own choice.
pub const THICKNESS: f64 = 3.0;

/// A lever bar over its whole turn: from its axis to its tip, or for a gaze from the ball to the tip.
/// Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lever<'a> {
    pub(crate) pull: &'a Pull,
    pub(crate) width: f64,
    /// Radius of the ball.
    pub(crate) ball: f64,
    /// The largest tilt of the eye.
    pub(crate) tilt: f64,
}

impl Lever<'_> {
    /// The gap from the bar to a plate of a thickness: in front of it, behind it or beside it,
    /// whichever is the most; negative where it passes through.
    pub(crate) fn to_plate(self, plate: &Bounded, thickness: f64) -> Near {
        let [low, high] = self.heights();
        let half = self.width / 2.0;
        let (front, behind) = (low.z - half, -thickness - (high.z + half));
        let (distance, at) = if front >= behind {
            (front, low)
        } else {
            (behind, high)
        };
        let beside = self.beside(plate) - half;
        Near {
            distance: distance.max(beside),
            at,
        }
    }

    /// Its lowest and its highest place over the turn.
    fn heights(self) -> [Place; 2] {
        let Self { pull, .. } = self;
        let root = pull.lever_root();
        let at = |z: f64| Place::new(pull.near.x, pull.near.y, z);
        if pull.moves_lid() {
            let [from, to] = self.lid_angles();
            let reach = pull.radius;
            let [low, high] = cosines(from, to).map(|cos| root.z + reach * cos);
            return [at(low.min(root.z)), at(high.max(root.z))];
        }
        let rest = pull.tip_at(Pose::default()) - root;
        let tip = rest.norm();
        let angle = rest.x.hypot(rest.y).atan2(-rest.z);
        let [low, high] = cosines((angle - self.tilt).max(0.0), (angle + self.tilt).min(PI));
        let deepest = (self.ball * high).max(tip * high);
        let least = (self.ball * low).min(tip * low);
        [at(root.z - deepest), at(root.z - least)]
    }

    /// The bar's angles from forward toward up over a lid's turn.
    fn lid_angles(self) -> [f64; 2] {
        let Self { pull, .. } = self;
        let root = pull.lever_root();
        let angle = |tip: Place| (tip.y - root.y).atan2(tip.z - root.z);
        let start = angle(pull.near);
        // The way from near to far goes by less than half a turn, and by as much as the lid's.
        let turn = (angle(pull.far) - start + PI).rem_euclid(TAU) - PI;
        [start.min(start + turn), start.max(start + turn)]
    }

    /// How far the bar stays beside the plate, in plan; a gaze lever never does.
    fn beside(self, plate: &Bounded) -> f64 {
        let Self { pull, .. } = self;
        if !pull.moves_lid() {
            return f64::NEG_INFINITY;
        }
        let root = pull.lever_root();
        let [from, to] = self.lid_angles();
        let quarter = std::f64::consts::FRAC_PI_2;
        let [low, high] = cosines(from - quarter, to - quarter).map(|sin| pull.radius * sin);
        let at = |y: f64| Place::new(root.x, root.y + y, 0.0);
        let bar = Piece::straight(at(low.min(0.0)), at(high.max(0.0)));
        let outside = |place: Place, _| {
            let room = plate.room_around(Point::new(place.x, place.y));
            (-room.distance).max(0.0)
        };
        let range = 0.0..f64::INFINITY;
        let near = space::least_within(&[bar], range, space::PASSED_OVER, &outside);
        near.map_or(0.0, |near| near.distance)
    }
}

/// The least and the largest cosine of the angles from one to another.
fn cosines(from: f64, to: f64) -> [f64; 2] {
    let passes = |angle: f64| (to - angle).rem_euclid(TAU) <= to - from;
    let ends = [from.cos(), to.cos()];
    let least = if passes(PI) {
        -1.0
    } else {
        ends[0].min(ends[1])
    };
    let largest = if passes(0.0) {
        1.0
    } else {
        ends[0].max(ends[1])
    };
    [least, largest]
}
