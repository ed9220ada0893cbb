//! The rules about rods.

use super::Rules;
use super::drives::finite;
use crate::angle::Degrees;
use crate::drive::Moves;
use crate::geometry::space::{Near, Piece, Place};
use crate::limits::Rule;
use crate::linkage::Linkage;
use crate::obstacle::{self, Body, Obstacle};
use crate::report::RodFigures;
use crate::rod::{Rod, RodEnd};
use crate::turned::Pose;
use crate::wording;

/// Turns of its driver that a rod is looked at first, and other turns of its eyes. A body that a rod passes only
/// in between is not seen where a better place is nearer to another pose: of a lever of 40 mm that turns by
/// 25° to both sides, half a step is 1.5 mm.
const OWN_POSES: u32 = 13;
const OTHER_POSES: u32 = 7;

/// Steps that are taken at most: each halving is followed by a few.
const MOST_STEPS: usize = 200;

/// Steps of a turn, radians, that are too short to make a difference to a rod's distance.
const FINEST: f64 = 1e-4;

/// How near a rod comes to what it is nearest to.
type Nearest<'o> = (Near, &'o Obstacle<'o>);

impl Rules<'_> {
    pub(super) fn rods(&mut self) {
        let (project, laid) = (self.project, self.laid);
        for (rod, linkage) in project.rods.iter().zip(&laid.rods) {
            let mut figures = RodFigures {
                name: rod.name.clone(),
                ..RodFigures::default()
            };
            match linkage {
                Ok(linkage) => self.rod(rod, linkage, &mut figures),
                Err(problem) => {
                    let eye = laid.eyes.get(rod.follower.eye());
                    let centre = eye.map_or([0.0; 2], |eye| eye.centre.into());
                    let place = [centre[0], centre[1], 0.0];
                    self.find_problem(Rule::RodShape, problem, rod.name.clone(), Some(place));
                }
            }
            self.figures.rods.push(figures);
        }
    }

    fn rod(&mut self, rod: &Rod, linkage: &Linkage, figures: &mut RodFigures) {
        let ends = |pose| linkage.ends_at(pose).map(Into::into);
        figures.rod_length_mm = finite(linkage.length);
        if let Err(stuck) = &linkage.follows {
            let [driver, _] = ends(stuck.at);
            self.find_problem(
                Rule::RodShape,
                &stuck.problem,
                rod.name.clone(),
                Some(driver),
            );
            return;
        }
        let degrees = |radians| Degrees::from_radians(radians).0;
        let worst = linkage.worst();
        let out_of_step = degrees(worst.difference.value);
        figures.follower_difference_deg = finite(out_of_step);
        let place = ends(worst.difference.at).to_vec();
        self.find(Rule::RodFollow, rod.name.clone(), out_of_step, place);
        let angle = degrees(worst.transmission.value);
        figures.transmission_least_deg = finite(angle);
        let place = ends(worst.transmission.at).to_vec();
        self.find(Rule::RodAngle, rod.name.clone(), angle, place);
        figures.planar_difference_deg = finite(degrees(worst.planar_difference.value));
        if let Some((near, what)) = self.near_rod(rod, linkage) {
            let margin = near.distance - rod.diameter / 2.0;
            figures.rod_clear_mm = finite(margin);
            let (name, place) = (rod.name.clone(), vec![near.at.into()]);
            let say = |state, part: &str| wording::rod_clear(state, part, &what);
            self.find_saying(Rule::RodClear, name, margin, place, say);
        }
        self.rod_and_guard(rod, linkage);
    }

    /// Where a rod comes nearest to balls, rings, lids or the plate on its way, from its middle line, and what
    /// that is called.
    ///
    /// The rings of the eyes that it ties by a gaze turn along with it; all others, and lids, may stand anywhere
    /// on their way.
    fn near_rod(&self, rod: &Rod, linkage: &Linkage) -> Option<(Near, String)> {
        let turning: Vec<(RodEnd, Obstacle)> = RodEnd::ALL
            .into_iter()
            .filter_map(|end| match rod.end(end).0 {
                Moves::Gaze { eye, .. } => {
                    let ring = obstacle::ring_at_rest(eye, self.laid.eyes.get(eye)?)?;
                    Some((end, ring))
                }
                Moves::Lid { .. } => None,
            })
            .collect();
        let turns_along = |obstacle: &&Obstacle| {
            let is_its = |(_, ring): &(RodEnd, Obstacle)| ring.of == obstacle.of;
            obstacle.rule() == Rule::SheathRing && turning.iter().any(is_its)
        };
        let plate = self.plate.as_ref().map(|outline| {
            Obstacle::only(Body::Plate {
                outline,
                holes: &[],
                thickness: self.project.plate.thickness,
            })
        });
        let standing = self.obstacles.iter().filter(|one| !turns_along(one));
        let standing: Vec<Obstacle> = standing.copied().chain(plate).collect();
        let (near, obstacle) = nearest_on_way(linkage, &standing, &turning)?;
        Some((near, obstacle.name(self.project)))
    }

    /// How near a rod comes to the guard's mesh; or how far behind the guard, where the hand is.
    fn rod_and_guard(&mut self, rod: &Rod, linkage: &Linkage) {
        let Ok(guard) = &self.laid.guard else {
            return;
        };
        let near = |body| {
            let guard = [Obstacle::only(body)];
            nearest_on_way(linkage, &guard, &[]).map(|(near, _)| near)
        };
        let behind = near(Body::Hand(guard)).filter(|near| near.distance < 0.0);
        if let Some(near) = behind.or_else(|| near(Body::Mesh(guard))) {
            let distance = near.distance - rod.diameter / 2.0;
            self.near_guard(
                rod.name.clone(),
                Near { distance, ..near },
                wording::moved_and_guard,
            );
        }
    }
}

/// Where a rod comes nearest on its way to things that stand, or that turn along with one of its ends, from its
/// middle line.
fn nearest_on_way<'o>(
    linkage: &Linkage,
    standing: &'o [Obstacle<'o>],
    turning: &'o [(RodEnd, Obstacle<'o>)],
) -> Option<Nearest<'o>> {
    let look = |best, pose: Pose| {
        let ends = linkage.ends_at(pose);
        let best = standing
            .iter()
            .fold(best, |best, one| nearer(best, one, ends, ends));
        turning.iter().fold(best, |best, (end, ring)| {
            let in_its_frame = ends.map(|at| linkage.rest_of(*end, pose, at));
            nearer(best, ring, in_its_frame, ends)
        })
    };
    let grids = linkage.grids(OWN_POSES, OTHER_POSES);
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
        own: (last.own - first.own) / f64::from(OWN_POSES - 1),
        other: (last.other - first.other) / f64::from(OTHER_POSES - 1),
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

/// The best so far, or where a rod comes nearer to something that it is looked at beside: between places as that
/// thing sees them, which truly are others.
fn nearer<'o>(
    best: Option<Nearest<'o>>,
    obstacle: &'o Obstacle<'o>,
    [seen_from, seen_to]: [Place; 2],
    [from, to]: [Place; 2],
) -> Option<Nearest<'o>> {
    let pieces = [Piece::straight(seen_from, seen_to)];
    let below = best.map_or(f64::INFINITY, |(near, _)| near.distance);
    if obstacle.at_least(&pieces) >= below {
        return best;
    }
    let Some(near) = obstacle.near(&pieces, below) else {
        return best;
    };
    let share = (near.at - seen_from).norm() / (seen_to - seen_from).norm();
    let at = from + (to - from) * share;
    Some((Near { at, ..near }, obstacle))
}
