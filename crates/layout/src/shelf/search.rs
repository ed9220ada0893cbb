//! The best place of a plate in a head: branch and bound over shift and turn.
//!
//! The margin of a pose is the least room of any place of the plate's edge inside the wall. Two things hold a
//! place down. Where the wall comes out beyond its own line nowhere, as all round a convex head, the place has no more
//! room than its distance from that line, wherever the plate is (`Cut`). Elsewhere, and only within a box of poses,
//! it has no more than the plane of its depth says and the wall's bend adds. The highest point under all these planes
//! bounds the margin of the whole box; lines that pass below that point are added until none does. A box whose bound does
//! not exceed the best margin by more than the tolerance is done with, others are halved, and their lines handed down.
//! What is found is then the best pose of all, to within the tolerance.

use std::collections::BinaryHeap;

use super::placement::{Placement, turned};
use super::program::{self, AXES, Plane};
use super::rim::{Box3, Cut, EXACT, Look, Pose, Rim};
use super::wall::Wall;
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

/// Most boxes that are looked at, once level and once turned: far more than those of an ordinary plate. Where
/// it is not enough, for plates that lie right across a pillar or can go to and fro in a room, the best
/// that was found is taken, and the margin that none exceeds stays farther above it.
const MOST_BOXES: usize = 6_000;

/// Most planes over one box: those of the places with the least room. Any choice gives a bound.
const MOST_PLANES: usize = 12;

/// Most lines over one box that hold places down everywhere and are passed on to its halves: more than hold the
/// highest place down, so that few must be found again.
const MOST_CUTS: usize = 16;

/// Most that are added at once, and most times that any are: the highest place then hardly moves any more.
const MOST_NEW: usize = 4;
const MOST_ROUNDS: usize = 8;

/// A line is worth adding where it lies below the ceiling by this share of the tolerance.
const WORTH_A_CUT: f64 = 0.25;

/// The axis of a box that is its turn.
const TURN: usize = 2;

