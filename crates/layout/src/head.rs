//! The head: its inside wall at the plate, and where ties can hold on to it.

use std::f64::consts::TAU;

use serde::{Deserialize, Serialize};

use crate::closed_curve::{self, CurveOf};
use crate::geometry::Point;
use crate::geometry::polygon;
use crate::problem::{self, Problem};

/// The head around the plate. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// Points of the inside wall at the plate, counter-clockwise, as the audience sees it.
    pub outline: Vec<[f64; 2]>,
    /// Whether the outline is smoothed through its points or runs straight between them.
    pub smooth: bool,
    /// Thickness of the head's wall.
    pub wall_thickness: f64,
    /// Depth of the cavity behind the plate's front face.
    pub cavity_depth: f64,
    /// Diameter of the opening that the plate must pass on its way in.
    pub access: f64,
    /// Holes in the wall that cable ties can pass.
    pub anchor_holes: Vec<AnchorHole>,
}

/// A hole in the head's wall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AnchorHole {
    /// Its place, (x, y) in the plate's frame, mm.
    pub at: [f64; 2],
    /// Its diameter, mm.
    pub diameter: f64,
}

impl Head {
    /// The inside wall as a closed polygon, mm, counter-clockwise: the points themselves, or the
    /// smooth curve through them to within [`polygon::FLATTENING`].
    pub fn wall(&self) -> Vec<Point> {
        polygon::through(&self.outline, self.smooth)
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size_or_none(&format!("{at}.wall_thickness"), self.wall_thickness)?;
        problem::size(&format!("{at}.cavity_depth"), self.cavity_depth)?;
        problem::size(&format!("{at}.access"), self.access)?;
        for (index, hole) in self.anchor_holes.iter().enumerate() {
            problem::place(&format!("{at}.anchor_holes[{index}].at"), hole.at)?;
            problem::size(
                &format!("{at}.anchor_holes[{index}].diameter"),
                hole.diameter,
            )?;
        }
        closed_curve::check(
            CurveOf::Head,
            &format!("{at}.outline"),
            &self.outline,
            self.smooth,
        )
    }
}

/// How many points a head outline starts with: enough to bend it anywhere, few enough to drag.
pub const START_POINTS: usize = 16;

/// A head outline of `width` × `height`, mm, about the origin: the curve
/// |x/a|ⁿ + |y/b|ⁿ = 1, which is an ellipse for a `squareness` of 0 (n = 2) and nears a
/// rectangle toward 1 (n = 2/(1 − squareness); G. Lamé's curve). `squareness` is held to 0 … 0.9.
pub fn start_outline(width: f64, height: f64, squareness: f64) -> Vec<[f64; 2]> {
    let exponent = 1.0 - squareness.clamp(0.0, 0.9);
    let along = |unit: f64, half: f64| half * unit.signum() * unit.abs().powf(exponent);
    (0..START_POINTS)
        .map(|step| {
            let turn = TAU * step as f64 / START_POINTS as f64;
            // A quarter turn has a cosine of 6e-17, not 0: without this a root of it shows.
            let exact = |value: f64| if value.abs() < 1e-12 { 0.0 } else { value };
            [
                along(exact(turn.cos()), width / 2.0),
                along(exact(turn.sin()), height / 2.0),
            ]
        })
        .collect()
}
