//! What the head weighs upon the hand, and how that spreads.
//!
//! The head rests on the hand at two places: in front on the fingers, which reach under the eyes
//! into the face as far as the balls do, and behind on the pad, the foam and the guard over it,
//! where that stands farthest back. Without a pad the plate's lower edge bears on the hand instead.

use crate::guard::Guard;
use crate::hand::Hand;
use crate::seated::GRAVITY;

/// Breadth of a hand without its thumb, mm: ANSUR II (Gordon et al., Natick/TR-15/007, 2014), men,
/// 50th percentile, computed from the raw file.
pub const HAND_BREADTH: f64 = 88.0;

/// Length of a palm, mm: same survey, men, 50th percentile.
pub const PALM_LENGTH: f64 = 116.0;

/// Depth of a middle finger at its last joint, mm, and so about the side of the patch that its tip
/// bears on: Garrett 1970 (AMRL-TR-69-42, as reported), mean of men.
pub const FINGERTIP: f64 = 16.0;

/// Fingers that the head rests on: all but the thumb.
pub const FINGERS: f64 = 4.0;

/// The weight on two supports, N, and what it presses with there, kPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Reaction of the fingers; negative if the head lifts off them.
    pub front: f64,
    /// Reaction behind; negative if the head tips forward.
    pub rear: f64,
    /// Mean pressure on the fingertips; None if nothing presses.
    pub front_pressure: Option<f64>,
    /// Mean pressure behind; None if nothing presses.
    pub rear_pressure: Option<f64>,
}

/// Where the head rests: z of both supports in the plate's frame, mm, and the area behind, mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supports {
    /// z of the fingers.
    pub front: f64,
    /// z of the support behind.
    pub rear: f64,
    /// Area of the support behind.
    pub rear_area: f64,
}

impl Supports {
    /// Fingers at `front`, the foremost z of the balls, mm, and the pad over `guard` behind: as
    /// much of it as a hand covers.
    pub fn with_pad(front: f64, guard: &Guard) -> Self {
        Self {
            front,
            rear: guard.deepest(),
            rear_area: guard.flat_length().min(HAND_BREADTH) * guard.length.min(PALM_LENGTH),
        }
    }

    /// Fingers at `front`, mm, and the edge of a plate of `thickness`, mm, across a hand.
    pub fn without_pad(front: f64, thickness: f64) -> Self {
        Self {
            front,
            rear: -thickness,
            rear_area: HAND_BREADTH * thickness,
        }
    }

    /// How the head's weight W spreads (moments about the front support):
    /// rear = W·(z_front − z_m)/(z_front − z_rear), front = W − rear. None if the front support does
    /// not lie before the rear one.
    pub fn load(&self, hand: &Hand) -> Option<Load> {
        let apart = self.front - self.rear;
        if apart <= 0.0 {
            return None;
        }
        let weight = GRAVITY * hand.head_mass_g;
        let rear = weight * (self.front - hand.mass_centre[2]) / apart;
        let front = weight - rear;
        // 1 N/mm² is 1000 kPa.
        let pressure = |force: f64, area: f64| (force >= 0.0).then_some(1e3 * force / area);
        Some(Load {
            front,
            rear,
            front_pressure: pressure(front, FINGERS * FINGERTIP * FINGERTIP),
            rear_pressure: pressure(rear, self.rear_area),
        })
    }
}
