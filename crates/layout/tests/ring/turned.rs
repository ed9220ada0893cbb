//! A ring that is turned by matrices, point by point.

use std::f64::consts::TAU;

use nalgebra::{Rotation3, Vector3};

use crate::common::Random;

/// The point of the ring at a turn about its axis.
pub(super) fn on_ring([radius, depth]: [f64; 2], turn: f64) -> Vector3<f64> {
    Vector3::new(radius * turn.cos(), radius * turn.sin(), -depth)
}

/// The largest value of a smooth function of a whole turn and of a tilt up to `most`: a grid of
/// `counts`, then finer grids about the best place found.
pub(super) fn largest(most: f64, counts: [usize; 2], value: impl Fn(f64, f64) -> f64) -> f64 {
    let mut best = f64::NEG_INFINITY;
    let (mut turns, mut tilts) = ([0.0, TAU], [0.0, most]);
    let mut counts = counts;
    for _ in 0..5 {
        let steps = [0, 1].map(|axis| {
            let [low, high] = [turns, tilts][axis];
            (high - low) / counts[axis] as f64
        });
        let mut place = [0.0; 2];
        best = f64::NEG_INFINITY;
        for i in 0..=counts[0] {
            for j in 0..=counts[1] {
                let at = [
                    turns[0] + steps[0] * i as f64,
                    tilts[0] + steps[1] * j as f64,
                ];
                let here = value(at[0], at[1]);
                if here > best {
                    (best, place) = (here, at);
                }
            }
        }
        turns = [place[0] - steps[0], place[0] + steps[0]];
        tilts = [
            (place[1] - steps[1]).max(0.0),
            (place[1] + steps[1]).min(most),
        ];
        counts = [8, if most > 0.0 { 8 } else { 1 }];
    }
    best
}

/// Least depth of the ring behind the ball's centre under a rotation.
pub(super) fn least_depth(meridian: &[[f64; 2]], rotation: &Rotation3<f64>) -> f64 {
    let depth = |&point| -largest(0.0, [72, 1], |turn, _| (rotation * on_ring(point, turn)).z);
    meridian.iter().map(depth).fold(f64::INFINITY, f64::min)
}

/// The largest value of something about a ring point over all tilts up to `most` about `axis`.
pub(super) fn over_tilts(
    meridian: &[[f64; 2]],
    axis: Vector3<f64>,
    most: f64,
    value: impl Fn(Vector3<f64>) -> f64,
) -> f64 {
    let axis = nalgebra::Unit::new_normalize(axis);
    let at = |&point| {
        largest(most, [48, 16], |turn, tilt| {
            value(Rotation3::from_axis_angle(&axis, tilt) * on_ring(point, turn))
        })
    };
    meridian.iter().map(at).fold(f64::NEG_INFINITY, f64::max)
}

/// The first tilt about `axis`, radians, at which the ring reaches `depth`.
pub(super) fn first_contact(meridian: &[[f64; 2]], axis: Vector3<f64>, depth: f64) -> f64 {
    let axis = nalgebra::Unit::new_normalize(axis);
    let free = |tilt| least_depth(meridian, &Rotation3::from_axis_angle(&axis, tilt)) > depth;
    let step = 0.1;
    let mut low = 0.0;
    while free(low + step) {
        low += step;
    }
    let mut high = low + step;
    while high - low > 1e-6 {
        let middle = (low + high) / 2.0;
        if free(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

pub(super) fn axis(random: &mut Random) -> Vector3<f64> {
    let direction = random.angle();
    Vector3::new(direction.cos(), direction.sin(), 0.0)
}
