//! An outline made ready for many questions: its pieces with the boxes around them.

use std::f64::consts::TAU;

use super::outline::{Outline, signed};
use super::segment::{Line, Segment};
use super::{Gap, Point};
use super::{farthest_out, polygon};

/// Pieces in one run, which are passed over together if the box around them is too far away: few enough to look
/// at all, many enough to save looks.
const RUN: usize = 8;

/// A box with its sides along the axes.
#[derive(Clone, Copy, Debug)]
struct Bounds {
    low: Point,
    high: Point,
}

impl Bounds {
    fn of_line(line: &Line) -> Self {
        Self {
            low: line.start.inf(&line.end),
            high: line.start.sup(&line.end),
        }
    }

    /// Square of the distance between two boxes; no points of theirs are nearer.
    fn apart_squared(&self, other: &Self) -> f64 {
        let x = (self.low.x - other.high.x).max(other.low.x - self.high.x);
        let y = (self.low.y - other.high.y).max(other.low.y - self.high.y);
        x.max(0.0).powi(2) + y.max(0.0).powi(2)
    }

    /// Whether a ray to the right from `point` may pass something in it.
    fn is_beside(&self, point: Point) -> bool {
        (self.low.y..=self.high.y).contains(&point.y) && point.x <= self.high.x
    }

