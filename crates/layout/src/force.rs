//! Forces on a cable: what the lever needs, what friction adds on the way to the hand, and what bare
//! wire can push.

use std::f64::consts::PI;

use crate::drive::Cable;

/// Effective length of the bare wire as a share of its own: clamped in the sheath, hinged at the lever
/// (a fixed and pinned column; 0.699 to three digits).
pub const COLUMN_FACTOR: f64 = 0.7;

/// Wire that is left at the lever for its loop or clamp, mm. Own choice.
pub const LEVER_END: f64 = 15.0;

/// Wire that is left at the hand for its ring or slider, mm. Own choice.
pub const HAND_END: f64 = 60.0;

/// Force at the lever tip, N, that turns a torque, N·mm, at a moment arm, mm; infinite without an arm
/// for any torque.
pub fn lever_force(torque: f64, arm: f64) -> f64 {
    if torque == 0.0 { 0.0 } else { torque / arm }
}

/// How many times as hard the hand must pull as the lever does, by friction `mu` over bends of
/// `bend`, radians, in all: e^(μΦ). The radius of the bends does not enter.
pub fn pull_gain(mu: f64, bend: f64) -> f64 {
    (mu * bend).exp()
}

/// Pull at a share of the way along bends of `bend`, radians, in all, as a share of the hand's: 1 at
/// the hand, 1/gain at the lever. For a chart along the sheath.
pub fn tension_share(mu: f64, bend: f64) -> f64 {
    (-mu * bend).exp()
}

/// The force at which a wire of `cable` buckles that stands bare over `length`, mm:
/// π²·E·I/(K·l)², I = π·d⁴/64, N, for an effective length of `factor` times its own.
pub fn buckling_force(cable: &Cable, length: f64, factor: f64) -> f64 {
    // 1 GPa is 1000 N/mm².
    let modulus = cable.modulus_gpa * 1_000.0;
    let second_moment = PI * cable.inner_diameter.powi(4) / 64.0;
    let effective = factor * length;
    PI * PI * modulus * second_moment / (effective * effective)
}
