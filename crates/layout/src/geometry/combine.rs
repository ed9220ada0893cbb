//! Outlines moved, joined and cut, arcs staying arcs.
//!
//! The work is done by the library `cavalier_contours`, whose curves are corners with bulges: the
//! tangent of a quarter of an arc's turn.

use std::f64::consts::PI;

use cavalier_contours::polyline::{
    BooleanOp, BooleanResultPline, PlineSource, PlineSourceMut, Polyline,
};

use super::outline::Outline;
use super::segment::{Arc, Line, Segment};
use super::{Point, Vector};

type Curve = Polyline<f64>;
type Part = BooleanResultPline<Curve>;

/// Wider than every puppet, mm. Beyond it, [`SAME_PLACE`] would be lost among the digits.
const WIDE: f64 = 1e4;

/// Corners nearer than this, mm, are one; centres nearer than this belong to one arc.
const SAME_PLACE: f64 = 1e-6;

/// What an operation leaves: pieces, and holes in them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pieces {
    /// Edge of each piece, the largest first.
    pub edges: Vec<Outline>,
    /// Edge of each hole, counter-clockwise like every outline.
    pub holes: Vec<Outline>,
}

impl Pieces {
    fn of(edges: impl Iterator<Item = Curve>, holes: impl Iterator<Item = Curve>) -> Self {
        let sound = |curve: Curve| Some(from_curve(&curve)).filter(|outline| !outline.is_empty());
        let mut edges: Vec<Outline> = edges.filter_map(sound).collect();
        edges.sort_by(|a, b| b.area().total_cmp(&a.area()));
        Self {
            edges,
            holes: holes.filter_map(sound).collect(),
        }
    }

    fn whole(edge: &Outline) -> Self {
        Self {
            edges: vec![edge.clone()],
            holes: Vec::new(),
        }
    }

    /// The largest piece, without its holes; empty if nothing is left.
    fn largest(self) -> Outline {
        self.edges.into_iter().next().unwrap_or_default()
    }
}

impl Outline {
    /// The curve moved inward by `by`, mm; outward if negative, with round corners. Where it falls
    /// apart, the largest piece; empty if nothing is left.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        self.grown(-by).largest()
    }

    /// The curve moved outward by `by`, mm, with round corners; inward if negative, where it may fall
    /// apart or vanish. Growing outward, a mouth that closes leaves a hole.
    pub fn grown(&self, by: f64) -> Pieces {
        match to_curve(self) {
            Some(curve) if by.abs() <= WIDE => {
                let moved = curve.parallel_offset(-by).into_iter();
                // The library runs round a hole the other way.
                let (edges, holes): (Vec<_>, Vec<_>) = moved.partition(|part| part.area() > 0.0);
                Pieces::of(edges.into_iter(), holes.into_iter())
            }
            _ => Pieces::default(),
        }
    }

    /// The union with another outline; the largest piece, without holes.
    #[must_use]
    pub fn joined(&self, other: &Self) -> Self {
        self.with(other).largest()
    }

    /// The union with another outline: one piece, or both where they do not overlap.
    pub fn with(&self, other: &Self) -> Pieces {
        self.combined(other, BooleanOp::Or)
    }

    /// What is left when another outline is cut out of this one.
    pub fn without(&self, other: &Self) -> Pieces {
        self.combined(other, BooleanOp::Not)
    }

    /// What two outlines have in common; the largest piece.
    #[must_use]
    pub fn common(&self, other: &Self) -> Self {
        self.combined(other, BooleanOp::And).largest()
    }

    /// What lies between two heights, mm; the largest piece.
    #[must_use]
    pub fn between(&self, bottom: f64, top: f64) -> Self {
        let Some([low, high]) = self.bounds() else {
            return Self::default();
        };
        // Beside the curve on either side, so that only the two heights cut.
        let (left, right) = (low.x - 1.0, high.x + 1.0);
        let (bottom, top) = (bottom.max(low.y - 1.0), top.min(high.y + 1.0));
        if bottom >= top {
            return Self::default();
        }
        self.common(&Self::polygon(&[
            Point::new(left, bottom),
            Point::new(right, bottom),
            Point::new(right, top),
            Point::new(left, top),
        ]))
    }

    /// The curve with its inner corners rounded by `radius`, mm: moved outward and back again,
    /// which leaves everything else as it was.
    #[must_use]
    pub fn filleted(&self, radius: f64) -> Self {
        if radius <= SAME_PLACE {
            return self.clone();
        }
        let filleted = self.inset(-radius).inset(radius);
        if filleted.is_empty() {
            self.clone()
        } else {
            filleted
        }
    }

    fn combined(&self, other: &Self, operation: BooleanOp) -> Pieces {
        match (to_curve(self), to_curve(other), operation) {
            (Some(a), Some(b), _) => {
                let parts = a.boolean(&b, operation);
                let curves = |parts: Vec<_>| parts.into_iter().map(|part: Part| part.pline);
                Pieces::of(curves(parts.pos_plines), curves(parts.neg_plines))
            }
            (_, _, BooleanOp::And) | (None, _, BooleanOp::Not) => Pieces::default(),
            (Some(_), None, _) => Pieces::whole(self),
            (None, _, _) => Pieces::whole(other),
        }
    }
}