    fn joined(self, other: Self) -> Self {
        Self {
            low: self.low.inf(&other.low),
            high: self.high.sup(&other.high),
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct Piece {
    segment: Segment,
    chord: Line,
    bounds: Bounds,
}

/// The pieces of an outline with their chords and boxes, and the boxes of their runs.
#[derive(Clone, Debug)]
pub struct Bounded {
    pieces: Vec<Piece>,
    runs: Vec<Bounds>,
    bounds: Bounds,
    is_convex: bool,
}

impl Bounded {
    /// Makes an outline ready. None if it is empty.
    pub fn of(outline: &Outline) -> Option<Self> {
        let pieces: Vec<Piece> = outline
            .segments
            .iter()
            .map(|segment| {
                let [low, high] = segment.bounds();
                Piece {
                    segment: *segment,
                    chord: segment.chord(),
                    bounds: Bounds { low, high },
                }
            })
            .collect();
        let around = |run: &[Piece]| run.iter().map(|p| p.bounds).reduce(Bounds::joined);
        let runs: Vec<Bounds> = pieces.chunks(RUN).filter_map(around).collect();
        let bounds = runs.iter().copied().reduce(Bounds::joined)?;
        Some(Self {
            is_convex: is_convex(&pieces),
            pieces,
            runs,
            bounds,
        })
    }

    /// Whether it is a polygon that bends inward nowhere: along a straight line, the room inside it is least at an
    /// end.
    pub(super) fn is_convex(&self) -> bool {
        self.is_convex
    }

    /// The lower left and the upper right corner of the box around it.
    pub fn corners(&self) -> [Point; 2] {
        [self.bounds.low, self.bounds.high]
    }

    /// Whether `point` lies inside.
    ///
    /// The polygon through the ends of all pieces decides, and each cap between an arc and its
    /// chord changes the answer for the points in it.
    pub fn contains(&self, point: Point) -> bool {
        if !self.bounds.is_beside(point) {
            return false;
        }
        let beside = |run: &Bounds| run.is_beside(point);
        let pieces = || self.pieces_of_runs(beside);
        let mut inside = polygon::passes_odd(pieces().map(|p| p.chord), point);
        for piece in pieces() {
            if let Segment::Arc(arc) = &piece.segment {
                // The cap of a counter-clockwise arc lies to the right of its chord; that of a
                // whole circle is its disc.
                let right = polygon::is_right_of(&piece.chord, point) == (arc.sweep > 0.0);
                let whole = arc.sweep.abs() >= TAU - 1e-12;
                if (whole || right) && (point - arc.centre).norm_squared() < arc.radius.powi(2) {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// The pieces of the runs whose box is `wanted`.
    fn pieces_of_runs(&self, wanted: impl Fn(&Bounds) -> bool) -> impl Iterator<Item = &Piece> {
        let runs = self.runs.iter().zip(self.pieces.chunks(RUN));
        let wanted = runs.filter(move |(bounds, _)| wanted(bounds));
        wanted.flat_map(|(_, pieces)| pieces)
    }

    /// The gap from a point inside to the curve; negative if the point lies outside.
    pub fn room_around(&self, point: Point) -> Gap {
        let here = Bounds {
            low: point,
            high: point,
        };
        let gap = self.nearest_to(here, |piece| {
            Gap::between(point, piece.segment.nearest(&piece.chord, point))
        });
        signed(gap, self.contains(point))
    }

    /// The gap from a polygon inside (such as the core of a slot) to the curve; negative if the
    /// polygon sticks out, by as much as its farthest corner does. None if the polygon is empty.
    pub fn room_around_polygon(&self, points: &[Point]) -> Option<Gap> {
        let nearest = polygon::edges(points)
            .map(|edge| {
                let bounds = Bounds::of_line(&edge);
                self.nearest_to(bounds, |piece| {
                    piece.segment.gap(&piece.chord, &edge).reversed()
                })
            })
            .reduce(Gap::or_nearer)?;
        if nearest.distance > 0.0 && self.contains(*points.first()?) {
            return Some(nearest);
        }
        let corners = points.iter().map(|&corner| self.room_around(corner));
        corners.reduce(Gap::or_nearer)
    }

    /// The gap from this curve to a closed polygon around it, such as the wall of a head; negative if the curve
    /// sticks out, by as much as its farthest point does.
    pub fn room_inside(&self, wall: &Self) -> Gap {
        let start = self.pieces[0].chord.start;
        let mut nearest = Gap::between(start, wall.pieces[0].chord.start);
        for other in &wall.pieces {
            if self.bounds.apart_squared(&other.bounds) < nearest.distance.powi(2) {
                nearest = self.nearer(nearest, other.bounds, |piece| {
                    piece.segment.gap(&piece.chord, &other.chord)
                });
            }
        }
        if nearest.distance > 0.0 && wall.contains(start) {
            return nearest;
        }
        let farthest = farthest_out::on(self.pieces.iter().map(|piece| &piece.segment), wall);
        // Where it only touches, none may be found to stick out.
        farthest.unwrap_or(nearest)
    }

    /// The nearest of the gaps that `gap` measures from every piece to what lies in `bounds`.
    fn nearest_to(&self, bounds: Bounds, gap: impl Fn(&Piece) -> Gap) -> Gap {
        let apart = |run: &usize| self.runs[*run].apart_squared(&bounds);
        let nearer = |a: &usize, b: &usize| apart(a).total_cmp(&apart(b));
        let likely = (0..self.runs.len()).min_by(nearer).unwrap_or_default();
        let first = gap(&self.pieces[likely * RUN]);
        self.nearer(first, bounds, gap)
    }

    /// `best`, or a nearer gap: a piece whose box is farther away than the best cannot hold one.
    fn nearer(&self, mut best: Gap, bounds: Bounds, gap: impl Fn(&Piece) -> Gap) -> Gap {
        for (run, pieces) in self.runs.iter().zip(self.pieces.chunks(RUN)) {
            if run.apart_squared(&bounds) >= best.distance.powi(2) {
                continue;
            }
            for piece in pieces {
                if piece.bounds.apart_squared(&bounds) < best.distance.powi(2) {
                    best = best.or_nearer(gap(piece));
                }
            }
        }
        best
    }
}

/// Whether pieces that run counter-clockwise round an area are straight, and none turns right from the one before.
fn is_convex(pieces: &[Piece]) -> bool {
    let along = |piece: &Piece| match &piece.segment {
        Segment::Line(line) => Some(line.end - line.start),
        Segment::Arc(_) => None,
    };
    let next = pieces.iter().cycle().skip(1);
    let mut corners = pieces.iter().zip(next);
    corners.all(|(one, next)| {
        let turn = along(one).zip(along(next)).map(|(a, b)| a.perp(&b));
        turn.is_some_and(|turn| turn >= 0.0)
    })
}
