//! Geometry in the plate's frame, most of it in its plane: millimetres, angles in radians
//! counter-clockwise from +x.

pub mod bounded;
pub mod combine;
mod farthest_out;
pub mod hull;
pub mod outline;
pub mod polygon;
pub mod segment;
pub mod space;

/// A point of the plate's plane, mm.
pub type Point = nalgebra::Point2<f64>;

/// A displacement in the plate's plane, mm.
pub type Vector = nalgebra::Vector2<f64>;

/// The least distance between two shapes and where it occurs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Distance, mm; negative where the shapes overlap, or where the inner one sticks out.
    pub distance: f64,
    /// The point on the first shape.
    pub from: Point,
    /// The point on the second shape.
    pub to: Point,
}

impl Gap {
    /// The gap between two points.
    pub fn between(from: Point, to: Point) -> Self {
        Self {
            distance: (to - from).norm(),
            from,
            to,
        }
    }

    /// The same gap seen from the other shape.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            ..self
        }
    }

    /// The smaller of two gaps; the first where they are equal.
    #[must_use]
    pub fn or_nearer(self, other: Self) -> Self {
        if other.distance < self.distance {
            other
        } else {
            self
        }
    }

    /// The gap that is left when the first shape grows by `by`, mm, on every side.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        let along = (self.to - self.from)
            .try_normalize(0.0)
            .unwrap_or_else(Vector::x);
        // Where the first shape sticks out of the second, growing moves its point farther out.
        let outward = if self.distance < 0.0 { -along } else { along };
        Self {
            distance: self.distance - by,
            from: self.from + outward * by,
            to: self.to,
        }
    }

    /// The gap that is left when the second shape grows by `by`, mm, on every side.
    #[must_use]
    pub fn grown_to(self, by: f64) -> Self {
        self.reversed().grown(by).reversed()
    }
}
