//! What a placed plate lacks: slots, cable holes, and material around what it has.

use serde::Serialize;

use super::placement::Placement;
use super::plate::ShelfPlate;
use super::slots::{REACH, Reach};
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector, polygon};
use crate::laid::Laid;
use crate::limits::Rule;
use crate::lug::FOOT_MARGIN;
use crate::project::Project;
use crate::tie::TieSlot;
use crate::wording;

/// How much too narrow a hole may be, mm, and how much too little material may stand round it: what
/// callipers leave open. Own choice.
const MEASURED: f64 = 0.1;

/// A hole that must be made or widened in a plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Drilling {
    /// What for.
    pub hole: Drilled,
    /// Its middle, (x, y) in the head, mm.
    pub at: [f64; 2],
    /// Its length and its width, mm.
    pub size: [f64; 2],
    /// Direction of its long side, counter-clockwise from +x.
    pub angle: Degrees,
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

/// Material that a plate lacks round something.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lack {
    /// What it is missing round.
    pub part: String,
    /// By how much the plate ends too early, mm.
    pub by: f64,
}

/// The slots that must be made or widened, and the anchor holes that no slot of the plate could
/// reach.
pub(super) fn slots(
    project: &Project,
    plate: &ShelfPlate,
    edge: &[Point],
    placement: Placement,
    reaches: &[Option<Reach>],
) -> (Vec<Drilling>, Vec<usize>) {
    let (mut drilling, mut beyond) = (Vec::new(), Vec::new());
    let largest = project.ties.iter().map(TieSlot::size);
    let largest = largest.reduce(|a, b| [a[0].max(b[0]), a[1].max(b[1])]);
    for (index, slot) in plate.slots.iter().enumerate() {
        let (Some(wanted), Some(tie)) = (largest, slot.tie) else {
            continue;
        };
        let at = placement.place(slot.at);
        let angle = Degrees(slot.angle.0 + placement.turn.0);
        let anchor = None;
        let has = TieSlot {
            at,
            angle,
            tie,
            anchor,
            locked: false,
        };
        let size = has.size();
        if size[0] < wanted[0] - MEASURED || size[1] < wanted[1] - MEASURED {
            drilling.push(Drilling {
                hole: Drilled::WiderSlot { slot: index },
                at,
                size: [size[0].max(wanted[0]), size[1].max(wanted[1])],
                angle,
            });
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
        match slot_toward(edge, hole, inside) {
            Some((at, along)) if (at - hole).norm() <= REACH => drilling.push(Drilling {
                hole: Drilled::Slot { anchor },
                at: at.into(),
                size: tie.size(),
                angle: Degrees::from_radians(along.y.atan2(along.x)),
            }),
            _ => beyond.push(anchor),
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
    let there: Vec<CableHole> = plate
        .cable_holes
        .iter()
        .map(|hole| CableHole {
            ends: hole.ends.map(|end| placement.place(end).into()),
            radius: hole.width / 2.0,
            lean: 0.0,
        })
        .collect();
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
            missing.push(Drilling {
                hole: Drilled::CableHole { drive },
                at: hole.middle().into(),
                size: hole.size(),
                angle: Degrees::from_radians(along.y.atan2(along.x)),
            });
        }
    }
    missing
}

/// Where a plate with this edge ends too early for the openings, slots, lugs and cable holes of the
/// project that was laid out round it. Layouts add a rim or a pad there; a plate that exists has none.
pub(super) fn lacks(project: &Project, laid: &Laid, edge: &Bounded) -> Vec<Lack> {
    let wanted = |rule| {
        project
            .limits
            .of(rule, project.plate.thickness)
            .wanted
            .max(0.0)
    };
    let (rim, by_slot, by_hole) = (
        wanted(Rule::Rim),
        wanted(Rule::SlotEdge),
        wanted(Rule::HoleEdge),
    );
    let openings = laid.eyes.iter().enumerate().filter_map(|(index, eye)| {
        let opening = eye.opening()?;
        let name = project.eye_name(index);
        Some((name, vec![opening.centre], opening.radius + rim))
    });
    let slots = project.ties.iter().enumerate().map(|(index, slot)| {
        let around = slot.corner_radius() + by_slot;
        (wording::slot(index), slot.core().to_vec(), around)
    });
    let lugs = laid.eyes.iter().enumerate().flat_map(|(index, eye)| {
        let sides = ["left lug", "right lug"].into_iter();
        let name = project.eye_name(index);
        sides
            .zip(eye.lugs.into_iter().flatten())
            .map(move |(side, lug)| {
                let part = wording::piece(side, &name);
                (part, lug.foot().to_vec(), FOOT_MARGIN)
            })
    });
    let holes = laid
        .drives
        .iter()
        .zip(&project.drives)
        .flat_map(|(laid, drive)| {
            laid.holes.iter().enumerate().map(|(index, hole)| {
                let part = wording::cable_hole(index, &wording::drive(&drive.name));
                (part, hole.ends.to_vec(), hole.radius + by_hole)
            })
        });
    openings
        .chain(slots)
        .chain(lugs)
        .chain(holes)
        .filter_map(|(part, core, around)| {
            let by = around - edge.room_around_polygon(&core)?.distance;
            (by > MEASURED).then_some(Lack { part, by })
        })
        .collect()
}
