//! A closed curve of lines and arcs.

use super::bounded::Bounded;
use super::polygon::{self, FLATTENING};
use super::segment::Segment;
use super::{Gap, Point};

/// Most chords that an arc is flattened to: those of a whole circle then lie within a hundred-thousandth of
/// its radius.
pub const MOST_CHORDS: f64 = 720.0;

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
        self.flattened_within(FLATTENING)
    }

    /// The curve as a polygon with its corners on it, `within` mm of it; but no arc gets more chords than
    /// [`MOST_CHORDS`].
    pub fn flattened_within(&self, within: f64) -> Vec<Point> {
        let mut points = Vec::new();
        for segment in &self.segments {
            match segment {
                Segment::Line(line) => points.push(line.start),
                Segment::Arc(arc) => {
                    // A chord over the angle 2a lies r·(1 − cos a) from its arc.
                    let half = (1.0 - within / arc.radius.max(within)).acos();
                    let steps = (arc.sweep.abs() / (2.0 * half)).ceil();
                    let steps = steps.clamp(1.0, MOST_CHORDS);
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
    pub fn contains(&self, point: Point) -> bool {
        Bounded::of(self).is_some_and(|bounded| bounded.contains(point))
    }

    /// As [`Bounded::room_around`]; None if there is nothing.
    pub fn room_around(&self, point: Point) -> Option<Gap> {
        Some(Bounded::of(self)?.room_around(point))
    }

    /// As [`Bounded::room_around_polygon`]; None if there is nothing.
    pub fn room_around_polygon(&self, points: &[Point]) -> Option<Gap> {
        Bounded::of(self)?.room_around_polygon(points)
    }

    /// As [`Bounded::room_inside`]; None if there is nothing.
    pub fn room_inside(&self, wall: &Bounded) -> Option<Gap> {
        Some(Bounded::of(self)?.room_inside(wall))
    }

    /// The least distance between two parallel lines that hold the curve between them, mm, found
    /// among the directions of the edges of its hull: a convex curve is narrowest square to one.
    pub fn least_width(&self) -> Option<f64> {
        let hull = polygon::convex_hull(&self.flattened());
        let mut farthest = None;
        polygon::edges(&hull)
            .filter_map(|edge| {
                let along = (edge.end - edge.start).try_normalize(0.0)?;
                let out = |corner: usize| along.perp(&(hull[corner] - edge.start));
                let nearer = |a: &usize, b: &usize| out(*a).total_cmp(&out(*b));
                // The corner that lies farthest from an edge only moves on as the edge does.
                let mut far = farthest.or_else(|| (0..hull.len()).max_by(nearer))?;
                for _ in 0..hull.len() {
                    let next = (far + 1) % hull.len();
                    if out(next) < out(far) {
                        break;
                    }
                    far = next;
                }
                farthest = Some(far);
                Some(out(far))
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
