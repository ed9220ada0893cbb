//! Where a placed plate gets the slots that it lacks.

use serde::Serialize;

use super::drilling::{Drilled, Drilling};
use super::ground::Ground;
use super::placement::Placement;
use super::plate::ShelfPlate;
use super::slots::Reach;
use crate::angle::Degrees;
use crate::cable_hole::MEASURED;
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector, polygon};
use crate::limits::Rule;
use crate::project::Project;
use crate::tie::TieSlot;
use crate::ties::{InTheWay, REACH};

/// Between two places that are tried, mm: a maker does not mark out finer. Own choice.
const STEP: f64 = 1.0;

/// Places nearer to each other than this, mm, are equally far from an anchor hole.
const EQUAL: f64 = 1e-6;

/// Sides of the edge that are nearly as near as each other, but one across the other, leave a sum of directions
/// shorter than this.
const NO_DIRECTION: f64 = 0.1;

/// An anchor hole that ties run to and that no slot of the plate could reach.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Beyond {
    /// The anchor hole's index.
    pub anchor: usize,
    /// How far from it the nearest slot would lie that the plate is wide enough for, mm; at most [`REACH`] is
    /// wanted. None if there is no place for one within that, or none at all.
    pub distance: Option<f64>,
    /// What comes too near to most of the places within reach, where the plate is wide enough.
    pub in_the_way: Option<InTheWay>,
}

/// Widens those slots of the project that took `plate` over which are too small for the ties of the one before, and
/// gives what is to be made of each.
pub(super) fn widen(
    project: &Project,
    plate: &ShelfPlate,
    over: &mut Project,
    placement: Placement,
) -> Vec<Drilling> {
    let largest = project.ties.iter().map(|slot| slot.tie);
    let largest = largest.reduce(|a, b| [a[0].max(b[0]), a[1].max(b[1])]);
    let Some(wanted) = largest else {
        return Vec::new();
    };
    let mut drilling = Vec::new();
    let slots = plate.slots.iter().zip(&mut over.ties);
    for (index, (there, slot)) in slots.enumerate() {
        let Some(has) = there.tie else { continue };
        if (0..2).any(|side| has[side] < wanted[side] - MEASURED) {
            slot.tie = [has[0].max(wanted[0]), has[1].max(wanted[1])];
            let hole = Drilled::WiderSlot { slot: index };
            let (at, size, angle) = (slot.at, slot.size(), slot.angle);
            drilling.push(Drilling::new(placement, hole, at, size, angle));
        }
    }
    drilling
}

/// A slot for each anchor hole that ties run to and that no slot reaches, and the anchor holes that none could
/// reach.
pub(super) fn missing(
    project: &Project,
    ground: &mut Ground,
    reaches: &[Option<Reach>],
) -> (Vec<Drilling>, Vec<Beyond>) {
    let (mut drilling, mut beyond) = (Vec::new(), Vec::new());
    let mut tied: Vec<(usize, &TieSlot)> = Vec::new();
    for tie in &project.ties {
        if let Some(anchor) = tie.anchor
            && !tied.iter().any(|(other, _)| *other == anchor)
        {
            tied.push((anchor, tie));
        }
    }
    for (anchor, tie) in tied {
        let reached = |reach: &Reach| reach.within && reach.anchor == anchor;
        if reaches.iter().flatten().any(reached) {
            continue;
        }
        match ground.slot_to(anchor, tie) {
            Ok(slot) => {
                let (at, size, angle) = (slot.at, slot.size(), slot.angle);
                let hole = Drilled::Slot { anchor };
                drilling.push(Drilling::new(ground.placement, hole, at, size, angle));
                ground.project.ties.push(slot);
            }
            Err(why) => beyond.push(why),
        }
    }
    (drilling, beyond)
}

