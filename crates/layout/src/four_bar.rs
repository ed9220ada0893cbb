//! The four-bar linkage in a plane: what follows if two levers on fixed axes are joined by a rod.

use std::f64::consts::TAU;

use crate::geometry::Vector;

/// Two levers and the rod between them, in a plane square to both axes. Lengths in mm, angles in
/// radians, counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FourBar {
    /// From the driver's axis to the follower's.
    pub ground: Vector,
    /// The driver's lever as the rod was fitted.
    pub driver: Vector,
    /// The follower's lever as the rod was fitted.
    pub follower: Vector,
}

impl FourBar {
    /// Length of the rod, mm.
    pub fn length(&self) -> f64 {
        (self.driver - self.ground - self.follower).norm()
    }

    /// How far the follower has turned when the driver has turned by `turn`, from −π to π; None where
    /// the rod does not reach.
    ///
    /// With e and δ the distance and direction from the follower's axis to the driver's tip, r₂ the
    /// follower's lever and l the rod, the follower points along δ ± acos((r₂² + e² − l²)/(2·r₂·e)):
    /// of the two, the side on which the rod was fitted. A linkage changes sides only where rod and
    /// follower's lever lie in line.
    pub fn follower_turn(&self, turn: f64) -> Option<f64> {
        let (sin, cos) = turn.sin_cos();
        let (along, across) = (self.driver, Vector::new(-self.driver.y, self.driver.x));
        let tip = along * cos + across * sin - self.ground;
        let (reach, lever, rod) = (tip.norm(), self.follower.norm(), self.length());
        let share = (lever * lever + reach * reach - rod * rod) / (2.0 * lever * reach);
        if !(-1.0..=1.0).contains(&share) {
            return None;
        }
        let side = (self.driver - self.ground).perp(&self.follower).signum();
        let direction = tip.y.atan2(tip.x) + side * share.acos();
        Some(half_turn(
            direction - self.follower.y.atan2(self.follower.x),
        ))
    }
}

/// The same angle, of a few turns at most, between −π and π, radians.
fn half_turn(angle: f64) -> f64 {
    angle - TAU * (angle / TAU).round()
}
