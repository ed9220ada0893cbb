//! Holes that a placed plate lacks.

use serde::Serialize;

use super::placement::Placement;
use crate::angle::Degrees;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::{Point, Vector};
use crate::tie::{self, TieSlot};
use crate::ties::upward;

/// Directions that differ by less, degrees, differ by rounding alone.
const SAME: f64 = 1e-6;

/// A hole that must be made or widened in a plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Drilling {
    /// What for.
    pub hole: Drilled,
    /// Its middle, (x, y) in the head, mm.
    pub at: [f64; 2],
    /// Direction of its long side in the head, counter-clockwise from +x, above −90° and up to 90°.
    pub angle: Degrees,
    /// Its middle in the plate's own frame, where it is marked out, mm.
    pub at_on_plate: [f64; 2],
    /// Direction of its long side there.
    pub angle_on_plate: Degrees,
    /// Its length and its width, mm.
    pub size: [f64; 2],
}

/// What a hole is drilled for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Drilled {
    /// A slot for a tie to an anchor hole that no slot reaches.
    Slot {
        /// The anchor hole's index.
        anchor: usize,
    },
    /// A slot that is there and too small for the project's ties.
    WiderSlot {
        /// The plate's slot, by index.
        slot: usize,
    },
    /// A hole for the cable of a drive.
    CableHole {
        /// The drive's index.
        drive: usize,
    },
    /// A cable hole that is there, beside which there is no room for another, made so wide that a drive's cable
    /// passes it, too.
    WiderHole {
        /// The plate's cable hole, by index.
        hole: usize,
        /// The drive's index.
        drive: usize,
    },
}

impl Drilled {
    /// The cable hole of the plate that is widened, by index.
    pub(super) fn plate_hole(self) -> Option<usize> {
        match self {
            Self::WiderHole { hole, .. } => Some(hole),
            _ => None,
        }
    }
}

impl Drilling {
    pub(super) fn new(
        placement: Placement,
        hole: Drilled,
        at: [f64; 2],
        size: [f64; 2],
        angle: Degrees,
    ) -> Self {
        Self {
            hole,
            at,
            angle: upright(angle.0),
            at_on_plate: placement.back(at),
            angle_on_plate: upright(angle.0 - placement.turn.0),
            size,
        }
    }

    /// Its edge in the head.
    pub fn outline(&self) -> Outline {
        let [length, width] = self.size;
        let radius = match self.hole {
            Drilled::Slot { .. } | Drilled::WiderSlot { .. } => {
                let slot = TieSlot {
                    at: self.at,
                    angle: self.angle,
                    tie: self.size.map(|side| side - tie::CLEARANCE),
                    anchor: None,
                    locked: false,
                };
                return slot.outline();
            }
            Drilled::CableHole { .. } | Drilled::WiderHole { .. } => width / 2.0,
        };
        let (sin, cos) = self.angle.radians().sin_cos();
        let to_end = Vector::new(cos, sin) * (length / 2.0 - radius);
        let at = Point::from(self.at);
        Outline::hull(&[at - to_end, at + to_end].map(|centre| Disc { centre, radius }))
    }
}

/// The direction of a line: above −90°, up to 90°, so that it changes its sign in a mirror.
fn upright(angle: f64) -> Degrees {
    let Degrees(turned) = upward(angle);
    Degrees(if turned <= -90.0 + SAME { 90.0 } else { turned })
}
