//! The shortest path of bounded curvature from one pose to another in a plane.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::geometry::space::{Bend, Piece, Place, Way};
use crate::geometry::{Point, Vector};

/// Arcs that fall short of a whole turn by less than this, radians, are none: rounding alone turns a
/// single quarter arc into one with a whole turn before it.
const WHOLE_TURN: f64 = 1e-7;

/// A place in a plane and the direction in which it is passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// The place, mm.
    pub at: Point,
    /// The direction, counter-clockwise from +x, radians.
    pub heading: f64,
}

/// Which way each of the three parts of a path goes: left, right or straight on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// Left, straight, left.
    Lsl,
    /// Right, straight, right.
    Rsr,
    /// Left, straight, right.
    Lsr,
    /// Right, straight, left.
    Rsl,
    /// Right, left, right.
    Rlr,
    /// Left, right, left.
    Lrl,
}

/// A path of two arcs with a straight line or a third arc between them. Lengths in mm, angles in
/// radians, without a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// Which way its parts go.
    pub word: Word,
    /// Where it starts.
    pub start: Pose,
    /// Radius of its arcs.
    pub radius: f64,
    /// How far the first arc turns.
    pub first: f64,
    /// Length of the straight line, or how far the arc in the middle turns.
    pub middle: f64,
    /// How far the last arc turns.
    pub last: f64,
}

/// The shortest path from `start` to `end` whose radius is nowhere less than `radius`, mm.
///
/// It is always one of six words (L. E. Dubins: On curves of minimal length with a constraint on
/// average curvature, and with prescribed initial and terminal positions and tangents, American
/// Journal of Mathematics 79, 1957), each of which joins circles that touch the poses by a common tangent or by
/// a third circle. Of equally long ones it is the first in the order of [`Word`]. None if the radius is
/// not positive or something is not finite.
pub fn shortest(start: Pose, end: Pose, radius: f64) -> Option<Turned> {
    let finite = |pose: Pose| pose.at.iter().all(|at| at.is_finite()) && pose.heading.is_finite();
    if !(radius > 0.0 && radius.is_finite() && finite(start) && finite(end)) {
        return None;
    }
    let words = [Word::Lsl, Word::Rsr, Word::Lsr, Word::Rsl];
    let tangents = words
        .into_iter()
        .filter_map(|word| by_tangent(word, start, end, radius));
    let circles = [Word::Rlr, Word::Lrl]
        .into_iter()
        .flat_map(|word| by_circle(word, start, end, radius));
    tangents.chain(circles).reduce(|best, other| {
        if other.length() < best.length() {
            other
        } else {
            best
        }
    })
}

impl Word {
    /// Of the first and the last arc: 1 to the left, −1 to the right.
    fn sides(self) -> [f64; 2] {
        match self {
            Self::Lsl | Self::Lrl => [1.0, 1.0],
            Self::Rsr | Self::Rlr => [-1.0, -1.0],
            Self::Lsr => [1.0, -1.0],
            Self::Rsl => [-1.0, 1.0],
        }
    }

    /// Whether an arc and no straight line lies in its middle.
    pub fn is_all_arcs(self) -> bool {
        matches!(self, Self::Rlr | Self::Lrl)
    }
}

impl Turned {
    /// Length, mm.
    pub fn length(&self) -> f64 {
        let straight = if self.word.is_all_arcs() {
            0.0
        } else {
            self.middle
        };
        self.total_bend() * self.radius + straight
    }

    /// How far it turns in all, to both sides, radians.
    pub fn total_bend(&self) -> f64 {
        let middle = if self.word.is_all_arcs() {
            self.middle
        } else {
            0.0
        };
        self.first + middle + self.last
    }

    /// Its three parts in the plane z = 0, each starting where the one before ends.
    pub fn pieces(&self) -> [Piece; 3] {
        let [first_side, last_side] = self.word.sides();
        let (first, pose) = self.arc(self.start, first_side, self.first);
        let (middle, pose) = if self.word.is_all_arcs() {
            self.arc(pose, -first_side, self.middle)
        } else {
            let at = pose.at + along(pose.heading) * self.middle;
            let piece = Piece::straight(in_space(pose.at), in_space(at));
            (piece, Pose { at, ..pose })
        };
        let (last, _) = self.arc(pose, last_side, self.last);
        [first, middle, last]
    }

