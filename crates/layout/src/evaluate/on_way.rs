//! Where a straight piece that moves from pose to pose, a rod or a bare wire, comes nearest to what it passes.

use crate::geometry::space::{Near, Piece, Place};
use crate::obstacle::Obstacle;
use crate::rod::RodEnd;
use crate::turned::Pose;

/// Steps that are taken at most: each halving is followed by a few.
const MOST_STEPS: usize = 200;

/// Steps of a turn, radians, that are too short to make a difference to a distance.
const FINEST: f64 = 1e-4;

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

/// Where it comes nearest on its way to things that stand, or that turn along with one of its ends, and nearer
/// than `below`, mm, from its middle line.
pub(super) fn nearest_on_way<'o>(
    moving: &impl Moving,
    standing: &'o [Obstacle<'o>],
    turning: &'o [(RodEnd, Obstacle<'o>)],
    below: f64,
) -> Option<Nearest<'o>> {
    let look = |best, pose: Pose| {
        let ends = moving.ends_at(pose);
        let best = standing
            .iter()
            .fold(best, |best, one| nearer(best, below, one, ends, ends));
        turning.iter().fold(best, |best, (end, ring)| {
            let in_its_frame = ends.map(|at| moving.rest_of(*end, pose, at));
            nearer(best, below, ring, in_its_frame, ends)
        })
    };
    let grids = moving.grids();
    let nearest = grids.iter().filter_map(|grid| nearest_of(grid, look));
    nearest.min_by(|(a, _), (b, _)| a.distance.total_cmp(&b.distance))
}

/// The nearest that is seen in the poses of a grid, and from the best of them on, followed by steps that are
/// halved where none leads nearer.
fn nearest_of<'o>(
    grid: &[Vec<Pose>],
    look: impl Fn(Option<Nearest<'o>>, Pose) -> Option<Nearest<'o>>,
) -> Option<Nearest<'o>> {
    let (first, last) = (grid.first()?.first()?, grid.last()?.last()?);
    let (mut best, mut at) = (None::<Nearest<'o>>, *first);
    let try_pose = |best: &mut Option<Nearest<'o>>, pose: Pose| {
        let before = best.map_or(f64::INFINITY, |(near, _)| near.distance);
        *best = look(*best, pose);
        best.is_some_and(|(near, _)| near.distance < before)
    };
    for pose in grid.iter().flatten() {
        if try_pose(&mut best, *pose) {
            at = *pose;
        }
    }
    let mut step = Pose {
        own: (last.own - first.own) / between(grid.first().map_or(0, Vec::len)),
        other: (last.other - first.other) / between(grid.len()),
    };
    for _ in 0..MOST_STEPS {
        if step.own.max(step.other) <= FINEST {
            break;
        }
        let ways = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
        let next = ways.into_iter().find_map(|(own, other)| {
            let pose = Pose {
                own: (at.own + own * step.own).max(first.own).min(last.own),
                other: (at.other + other * step.other)
                    .max(first.other)
                    .min(last.other),
            };
            (pose != at && try_pose(&mut best, pose)).then_some(pose)
        });
        match next {
            Some(nearer) => at = nearer,
            None => {
                step.own /= 2.0;
                step.other /= 2.0;
            }
        }
    }
    best
}

/// The best so far, or where the piece comes nearer than that, or than `below`, to something that it is looked at beside:
/// between places as that thing sees them, which truly are others.
fn nearer<'o>(
    best: Option<Nearest<'o>>,
    below: f64,
    obstacle: &'o Obstacle<'o>,
    [seen_from, seen_to]: [Place; 2],
    [from, to]: [Place; 2],
) -> Option<Nearest<'o>> {
    let pieces = [Piece::straight(seen_from, seen_to)];
    let below = best.map_or(below, |(near, _)| near.distance);
    // No place of the piece is farther from its middle than half of it.
    let half = (seen_to - seen_from).norm() / 2.0;
    let middle = nalgebra::center(&seen_from, &seen_to);
    if obstacle.at_least(&pieces) >= below
        || obstacle.distance(middle, below + half) >= below + half
    {
        return best;
    }
    let Some(near) = obstacle.near(&pieces, below) else {
        return best;
    };
    let share = (near.at - seen_from).norm() / (seen_to - seen_from).norm();
    let at = from + (to - from) * share;
    Some((Near { at, ..near }, obstacle))
}

/// Steps between so many poses; one where there are no two.
fn between(poses: usize) -> f64 {
    poses.saturating_sub(1).max(1) as f64
}
