//! The wall of a head, made ready for many questions about how far inside a place lies.

use super::below::Below;
use super::cells::Cells;
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector, polygon};

/// Edges in one run, which are passed over together if the box around them is too far away: few
/// enough to look at all, many enough to save looks.
const RUN: usize = 8;

/// Directions nearer to each other than this, as unit vectors, are one.
const SAME: f64 = 1e-9;

/// A wall that comes out beyond the line of an edge by no more than this, mm, does not: a hundredth of what a
/// search leaves open.
pub(super) const STRAIGHT: f64 = 4e-5;

/// A direction that lies between two others but for as much, by rounding, does: it is no more than 1e-3 mm over the
/// largest head, and hardly ever that.
const ROUNDED: f64 = 1e-6;

/// Distances below this, mm, give no direction.
pub(super) const NO_DIRECTION: f64 = 1e-9;

/// A wall: a closed polygon, counter-clockwise, mm.
pub(super) struct Wall {
    edges: Vec<Edge>,
    runs: Vec<Run>,
    bounds: Option<[Point; 2]>,
    cells: Option<Cells>,
    is_convex: bool,
}

#[derive(Clone, Copy)]
struct Edge {
    line: Line,
    /// Direction from its start to its end, and its length, mm.
    along: Vector,
    length: f64,
    inward: Vector,
    /// How far the wall comes out beyond the edge's own line anywhere, mm: 0 all round a convex head.
    beyond: f64,
}

/// Which part of an edge is the nearest to a place.
#[derive(Clone, Copy)]
enum Beside {
    Start,
    Edge,
    End,
}

struct Run {
    low: Point,
    high: Point,
    first: usize,
    end: usize,
}

/// How far inside a place lies, and which way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Depth {
    /// Distance from the wall, mm; negative outside.
    pub(super) room: f64,
    /// The direction in which the room grows by as much as the place moves.
    pub(super) inward: Vector,
    /// The edge that is nearest, by index, and the one beside it if their common corner is.
    nearest: [usize; 2],
}

