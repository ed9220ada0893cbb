//! The wall of a head, made ready for many questions about how far inside a place lies.

use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector, polygon};

/// Edges in one run, which are passed over together if the box around them is too far away: few
/// enough to look at all, many enough to save looks.
const RUN: usize = 8;

/// Directions farther apart than this, as unit vectors, are those of two sides of a corner.
const CORNER: f64 = 0.5;

/// Directions nearer to each other than this, as unit vectors, are one.
const SAME: f64 = 1e-9;

/// Distances below this, mm, give no direction.
const NO_DIRECTION: f64 = 1e-9;

/// A wall: a closed polygon, counter-clockwise, mm.
pub(super) struct Wall {
    edges: Vec<Edge>,
    runs: Vec<Run>,
}

#[derive(Clone, Copy)]
struct Edge {
    line: Line,
    inward: Vector,
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
}

/// How much the room around a place can differ from what its depth says, when the place moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bend {
    /// At most this much from `room + inward·(move)`, mm.
    pub(super) either_way: f64,
    /// At most this much more than that, mm.
    pub(super) above: f64,
    /// Another side of the wall which also bounds the room from above, with its own `above`.
    pub(super) beside: Option<(Depth, f64)>,
}

impl Wall {
    pub(super) fn of(corners: &[Point]) -> Self {
        let edges: Vec<Edge> = polygon::edges(corners)
            .filter_map(|line| {
                let along = (line.end - line.start).try_normalize(0.0)?;
                let inward = Vector::new(-along.y, along.x);
                Some(Edge { line, inward })
            })
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
        Self {
            runs: (0..edges.len()).step_by(RUN).map(run).collect(),
            edges,
        }
    }

    /// Lower left and upper right corner of the box around it; None if there is no edge.
    pub(super) fn bounds(&self) -> Option<[Point; 2]> {
        let runs = self.runs.iter().map(|run| [run.low, run.high]);
        runs.reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])])
    }

    /// How far inside `place` lies. Without an edge, everything is infinitely far outside.
    pub(super) fn depth(&self, place: Point) -> Depth {
        let nearest_run = self
            .runs
            .iter()
            .min_by(|a, b| a.apart_squared(place).total_cmp(&b.apart_squared(place)));
        let Some(nearest_run) = nearest_run else {
            return Depth {
                room: f64::NEG_INFINITY,
                inward: Vector::zeros(),
            };
        };
        let mut best = (f64::INFINITY, nearest_run.first, place);
        let mut look = |run: &Run| {
            for index in run.first..run.end {
                let foot = self.edges[index].line.nearest(place);
                let apart = (foot - place).norm_squared();
                if apart < best.0 {
                    best = (apart, index, foot);
                }
            }
            best.0
        };
        let mut least = look(nearest_run);
        for run in &self.runs {
            if run.apart_squared(place) < least && run.first != nearest_run.first {
                least = look(run);
            }
        }
        let (_, index, foot) = best;
        let sign = if self.contains(place) { 1.0 } else { -1.0 };
        let distance = (place - foot).norm();
        let inward = if distance < NO_DIRECTION {
            self.edges[index].inward
        } else {
            (place - foot) * (sign / distance)
        };
        Depth {
            room: sign * distance,
            inward,
        }
    }

    fn contains(&self, place: Point) -> bool {
        let beside =
            |run: &&Run| run.low.y <= place.y && place.y <= run.high.y && place.x <= run.high.x;
        let runs = self.runs.iter().filter(beside);
        let edges = runs.flat_map(|run| &self.edges[run.first..run.end]);
        polygon::passes_odd(edges.map(|edge| edge.line), place)
    }

    /// How much the room can bend while `place`, whose `depth` is known, moves by up to `reach`, mm.
    ///
    /// * Wherever the place goes, the wall that is nearest to it then lies within |room| + 2·reach of
    ///   where it is now, and the room grows along a direction between the inward normals of the edges
    ///   there. So it differs from the plane by at most reach·(the largest difference of a normal).
    /// * Inside, the distance from the nearest edge alone bounds the room. It is its plane until the
    ///   place has passed the edge's end by some s ≤ reach, and √(plane² + s²) from there on: no more than
    ///   s²/(2·(room − reach)) above its plane. The same holds for any other edge.
    /// * Outside, −distance of each edge lies below its own plane, and the room is the largest of
    ///   them: no more above the first plane than the others can rise over it.
    pub(super) fn bend(&self, place: Point, depth: Depth, reach: f64) -> Bend {
        let distance = depth.room.abs();
        let inside = depth.room > 0.0;
        let (mut turn, mut over) = (0.0_f64, 0.0_f64);
        let (mut own, mut beside) = (None, None);
        for (edge, alone) in self.within(place, distance + 2.0 * reach, depth.room.signum()) {
            let off = (alone.inward - depth.inward).norm();
            turn = turn.max((edge.inward - depth.inward).norm());
            over = over.max(distance - alone.room + off * reach);
            if inside && alone.room > reach {
                let past = (reach - edge.to_end(place)).max(0.0);
                let above = past * past / (2.0 * (alone.room - reach));
                if off < SAME {
                    keep_nearer(&mut own, alone, above);
                } else if off > CORNER {
                    keep_nearer(&mut beside, alone, above);
                }
            }
        }
        let either_way = turn * reach;
        let above = match own {
            Some((_, above)) => either_way.min(above),
            None if !inside && distance > reach => either_way.min(over),
            None => either_way,
        };
        Bend {
            either_way,
            above,
            beside,
        }
    }

    /// The edges within a distance of a place, mm. With each comes the place's distance from that edge
    /// alone, and the direction in which it grows, or shrinks where `sign` is −1.
    fn within(
        &self,
        place: Point,
        distance: f64,
        sign: f64,
    ) -> impl Iterator<Item = (Edge, Depth)> + '_ {
        let near = move |run: &&Run| run.apart_squared(place) <= distance * distance;
        let runs = self.runs.iter().filter(near);
        let edges = runs.flat_map(|run| &self.edges[run.first..run.end]);
        edges.filter_map(move |&edge| {
            let out = place - edge.line.nearest(place);
            let room = out.norm();
            let inward = if room < NO_DIRECTION {
                edge.inward
            } else {
                out * (sign / room)
            };
            (room <= distance).then_some((edge, Depth { room, inward }))
        })
    }
}

/// Keeps the depth with less room.
fn keep_nearer(kept: &mut Option<(Depth, f64)>, depth: Depth, above: f64) {
    if kept.is_none_or(|(other, _)| depth.room < other.room) {
        *kept = Some((depth, above));
    }
}

impl Edge {
    /// How far a place beside the edge may move along it before it has passed an end, mm; 0 if it is
    /// not beside it.
    fn to_end(self, place: Point) -> f64 {
        let along = Vector::new(self.inward.y, -self.inward.x);
        let to_end = |end: Point| (place - end).dot(&along).abs();
        let length = (self.line.end - self.line.start).norm();
        let [from_start, from_end] = [self.line.start, self.line.end].map(to_end);
        if from_start.max(from_end) > length {
            return 0.0;
        }
        from_start.min(from_end)
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
