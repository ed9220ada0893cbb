//! The best set of places, by branch and bound.
//!
//! Places are taken in their order along the edge. What is still to come can spread the slots no wider than
//! the hull of all places that are left, and cost no less than the cheapest place for each of the holes
//! that the rest can run to, nor than the cheapest of each stretch of the edge that has room for one: whatever
//! cannot beat the best so far by these is not looked into.

use super::anchors::Anchors;
use super::places::apart;
use super::spread::{self, Held};
use super::{Candidate, SPREAD_ENOUGH, Unit};
use crate::geometry::{Point, polygon};
use crate::tie::TieSlot;

/// Figures nearer to each other than this, mm, are equal.
const EQUAL: f64 = 1e-6;

/// How many sets, begun or whole, are looked at before the best so far has to do. Own choice: about
/// a second.
const MOST_LOOKS: usize = 400_000;

/// What laying a whole set out costs, in looks.
const LAID_OUT: usize = 400;

/// By how much less than the best that could be, mm, is asked for, one after the other.
const LESS: [f64; 5] = [0.0, 2.0, 8.0, 32.0, f64::INFINITY];

/// What a set of candidates has to pass in the end.
pub(super) type Keeps<'a> = dyn Fn(&[&Candidate]) -> bool + 'a;

/// A search among units, in their order along the edge.
pub(super) struct Search<'a> {
    units: &'a [Unit],
    /// Whether two units can be together, row by row.
    together: Vec<bool>,
    /// What each slot costs with each hole, unit by unit.
    costs: Vec<Vec<Vec<f64>>>,
    /// What the cheapest slot costs with each hole.
    cheapest: Vec<f64>,
    /// The hull of the corners of all units from each one on.
    hulls: Vec<Vec<Point>>,
    /// The number of each unit's stretch.
    stretch: Vec<usize>,
    stretches: Vec<Stretch>,
    /// The corners of the locked slots.
    locked: Vec<Point>,
    held: &'a [Held],
    /// How far every slot reaches beyond its corners, mm; the least, where they differ.
    round: f64,
    anchors: &'a Anchors,
    looks: usize,
    /// What a set must cost less than, mm.
    dearest: f64,
    aim: Aim,
    best: Option<Vec<usize>>,
}

/// Units in a row of which a set holds one at most.
struct Stretch {
    /// The most slots that such a unit has.
    most: usize,
    /// What the cheapest slot costs, mm.
    cheapest: f64,
}

/// What a set must have to be looked into.
struct Aim {
    spread: f64,
    /// Below this.
    cost: f64,
    better: Better,
}

/// What makes a set better than the one before.
#[derive(Clone, Copy)]
enum Better {
    Spread,
    Cost,
    /// Any set will do.
    Any,
}

impl<'a> Search<'a> {
    /// Among `units` that keep `gap`, mm, from each other, beside slots that are `locked`.
    pub(super) fn new(
        units: &'a [Unit],
        gap: f64,
        locked: &[TieSlot],
        held: &'a [Held],
        anchors: &'a Anchors,
    ) -> Self {
        let fit = |one: &Unit, other: &Unit| {
            let pairs = one.iter().flat_map(|a| other.iter().map(move |b| (a, b)));
            one[0].spot != other[0].spot && { pairs }.all(|(a, b)| apart(&a.slot, &b.slot, gap))
        };
        let rows = units
            .iter()
            .flat_map(|one| units.iter().map(move |b| fit(one, b)));
        let together: Vec<bool> = rows.collect();
        let of_unit = |unit: &Unit| unit.iter().map(|own| anchors.costs(own)).collect();
        let costs: Vec<Vec<Vec<f64>>> = units.iter().map(of_unit).collect();
        let stretch = stretch_of_each(units.len(), &together);
        let cheaper = |a: Vec<f64>, b: &Vec<f64>| a.iter().zip(b).map(|(a, b)| a.min(*b)).collect();
        let mut all = costs.iter().flatten();
        let first = all.next().cloned().unwrap_or_default();
        let slots = || units.iter().flatten().map(|own| &own.slot).chain(locked);
        let round = slots().map(TieSlot::corner_radius).reduce(f64::min);
        Self {
            round: round.unwrap_or(0.0),
            cheapest: all.fold(first, cheaper),
            hulls: hulls(units),
            stretches: stretch
                .chunk_by(|a, b| a == b)
                .scan(0, |first, own| {
                    let units = *first..*first + own.len();
                    *first = units.end;
                    Some(Stretch::of(&costs[units]))
                })
                .collect(),
            stretch,
            units,
            together,
            costs,
            locked: locked.iter().flat_map(TieSlot::core).collect(),
            held,
            anchors,
            looks: MOST_LOOKS,
            dearest: anchors.dearest(),
            aim: Aim {
                spread: f64::NEG_INFINITY,
                cost: anchors.dearest(),
                better: Better::Any,
            },
            best: None,
        }
    }

