//! Where a plate must be filed so that it keeps the wanted clearance to the wall.

use serde::Serialize;

use super::wall::Wall;
use crate::geometry::{Point, polygon};
use crate::limits::TOLERANCE;

/// How far apart the edge is looked at, mm. A depth between two looks can be missed by half as much.
const STEP: f64 = 0.25;

/// A stretch of the plate's edge that must go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Filing {
    /// Where most must go, (x, y) in the head, mm.
    pub at: [f64; 2],
    /// How much must go there, square to the wall, mm.
    pub depth: f64,
    /// How long the stretch is, mm.
    pub length: f64,
}

/// The stretches of the edge of a placed plate that lie nearer to the wall than `wanted`, mm, in the
/// edge's order.
pub(super) fn filing(edge: &[Point], wall: &Wall, wanted: f64) -> Vec<Filing> {
    let mut looks: Vec<(Point, f64, f64)> = Vec::new();
    for line in polygon::edges(edge) {
        let along = line.end - line.start;
        let steps = (along.norm() / STEP).ceil().max(1.0);
        let mut step = 0.0;
        while step < steps {
            let place = line.start + along * (step / steps);
            let depth = wanted - wall.depth(place).room;
            looks.push((place, depth, along.norm() / steps));
            step += 1.0;
        }
    }
    let goes = |look: &(Point, f64, f64)| look.1 > TOLERANCE;
    // Starts where nothing must go, so that no stretch is cut in two.
    if let Some(start) = looks.iter().position(|look| !goes(look)) {
        looks.rotate_left(start);
    }
    let stretches = looks.split(|look| !goes(look));
    stretches
        .filter_map(|stretch| {
            let deepest = stretch.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Filing {
                at: deepest.0.into(),
                depth: deepest.1,
                length: stretch.iter().map(|look| look.2).sum(),
            })
        })
        .collect()
}
