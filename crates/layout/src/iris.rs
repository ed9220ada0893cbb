//! How much of an iris the lids cover, seen from the front.

use std::f64::consts::{PI, TAU};

use nalgebra::Vector3;

use crate::geometry::Vector;
use crate::lid::{LidFit, LidsFit, Which};

/// Where an eye looks, radians: a side turn is positive toward +x, a lift upward. The iris is turned
/// by the lift first, then by the side turn: `R_y`(side)·`R_−x`(lift).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Look {
    /// Turn about +y.
    pub side: f64,
    /// Turn about −x.
    pub lift: f64,
}

/// Where the lids' leading edges stand, radians from forward: upward for the upper lid, downward for
/// the lower one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LidPose {
    /// Of the upper lid.
    pub upper: f64,
    /// Of the lower lid.
    pub lower: f64,
}

impl Look {
    /// The iris's own directions in the plate's frame: to its right, up, and along its axis.
    pub fn directions(self) -> [Vector3<f64>; 3] {
        let (side_sin, side_cos) = self.side.sin_cos();
        let (lift_sin, lift_cos) = self.lift.sin_cos();
        [
            Vector3::new(side_cos, 0.0, -side_sin),
            Vector3::new(-lift_sin * side_sin, lift_cos, -lift_sin * side_cos),
            Vector3::new(lift_cos * side_sin, lift_sin, lift_cos * side_cos),
        ]
    }
}

impl LidsFit {
    /// Both lids open.
    pub fn open(&self) -> LidPose {
        self.pose(|lid| lid.open)
    }

    /// Both lids shut.
    pub fn shut(&self) -> LidPose {
        self.pose(|lid| lid.closed)
    }

    fn pose(&self, end: impl Fn(&LidFit) -> f64) -> LidPose {
        let at = |which| self.lid(which).map_or(0.0, &end);
        LidPose {
            upper: at(Which::Upper),
            lower: at(Which::Lower),
        }
    }

    /// The share of an iris of `diameter`, mm, that the lids cover, 0 to 1.
    ///
    /// The iris is a flat disc at √(R² − r²) before the ball's centre, turned about it by `look`. A
    /// lid covers what lies between its leading and its trailing edge as angles about the pivot
    /// axis. Projected onto the front view, the disc becomes an ellipse and shares of it stay what
    /// they are. Both lids' shares are added, to 1 at most. A lid that cannot be made covers
    /// nothing.
    pub fn iris_cover(&self, diameter: f64, look: Look, pose: LidPose) -> f64 {
        let radius = diameter / 2.0;
        let ball = self.seat.ball_radius;
        let ahead = (ball * ball - radius * radius).max(0.0).sqrt();
        let [right, up, axis] = look.directions();
        // Points of the iris, on a unit disc, that lie on the side of `toward`, a plane's normal
        // through the pivot axis.
        let side_of = |toward: Vector3<f64>| {
            let across = Vector::new(toward.dot(&right), toward.dot(&up));
            HalfPlane::new(across * radius, -ahead * toward.dot(&axis))
        };
        let covered = |which: Which, leading: f64| {
            let lid = self.lid(which)?;
            let upward = match which {
                Which::Upper => 1.0,
                Which::Lower => -1.0,
            };
            let beyond = |angle: f64| Vector3::new(0.0, upward * angle.cos(), -angle.sin());
            Some(share_within([
                side_of(beyond(leading)),
                side_of(-beyond(leading + lid.extent)),
            ]))
        };
        let upper = covered(Which::Upper, pose.upper);
        let lower = covered(Which::Lower, pose.lower);
        upper.into_iter().chain(lower).sum::<f64>().min(1.0)
    }
}

/// The points p of the plane with `inward`·p ≥ `offset`, for a unit vector `inward`.
#[derive(Clone, Copy)]
struct HalfPlane {
    inward: Vector,
    offset: f64,
}

impl HalfPlane {
    /// `normal`·p ≥ `offset`; without a direction, all or nothing.
    fn new(normal: Vector, offset: f64) -> Self {
        /// A shorter normal, mm, is the rounding of none.
        const SHORTEST: f64 = 1e-12;
        let length = normal.norm();
        if length < SHORTEST {
            let offset = f64::INFINITY.copysign(offset);
            let inward = Vector::x();
            return Self { inward, offset };
        }
        Self {
            inward: normal / length,
            offset: offset / length,
        }
    }

    fn holds(&self, point: Vector) -> bool {
        self.inward.dot(&point) >= self.offset
    }

    /// Share of the unit disc inside: (acos x − x·√(1 − x²))/π (area of a segment of a circle).
    fn share(&self) -> f64 {
        let x = self.offset.clamp(-1.0, 1.0);
        (x.acos() - x * (1.0 - x * x).sqrt()) / PI
    }

    fn cuts(&self) -> bool {
        self.offset.abs() < 1.0
    }

    /// Length of the chord that lies inside `other`.
    fn chord_within(&self, other: &Self) -> f64 {
        let along = Vector::new(self.inward.y, -self.inward.x);
        let half = (1.0 - self.offset * self.offset).sqrt();
        // A point of the chord is inward·offset + along·s.
        let (rate, start) = (
            other.inward.dot(&along),
            other.inward.dot(&self.inward) * self.offset,
        );
        let (mut low, mut high) = (-half, half);
        let bound = (other.offset - start) / rate;
        if rate > 0.0 {
            low = low.max(bound);
        } else if rate < 0.0 {
            high = high.min(bound);
        } else if start < other.offset {
            return 0.0;
        }
        (high - low).max(0.0)
    }
}

/// Share of the unit disc that lies inside both half-planes.
///
/// The area within a closed curve is ½∮(x·dy − y·dx) (G. Green). Along the circle, that is half the
/// length of the arcs inside; along a chord, minus half its length times its distance.
fn share_within(both: [HalfPlane; 2]) -> f64 {
    let [one, other] = both;
    if !one.cuts() || !other.cuts() {
        // One of them holds all of the disc or nothing.
        return one.share().min(other.share());
    }
    let ends = both.map(|cut| {
        let (middle, half) = (cut.inward.y.atan2(cut.inward.x), cut.offset.acos());
        [middle - half, middle + half].map(|end| end.rem_euclid(TAU))
    });
    let mut ends = ends.concat();
    ends.sort_by(f64::total_cmp);
    let arcs = (0..ends.len()).map(|index| {
        let end = ends.get(index + 1).copied().unwrap_or(ends[0] + TAU);
        let (sin, cos) = f64::midpoint(ends[index], end).sin_cos();
        let inside = both.iter().all(|cut| cut.holds(Vector::new(cos, sin)));
        if inside { end - ends[index] } else { 0.0 }
    });
    let chords = one.offset * one.chord_within(&other) + other.offset * other.chord_within(&one);
    ((arcs.sum::<f64>() - chords) / TAU).clamp(0.0, 1.0)
}