impl Wall {
    pub(super) fn of(corners: &[Point]) -> Self {
        let hull = polygon::convex_hull(corners);
        let edges: Vec<Edge> = polygon::edges(corners)
            .filter_map(|line| Edge::of(line, &hull))
            .collect();
        let run = |first: usize| {
            let end = (first + RUN).min(edges.len());
            let ends = edges[first..end].iter().map(|edge| edge.line.end);
            let start = edges[first].line.start;
            let fold = |(low, high): (Point, Point), end: Point| (low.inf(&end), high.sup(&end));
            let (low, high) = ends.fold((start, start), fold);
            Run {
                low,
                high,
                first,
                end,
            }
        };
        let runs: Vec<Run> = (0..edges.len()).step_by(RUN).map(run).collect();
        let bounds = runs.iter().map(|run| [run.low, run.high]);
        let bounds = bounds.reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])]);
        let apart = |edge: usize, place: Point| (edges[edge].foot(place).0 - place).norm();
        Self {
            cells: bounds.map(|bounds| Cells::of(bounds, edges.len(), apart)),
            is_convex: edges.iter().all(|edge| edge.beyond <= STRAIGHT),
            bounds,
            runs,
            edges,
        }
    }

    /// Lower left and upper right corner of the box around it; None if there is no edge.
    pub(super) fn bounds(&self) -> Option<[Point; 2]> {
        self.bounds
    }

    /// Whether it bends inward nowhere: along a straight line, the room inside then only ever bends down.
    pub(super) fn is_convex(&self) -> bool {
        self.is_convex
    }

    /// How far inside `place` lies. Without an edge, everything is infinitely far outside.
    pub(super) fn depth(&self, place: Point) -> Depth {
        let near = self.cells.as_ref().and_then(|cells| cells.at(place));
        let nearest = match near {
            Some(near) => self.nearest(place, near.iter().copied()),
            None => self.nearest(place, 0..self.edges.len()),
        };
        let Some((nearest, foot)) = nearest else {
            return Depth {
                room: f64::NEG_INFINITY,
                inward: Vector::zeros(),
                nearest: [0; 2],
            };
        };
        let away = place - foot;
        let [one, other] = nearest.map(|index| self.edges[index].inward);
        let sign = if away.dot(&(one + other)) >= 0.0 {
            1.0
        } else {
            -1.0
        };
        let distance = away.norm();
        Depth {
            room: sign * distance,
            inward: if distance < NO_DIRECTION {
                one
            } else {
                away * (sign / distance)
            },
            nearest,
        }
    }

    /// The edge that is nearest to a place, the one beside it if their common corner is, and the place's foot
    /// there.
    fn nearest(
        &self,
        place: Point,
        among: impl Iterator<Item = usize>,
    ) -> Option<([usize; 2], Point)> {
        let mut best = (f64::INFINITY, None);
        for index in among {
            let (foot, beside) = self.edges[index].foot(place);
            let apart = (foot - place).norm_squared();
            if apart < best.0 {
                best = (apart, Some((index, beside, foot)));
            }
        }
        let (index, beside, foot) = best.1?;
        let count = self.edges.len();
        let other = match beside {
            Beside::Start => (index + count - 1) % count,
            Beside::Edge => index,
            Beside::End => (index + 1) % count,
        };
        Some(([index, other], foot))
    }

    /// How far above the plane of a depth the room can lie anywhere, mm.
    ///
    /// The wall comes out beyond the lines of its edges by no more than it does, so that no place has more room
    /// than such a line gives it, and as much more. A direction between those of two edges at their corner is a sum
    /// of theirs, and so is what the wall comes out beyond.
    pub(super) fn beyond(&self, depth: &Depth) -> f64 {
        let [one, other] = depth.nearest.map(|index| self.edges.get(index));
        let (Some(one), Some(other)) = (one, other) else {
            return f64::INFINITY;
        };
        if depth.nearest[0] == depth.nearest[1] {
            return one.beyond;
        }
        let corner = one.inward.perp(&other.inward);
        if corner.abs() < SAME {
            let goes_on = one.inward.dot(&other.inward) > 0.0;
            let beyond = one.beyond.max(other.beyond);
            return if goes_on { beyond } else { f64::INFINITY };
        }
        let shares = [
            depth.inward.perp(&other.inward) / corner,
            one.inward.perp(&depth.inward) / corner,
        ];
        if shares.iter().any(|share| *share < -ROUNDED) {
            return f64::INFINITY;
        }
        shares[0] * one.beyond + shares[1] * other.beyond
    }

    /// How far above the plane of a depth, which was looked at from `place`, the room can lie within `reach` of a place
    /// `about`, mm; infinite where it is not worth asking. `place` lies within that, too.
    pub(super) fn beyond_near(&self, place: Point, depth: &Depth, about: Point, reach: f64) -> f64 {
        let below = Below::of(place, depth, about, reach);
        let useless = reach + (place - about).norm();
        let mut beyond = 0.0_f64;
        for run in &self.runs {
            if below.is_apart_from(run.low, run.high) {
                continue;
            }
            for edge in &self.edges[run.first..run.end] {
                beyond = beyond.max(below.beyond(&edge.line, edge.inward));
            }
            if beyond >= useless {
                return f64::INFINITY;
            }
        }
        beyond
    }

    /// How much the room can differ from `room + inward·(move)` while `place`, whose `depth` is known, moves by up to
    /// `reach`, mm.
    ///
    /// Wherever the place goes, the wall that is nearest to it then lies within |room| + 2·reach of where it is now, and
    /// the room grows along a direction between the inward normals of the edges there. So it differs from the
    /// plane by at most reach·(the largest difference of a normal).
    pub(super) fn bend(&self, place: Point, depth: Depth, reach: f64) -> f64 {
        let distance = depth.room.abs() + 2.0 * reach;
        let near = |run: &&Run| run.apart_squared(place) <= distance * distance;
        let edges = { self.runs.iter() }.filter(near);
        let edges = edges.flat_map(|run| &self.edges[run.first..run.end]);
        let edges = edges.filter(|edge| (place - edge.foot(place).0).norm() <= distance);
        let off = edges.map(|edge| (edge.inward - depth.inward).norm());
        off.fold(0.0, f64::max) * reach
    }
}

impl Edge {
    /// None without a length; `hull` is that of the wall.
    fn of(line: Line, hull: &[Point]) -> Option<Self> {
        let along = line.end - line.start;
        let length = along.norm();
        let along = along.try_normalize(0.0)?;
        let inward = Vector::new(-along.y, along.x);
        let beyond = hull.iter().map(|corner| inward.dot(&(line.start - corner)));
        Some(Self {
            line,
            along,
            length,
            inward,
            beyond: beyond.fold(0.0, f64::max),
        })
    }

    /// The point of the edge that is nearest to a place, and whether it is one of its ends.
    fn foot(&self, place: Point) -> (Point, Beside) {
        let off = (place - self.line.start).dot(&self.along);
        if off <= 0.0 {
            (self.line.start, Beside::Start)
        } else if off >= self.length {
            (self.line.end, Beside::End)
        } else {
            (self.line.start + self.along * off, Beside::Edge)
        }
    }
}

impl Run {
    /// Square of the distance from a place to the box around the run.
    fn apart_squared(&self, place: Point) -> f64 {
        let x = (self.low.x - place.x).max(place.x - self.high.x).max(0.0);
        let y = (self.low.y - place.y).max(place.y - self.high.y).max(0.0);
        x * x + y * y
    }
}