    /// Whether `count` slots have room within reach of their anchor holes, whatever else they do; also if that was not found out.
    pub(super) fn has_room(&mut self, count: usize) -> bool {
        self.start(Better::Any);
        self.look(count, &mut Vec::new(), 0, &|_| true);
        self.best.is_some() || self.looks == 0
    }

    /// Starts anew, with every set wanted.
    fn start(&mut self, better: Better) {
        self.looks = MOST_LOOKS;
        self.best = None;
        self.aim = Aim {
            spread: f64::NEG_INFINITY,
            cost: self.dearest,
            better,
        };
    }

    /// From now on, ties may be longer than they should.
    pub(super) fn beyond_reach(&mut self) {
        self.dearest = f64::INFINITY;
    }

    /// The best set of `count` slots within reach of their anchor holes that `keeps` passes; None if there is none.
    pub(super) fn best(&mut self, count: usize, keeps: &Keeps<'_>) -> Option<Vec<&'a Candidate>> {
        self.start(Better::Spread);
        let most = self.enough(&self.hulls.first().cloned().unwrap_or_default());
        for less in LESS {
            self.aim.spread = most - less - EQUAL;
            self.look(count, &mut Vec::new(), 0, keeps);
            if self.best.is_some() {
                break;
            }
        }
        let first = self.best.clone()?;
        self.aim.spread = self.enough(&self.corners(&first)) - EQUAL;
        self.aim.better = Better::Cost;
        let of_first = self.cost(&first, 0);
        let least = self.cost(&[], count);
        for more in LESS {
            self.aim.cost = (least + more + EQUAL).min(of_first);
            let before = self.best.clone();
            self.look(count, &mut Vec::new(), 0, keeps);
            if self.best != before || self.aim.cost >= of_first {
                break;
            }
        }
        Some(self.candidates(self.best.as_ref()?))
    }

    /// The most slots below `count` that have room, whatever else they do.
    pub(super) fn most(&mut self, count: usize) -> usize {
        let room = (1..count).rev().find(|&fewer| self.has_room(fewer));
        room.unwrap_or(0)
    }

    /// Whether every set was looked at that could be better.
    pub(super) fn is_proven(&self) -> bool {
        self.looks > 0
    }

    /// Looks into all sets that add `left` slots, from unit `from` on, to those that are chosen.
    fn look(&mut self, left: usize, chosen: &mut Vec<usize>, from: usize, keeps: &Keeps<'_>) {
        for next in from..self.units.len() {
            if self.room_from(self.stretch[next]) < left || self.looks == 0 {
                return;
            }
            let fits = |&own: &usize| self.together[own * self.units.len() + next];
            if self.units[next].len() > left || !chosen.iter().all(fits) {
                continue;
            }
            self.looks -= 1;
            let left = left - self.units[next].len();
            chosen.push(next);
            if self.could_be_better(chosen, left) {
                if left > 0 {
                    self.look(left, chosen, next + 1, keeps);
                } else {
                    self.weigh(chosen, keeps);
                }
            }
            chosen.pop();
        }
    }

    /// Whether the best that could come of a set beats the best so far.
    fn could_be_better(&self, chosen: &[usize], left: usize) -> bool {
        let mut corners = self.corners(chosen);
        if left > 0
            && let Some(rest) = chosen.last().and_then(|&last| self.hulls.get(last + 1))
        {
            corners.extend(rest);
        }
        let spreads =
            self.aim.spread == f64::NEG_INFINITY || self.enough(&corners) >= self.aim.spread;
        spreads && (self.aim.cost == f64::INFINITY || self.cost(chosen, left) < self.aim.cost)
    }

    /// Takes a whole set that beats the best so far, if it passes.
    fn weigh(&mut self, chosen: &[usize], keeps: &Keeps<'_>) {
        self.looks = self.looks.saturating_sub(LAID_OUT);
        if !keeps(&self.candidates(chosen)) {
            return;
        }
        self.best = Some(chosen.to_vec());
        match self.aim.better {
            Better::Spread => self.aim.spread = self.enough(&self.corners(chosen)) + EQUAL,
            Better::Cost => self.aim.cost = self.cost(chosen, 0) - EQUAL,
            Better::Any => self.aim.spread = f64::INFINITY,
        }
    }

    /// At most how many slots have room from a stretch on.
    fn room_from(&self, stretch: usize) -> usize {
        self.stretches[stretch..].iter().map(|own| own.most).sum()
    }

    /// The least that a set and `left` more slots, all behind it along the edge, can cost, mm.
    fn cost(&self, chosen: &[usize], left: usize) -> f64 {
        let own = || chosen.iter().flat_map(|&unit| &self.costs[unit]);
        let rest = std::iter::repeat_n(&self.cheapest, left);
        let rows: Vec<&[f64]> = own().chain(rest).map(Vec::as_slice).collect();
        let by_holes = self.anchors.least(&rows).0;
        if left == 0 {
            return by_holes;
        }
        let from = chosen.last().map_or(0, |&last| self.stretch[last] + 1);
        let behind = self.stretches[from..].iter();
        let mut costs: Vec<f64> = behind
            .flat_map(|own| std::iter::repeat_n(own.cheapest, own.most))
            .collect();
        if costs.len() < left {
            return f64::INFINITY;
        }
        costs.sort_by(f64::total_cmp);
        let rest: f64 = costs[..left].iter().sum();
        by_holes.max(own().map(|own| least_of(own)).sum::<f64>() + rest)
    }

    /// How deep what is held lies inside the hull of slots with these corners and of the locked ones, mm, as
    /// far as it counts.
    fn enough(&self, corners: &[Point]) -> f64 {
        let hull = spread::hull(&[corners, &self.locked].concat());
        let rooms = self.held.iter();
        let rooms = rooms.filter_map(|held| polygon::room_around(&hull, held.at));
        let least = rooms
            .map(|room| room.distance)
            .fold(f64::INFINITY, f64::min);
        SPREAD_ENOUGH.min(least + self.round)
    }

    fn corners(&self, chosen: &[usize]) -> Vec<Point> {
        let slots = chosen.iter().flat_map(|&unit| &self.units[unit]);
        slots.flat_map(|own| own.slot.core()).collect()
    }

    fn candidates(&self, chosen: &[usize]) -> Vec<&'a Candidate> {
        let units = self.units;
        chosen.iter().flat_map(|&unit| &units[unit]).collect()
    }
}