    /// An arc from a pose to a side, and the pose at its end.
    fn arc(&self, from: Pose, side: f64, sweep: f64) -> (Piece, Pose) {
        let centre = centre(from, side, self.radius);
        let out = from.at - centre;
        let (sin, cos) = (side * sweep).sin_cos();
        let at = centre + Vector::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos);
        let bend = Bend {
            centre: in_space(centre),
            radius: self.radius,
            out: flat(out / self.radius),
            heading: flat(along(from.heading)),
            sweep,
        };
        let heading = from.heading + side * sweep;
        (Piece::Bend(bend), Pose { at, heading })
    }
}

/// Two arcs and the common tangent of their circles, if they have one that goes the right way.
///
/// From the first centre to the last it is p along the tangent and, if it changes sides, 2r across.
fn by_tangent(word: Word, start: Pose, end: Pose, radius: f64) -> Option<Turned> {
    let sides = word.sides();
    let apart = centre(end, sides[1], radius) - centre(start, sides[0], radius);
    let across = (sides[0] - sides[1]) * radius;
    let square = apart.norm_squared() - across * across;
    let noise = noise(start, end, radius);
    if square < -noise {
        return None;
    }
    let middle = if square > noise { square.sqrt() } else { 0.0 };
    let heading = if middle.max(across.abs()) > 0.0 {
        apart.y.atan2(apart.x) + across.atan2(middle)
    } else {
        start.heading
    };
    Some(Turned {
        word,
        start,
        radius,
        first: turn(sides[0] * (heading - start.heading)),
        middle,
        last: turn(sides[1] * (end.heading - heading)),
    })
}

/// Three arcs: the circle in the middle touches both others, and can lie to either side of them.
fn by_circle(word: Word, start: Pose, end: Pose, radius: f64) -> Vec<Turned> {
    let [side, _] = word.sides();
    let apart = centre(end, side, radius) - centre(start, side, radius);
    let rest = 4.0 * radius * radius - apart.norm_squared() / 4.0;
    let noise = noise(start, end, radius);
    let Some(direction) = apart.try_normalize(0.0).filter(|_| rest >= -noise) else {
        return Vec::new();
    };
    let rest = if rest > noise { rest.sqrt() } else { 0.0 };
    let aside = Vector::new(-direction.y, direction.x) * rest;
    let by = |aside: Vector| {
        // From the first centre to the middle one, and from there to the last.
        let legs = [apart / 2.0 + aside, apart / 2.0 - aside];
        let headings = legs.map(|leg| leg.y.atan2(leg.x) + side * FRAC_PI_2);
        // Where the last two circles touch, the way along the last is that along the middle one.
        Turned {
            word,
            start,
            radius,
            first: turn(side * (headings[0] - start.heading)),
            middle: turn(-side * (headings[1] + 2.0 * FRAC_PI_2 - headings[0])),
            last: turn(side * (end.heading - headings[1] - 2.0 * FRAC_PI_2)),
        }
    };
    vec![by(aside), by(-aside)]
}

/// What rounding can make of the square of no length, mm²: where circles touch, its root would be a
/// million times as large as the rounding itself.
fn noise(start: Pose, end: Pose, radius: f64) -> f64 {
    let size = start.at.coords.norm() + end.at.coords.norm() + radius;
    4.0 * f64::EPSILON * size * size
}

/// The centre of the circle to one side of a pose.
fn centre(pose: Pose, side: f64, radius: f64) -> Point {
    let along = along(pose.heading);
    pose.at + Vector::new(-along.y, along.x) * (side * radius)
}

fn along(heading: f64) -> Vector {
    let (sin, cos) = heading.sin_cos();
    Vector::new(cos, sin)
}

/// A turn from 0 to 2π; none where rounding makes a whole one of it.
fn turn(angle: f64) -> f64 {
    let turn = angle.rem_euclid(TAU);
    if turn > TAU - WHOLE_TURN { 0.0 } else { turn }
}

fn in_space(at: Point) -> Place {
    Place::new(at.x, at.y, 0.0)
}

fn flat(way: Vector) -> Way {
    Way::new(way.x, way.y, 0.0)
}
