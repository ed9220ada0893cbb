//! Where a straight piece that moves from pose to pose, a rod or a bare wire, comes nearest to what it passes.

use crate::geometry::space::{self, Near, Piece, Place};
use crate::obstacle::Obstacle;
use crate::rod::RodEnd;
use crate::search;
use crate::turned::Pose;

/// Steps that are taken at most: each halving is followed by a few.
const MOST_STEPS: usize = 200;

/// Steps of a turn, radians, that make no difference to a distance: a tip 40 mm from its axis moves by 0.02 mm.
const FINEST: f64 = 5e-4;

/// A straight piece that moves with what it is tied to.
pub(super) trait Moving {
    /// Poses that are looked at first: grids of rows, each row of one other turn.
    fn grids(&self) -> Vec<Vec<Vec<Pose>>>;

    /// Its ends in a pose, in the plate's frame, mm.
    fn ends_at(&self, pose: Pose) -> [Place; 2];

    /// Where a place of a pose lies in the frame of what one of its ends is tied to, as that stands at rest.
    fn rest_of(&self, end: RodEnd, pose: Pose, place: Place) -> Place;
}

/// How near it comes to what it is nearest to.
type Nearest<'o> = (Near, &'o Obstacle<'o>);

/// Something that it passes, and the end along with which that turns.
#[derive(Clone, Copy)]
struct Passed<'o> {
    obstacle: &'o Obstacle<'o>,
    turns_with: Option<RodEnd>,
}

/// Where its middle line comes nearest on its way to things that stand, or that turn along with one of its ends.
///
/// Each thing is looked at in all poses of the grids; what may come nearest between two of them is followed from
/// its nearest one on.
pub(super) fn nearest_on_way<'o>(
    moving: &impl Moving,
    standing: &'o [Obstacle<'o>],
    turning: &'o [(RodEnd, Obstacle<'o>)],
) -> Option<Nearest<'o>> {
    let standing = standing.iter().map(|obstacle| (obstacle, None));
    let turning = turning.iter().map(|(end, obstacle)| (obstacle, Some(*end)));
    let passed = standing.chain(turning);
    let passed: Vec<Passed> = passed
        .map(|(obstacle, turns_with)| Passed {
            obstacle,
            turns_with,
        })
        .collect();
    let grids: Vec<Grid> = { moving.grids().into_iter() }
        .filter_map(|poses| Grid::of(moving, poses))
        .collect();
    let mut least = f64::INFINITY;
    let mut seen = Vec::new();
    for grid in &grids {
        let frames = [None, Some(RodEnd::Driver), Some(RodEnd::Follower)];
        let frames = frames.map(|frame| {
            let has_any = passed.iter().any(|one| one.turns_with == frame);
            has_any.then(|| grid.seen_from(moving, frame))
        });
        let frame = |one: &Passed| {
            let mut all = frames.iter().flatten();
            all.find(|seen| seen.frame == one.turns_with)
        };
        // What is nearest in the middle is looked at first: it leaves less of the others to be looked at.
        let mut by_middle: Vec<(f64, Passed, &Seen)> = { passed.iter() }
            .filter_map(|one| {
                let frame = frame(one)?;
                let off = one.obstacle.distance(frame.middle, f64::INFINITY);
                Some((off - frame.reach, *one, frame))
            })
            .collect();
        by_middle.sort_by(|(a, ..), (b, ..)| a.total_cmp(b));
        for (at_least, one, frame) in by_middle {
            let below = least + frame.between;
            if at_least >= below {
                continue;
            }
            if let Some((near, pose)) = grid.nearest(frame, one, below) {
                least = least.min(near.distance);
                seen.push((near, pose, one, grid, frame.between));
            }
        }
    }
    seen.sort_by(|(a, ..), (b, ..)| a.distance.total_cmp(&b.distance));
    let mut best = None::<Nearest>;
    for (near, pose, one, grid, between) in seen {
        let of_best = best.map_or(f64::INFINITY, |(near, _)| near.distance);
        if near.distance >= of_best + between {
            continue;
        }
        let near = grid.followed(moving, one, (near, pose), [between, of_best]);
        if near.distance < of_best {
            best = Some((near, one.obstacle));
        }
    }
    best
}

/// The piece in all poses of a grid as something sees it.
struct Seen {
    /// With which end that turns; None of what stands.
    frame: Option<RodEnd>,
    places: Vec<[Place; 2]>,
    /// How far an end may be at most from its nearest place in these poses, mm: half of its steps along both turns.
    between: f64,
    /// The middle of the piece in the middle pose, and how far it reaches from there in any of them, mm.
    middle: Place,
    reach: f64,
}

/// Poses that are looked at, with where the piece is in each.
struct Grid {
    poses: Vec<(Pose, [Place; 2])>,
    /// The first and the last pose of the ranges, and the steps between two.
    first: Pose,
    last: Pose,
    step: Pose,
    /// How many poses a row has.
    across: usize,
}

