//! A picture under the front view, to trace.

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::geometry::{Point, Vector};
use crate::problem::{self, Problem};

/// Longest path of a picture, in characters.
pub const LONGEST_PATH: usize = 4_096;

/// A picture that lies under the front view, as the audience sees it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tracing {
    /// Where the picture is: in a file, from the folder of the project, with `/` between folders.
    pub picture: String,
    /// Place of the picture's middle, (x, y) in the plate's frame, mm.
    pub at: [f64; 2],
    /// How much one of its pixels measures, mm.
    pub mm_per_pixel: f64,
    /// How far it is turned, counter-clockwise.
    pub angle: Degrees,
    /// How much of it shows: from 0, nothing, to 1, all.
    pub strength: f64,
}

impl Tracing {
    /// The place in the plate's frame, mm, of a place on the picture, pixels from its middle, x to
    /// the right, y up.
    pub fn place(&self, pixel: Vector) -> Point {
        let turn = nalgebra::Rotation2::new(self.angle.radians());
        Point::from(self.at) + turn * pixel * self.mm_per_pixel
    }

    /// The place on the picture, pixels from its middle, of a place in the plate's frame, mm.
    pub fn pixel(&self, place: Point) -> Vector {
        let turn = nalgebra::Rotation2::new(-self.angle.radians());
        turn * (place - Point::from(self.at)) / self.mm_per_pixel
    }

    /// The picture scaled so that two places on it come to lie `distance`, mm, apart, about the
    /// first of them. None if they are one place, or the scale would not be finite.
    #[must_use]
    pub fn scaled(&self, [first, second]: [Point; 2], distance: f64) -> Option<Self> {
        let factor = distance / (second - first).norm();
        let usable = factor.is_finite() && factor > 0.0;
        usable.then(|| Self {
            at: (first + (Point::from(self.at) - first) * factor).into(),
            mm_per_pixel: self.mm_per_pixel * factor,
            ..self.clone()
        })
    }

    /// The picture turned about a place by an angle, radians, counter-clockwise.
    #[must_use]
    pub fn turned(&self, about: Point, by: f64) -> Self {
        let turn = nalgebra::Rotation2::new(by);
        let angle = self.angle.0 + by.to_degrees();
        Self {
            at: (about + turn * (Point::from(self.at) - about)).into(),
            angle: Degrees((angle + 180.0).rem_euclid(360.0) - 180.0),
            ..self.clone()
        }
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        let field = format!("{at}.picture");
        if self.picture.is_empty() {
            return Err(Problem::new(
                field,
                "The tracing picture has no path.",
                "Name the file, or leave `tracing` out.",
            ));
        }
        if self.picture.chars().count() > LONGEST_PATH {
            return Err(Problem::new(
                field,
                format!(
                    "The path of the tracing picture is longer than {LONGEST_PATH} characters."
                ),
                "Put the picture nearer to the project.",
            ));
        }
        problem::place(&format!("{at}.at"), self.at)?;
        problem::within(
            &format!("{at}.mm_per_pixel"),
            self.mm_per_pixel,
            1e-4..=1_000.0,
            "mm",
        )?;
        problem::within(&format!("{at}.angle"), self.angle.0, -360.0..=360.0, "°")?;
        problem::within(&format!("{at}.strength"), self.strength, 0.0..=1.0, "")
    }
}
