//! A placed plate with all that is in it or is ordered for it, and the webs that a new hole keeps there.

use super::placement::Placement;
use super::plate::ShelfPlate;
use crate::cable_hole::{CableHole, MEASURED, PlateHole};
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::geometry::{Gap, Point};
use crate::laid::Laid;
use crate::limits::{Limit, Rule};
use crate::project::Project;
use crate::tie::TieSlot;
use crate::ties::InTheWay;
use crate::wording;

/// A plate that exists, at its place in the head. What is ordered is added as it is found.
pub(super) struct Ground<'a> {
    /// The project that took it over, its slots as wide as they are to be.
    pub(super) project: Project,
    pub(super) laid: &'a Laid,
    /// Its edge in the head as filing leaves it.
    pub(super) outline: &'a Outline,
    pub(super) edge: Bounded,
    pub(super) placement: Placement,
    pub(super) holes: Vec<Hole>,
}

/// A cable hole that is there or is ordered.
pub(super) struct Hole {
    pub(super) shape: CableHole,
    pub(super) of: HoleOf,
}

/// Whose a cable hole is, by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HoleOf {
    /// It is one that the plate has.
    Plate(usize),
    /// It is ordered for a drive.
    Drive(usize),
}

/// What a cable hole comes near to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    Edge,
    Opening(usize),
    Slot(usize),
    Lug(usize),
    Hole(HoleOf),
}

/// A web that is too thin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Thin {
    pub(super) beside: Beside,
    pub(super) gap: Gap,
    pub(super) rule: Rule,
    /// What is wanted, mm.
    pub(super) wanted: f64,
}

impl Thin {
    /// By how much, mm.
    pub(super) fn by(&self) -> f64 {
        self.wanted - self.gap.distance
    }
}

impl<'a> Ground<'a> {
    /// `over` is the project that took `plate` over, and `laid` that laid out. None without an edge.
    pub(super) fn of(
        over: &Project,
        laid: &'a Laid,
        plate: &ShelfPlate,
        outline: &'a Outline,
        placement: Placement,
    ) -> Option<Self> {
        let edge = Bounded::of(outline)?;
        let there = plate.cable_holes.iter().enumerate();
        let there = there.map(|(index, hole)| Hole {
            shape: hole.placed(placement).shape(),
            of: HoleOf::Plate(index),
        });
        // What lies beside the edge that filing leaves is filed off.
        let holes = there.filter(|hole| hole.shape.lies_in(&edge)).collect();
        Some(Self {
            project: over.clone(),
            laid,
            outline,
            edge,
            placement,
            holes,
        })
    }

    /// The cable holes that the plate has, as wide as they are to be.
    pub(super) fn holes_of_plate(&self) -> impl Iterator<Item = PlateHole> {
        let own = self.holes.iter();
        let own = own.filter(|hole| matches!(hole.of, HoleOf::Plate(_)));
        own.map(|hole| PlateHole::from(&hole.shape))
    }

    /// What a rule wants, mm.
    pub(super) fn wanted(&self, rule: Rule) -> f64 {
        let (limits, plate) = (&self.project.limits, &self.project.plate);
        limits.of(rule, plate.thickness).wanted.max(0.0)
    }

    /// What comes nearer than is wanted to a slot that keeps its web to the edge.
    pub(super) fn in_the_way(&self, slot: &TieSlot) -> Option<InTheWay> {
        let wanted = self.wanted(Rule::HoleSlot);
        let gaps = self.holes.iter();
        let mut gaps = gaps.filter_map(|hole| hole.shape.gap_to_slot(slot));
        if gaps.any(|gap| gap.distance < wanted) {
            return Some(InTheWay::CableHole);
        }
        crate::ties::in_the_way(slot, &self.project, self.laid)
    }

