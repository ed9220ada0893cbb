//! Pieces of rays that turn about one axis or two, and how far a place lies from them on their way.

use std::f64::consts::{PI, TAU};

use crate::geometry::Vector;
use crate::geometry::space::{Place, Straight, Way};
use crate::turned::{Pose, Turned};

/// A straight piece on a ray from `centre`, turned about an axis through it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Turning {
    pub(crate) centre: Place,
    /// The axis, a unit vector.
    pub(crate) axis: Way,
    /// Where the piece starts on the ray, as a share.
    from: f64,
    /// From the centre to the ray's end: its part along the axis, and the part away from it in the middle
    /// of the turn.
    along: Way,
    out: Way,
    /// `out`, a quarter turn on.
    aside: Way,
    /// Half of the turn, radians, and its cosine.
    pub(crate) half: f64,
    cosine: f64,
    /// From the centre to the ray's end at the turn's ends, the lower first.
    pub(crate) ends: [Way; 2],
}

impl Turning {
    /// The piece from the share `from` of a ray to its end, `tip` from the centre at rest, over a range of
    /// turns, radians, the lower first.
    pub(crate) fn new(centre: Place, axis: Way, tip: Way, from: f64, range: [f64; 2]) -> Self {
        let along = axis * tip.dot(&axis);
        let (out, aside) = (tip - along, axis.cross(&tip));
        let turned = |turn: f64| out * turn.cos() + aside * turn.sin();
        let [low, high] = range;
        let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0);
        let out = turned(middle);
        Self {
            centre,
            axis,
            from,
            along,
            out,
            aside: axis.cross(&out),
            half,
            cosine: half.cos(),
            ends: range.map(|end| along + turned(end)),
        }
    }

    /// How far along the axis a place lies.
    pub(crate) fn beside(&self, place: Place) -> f64 {
        (place - self.centre).dot(&self.axis)
    }

    /// Distance from a place to the piece in its nearest turn.
    ///
    /// A point that turns about an axis is the nearer to a place, the nearer it comes to the half-plane of
    /// the axis and the place; all points of a ray from the axis come nearest to it in the same turn.
    pub(crate) fn distance(&self, place: Place) -> f64 {
        (place - self.nearest(place)).norm()
    }

    /// Where the piece comes nearest to a place.
    pub(crate) fn nearest(&self, place: Place) -> Place {
        let tip = self.nearest_tip(place - self.centre);
        let piece = Straight {
            start: self.centre + tip * self.from,
            end: self.centre + tip,
        };
        piece.nearest(place)
    }

    /// The tip in the turn nearest to a place, both from the centre.
    fn nearest_tip(&self, to: Way) -> Way {
        let (out, aside) = (to.dot(&self.out), to.dot(&self.aside));
        let length = Vector::new(out, aside).norm();
        if length > 0.0 && (self.half >= PI || out >= length * self.cosine) {
            self.along + (self.out * out + self.aside * aside) / length
        } else {
            self.ends[usize::from(aside > 0.0)]
        }
    }
}

/// A piece of a ray that turns up and down and then to the side, each within its range.
///
/// All of its points come nearest to a place where the ray comes nearest to the place's direction. That is
/// where one of the turns is at an end of its range, or else where the ray points at the place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BothTurns {
    /// The ray's end at rest, from the centre.
    pub(crate) tip: Way,
    /// Where the piece starts on the ray, as a share.
    pub(crate) from: f64,
    /// The turns, radians, the lower first.
    pub(crate) side: [f64; 2],
    pub(crate) lift: [f64; 2],
}

impl BothTurns {
    /// Distance to the piece of a place, from the centre, that the ray points at in some pose; None if it does
    /// in none.
    pub(crate) fn distance(self, to: Way) -> Option<f64> {
        let (length, far) = (self.tip.norm(), to.norm());
        // The height of the tip is that of the place's direction: a·cos(lift − highest).
        let a = self.tip.y.hypot(self.tip.z);
        let highest = self.tip.z.atan2(self.tip.y);
        let height = length * to.y / far;
        if height.abs() > a {
            return None;
        }
        let half = (height / a).acos();
        let points_there = |lift: f64| {
            let lift = within(lift, self.lift)?;
            let up = Turned::Lift.turn(
                Pose {
                    own: lift,
                    other: 0.0,
                },
                self.tip,
            );
            within(to.x.atan2(to.z) - up.x.atan2(up.z), self.side)
        };
        points_there(highest - half).or_else(|| points_there(highest + half))?;
        Some((far - length).max(self.from * length - far).max(0.0))
    }
}

/// An angle, or that angle less or more whole turns, if it lies within a range, radians.
fn within(angle: f64, [low, high]: [f64; 2]) -> Option<f64> {
    let angle = low + (angle - low).rem_euclid(TAU);
    (angle <= high).then_some(angle)
}
