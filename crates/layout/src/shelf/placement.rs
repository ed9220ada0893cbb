//! Where a shelf plate goes in a head.

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::geometry::{Point, Vector};

/// Degrees of a whole turn.
const WHOLE_TURN: f64 = 360.0;

/// A shift and a turn that take a shelf plate's frame into a project's.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Placement {
    /// Where the plate's origin comes to lie, (x, y) in the project's frame, mm.
    pub shift: [f64; 2],
    /// How far the plate is turned about its origin, counter-clockwise.
    pub turn: Degrees,
}

impl Placement {
    /// Where a place of the plate comes to lie, mm.
    pub fn place(&self, at: [f64; 2]) -> [f64; 2] {
        (Point::from(self.shift) + turned(at.into(), self.turn.radians())).into()
    }

    /// The place of the plate that comes to lie at `at`, mm.
    pub fn back(&self, at: [f64; 2]) -> [f64; 2] {
        let from_origin = Point::from(at) - Point::from(self.shift);
        turned(from_origin, -self.turn.radians()).into()
    }

    /// Which way a direction of the plate points in the head; within a whole turn.
    pub fn direction(&self, angle: Degrees) -> Degrees {
        Degrees((angle.0 + self.turn.0) % WHOLE_TURN)
    }

    /// Where the corners of the plate's edge come to lie, mm.
    pub(super) fn edge(&self, corners: &[[f64; 2]]) -> Vec<Point> {
        corners.iter().map(|&at| self.place(at).into()).collect()
    }
}

/// A vector turned by `turn`, radians, counter-clockwise.
pub(super) fn turned(vector: Vector, turn: f64) -> Vector {
    let (sin, cos) = turn.sin_cos();
    Vector::new(
        vector.x * cos - vector.y * sin,
        vector.x * sin + vector.y * cos,
    )
}
