//! A closed curve of lines and arcs.

use std::f64::consts::TAU;

use super::polygon::{self, FLATTENING};
use super::segment::{Line, Segment};
use super::{Gap, Point};

/// A simple closed curve, counter-clockwise: each piece starts where the one before ends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// Its pieces.
    pub segments: Vec<Segment>,
}

impl Outline {
    /// A closed polygon.
    pub fn polygon(points: &[Point]) -> Self {
        Self {
            segments: polygon::edges(points).map(Segment::Line).collect(),
        }
    }

    /// Whether there is nothing.
    pub fn is_empty(&self) -> bool {
        self.segments.is_empty()
    }

    /// Enclosed area, mm².
    pub fn area(&self) -> f64 {
        self.segments
            .iter()
            .map(|segment| {
                let chord = segment.start().coords.perp(&segment.end().coords) / 2.0;
                match segment {
                    Segment::Line(_) => chord,
                    Segment::Arc(arc) => {
                        chord + arc.radius * arc.radius * (arc.sweep - arc.sweep.sin()) / 2.0
                    }
                }
            })
            .sum()
    }

    /// Lower left and upper right corner of the box around it; None if it is empty.
    pub fn bounds(&self) -> Option<[Point; 2]> {
        self.segments
            .iter()
            .map(Segment::bounds)
            .reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])])
    }

    /// The curve as a polygon, within [`FLATTENING`] of it.
    pub fn flattened(&self) -> Vec<Point> {
        let mut points = Vec::new();
        for segment in &self.segments {
            match segment {
                Segment::Line(line) => points.push(line.start),
                Segment::Arc(arc) => {
                    // A chord over the angle 2a lies r·(1 − cos a) from its arc.
                    let half = (1.0 - FLATTENING / arc.radius.max(FLATTENING)).acos();
                    let steps = (arc.sweep.abs() / (2.0 * half)).ceil().clamp(1.0, 720.0);
                    let mut step = 0.0;
                    while step < steps {
                        points.push(arc.at(arc.start_angle + arc.sweep * step / steps));
                        step += 1.0;
                    }
                }
            }
        }
        polygon::without_repeats(points)
    }

    /// Whether `point` lies inside.
    ///
    /// The polygon through the ends of all pieces decides, and each cap between an arc and its
    /// chord changes the answer for the points in it.
    pub fn contains(&self, point: Point) -> bool {
        let chord = |segment: &Segment| Line {
            start: segment.start(),
            end: segment.end(),
        };
        let mut inside = polygon::passes_odd(self.segments.iter().map(chord), point);
        for segment in &self.segments {
            if let Segment::Arc(arc) = segment {
                // The cap of a counter-clockwise arc lies to the right of its chord; that of a
                // whole circle is its disc.
                let right = polygon::is_right_of(&chord(segment), point) == (arc.sweep > 0.0);
                let whole = arc.sweep.abs() >= TAU - 1e-12;
                if (whole || right) && (point - arc.centre).norm() < arc.radius {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// The gap from a point inside to the curve; negative if the point lies outside. None if empty.
    pub fn room_around(&self, point: Point) -> Option<Gap> {
        let gap = self
            .segments
            .iter()
            .map(|segment| Gap::between(point, segment.nearest(point)))
            .reduce(Gap::or_nearer)?;
        Some(signed(gap, self.contains(point)))
    }

    /// The gap from a polygon inside (such as the core of a slot) to the curve; negative if the
    /// polygon sticks out, by as much as its farthest corner does. None if either is empty.
    pub fn room_around_polygon(&self, points: &[Point]) -> Option<Gap> {
        let corners = points
            .iter()
            .filter_map(|&corner| self.room_around(corner))
            .reduce(Gap::or_nearer)?;
        if corners.distance < 0.0 {
            return Some(corners);
        }
        let edges = polygon::edges(points).flat_map(|edge| {
            let gaps = self.segments.iter();
            gaps.map(move |segment| segment.gap(&edge).reversed())
        });
        Some(edges.fold(corners, Gap::or_nearer))
    }

    /// The gap from this curve to a polygon around it, such as the wall of a head; negative if the
    /// curve sticks out, by as much as its farthest point does. None if either is empty.
    pub fn room_inside(&self, wall: &[Point]) -> Option<Gap> {
        let start = self.segments.first()?.start();
        let nearest = self.nearest_to_polygon(wall)?;
        if nearest.distance > 0.0 && polygon::contains(wall, start) {
            return Some(nearest);
        }
        self.farthest_out(wall)
    }

    /// The least distance to the edges of a polygon, both taken as curves.
    fn nearest_to_polygon(&self, wall: &[Point]) -> Option<Gap> {
        let boxes: Vec<_> = self.segments.iter().map(|s| (s, s.bounds())).collect();
        let mut best = Gap::between(boxes.first()?.0.start(), *wall.first()?);
        for edge in polygon::edges(wall) {
            let (low, high) = (edge.start.inf(&edge.end), edge.start.sup(&edge.end));
            for (segment, [own_low, own_high]) in &boxes {
                // Boxes that are farther apart than the best gap cannot hold a better one.
                let apart_x = (own_low.x - high.x).max(low.x - own_high.x).max(0.0);
                let apart_y = (own_low.y - high.y).max(low.y - own_high.y).max(0.0);
                if apart_x * apart_x + apart_y * apart_y < best.distance * best.distance {
                    best = best.or_nearer(segment.gap(&edge));
                }
            }
        }
        Some(best)
    }

    /// The point that sticks out of the polygon farthest.
    fn farthest_out(&self, wall: &[Point]) -> Option<Gap> {
        self.segments
            .iter()
            .filter_map(|segment| polygon::farthest_out_on(segment, wall))
            .reduce(Gap::or_nearer)
    }

    /// The least distance between two parallel lines that hold the curve between them, mm, found
    /// among the directions of the edges of its hull: a convex curve is narrowest square to one.
    pub fn least_width(&self) -> Option<f64> {
        let hull = polygon::convex_hull(&self.flattened());
        polygon::edges(&hull)
            .filter_map(|edge| {
                let along = (edge.end - edge.start).try_normalize(0.0)?;
                let out = |p: &Point| along.perp(&(p - edge.start));
                let far = hull.iter().map(out).reduce(f64::max)?;
                Some(far)
            })
            .reduce(f64::min)
    }
}

/// Gives a gap the sign of the side that its point lies on.
pub(crate) fn signed(gap: Gap, inside: bool) -> Gap {
    Gap {
        distance: if inside { gap.distance } else { -gap.distance },
        ..gap
    }
}
