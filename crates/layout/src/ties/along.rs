//! Spots along an outline.

use crate::geometry::outline::Outline;
use crate::geometry::polygon;
use crate::geometry::segment::Segment;
use crate::geometry::{Point, Vector};

/// A spot on an outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) at: Point,
    /// The outward normal, a unit vector.
    pub(super) out: Vector,
}

/// Most spots along one outline: enough for a plate of half a metre.
const MOST_SPOTS: f64 = 400.0;

/// Spots at equal steps along an outline, counter-clockwise, no more than `step`, mm, apart where that takes
/// no more than [`MOST_SPOTS`].
pub(super) fn at_steps(outline: &Outline, step: f64) -> Vec<Spot> {
    let total: f64 = outline.segments.iter().map(Segment::length).sum();
    let step = total / (total / step).ceil().clamp(1.0, MOST_SPOTS);
    let (mut spots, mut passed) = (Vec::new(), 0.0);
    for segment in &outline.segments {
        let own = segment.length();
        while spots.len() as f64 * step < passed + own {
            let share = (spots.len() as f64 * step - passed) / own;
            spots.push(spot(segment, share.clamp(0.0, 1.0)));
        }
        passed += own;
    }
    spots
}

/// The spots where an outline that mirrors itself passes the centre line, from the lowest up.
pub(super) fn on_centre_line(outline: &Outline) -> Vec<Spot> {
    let spans = polygon::spans(&outline.flattened(), 0.0).into_iter();
    let spot = |y, out| Spot {
        at: Point::new(0.0, y),
        out,
    };
    spans
        .flat_map(|[low, high]| [spot(low, -Vector::y()), spot(high, Vector::y())])
        .collect()
}

/// The spot at a share of a piece that has a length.
fn spot(segment: &Segment, share: f64) -> Spot {
    let out = match segment {
        Segment::Line(line) => {
            let along = line.end - line.start;
            Vector::new(along.y, -along.x).normalize()
        }
        Segment::Arc(arc) => {
            let angle = arc.start_angle + arc.sweep * share;
            Vector::new(angle.cos(), angle.sin()) * arc.sweep.signum()
        }
    };
    let at = segment.at(share);
    Spot { at, out }
}