/// The pose of `outline` inside `wall` with the largest margin, turned by no more than
/// [`MOST_TURN`]: level rather than turned, and near `wanted` rather than far from it, where the margin is
/// the same. None without an outline or a wall.
pub(super) fn best(outline: &[Point], wall: &Wall, wanted: Placement) -> Option<Best> {
    let rim = Rim::of(outline, wall)?;
    let [low, high] = wall.bounds()?;
    let wanted = Pose::of(wanted.place(rim.pivot.into()).into(), 0.0);
    let mut search = Search {
        rim,
        wall,
        best: wanted,
        margin: f64::NEG_INFINITY,
    };
    let central = Pose::of(nalgebra::center(&low, &high), 0.0);
    search.try_pose(wanted, 0);
    search.try_pose(central, 0);
    // The pivot lies among the places of the edge, none of which is farther outside than the best
    // margin says.
    let outside = (-search.margin).max(0.0);
    let half = (high - low) / 2.0 + Vector::repeat(outside);
    let poses = |turn| Box3::of(central, [half.x, half.y, turn]);
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
    /// What holds places down everywhere.
    cuts: Vec<Cut>,
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
            cuts: Vec::new(),
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
    fn look_at(&mut self, mut open: Open) -> Option<Open> {
        let known = self.rim.places.len();
        open.places.extend(open.known..known);
        open.known = known;
        // In a convex head, the lines that were handed down already hold as much as a look at the middle.
        let looks = if open.cuts.is_empty() || !self.wall.is_convex() {
            self.middle(&mut open)?
        } else {
            Vec::new()
        };
        let (mut local, mut first) = (Vec::new(), Vec::new());
        for look in looks.iter().take(MOST_PLANES) {
            match Rim::everywhere(look, self.wall) {
                Some(cut) => first.push(cut),
                None => local.extend(self.rim.nearby(look, self.wall, &open.poses)),
            }
        }
        let local: Vec<Cut> = local.into_iter().flatten().collect();
        open.cuts.extend(first.into_iter().take(MOST_NEW));
        for _ in 0..MOST_ROUNDS {
            let cuts = local.iter().chain(&open.cuts);
            let planes: Vec<Plane> = cuts.map(|cut| self.rim.plane(cut, &open.poses)).collect();
            let highest = program::highest(&planes);
            open.ceiling = open.ceiling.min(highest.ceiling);
            if !self.can_be_better(open.ceiling) {
                return None;
            }
            let new = self.cuts_at(&open, highest.at);
            if !self.can_be_better(open.ceiling) {
                return None;
            }
            let over = |cut: &Cut| self.rim.plane(cut, &open.poses).at(highest.at);
            if new.is_empty() {
                break;
            }
            // Those far above the highest place are left out from now on.
            if open.cuts.len() > MOST_CUTS {
                open.cuts.sort_by(|a, b| over(a).total_cmp(&over(b)));
                open.cuts.truncate(MOST_CUTS);
            }
            open.cuts.extend(new);
        }
        Some(open)
    }

    /// Looks at the middle of a box: tries it, and keeps of the places those that can be the nearest to the
    /// wall in the box, the nearest first. None if the box can hold no better pose.
    fn middle(&mut self, open: &mut Open) -> Option<Vec<Look>> {
        let middle = open.poses.middle;
        let mut looks = self.rim.looks(self.wall, &middle, &open.places);
        looks.sort_by(|a, b| a.depth.room.total_cmp(&b.depth.room));
        let nearest = looks.first()?;
        if nearest.depth.room > self.margin {
            self.try_pose(middle, nearest.index);
        }
        let reach = |look: &Look| self.rim.reach(look.index, open.poses.half);
        let most = looks.iter().map(|look| look.depth.room + reach(look));
        let most = most.fold(f64::INFINITY, f64::min);
        open.ceiling = open.ceiling.min(most);
        if !self.can_be_better(open.ceiling) {
            return None;
        }
        looks.retain(|look| look.depth.room - reach(look) <= most);
        open.places = looks.iter().map(|look| look.index).collect();
        Some(looks)
    }

    /// Tries the pose at `share` of the way from the middle of a box to its sides, and gives what holds the
    /// nearest places down there, if that is lower than the ceiling.
    fn cuts_at(&mut self, open: &Open, share: [f64; AXES]) -> Vec<Cut> {
        let pose = open.poses.at(share);
        let mut looks = self.rim.looks(self.wall, &pose, &open.places);
        looks.sort_by(|a, b| a.depth.room.total_cmp(&b.depth.room));
        if let Some(nearest) = looks.first()
            && nearest.depth.room > self.margin
        {
            self.try_pose(pose, nearest.index);
        }
        let below = open.ceiling - TOLERANCE * WORTH_A_CUT;
        let nearest = looks.iter().take_while(|look| look.depth.room < below);
        let cuts = nearest.filter_map(|look| Rim::everywhere(look, self.wall));
        let lower = |cut: &Cut| self.rim.plane(cut, &open.poses).at(share) < below;
        cuts.filter(lower).take(MOST_NEW).collect()
    }

    /// Takes a pose if it is the best so far. A place of the edge with less room than all that are
    /// looked at joins them, so that no box is thought better for want of it.
    fn try_pose(&mut self, pose: Pose, near: usize) {
        let start = self.rim.places[near];
        let looked_at = self.wall.depth(pose.put(start)).room;
        let (margin, at) = self.rim.least_room(self.wall, &pose, start);
        if margin < looked_at - EXACT {
            self.rim.places.push(at);
        }
        if margin > self.margin {
            (self.best, self.margin) = (pose, margin);
        }
    }

    /// The two halves of a box, cut across the axis along which its places move farthest. In a convex head, where
    /// nothing else leaves the ceiling too high, that is the turn.
    fn halves(&self, open: Open) -> [Open; 2] {
        let [x, y, turn] = open.poses.half;
        let moves = [x, y, turn * self.rim.radius];
        let farther = |a: &usize, b: &usize| moves[*a].total_cmp(&moves[*b]);
        let farthest = (0..moves.len()).max_by(farther).unwrap_or(0);
        let axis = if self.wall.is_convex() && turn > 0.0 {
            TURN
        } else {
            farthest
        };
        let mut half = open.poses.half;
        half[axis] /= 2.0;
        [-1.0, 1.0].map(|side| {
            let mut share = [0.0; AXES];
            share[axis] = side / 2.0;
            Open {
                poses: Box3::of(open.poses.at(share), half),
                places: open.places.clone(),
                cuts: open.cuts.clone(),
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
        let mut nearest = self.rim.places[0];
        let hardly_less = |pose: &Pose| {
            let enough = self.margin - WORTH_A_SHIFT;
            if self.wall.depth(pose.put(nearest)).room < enough {
                return false;
            }
            let (margin, at) = self.rim.least_room(self.wall, pose, nearest);
            nearest = at;
            margin >= enough
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