    /// The web of a hole to the edge, if that is thinner than is wanted.
    pub(super) fn thin_to_edge(&self, hole: &CableHole) -> Option<Thin> {
        let (beside, rule, gap) = self.web_to_edge(hole)?;
        self.thin(beside, rule, gap, &|limit: &Limit| limit.wanted)
    }

    fn web_to_edge(&self, hole: &CableHole) -> Option<(Beside, Rule, Gap)> {
        let gap = self.edge.room_around_polygon(&hole.ends)?;
        Some((Beside::Edge, Rule::HoleEdge, gap.grown(hole.radius)))
    }

    /// The webs round a hole for a drive that are thinner than is `enough` by their limits, but those to its drive's
    /// other holes.
    pub(super) fn thin_webs(
        &self,
        hole: &CableHole,
        drive: usize,
        enough: impl Fn(&Limit) -> f64,
    ) -> Vec<Thin> {
        let others = self.holes.iter();
        let others = others.filter(|other| other.of != HoleOf::Drive(drive));
        let webs = self.webs_of(hole, others).into_iter();
        webs.filter_map(|(beside, rule, gap)| self.thin(beside, rule, gap, &enough))
            .collect()
    }

    /// The webs from a hole to the edge, to openings, slots and lugs, and to some holes.
    pub(super) fn webs_of<'h>(
        &self,
        hole: &CableHole,
        others: impl Iterator<Item = &'h Hole>,
    ) -> Vec<(Beside, Rule, Gap)> {
        let eyes = self.laid.eyes.iter().enumerate();
        let openings = eyes.filter_map(|(eye, laid)| {
            let gap = hole.gap_to_opening(laid.opening()?)?;
            Some((Beside::Opening(eye), Rule::HoleOpening, gap))
        });
        let ties = self.project.ties.iter().enumerate();
        let slots = ties.filter_map(|(slot, tie)| {
            let gap = hole.gap_to_slot(tie)?;
            Some((Beside::Slot(slot), Rule::HoleSlot, gap))
        });
        let lugs = self.laid.lugs().filter_map(|(lug, eye)| {
            let gap = hole.gap_to_lug(lug)?;
            Some((Beside::Lug(eye), Rule::LugHole, gap))
        });
        let holes = others.filter_map(|other| {
            let gap = hole.gap_to(&other.shape)?;
            Some((Beside::Hole(other.of), Rule::HoleGap, gap))
        });
        let edge = self.web_to_edge(hole).into_iter();
        let beside = openings.chain(slots).chain(lugs).chain(holes);
        edge.chain(beside).collect()
    }

    /// What a cable hole comes near to is called; None of the edge.
    pub(super) fn name_of(&self, beside: Beside) -> Option<String> {
        let project = &self.project;
        Some(match beside {
            Beside::Edge => return None,
            Beside::Opening(eye) => project.eye_name(eye),
            Beside::Slot(slot) => wording::slot(slot),
            Beside::Lug(eye) => wording::piece("lug", &project.eye_name(eye)),
            Beside::Hole(HoleOf::Plate(hole)) => wording::plate_hole(hole),
            Beside::Hole(HoleOf::Drive(drive)) => {
                let drive = wording::drive(&project.drives[drive].name);
                wording::piece("cable hole", &drive)
            }
        })
    }

    /// A web that is thinner than is `enough` by the limits of its rule.
    fn thin(
        &self,
        beside: Beside,
        rule: Rule,
        gap: Gap,
        enough: &impl Fn(&Limit) -> f64,
    ) -> Option<Thin> {
        let limit = self.project.limits.of(rule, self.project.plate.thickness);
        let thin = Thin {
            beside,
            gap,
            rule,
            wanted: limit.wanted.max(0.0),
        };
        (enough(&limit).max(0.0) - gap.distance > MEASURED).then_some(thin)
    }

    /// Room from a place to the edge, mm; negative beside the plate.
    pub(super) fn room(&self, at: Point) -> f64 {
        self.edge.room_around(at).distance
    }
}
