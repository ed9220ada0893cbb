//! The best place of a plate in a head: branch and bound over shift and turn.
//!
//! The margin of a pose is the least room of any place of the plate's edge inside the wall. Over a box of
//! poses no place gains more room than it moves, nor more than the plane of its depth says and the
//! wall's bend adds. The highest point under all these planes bounds the margin of the whole box: a box whose
//! bound does not exceed the best margin by more than the tolerance is done with, others are
//! halved. What is found is then the best pose of all, to within the tolerance.

use std::collections::BinaryHeap;

use super::placement::{Placement, turned};
use super::program::{self, Plane};
use super::rim::{Box3, EXACT, Pose, Rim};
use super::wall::{Depth, Wall};
use crate::angle::Degrees;
use crate::geometry::{Point, Vector};

/// Largest turn to either side: beyond it, a face looks askew. Own choice.
pub const MOST_TURN: Degrees = Degrees(15.0);

/// How far the margin of the best pose may lie below the best there is, mm.
const TOLERANCE: f64 = 0.004;

/// What a turn must add to the margin, mm, to be worth it: nobody turns a plate for less. Own choice.
const WORTH_A_TURN: f64 = 0.008;

/// What may be given of the margin, mm, to bring the eyes nearer to where the project has them. Own
/// choice. With the two above, a margin is less than 0.02 mm below the best there is.
const WORTH_A_SHIFT: f64 = 0.004;

/// Most boxes that are looked at, once level and once turned: ten times those of an ordinary plate. Where
/// it is not enough, for plates that lie right across a pillar or can go to and fro in a room, the best
/// that was found is taken, and the margin that none exceeds stays farther above it.
const MOST_BOXES: usize = 6_000;

/// Most planes over one box: those of the places with the least room. Any choice gives a bound.
const MOST_PLANES: usize = 12;

/// The pose of `outline` inside `wall` with the largest margin, turned by no more than
/// [`MOST_TURN`]: level rather than turned, and near `wanted` rather than far from it, where the margin is
/// the same. None without an outline or a wall.
pub(super) fn best(outline: &[Point], wall: &[Point], wanted: Placement) -> Option<Best> {
    let (rim, wall) = (Rim::of(outline)?, Wall::of(wall));
    let [low, high] = wall.bounds()?;
    let wanted = Pose {
        at: wanted.place(rim.pivot.into()).into(),
        turn: 0.0,
    };
    let mut search = Search {
        rim,
        wall: &wall,
        best: wanted,
        margin: f64::NEG_INFINITY,
    };
    let central = Pose {
        at: nalgebra::center(&low, &high),
        turn: 0.0,
    };
    search.try_pose(wanted, 0);
    search.try_pose(central, 0);
    // The pivot lies among the places of the edge, none of which is farther outside than the best
    // margin says.
    let outside = (-search.margin).max(0.0);
    let half = (high - low) / 2.0 + Vector::repeat(outside);
    let poses = |turn| Box3 {
        middle: central,
        half: [half.x, half.y, turn],
    };
    search.run(poses(0.0));
    let level = (search.best, search.margin);
    let at_most = search.run(poses(MOST_TURN.radians()));
    if search.margin < level.1 + WORTH_A_TURN {
        (search.best, search.margin) = level;
    }
    let pose = search.nearer_to(wanted.at);
    let to_origin = turned(-search.rim.pivot.coords, pose.turn);
    let placement = Placement {
        shift: (pose.at + to_origin).into(),
        turn: Degrees::from_radians(pose.turn),
    };
    Some(Best { placement, at_most })
}

/// The best place of a plate.
pub(super) struct Best {
    pub(super) placement: Placement,
    /// A margin that no place has more of, mm.
    pub(super) at_most: f64,
}

struct Search<'a> {
    rim: Rim,
    wall: &'a Wall,
    best: Pose,
    margin: f64,
}

/// A box of poses that may hold a better one.
struct Open {
    /// No margin in it is larger, mm.
    ceiling: f64,
    poses: Box3,
    /// The places of the edge which can be the nearest to the wall in it, of the first `known`.
    places: Vec<usize>,
    known: usize,
}

/// A place of the edge in the middle of a box.
struct Look {
    index: usize,
    place: Point,
    depth: Depth,
    reach: f64,
}