impl Ground<'_> {
    /// The slot nearest to an anchor hole that keeps every web, its long side along the edge.
    fn slot_to(&self, anchor: usize, tie: &TieSlot) -> Result<TieSlot, Beyond> {
        let hole = Point::from(self.project.head.anchor_holes[anchor].at);
        // So far from the edge, the slot keeps its web whichever way it is turned.
        let inside = self.wanted(Rule::SlotEdge) + tie.half_diagonal();
        let slot = |place: Point| TieSlot {
            at: place.into(),
            angle: self.along_edge(place),
            tie: tie.tie,
            anchor: Some(anchor),
            locked: false,
        };
        let mut places = self.foremost(hole, inside);
        let nearest = places.first().map(|place| (place - hole).norm());
        if let Some(&first) = places.first().filter(|_| nearest <= Some(REACH))
            && self.in_the_way(&slot(first)).is_none()
        {
            return Ok(slot(first));
        }
        places.extend(around(hole).filter(|&place| self.room(place) >= inside));
        places.retain(|place| (place - hole).norm() <= REACH);
        places.sort_by(|a, b| nearer(hole, *a, *b));
        let mut blocked = Vec::new();
        for place in places {
            match self.in_the_way(&slot(place)) {
                None => return Ok(slot(place)),
                Some(by) => blocked.push(by),
            }
        }
        let times = |by: &InTheWay| blocked.iter().filter(|other| *other == by).count();
        Err(Beyond {
            anchor,
            distance: nearest.filter(|&distance| distance > REACH),
            in_the_way: blocked.iter().copied().max_by_key(times),
        })
    }

    /// The place of each stretch of the line `inside` the edge, mm, that is nearest to a hole in the wall, the
    /// nearest first.
    fn foremost(&self, hole: Point, inside: f64) -> Vec<Point> {
        let within = self.outline.grown(-inside);
        let lines = within.edges.iter().map(|edge| edge.flattened());
        let lines: Vec<Vec<Point>> = lines.collect();
        let stretches = lines.iter().flat_map(|line| polygon::edges(line));
        let mut places: Vec<Point> = stretches.map(|own| own.nearest(hole)).collect();
        places.sort_by(|a, b| nearer(hole, *a, *b));
        places
    }

    /// The direction of the edge beside a place, in whole degrees on the plate, as a maker marks it. Where several
    /// sides are about as near, it is that of a side between them, so that a mirrored plate gets a mirrored slot.
    fn along_edge(&self, place: Point) -> Degrees {
        let corners = self.outline.flattened();
        let toward = |line: Line| line.nearest(place) - place;
        let nearest = self.room(place).abs();
        let near = polygon::edges(&corners).map(toward);
        let near = near.filter(|out| out.norm() <= nearest + MEASURED);
        let sum: Vector = near.clone().filter_map(|out| out.try_normalize(0.0)).sum();
        let out = if sum.norm() < NO_DIRECTION {
            near.reduce(|a, b| if b.norm() < a.norm() { b } else { a })
                .unwrap_or_else(Vector::x)
        } else {
            sum
        };
        let in_head = Degrees::from_radians((-out.x).atan2(out.y));
        let turn = self.placement.turn.0;
        Degrees((in_head.0 - turn).round() + turn)
    }
}

/// Places round a hole in the wall, within [`REACH`]: rings [`STEP`] apart, and about as far from each other on
/// them, mirrored on all sides.
fn around(hole: Point) -> impl Iterator<Item = Point> {
    let rings = (1_u32..).map(f64::from).map(|ring| ring * STEP);
    let rings = rings.take_while(|&far| far <= REACH);
    rings.flat_map(move |far| {
        // A multiple of four.
        let quarter = (far * std::f64::consts::FRAC_PI_2 / STEP).ceil();
        let turns = (0_u32..).map(f64::from);
        let turns = turns.take_while(move |&turn| turn < 4.0 * quarter);
        turns.map(move |turn| {
            let (sin, cos) = (turn / quarter * std::f64::consts::FRAC_PI_2).sin_cos();
            hole + Vector::new(cos, sin) * far
        })
    })
}

/// Which of two places is nearer to a hole; of those as far, the upper one, and then that nearer to the middle
/// of the head.
fn nearer(hole: Point, a: Point, b: Point) -> std::cmp::Ordering {
    let figures = |place: Point| {
        [(place - hole).norm(), -place.y, place.x.abs()].map(|figure| (figure / EQUAL).round())
    };
    let pairs = figures(a).into_iter().zip(figures(b));
    pairs.fold(std::cmp::Ordering::Equal, |so_far, (a, b)| {
        so_far.then(a.total_cmp(&b))
    })
}
