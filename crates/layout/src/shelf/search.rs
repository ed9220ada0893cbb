//! The best place of a plate in a head: branch and bound over shift and turn.
//!
//! The margin of a pose is the least room of any place of the plate's edge inside the wall. A place looked at in a pose
//! has no more room than its distance from the line there that stands square on its depth says, wherever the plate is,
//! as long as the wall comes out beyond that line nowhere, as all round a convex head (`Cut`). Elsewhere that holds
//! over a box of poses, as soon as no such part of the wall lies within the place's reach; as much as the wall
//! does come out there is added. The highest point under all these planes bounds the margin of the whole box; lines
//! that pass below that point are added until none does. A box whose bound does not exceed the best margin by more than
//! the tolerance is done with. Of any other, only that part is left where all planes are higher than the best margin: so
//! it narrows about the best pose, the less the wall bends within reach the faster. Where it hardly narrows, it is
//! halved. What is found is then the best pose of all, to within the tolerance.

use std::collections::BinaryHeap;

use super::placement::{Placement, turned};
use super::program::{self, AXES, Highest, Plane};
use super::rim::{Box3, Cut, EXACT, Look, Pose, Rim};
use super::wall::{STRAIGHT, Wall};
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

/// Most lines over one box: more than hold the highest place down, so that few must be found again.
const MOST_CUTS: usize = 16;

/// Most that are added at once, and most times that any are: the highest place then hardly moves any more.
const MOST_NEW: usize = 4;
const MOST_ROUNDS: usize = 8;

/// A line is worth adding where it lies below the ceiling by this share of the tolerance.
const WORTH_A_CUT: f64 = 0.25;

/// A box is halved unless it was narrowed to this share of its size: what is left would be no larger.
const NARROWED: f64 = 0.6;

/// The turn is halved where it alone makes more than this share of what the ceiling stands too high.
const BY_THE_TURN: f64 = 0.5;

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
    /// What holds places down all over it.
    cuts: Vec<Cut>,
}

