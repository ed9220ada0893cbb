//! The search for the corners of a route: many tries scattered about, the best of them improved step by
//! step.

use super::ground::{Ground, Level};
use super::scatter::Scatter;
use crate::geometry::space::{Place, Way};

/// Most corners of a proposed route. Own choice: with more, a sheath is no easier to lay.
const MOST_CORNERS: usize = 3;

/// Tries that are scattered for one, two and three corners.
const SCATTERED: [u32; MOST_CORNERS] = [300, 500, 300];

/// How many tries are improved, with each number of corners: a little at first, and the best of them
/// all the way.
const IMPROVED: [usize; 2] = [20, 6];

/// Steps of both improvements, for each corner.
const STEPS: [u32; 2] = [25, 60];

/// How many times as many tries are kept at first, since some are alike.
const SPARE: usize = 3;

/// Two tries whose corners are all nearer than this, mm, lead to the same route.
const ALIKE: f64 = 15.0;

/// Steps of an improvement of something that was found, for each corner.
pub(super) const MORE_STEPS: u32 = 60;

/// The first step of an improvement, mm, and the least before it starts over.
const STEP: [f64; 2] = [15.0, 0.1];

/// What a step is multiplied by after one that led on, and after one that did not: about a fifth of
/// all lead on then.
const PACE: [f64; 2] = [1.6, 0.9];

/// How finely corners are placed, in steps for each mm: what a maker can measure.
const GRID: f64 = 10.0;

/// A route that was tried: its corners, and what it is worth.
#[derive(Clone, Debug)]
pub(super) struct Try {
    pub(super) via: Vec<Place>,
    pub(super) worth: f64,
}

/// The box that corners are scattered in.
pub(super) struct Room {
    pub(super) low: Place,
    pub(super) high: Place,
}

impl Try {
    pub(super) fn new(ground: &Ground, via: Vec<Place>, level: Level) -> Self {
        let worth = ground.worth(&via, level, f64::INFINITY);
        Self { via, worth }
    }

    /// The same, improved: steps in scattered directions, which grow while they lead on and shrink
    /// where they do not.
    pub(super) fn improved(mut self, ground: &Ground, level: Level, steps: u32) -> Self {
        if self.via.is_empty() {
            return self;
        }
        let directions = Scatter::new(3 * self.via.len());
        let steps = steps * u32::try_from(self.via.len()).unwrap_or(u32::MAX);
        let mut step = STEP[0];
        for k in 1..=steps {
            let mut offsets = directions.at(k).map(|share| (2.0 * share - 1.0) * step);
            let mut offset = || offsets.next().unwrap_or(0.0);
            let moved = |at: &Place| on_grid(at + Way::new(offset(), offset(), offset()));
            let via: Vec<Place> = self.via.iter().map(moved).collect();
            let worth = ground.worth(&via, level, self.worth);
            if worth < self.worth {
                self = Self { via, worth };
                step *= PACE[0];
            } else {
                step *= PACE[1];
            }
            if step < STEP[1] {
                step = STEP[0];
            }
        }
        self
    }

    /// The same with one corner more, in the middle of each of its legs.
    fn with_another(&self, ground: &Ground) -> impl Iterator<Item = Vec<Place>> {
        let from = ground.start.stop + ground.start.heading * ground.start.lead;
        let mut points = vec![from];
        points.extend(&self.via);
        points.push(ground.exit);
        (0..points.len() - 1).map(move |leg| {
            let middle = nalgebra::center(&points[leg], &points[leg + 1]);
            let mut via = points[1..points.len() - 1].to_vec();
            via.insert(leg, on_grid(middle));
            via
        })
    }

    /// The same with one of its corners left out, each in turn.
    pub(super) fn with_fewer(&self) -> impl Iterator<Item = Vec<Place>> + '_ {
        (0..self.via.len()).map(|corner| {
            let mut via = self.via.clone();
            via.remove(corner);
            via
        })
    }

    fn is_like(&self, other: &Self) -> bool {
        let mut corners = self.via.iter().zip(&other.via);
        self.via.len() == other.via.len() && corners.all(|(a, b)| (a - b).norm() < ALIKE)
    }
}

/// The best tries with each number of corners, the best of all first.
pub(super) fn search(ground: &Ground, room: &Room, level: Level) -> Vec<Try> {
    let mut found = vec![Try::new(ground, Vec::new(), level)];
    let mut latest = found.clone();
    for (corners, scattered) in (1..=MOST_CORNERS).zip(SCATTERED) {
        let more = latest.iter().flat_map(|one| one.with_another(ground));
        // Once a way is found, the most corners are no longer scattered: one more rarely helps then.
        let is_found = found.iter().any(|one| Ground::keeps(one.worth));
        let is_enough = is_found && corners == MOST_CORNERS;
        let scattered = if is_enough { 0 } else { scattered };
        let scatter = Scatter::new(3 * corners);
        let scattered = (1..=scattered).map(|k| room.corners(&scatter, k, ground.exit));
        latest = scan(ground, more.chain(scattered), level);
        for (count, steps) in IMPROVED.into_iter().zip(STEPS) {
            latest = best_of(latest, count);
            let improved = latest
                .into_iter()
                .map(|one| one.improved(ground, level, steps));
            latest = improved.collect();
        }
        found.extend(latest.iter().cloned());
    }
    found.sort_by(|a, b| a.worth.total_cmp(&b.worth));
    found
}

/// Tries with some corners: all that are among the best so far.
fn scan(ground: &Ground, all: impl Iterator<Item = Vec<Place>>, level: Level) -> Vec<Try> {
    let enough = SPARE * IMPROVED[0];
    let mut tries = Vec::<Try>::with_capacity(enough);
    for via in all {
        let bar = tries
            .get(enough - 1)
            .map_or(f64::INFINITY, |last| last.worth);
        let worth = ground.worth(&via, level, bar);
        if worth < bar {
            let place = tries.partition_point(|other| other.worth <= worth);
            tries.insert(place, Try { via, worth });
            tries.truncate(enough);
        }
    }
    tries
}

/// The best of some tries, no two alike.
fn best_of(mut tries: Vec<Try>, count: usize) -> Vec<Try> {
    tries.sort_by(|a, b| a.worth.total_cmp(&b.worth));
    let mut best = Vec::<Try>::with_capacity(count);
    for one in tries {
        if best.len() == count {
            break;
        }
        if !best.iter().any(|other| one.is_like(other)) {
            best.push(one);
        }
    }
    best
}

impl Room {
    /// Corners of try `k`: every other time in the order in which they come nearer to the exit.
    fn corners(&self, scatter: &Scatter, k: u32, exit: Place) -> Vec<Place> {
        let shares: Vec<f64> = scatter.at(k).collect();
        let size = self.high - self.low;
        let corner = |shares: &[f64]| {
            let share = Way::from_column_slice(shares);
            on_grid(self.low + size.component_mul(&share))
        };
        let mut corners: Vec<Place> = shares.chunks_exact(3).map(corner).collect();
        if k.is_multiple_of(2) {
            let off = |at: &Place| (at - exit).norm();
            corners.sort_by(|a, b| off(b).total_cmp(&off(a)));
        }
        corners
    }
}

fn on_grid(at: Place) -> Place {
    at.map(|at| (at * GRID).round() / GRID)
}