/// None for an outline that is empty, reaches beyond [`WIDE`] or has a coordinate that is no number.
fn to_curve(outline: &Outline) -> Option<Curve> {
    let mut curve = Polyline::new_closed();
    for segment in &outline.segments {
        match segment {
            Segment::Line(line) => curve.add(line.start.x, line.start.y, 0.0),
            Segment::Arc(arc) => {
                // A bulge takes at most a half turn.
                let pieces = (arc.sweep.abs() / PI - 1e-9).ceil().max(1.0);
                let mut piece = 0.0;
                while piece < pieces {
                    let at = arc.at(arc.start_angle + arc.sweep * piece / pieces);
                    curve.add(at.x, at.y, (arc.sweep / pieces / 4.0).tan());
                    piece += 1.0;
                }
            }
        }
    }
    let curve = curve.remove_redundant(SAME_PLACE).unwrap_or(curve);
    let held = |v: f64| v.abs() <= WIDE;
    let sound = curve
        .iter_vertexes()
        .all(|v| held(v.x) && held(v.y) && v.bulge.is_finite());
    (curve.vertex_count() > 1 && sound).then_some(curve)
}

fn from_curve(curve: &Curve) -> Outline {
    let mut curve = curve
        .remove_redundant(SAME_PLACE)
        .unwrap_or_else(|| curve.clone());
    if curve.area() < 0.0 {
        curve.invert_direction_mut();
    }
    let mut segments: Vec<Segment> = Vec::with_capacity(curve.vertex_count());
    for (from, to) in curve.iter_segments() {
        let (start, end) = (Point::new(from.x, from.y), Point::new(to.x, to.y));
        if (end - start).norm() < SAME_PLACE {
            continue;
        }
        let segment = segment(start, end, from.bulge);
        match (segments.last_mut(), segment) {
            (Some(Segment::Arc(last)), Segment::Arc(next)) if one_circle(last, &next) => {
                last.sweep += next.sweep;
            }
            _ => segments.push(segment),
        }
    }
    close_circle(&mut segments);
    Outline { segments }
}

fn segment(start: Point, end: Point, bulge: f64) -> Segment {
    /// A flatter bulge stands less than a nanometre off a line a metre long.
    const STRAIGHT: f64 = 1e-9;
    if bulge.abs() < STRAIGHT {
        return Segment::Line(Line { start, end });
    }
    let chord = end - start;
    let left = Vector::new(-chord.y, chord.x);
    // With b = tan(turn/4), the centre stands (1 − b²)/(4b) chords to the left of the middle.
    let centre = nalgebra::center(&start, &end) + left * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let out = start - centre;
    Segment::Arc(Arc {
        centre,
        radius: out.norm(),
        start_angle: out.y.atan2(out.x),
        sweep: 4.0 * bulge.atan(),
    })
}

fn one_circle(a: &Arc, b: &Arc) -> bool {
    (a.centre - b.centre).norm() < SAME_PLACE
        && (a.radius - b.radius).abs() < SAME_PLACE
        && a.sweep.signum() == b.sweep.signum()
}

/// Joins the last arc to the first where both are of one circle.
fn close_circle(segments: &mut Vec<Segment>) {
    if let [Segment::Arc(first), .., Segment::Arc(last)] = segments.as_mut_slice()
        && one_circle(last, first)
    {
        first.start_angle = last.start_angle;
        first.sweep += last.sweep;
        segments.pop();
    }
}