impl Search<'_> {
    /// Looks at all poses of a box until none of them can be better than the best by more than the
    /// tolerance; gives a margin that none of them exceeds, mm.
    fn run(&mut self, poses: Box3) -> f64 {
        let known = self.rim.places.len();
        let first = Open {
            ceiling: f64::INFINITY,
            poses,
            places: (0..known).collect(),
            known,
        };
        let mut open = BinaryHeap::from([first]);
        for _ in 0..MOST_BOXES {
            let Some(next) = open.pop().filter(|next| self.can_be_better(next.ceiling)) else {
                return self.margin + TOLERANCE;
            };
            if let Some(rest) = self.look_at(next) {
                open.extend(self.halves(rest));
            }
        }
        let left = open.peek().map_or(f64::NEG_INFINITY, |open| open.ceiling);
        left.max(self.margin + TOLERANCE)
    }

    fn can_be_better(&self, ceiling: f64) -> bool {
        ceiling > self.margin + TOLERANCE
    }

    /// Bounds a box and tries poses in it; None if it can hold no better one.
    fn look_at(&mut self, open: Open) -> Option<Open> {
        let Open {
            poses, mut places, ..
        } = open;
        let known = self.rim.places.len();
        places.extend(open.known..known);
        let mut looks: Vec<Look> = places
            .iter()
            .map(|&index| self.look(poses, index))
            .collect();
        looks.sort_by(|a, b| a.depth.room.total_cmp(&b.depth.room));
        let nearest = looks.first()?;
        if nearest.depth.room > self.margin {
            self.try_pose(poses.middle, nearest.index);
        }
        let most = looks.iter().map(|look| look.depth.room + look.reach);
        let most = most.fold(f64::INFINITY, f64::min);
        looks.retain(|look| look.depth.room - look.reach <= most);
        let planes: Vec<Plane> = looks
            .iter()
            .take(MOST_PLANES)
            .flat_map(|look| {
                let of_middle = (look.place, look.depth);
                self.rim.planes(self.wall, poses, look.index, of_middle)
            })
            .flatten()
            .collect();
        let highest = program::highest(&planes);
        let ceiling = open.ceiling.min(most).min(highest.ceiling);
        if !self.can_be_better(ceiling) {
            return None;
        }
        let places: Vec<usize> = looks.iter().map(|look| look.index).collect();
        self.try_near(poses, highest.at, &places);
        self.can_be_better(ceiling).then_some(Open {
            ceiling,
            poses,
            places,
            known,
        })
    }

    fn look(&self, poses: Box3, index: usize) -> Look {
        let (place, depth) = self.rim.depth(self.wall, poses.middle, index);
        Look {
            index,
            place,
            depth,
            reach: self.rim.reach(index, poses.half),
        }
    }

    /// Tries the pose at `share` of the way from the middle of a box to its sides, if none of the
    /// `places` speaks against it.
    fn try_near(&mut self, poses: Box3, share: [f64; 3], places: &[usize]) {
        let off: [f64; 3] = std::array::from_fn(|axis| share[axis] * poses.half[axis]);
        let pose = Pose {
            at: poses.middle.at + Vector::new(off[0], off[1]),
            turn: poses.middle.turn + off[2],
        };
        let mut nearest = (f64::INFINITY, 0);
        for &index in places {
            let room = self.rim.depth(self.wall, pose, index).1.room;
            if room <= self.margin {
                return;
            }
            if room < nearest.0 {
                nearest = (room, index);
            }
        }
        self.try_pose(pose, nearest.1);
    }

    /// Takes a pose if it is the best so far. A place of the edge with less room than all that are
    /// looked at joins them, so that no box is thought better for want of it.
    fn try_pose(&mut self, pose: Pose, near: usize) {
        let start = self.rim.places[near];
        let looked_at = self.wall.depth(pose.at + turned(start, pose.turn)).room;
        let (margin, at) = self.rim.least_room(self.wall, pose, start);
        if margin < looked_at - EXACT {
            self.rim.places.push(at);
        }
        if margin > self.margin {
            (self.best, self.margin) = (pose, margin);
        }
    }

    /// The two halves of a box, cut across the axis along which its places move farthest.
    fn halves(&self, open: Open) -> [Open; 2] {
        let [x, y, turn] = open.poses.half;
        let moves = [x, y, turn * self.rim.radius];
        let farther = |a: &usize, b: &usize| moves[*a].total_cmp(&moves[*b]);
        let axis = (0..moves.len()).max_by(farther).unwrap_or(0);
        let mut half = open.poses.half;
        half[axis] /= 2.0;
        [-1.0, 1.0].map(|side| {
            let mut middle = open.poses.middle;
            match axis {
                0 => middle.at.x += side * half[0],
                1 => middle.at.y += side * half[1],
                _ => middle.turn += side * half[2],
            }
            Open {
                poses: Box3 { middle, half },
                places: open.places.clone(),
                ..open
            }
        })
    }

    /// The first pose on the straight way from `wanted` to the best one, turned like it, whose margin
    /// is hardly less.
    fn nearer_to(&self, wanted: Point) -> Pose {
        /// Steps along the way.
        const STEPS: u32 = 40;
        let from_best = wanted - self.best.at;
        let poses = (0..STEPS).map(|step| Pose {
            at: wanted - from_best * (f64::from(step) / f64::from(STEPS)),
            ..self.best
        });
        let start = self.rim.places[0];
        let hardly_less = |pose: &Pose| {
            self.rim.least_room(self.wall, *pose, start).0 >= self.margin - WORTH_A_SHIFT
        };
        { poses }.find(hardly_less).unwrap_or(self.best)
    }
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Open {
    /// By ceiling: the most promising box is looked at first.
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.ceiling.total_cmp(&other.ceiling)
    }
}
