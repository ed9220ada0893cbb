//! The holes for cables of a plate that is measured.

use serde::{Deserialize, Serialize};

use super::Measured;
use crate::cable_hole::PlateHole;
use crate::ties::upward;

/// A hole for a cable, its middle in the plate's frame. A round one has no length of its own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MeasuredHole {
    pub(super) at: [Option<f64>; 2],
    pub(super) width: Option<f64>,
    /// From end to end; None of a round one.
    pub(super) length: Option<f64>,
    /// Direction of its long side, degrees; None of a round one.
    pub(super) angle: Option<f64>,
    /// The hole that the plate came with.
    given: Option<PlateHole>,
}

impl MeasuredHole {
    pub(super) fn of(hole: &PlateHole) -> Self {
        let shape = hole.shape();
        let direction = shape.direction();
        let [length, width] = shape.size();
        let at: [f64; 2] = shape.middle().into();
        Self {
            at: at.map(Some),
            width: Some(width),
            length: direction.map(|_| length),
            angle: direction.map(|direction| direction.0),
            given: Some(*hole),
        }
    }

    /// The hole as it was given, if nothing of it was changed, or as it was measured; None if its place or its width
    /// is not known.
    pub(super) fn hole(&self) -> Option<PlateHole> {
        if let Some(given) = self.given
            && *self == Self::of(&given)
        {
            return Some(given);
        }
        let (x, y, width) = (self.at[0]?, self.at[1]?, self.width?);
        let half = (self.length.unwrap_or(width) - width).max(0.0) / 2.0;
        let (sin, cos) = self.angle.unwrap_or(0.0).to_radians().sin_cos();
        let end = |way: f64| [x + way * half * cos, y + way * half * sin];
        Some(PlateHole {
            ends: [end(-1.0), end(1.0)],
            width,
        })
    }
}

impl Measured {
    /// How many holes for cables it has.
    pub fn holes(&self) -> usize {
        self.cable_holes.len()
    }

    /// Adds a hole for a cable of which nothing is known.
    pub fn add_hole(&mut self) {
        self.cable_holes.push(MeasuredHole::default());
    }

    /// Adds the mirror image of a hole, by the upright line through the openings' middle.
    pub fn mirror_hole(&mut self, index: usize) {
        let Some(hole) = self.cable_holes.get(index).copied() else {
            return;
        };
        let axis = self.middle()[0];
        self.cable_holes.push(MeasuredHole {
            at: [hole.at[0].map(|x| 2.0 * axis - x), hole.at[1]],
            angle: hole.angle.map(|angle| upward(-angle).0),
            given: None,
            ..hole
        });
    }

    /// Takes a hole away.
    pub fn remove_hole(&mut self, index: usize) {
        if index < self.cable_holes.len() {
            self.cable_holes.remove(index);
        }
    }
}
