//! Where a plate must be filed so that it keeps the wanted clearance to the wall.

use serde::Serialize;

use super::placement::Placement;
use super::wall::Wall;
use crate::geometry::{Point, polygon};
use crate::limits::TOLERANCE;

/// How far apart the edge is looked at, mm. A depth between two looks can be missed by half as much.
const STEP: f64 = 0.25;

/// A stretch of the plate's edge that must go.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Filing {
    /// Where most must go, (x, y) in the head, mm.
    pub at: [f64; 2],
    /// The same place in the plate's own frame, mm.
    pub at_on_plate: [f64; 2],
    /// How much must go there, square to the wall, mm.
    pub depth: f64,
    /// How long the stretch is, mm.
    pub length: f64,
    /// Its line along the edge, (x, y) in the head, mm.
    pub line: Vec<[f64; 2]>,
}

/// A place of the edge that was looked at.
struct Look {
    place: Point,
    /// How much must go there, mm.
    depth: f64,
    /// How much of the edge it stands for, mm.
    along: f64,
    is_corner: bool,
}

/// The stretches of the edge of a placed plate that lie nearer to the wall than `wanted`, mm, in the
/// edge's order.
pub(super) fn filing(
    edge: &[Point],
    placement: Placement,
    wall: &Wall,
    wanted: f64,
) -> Vec<Filing> {
    let mut looks: Vec<Look> = Vec::new();
    for line in polygon::edges(edge) {
        let along = line.end - line.start;
        let steps = (along.norm() / STEP).ceil().max(1.0);
        let mut step = 0.0;
        while step < steps {
            let place = line.start + along * (step / steps);
            looks.push(Look {
                place,
                depth: wanted - wall.depth(place).room,
                along: along.norm() / steps,
                is_corner: step < 1.0,
            });
            step += 1.0;
        }
    }
    let goes = |look: &Look| look.depth > TOLERANCE;
    // Starts where nothing must go, so that no stretch is cut in two.
    if let Some(start) = looks.iter().position(|look| !goes(look)) {
        looks.rotate_left(start);
    }
    let stretches = looks.split(|look| !goes(look));
    stretches
        .filter_map(|stretch| {
            let deepest = stretch.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
            Some(Filing {
                at: deepest.place.into(),
                at_on_plate: placement.back(deepest.place.into()),
                depth: deepest.depth,
                length: stretch.iter().map(|look| look.along).sum(),
                line: line(stretch),
            })
        })
        .collect()
}

/// The ends of a stretch and the corners between them.
fn line(stretch: &[Look]) -> Vec<[f64; 2]> {
    let last = stretch.len().saturating_sub(1);
    let looks = stretch.iter().enumerate();
    let kept = looks.filter(|(index, look)| *index == 0 || *index == last || look.is_corner);
    kept.map(|(_, look)| look.place.into()).collect()
}