/// The hull of the corners of all units from each one on.
fn hulls(units: &[Unit]) -> Vec<Vec<Point>> {
    let mut hulls = Vec::with_capacity(units.len());
    let mut hull = Vec::new();
    for unit in units.iter().rev() {
        hull.extend(unit.iter().flat_map(|own| own.slot.core()));
        hull = spread::hull(&hull);
        hulls.push(hull.clone());
    }
    hulls.reverse();
    hulls
}

/// The number of each unit's stretch: of a stretch, no two units can be together.
fn stretch_of_each(count: usize, together: &[bool]) -> Vec<usize> {
    let (mut stretches, mut number, mut first) = (Vec::with_capacity(count), 0, 0);
    for unit in 0..count {
        if (first..unit).any(|own| together[own * count + unit]) {
            (number, first) = (number + 1, unit);
        }
        stretches.push(number);
    }
    stretches
}

impl Stretch {
    /// Of units with these costs by slot and hole.
    fn of(units: &[Vec<Vec<f64>>]) -> Self {
        let slots = units.iter().flatten();
        Self {
            most: units.iter().map(Vec::len).max().unwrap_or(0),
            cheapest: slots.map(|own| least_of(own)).fold(f64::INFINITY, f64::min),
        }
    }
}

/// What a slot costs with its nearest hole.
fn least_of(costs: &[f64]) -> f64 {
    costs.iter().copied().fold(f64::INFINITY, f64::min)
}