impl Grid {
    fn of(moving: &impl Moving, rows: Vec<Vec<Pose>>) -> Option<Self> {
        let (first, last) = (*rows.first()?.first()?, *rows.last()?.last()?);
        let across = rows.first()?.len();
        let step = Pose {
            own: (last.own - first.own) / steps(across),
            other: (last.other - first.other) / steps(rows.len()),
        };
        let poses = rows.into_iter().flatten();
        let poses: Vec<(Pose, [Place; 2])> =
            poses.map(|pose| (pose, moving.ends_at(pose))).collect();
        Some(Self {
            across,
            poses,
            first,
            last,
            step,
        })
    }

    /// The piece in its poses as something sees it that turns along with an end of it, or stands.
    fn seen_from(&self, moving: &impl Moving, frame: Option<RodEnd>) -> Seen {
        let poses = self.poses.iter();
        let places: Vec<[Place; 2]> = poses
            .map(|&(pose, ends)| seen(moving, frame, pose, ends))
            .collect();
        let apart = |a: &[Place; 2], b: &[Place; 2]| (a[0] - b[0]).norm().max((a[1] - b[1]).norm());
        let rows: Vec<&[[Place; 2]]> = places.chunks(self.across).collect();
        let steps = rows.iter().flat_map(|row| row.windows(2));
        let along = steps.map(|pair| apart(&pair[0], &pair[1]));
        let beside = rows.windows(2).flat_map(|rows| rows[0].iter().zip(rows[1]));
        let aside = beside.map(|(a, b)| apart(a, b));
        let between = (along.fold(0.0, f64::max) + aside.fold(0.0, f64::max)) / 2.0;
        let [from, to] = places[places.len() / 2];
        let middle = nalgebra::center(&from, &to);
        let ends = places.iter().flatten();
        let reach = ends.map(|end| (end - middle).norm()).fold(0.0, f64::max);
        Seen {
            frame,
            places,
            between,
            middle,
            reach,
        }
    }

    /// The nearest place in its poses that is nearer than `below`, mm.
    fn nearest(&self, seen: &Seen, one: Passed, below: f64) -> Option<(Near, Pose)> {
        let poses = self.poses.iter().zip(&seen.places);
        poses.fold(None, |best, (&(pose, ends), &seen)| {
            let of_best = best.map_or(below, |(near, _): (Near, Pose)| near.distance);
            let near = one.near(seen, ends, of_best);
            near.map(|near| (near, pose)).or(best)
        })
    }

    /// Where a place leads nearer, by steps that are halved where none does, as long as it may still come nearer than
    /// `below`, mm: what is nearest lies no farther than `between` from where it is looked at, and nearer as the steps
    /// become shorter.
    fn followed(
        &self,
        moving: &impl Moving,
        one: Passed,
        (mut near, mut at): (Near, Pose),
        [between, below]: [f64; 2],
    ) -> Near {
        let ranges = [
            [self.first.own, self.last.own],
            [self.first.other, self.last.other],
        ];
        let ways = search::ways();
        let mut step = self.step;
        let mut left = between;
        for _ in 0..MOST_STEPS {
            let settled = step.own.max(step.other) <= FINEST || left <= space::PASSED_OVER;
            if settled || near.distance - left >= below {
                break;
            }
            let (from, by) = ([at.own, at.other], [step.own, step.other]);
            let mut beside = search::beside(&ways, &ranges, from, by);
            let next = beside.find_map(|[own, other]| {
                let pose = Pose { own, other };
                let ends = moving.ends_at(pose);
                let seen = seen(moving, one.turns_with, pose, ends);
                let near = one.near(seen, ends, near.distance)?;
                Some((near, pose))
            });
            match next {
                Some(nearer) => (near, at) = nearer,
                None => {
                    step.own /= 2.0;
                    step.other /= 2.0;
                    left /= 2.0;
                }
            }
        }
        near
    }
}

/// Places of a pose as something sees them that turns along with an end, or stands.
fn seen(moving: &impl Moving, frame: Option<RodEnd>, pose: Pose, places: [Place; 2]) -> [Place; 2] {
    match frame {
        Some(end) => places.map(|place| moving.rest_of(end, pose, place)),
        None => places,
    }
}

impl Passed<'_> {
    /// Where the piece comes nearest to it in a pose, if nearer than `below`, mm: between places as the thing sees
    /// them, which truly are others.
    fn near(
        &self,
        [seen_from, seen_to]: [Place; 2],
        [from, to]: [Place; 2],
        below: f64,
    ) -> Option<Near> {
        let pieces = [Piece::straight(seen_from, seen_to)];
        // No place of the piece is farther from its middle than half of it.
        let half = (seen_to - seen_from).norm() / 2.0;
        let middle = nalgebra::center(&seen_from, &seen_to);
        if self.obstacle.at_least(&pieces) >= below
            || self.obstacle.distance(middle, below + half) >= below + half
        {
            return None;
        }
        let near = self.obstacle.near(&pieces, below)?;
        let share = (near.at - seen_from).norm() / (seen_to - seen_from).norm();
        let at = from + (to - from) * share;
        Some(Near { at, ..near })
    }
}

/// How many steps lie between so many poses; one where there are no two.
fn steps(poses: usize) -> f64 {
    poses.saturating_sub(1).max(1) as f64
}