/// How far down the planes over a box hold a plate.
struct Held {
    planes: Vec<Plane>,
    highest: Highest,
    /// The least room of a place of the edge at the highest place, mm.
    least: f64,
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
            open.extend(self.look_at(next));
        }
        let left = open.peek().map_or(f64::NEG_INFINITY, |open| open.ceiling);
        left.max(self.margin + TOLERANCE)
    }

    fn can_be_better(&self, ceiling: f64) -> bool {
        ceiling > self.margin + TOLERANCE
    }

    /// Looks at a box, and gives the parts of it that can hold a better pose.
    fn look_at(&mut self, mut open: Open) -> Vec<Open> {
        let Some(held) = self.hold_down(&mut open) else {
            return Vec::new();
        };
        let halve = self.halving(&open, &held);
        let before = self.moves(&open.poses);
        self.narrow(&mut open, &held);
        let after = self.moves(&open.poses);
        open.cuts.retain(|cut| cut.bend <= STRAIGHT);
        let largest = |moves: [f64; AXES]| moves.into_iter().fold(0.0, f64::max);
        if largest(after) < NARROWED * largest(before) {
            vec![open]
        } else {
            Self::halves(open, halve).into()
        }
    }

    /// Bounds a box and tries poses in it; None if it can hold no better one.
    fn hold_down(&mut self, open: &mut Open) -> Option<Held> {
        let known = self.rim.places.len();
        open.places.extend(open.known..known);
        open.known = known;
        let looks = self.middle(open)?;
        // Lines that were handed down already hold as much.
        if open.cuts.len() < MOST_NEW {
            let nearest = looks.iter().take(MOST_NEW);
            open.cuts
                .extend(nearest.map(|look| self.cut(look, &open.poses)));
        }
        let mut round = 1;
        loop {
            let cuts = open.cuts.iter();
            let planes: Vec<_> = cuts.map(|cut| self.rim.plane(cut, &open.poses)).collect();
            let highest = program::highest(&planes);
            open.ceiling = open.ceiling.min(highest.ceiling);
            if !self.can_be_better(open.ceiling) {
                return None;
            }
            let (least, new) = self.cuts_at(open, &looks, highest.at);
            if !self.can_be_better(open.ceiling) {
                return None;
            }
            if new.is_empty() || round == MOST_ROUNDS {
                return Some(Held {
                    planes,
                    highest,
                    least,
                });
            }
            // Those far above the highest place are left out from now on.
            if open.cuts.len() > MOST_CUTS {
                let poses = &open.poses;
                let over = |cut: &Cut| self.rim.plane(cut, poses).at(highest.at);
                open.cuts.sort_by(|a, b| over(a).total_cmp(&over(b)));
                open.cuts.truncate(MOST_CUTS);
            }
            open.cuts.extend(new);
            round += 1;
        }
    }

    /// What holds a place down over a box of poses.
    fn cut(&self, look: &Look, poses: &Box3) -> Cut {
        let everywhere = Rim::everywhere(look, self.wall);
        everywhere.unwrap_or_else(|| self.rim.nearby(look, self.wall, poses))
    }

    /// Leaves out of a box what its planes hold too far down.
    fn narrow(&self, open: &mut Open, held: &Held) {
        let level = self.margin + TOLERANCE;
        let (mut middle, mut half) = ([0.0; AXES], open.poses.half);
        for axis in (0..AXES).filter(|&axis| open.poses.half[axis] > 0.0) {
            let [low, high] = program::reach(&held.planes, held.highest.at, level, axis);
            middle[axis] = (low + high) / 2.0;
            half[axis] *= ((high - low) / 2.0).max(0.0);
        }
        open.poses = Box3::of(open.poses.at(middle), half);
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

    /// Tries the pose at `share` of the way from the middle of a box to its sides, and gives the least room there,
    /// and what holds the nearest places down there, if that is lower than the ceiling.
    fn cuts_at(&mut self, open: &Open, looks: &[Look], share: [f64; AXES]) -> (f64, Vec<Cut>) {
        let pose = open.poses.at(share);
        // No place loses more room than it moves.
        let stays = |look: &&Look| {
            let moved = (pose.put(self.rim.places[look.index]) - look.place).norm();
            look.depth.room - moved < open.ceiling
        };
        let places = looks.iter().filter(stays).map(|look| look.index);
        let places: Vec<usize> = places.collect();
        let mut looks = self.rim.looks(self.wall, &pose, &places);
        looks.sort_by(|a, b| a.depth.room.total_cmp(&b.depth.room));
        let nearest = looks.first();
        let least = nearest.map_or(open.ceiling, |look| look.depth.room);
        if least > self.margin {
            self.try_pose(pose, nearest.map_or(open.places[0], |look| look.index));
        }
        let below = open.ceiling - TOLERANCE * WORTH_A_CUT;
        let nearest = looks.iter().take_while(|look| look.depth.room < below);
        let cuts = nearest.map(|look| self.cut(look, &open.poses));
        let lower = |cut: &Cut| self.rim.plane(cut, &open.poses).at(share) < below;
        (least, cuts.filter(lower).take(MOST_NEW).collect())
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

    /// How far a place moves at most within a box along x, along y and by its turn, mm.
    fn moves(&self, poses: &Box3) -> [f64; AXES] {
        let [x, y, turn] = poses.half;
        [x, y, turn * self.rim.radius]
    }

    /// The axis across which a box is halved: the turn where that alone leaves the ceiling too high, and else the one
    /// along which places move farthest.
    fn halving(&self, open: &Open, held: &Held) -> usize {
        let weighed = open.cuts.iter().zip(&held.highest.weights);
        let bow = weighed.map(|(cut, weight)| weight * self.rim.bow(cut, &open.poses));
        if bow.sum::<f64>() > BY_THE_TURN * (open.ceiling - held.least) {
            return TURN;
        }
        let moves = self.moves(&open.poses);
        let farther = |a: &usize, b: &usize| moves[*a].total_cmp(&moves[*b]);
        (0..AXES).max_by(farther).unwrap_or(0)
    }

    /// The two halves of a box, cut across an axis.
    fn halves(open: Open, axis: usize) -> [Open; 2] {
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
