//! What lies below a plate's places within their reach: how far the wall comes out beyond a line there.

use super::wall::{Depth, NO_DIRECTION};
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector};

/// The line through the foot of a place, square on its depth, and the disc that the place stays in. Up is inward.
///
/// * Whatever of the disc is inside has no more room than the way straight down to the wall is long.
/// * Below all of the wall that lies below the disc is outside, since that is so straight below the foot of the place,
///   as long as no part of the wall there faces the other way.
/// * Whatever of the disc is outside and below the line has as much less than no room as the nearest place of the
///   wall is away, be that below the disc or aside of it. That tells the most for the lowest place of the disc, and for
///   the side that is nearer.
///
/// So the room lies above the plane by no more than the wall comes out beyond the line, in this sense.
pub(super) struct Below {
    foot: Point,
    inward: Vector,
    /// How far the middle of the disc lies aside of the foot, mm.
    aside: f64,
    /// Radius of the disc, mm.
    reach: f64,
    /// How far below the line the disc comes where it can come outside, mm; not above 0 elsewhere.
    low: f64,
    /// How far below the line the wall is looked at, mm: deeper than the disc comes, and than it is worth asking.
    deep: f64,
}

impl Below {
    pub(super) fn of(place: Point, depth: &Depth, about: Point, reach: f64) -> Self {
        let inward = depth.inward;
        let foot = place - inward * depth.room;
        let off = about - foot;
        let comes_outside = depth.room <= reach + (place - about).norm();
        let low = if comes_outside {
            reach - inward.dot(&off)
        } else {
            0.0
        };
        Self {
            foot,
            inward,
            aside: inward.perp(&off),
            reach,
            low,
            deep: reach.max(2.0 * low),
        }
    }

    /// How far aside of the middle of the disc a point lies, and how far below the line, mm.
    fn seen(&self, at: Point) -> Point {
        let off = at - self.foot;
        Point::new(self.inward.perp(&off) - self.aside, -self.inward.dot(&off))
    }

    /// Whether nothing between two corners of a box can count.
    pub(super) fn is_apart_from(&self, low: Point, high: Point) -> bool {
        let half = (high - low) / 2.0;
        let inward = self.inward.abs();
        let at = self.seen(nalgebra::center(&low, &high));
        let wide = half.x * inward.y + half.y * inward.x + self.reach + self.low.max(0.0);
        let tall = half.dot(&inward);
        at.x.abs() > wide || at.y + tall < 0.0 || at.y - tall > self.deep
    }

    /// How far one edge of the wall comes out beyond the line, mm; not above 0 if it does not, and infinite where
    /// it is too deep or faces the other way.
    pub(super) fn beyond(&self, edge: &Line, inward: Vector) -> f64 {
        let edge = Line {
            start: self.seen(edge.start),
            end: self.seen(edge.end),
        };
        let mut beyond = 0.0_f64;
        if self.low > 0.0 {
            for side in [-self.reach, self.reach] {
                let lowest = Point::new(side, self.low);
                beyond = beyond.max(self.low - (lowest - edge.nearest(lowest)).norm());
            }
        }
        let Some([least, most]) = self.under_the_disc(&edge) else {
            return beyond;
        };
        if most <= NO_DIRECTION || least > self.deep {
            beyond
        } else if most > self.deep || inward.dot(&self.inward) <= 0.0 {
            f64::INFINITY
        } else {
            beyond.max(most)
        }
    }

    /// How far below the line that part of an edge lies which is neither to the left nor to the right of the disc,
    /// mm: the least and the most.
    fn under_the_disc(&self, edge: &Line) -> Option<[f64; 2]> {
        let Line { start, end } = *edge;
        if start.x.max(end.x) < -self.reach || start.x.min(end.x) > self.reach {
            return None;
        }
        let slope = (end.y - start.y) / (end.x - start.x);
        let [one, other] = [start, end].map(|at| {
            if at.x.abs() <= self.reach {
                at.y
            } else {
                at.y + slope * (self.reach.copysign(at.x) - at.x)
            }
        });
        Some([one.min(other), one.max(other)])
    }
}
