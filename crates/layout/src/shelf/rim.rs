//! The edge of a plate that is moved about in a head, and how far inside the wall it stays.

use super::placement::turned;
use super::program::Plane;
use super::wall::{Depth, Wall};
use crate::geometry::{Point, Vector, polygon};

/// How far apart the places are that an edge is looked at by at first, mm: about as far as a wall
/// bends little. Places are added where that is not enough.
const STEP: f64 = 8.0;

/// A place that moves farther than this, mm, comes to so many walls that it is not worth asking how they
/// bend. Own choice: with more, searches take longer.
const FAR: f64 = 10.0;

/// How far the least room of an edge may be off, mm: a tenth of what the search leaves open.
pub(super) const EXACT: f64 = 2e-4;

/// Most stretches that are looked at to find the least room: far more than it takes but where an edge
/// runs along a wall outside for long.
const MOST_STRETCHES: usize = 20_000;

/// Where a plate is: the place of its [`Rim::pivot`], mm, and its turn, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pose {
    pub(super) at: Point,
    pub(super) turn: f64,
}

/// Poses about a middle one: as far away along x, along y and in turn, to both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Box3 {
    pub(super) middle: Pose,
    pub(super) half: [f64; 3],
}

/// A plate's edge about its pivot.
pub(super) struct Rim {
    /// The middle of the box around it, in the plate's frame, mm.
    pub(super) pivot: Point,
    corners: Vec<Vector>,
    /// Places of the edge that are looked at.
    pub(super) places: Vec<Vector>,
    /// Distance from the pivot to the farthest corner, mm.
    pub(super) radius: f64,
}

impl Rim {
    /// None without corners.
    pub(super) fn of(outline: &[Point]) -> Option<Self> {
        let first = *outline.first()?;
        let fold = |(low, high): (Point, Point), at: &Point| (low.inf(at), high.sup(at));
        let (low, high) = outline.iter().fold((first, first), fold);
        let pivot = nalgebra::center(&low, &high);
        let corners: Vec<Vector> = outline.iter().map(|corner| corner - pivot).collect();
        let mut places = Vec::with_capacity(2 * corners.len());
        for edge in polygon::edges(outline) {
            let along = edge.end - edge.start;
            let steps = (along.norm() / STEP).ceil().max(1.0);
            let mut step = 0.0;
            while step < steps {
                places.push(edge.start - pivot + along * (step / steps));
                step += 1.0;
            }
        }
        Some(Self {
            radius: corners.iter().map(Vector::norm).fold(0.0, f64::max),
            pivot,
            corners,
            places,
        })
    }

    /// The least room of the whole edge in a pose, mm, to within [`EXACT`], and the place of the edge
    /// where it occurs. `so_far` is a place that is known to be near the wall.
    ///
    /// Found by halving edges: no place of a stretch has less room than its middle less half its
    /// length, nor less than the plane through the middle says less the wall's bend.
    pub(super) fn least_room(&self, wall: &Wall, pose: Pose, so_far: Vector) -> (f64, Vector) {
        let posed = |at: Vector| pose.at + turned(at, pose.turn);
        let mut best = (wall.depth(posed(so_far)).room, so_far);
        let count = self.corners.len();
        let edge = |index: usize| (self.corners[index], self.corners[(index + 1) % count]);
        let mut open: Vec<_> = (0..count).map(edge).collect();
        for _ in 0..MOST_STRETCHES {
            let Some((from, to)) = open.pop() else {
                break;
            };
            let middle = (from + to) / 2.0;
            let (place, half) = (posed(middle), (to - from).norm() / 2.0);
            let depth = wall.depth(place);
            if depth.room < best.0 {
                best = (depth.room, middle);
            }
            if depth.room - half >= best.0 - EXACT {
                continue;
            }
            let along = turned(to - middle, pose.turn).dot(&depth.inward).abs();
            let bend = wall.bend(place, depth, half).either_way;
            if depth.room - along - bend < best.0 - EXACT {
                open.extend([(from, middle), (middle, to)]);
            }
        }
        best
    }

    /// The depth of place `index` in a pose.
    pub(super) fn depth(&self, wall: &Wall, pose: Pose, index: usize) -> (Point, Depth) {
        let place = pose.at + turned(self.places[index], pose.turn);
        (place, wall.depth(place))
    }

    /// How far place `index` moves at most within a box of poses, mm.
    pub(super) fn reach(&self, index: usize, half: [f64; 3]) -> f64 {
        half[0].hypot(half[1]) + self.places[index].norm() * half[2]
    }

    /// Planes over a box of poses which the room of place `index` does not rise above; its place and
    /// depth in the middle are known.
    pub(super) fn planes(
        &self,
        wall: &Wall,
        poses: Box3,
        index: usize,
        (place, depth): (Point, Depth),
    ) -> [Option<Plane>; 2] {
        let [x, y, turn] = poses.half;
        let reach = self.reach(index, poses.half);
        let arm = place - poses.middle.at;
        // A turn by τ moves a place by τ·(arm turned by a quarter), and by at most |arm|·τ²/2 more.
        let bow = arm.norm() * turn * turn / 2.0;
        let plane = |depth: Depth, above: f64| Plane {
            height: depth.room + above + bow,
            rise: [
                depth.inward.x * x,
                depth.inward.y * y,
                arm.perp(&depth.inward) * turn,
            ],
        };
        let flat = Plane {
            height: depth.room + reach,
            rise: [0.0; 3],
        };
        if reach > FAR {
            return [Some(flat), None];
        }
        let bend = wall.bend(place, depth, reach);
        let first = if bend.above + bow > reach {
            flat
        } else {
            plane(depth, bend.above)
        };
        let beside = bend.beside.map(|(depth, above)| plane(depth, above));
        [Some(first), beside]
    }
}
