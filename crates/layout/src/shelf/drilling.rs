//! Which holes a placed plate lacks.

use serde::Serialize;

use super::placement::Placement;
use super::plate::ShelfPlate;
use super::slots::{REACH, Reach};
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector, polygon};
use crate::laid::Laid;
use crate::limits::Rule;
use crate::project::Project;
use crate::tie::{self, TieSlot};

/// How far a measured length may be off, mm: what callipers leave open. Own choice.
pub(super) const MEASURED: f64 = 0.1;

/// A hole that must be made or widened in a plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Drilling {
    /// What for.
    pub hole: Drilled,
    /// Its middle, (x, y) in the head, mm.
    pub at: [f64; 2],
    /// Direction of its long side in the head, counter-clockwise from +x, from 0 to half a turn.
    pub angle: Degrees,
    /// Its middle in the plate's own frame, where it is marked out, mm.
    pub at_on_plate: [f64; 2],
    /// Direction of its long side there.
    pub angle_on_plate: Degrees,
    /// Its length and its width, mm.
    pub size: [f64; 2],
}

/// What a hole is drilled for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Drilled {
    /// A slot for a tie to an anchor hole that no slot reaches.
    Slot {
        /// The anchor hole's index.
        anchor: usize,
    },
    /// A slot that is there and too small for the project's ties.
    WiderSlot {
        /// The plate's slot, by index.
        slot: usize,
    },
    /// A hole for the cable of a drive.
    CableHole {
        /// The drive's index.
        drive: usize,
    },
}

/// An anchor hole that ties run to and that no slot of the plate could reach.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Beyond {
    /// The anchor hole's index.
    pub anchor: usize,
    /// How far from it the nearest slot would lie that the plate has room for, mm; at most [`REACH`] is wanted.
    /// None if it has room for none.
    pub distance: Option<f64>,
}

impl Drilling {
    fn new(
        placement: Placement,
        hole: Drilled,
        at: [f64; 2],
        size: [f64; 2],
        angle: Degrees,
    ) -> Self {
        Self {
            hole,
            at,
            angle: half_turn(angle.0),
            at_on_plate: placement.back(at),
            angle_on_plate: half_turn(angle.0 - placement.turn.0),
            size,
        }
    }

    /// Its edge in the head.
    pub fn outline(&self) -> Outline {
        let [length, width] = self.size;
        let radius = match self.hole {
            Drilled::Slot { .. } | Drilled::WiderSlot { .. } => {
                let slot = TieSlot {
                    at: self.at,
                    angle: self.angle,
                    tie: self.size.map(|side| side - tie::CLEARANCE),
                    anchor: None,
                    locked: false,
                };
                return slot.outline();
            }
            Drilled::CableHole { .. } => width / 2.0,
        };
        let (sin, cos) = self.angle.radians().sin_cos();
        let to_end = Vector::new(cos, sin) * (length / 2.0 - radius);
        let at = Point::from(self.at);
        Outline::hull(&[at - to_end, at + to_end].map(|centre| Disc { centre, radius }))
    }
}

/// The direction of a line, from 0 to half a turn.
fn half_turn(angle: f64) -> Degrees {
    Degrees(angle.rem_euclid(180.0))
}

/// The slots that must be made or widened, and the anchor holes that no slot of the plate could
/// reach.
pub(super) fn slots(
    project: &Project,
    plate: &ShelfPlate,
    edge: &[Point],
    placement: Placement,
    reaches: &[Option<Reach>],
) -> (Vec<Drilling>, Vec<Beyond>) {
    let (mut drilling, mut beyond) = (Vec::new(), Vec::new());
    let largest = project.ties.iter().map(TieSlot::size);
    let largest = largest.reduce(|a, b| [a[0].max(b[0]), a[1].max(b[1])]);
    for (index, slot) in plate.slots.iter().enumerate() {
        let (Some(wanted), Some(tie)) = (largest, slot.tie) else {
            continue;
        };
        let has = slot.placed(placement, tie);
        let size = has.size();
        if size[0] < wanted[0] - MEASURED || size[1] < wanted[1] - MEASURED {
            let hole = Drilled::WiderSlot { slot: index };
            let size = [size[0].max(wanted[0]), size[1].max(wanted[1])];
            drilling.push(Drilling::new(placement, hole, has.at, size, has.angle));
        }
    }
    let wanted_edge = project.limits.of(Rule::SlotEdge, project.plate.thickness);
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
        let hole = Point::from(project.head.anchor_holes[anchor].at);
        // So far from the edge, the slot keeps its web whichever way it is turned.
        let inside = wanted_edge.wanted.max(0.0) + tie.half_diagonal();
        let nearest = slot_toward(edge, hole, inside);
        let distance = nearest.map(|(at, _)| (at - hole).norm());
        match (nearest, distance) {
            (Some((at, along)), Some(distance)) if distance <= REACH => {
                let angle = Degrees::from_radians(along.y.atan2(along.x));
                let hole = Drilled::Slot { anchor };
                drilling.push(Drilling::new(placement, hole, at.into(), tie.size(), angle));
            }
            _ => beyond.push(Beyond { anchor, distance }),
        }
    }
    (drilling, beyond)
}

/// The place as near to a hole in the wall as one can be `inside` a plate's edge, mm, and the direction of
/// the edge there; None if the plate is nowhere so wide.
fn slot_toward(edge: &[Point], hole: Point, inside: f64) -> Option<(Point, Vector)> {
    let within = Outline::polygon(edge).inset(inside).flattened();
    let apart = |line: &Line| (line.nearest(hole) - hole).norm_squared();
    let nearest = polygon::edges(&within).min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
    let along = (nearest.end - nearest.start).try_normalize(0.0)?;
    Some((nearest.nearest(hole), along))
}

/// The cable holes that the drives of a project need with the plate taken over, and that it does
/// not have.
pub(super) fn cable_holes(laid: &Laid, plate: &ShelfPlate, placement: Placement) -> Vec<Drilling> {
    let there = plate.cable_holes.iter();
    let there: Vec<CableHole> = there.map(|hole| hole.placed(placement)).collect();
    let mut missing = Vec::new();
    for (drive, laid) in laid.drives.iter().enumerate() {
        for hole in &laid.holes {
            let passes = |there: &CableHole| {
                let room = |end: &Point| there.room_around(*end) - hole.radius;
                hole.ends.iter().all(|end| room(end) >= -MEASURED)
            };
            if there.iter().any(passes) {
                continue;
            }
            let along = hole.ends[1] - hole.ends[0];
            let angle = Degrees::from_radians(along.y.atan2(along.x));
            let (at, size) = (hole.middle().into(), hole.size());
            let hole = Drilled::CableHole { drive };
            missing.push(Drilling::new(placement, hole, at, size, angle));
        }
    }
    missing
}
