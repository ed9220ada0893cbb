//! How one shelf plate fits one head.

use serde::Serialize;

use super::drilling::{self, Drilling, Lack};
use super::filing::{self, Filing};
use super::made::middle;
use super::matching::{Difference, matching};
use super::placement::Placement;
use super::plate::{Shelf, ShelfPlate, ShelfSlot};
use super::search::{self, Best};
use super::slots::{self, Reach};
use super::taken::taken;
use super::wall::Wall;
use super::wording;
use crate::angle::Degrees;
use crate::evaluate_laid;
use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::laid::Laid;
use crate::limits::{Rule, State};
use crate::problem::Problem;
use crate::project::Project;
use crate::report::Finding;

/// What is to be said of a shelf plate for a project.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// The dimensions of its parts set that differ from the project's.
    pub differences: Vec<Difference>,
    /// What must be measured before all can be said.
    pub measure: Vec<Measure>,
    /// Its best place in the head; None if its outline is not known.
    pub placed: Option<Placed>,
    /// Why it cannot be taken over; None if it can.
    pub refused: Option<Problem>,
}

/// A dimension of a shelf plate that must be measured.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Measure {
    /// The dimension.
    pub dimension: &'static str,
    /// What it is a dimension of.
    pub part: String,
}

/// A shelf plate at its best place in a head. Places are (x, y) in the project's frame, mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Placed {
    /// How it gets there.
    pub placement: Placement,
    /// Least distance from the plate to the wall, mm; negative where it passes the wall.
    pub margin: f64,
    /// A margin that no other place has more of, mm: the proof that this one is the best.
    pub at_most: f64,
    /// The margin's state, by the limit of plate and wall.
    pub state: State,
    /// Where the margin occurs: on the plate, and on the wall.
    pub nearest: [[f64; 2]; 2],
    /// Where its openings come to lie, in the plate's order.
    pub eyes: Vec<[f64; 2]>,
    /// How far its openings stand apart.
    pub spacings: Vec<Spacing>,
    /// The anchor hole nearest to each slot, in the plate's order; None in a head without any.
    pub slots: Vec<Option<Reach>>,
    /// Where it must be filed so that it keeps the wanted clearance.
    pub filing: Vec<Filing>,
    /// Which holes must be made or widened.
    pub drilling: Vec<Drilling>,
    /// The anchor holes that ties run to and that no slot of the plate could reach, by index.
    pub beyond: Vec<usize>,
    /// What it has too little material for, or would once it is filed.
    pub lacks: Vec<Lack>,
    /// What else fouls once the plate is taken over; empty if it cannot be.
    pub fails: Vec<Finding>,
}

/// How far two openings of a plate stand apart.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Spacing {
    /// The openings, by index.
    pub eyes: [usize; 2],
    /// Distance between their centres, mm.
    pub distance: f64,
}

impl Fit {
    /// Whether nothing that is known of the plate's parts set differs from the project's.
    pub fn matches(&self) -> bool {
        self.differences.is_empty()
    }

    /// The margin at the best place, mm.
    pub fn margin(&self) -> Option<f64> {
        self.placed.as_ref().map(|placed| placed.margin)
    }
}

/// Finds the best place of a plate in a project's head: the shift and the turn, of no more than
/// [`MOST_TURN`](super::MOST_TURN) to either side, with the largest margin to the wall. It is the best to
/// within 0.02 mm, but in the rare cases in which [`Placed::at_most`] stays farther above it. Pure and total;
/// a plate that [`ShelfPlate::check`] refuses has no place.
pub fn fit(project: &Project, plate: &ShelfPlate) -> Fit {
    let (unknown, differences) = matching(plate, project)
        .into_iter()
        .partition(Difference::is_unknown);
    let checked = plate.check("plate");
    let outline = plate.outline.as_ref().filter(|_| checked.is_ok());
    let best = outline.and_then(|outline| best_place(project, plate, outline));
    let placement = best.as_ref().map(|best| best.placement);
    let over = checked.and_then(|()| taken_over(project, plate, placement));
    let placed = outline.zip(best).and_then(|(outline, best)| {
        let edge = outline.iter().map(|&at| best.placement.place(at).into());
        Placed::of(project, plate, &best, edge.collect(), over.as_ref().ok())
    });
    Fit {
        differences,
        measure: measure(plate, unknown),
        placed,
        refused: over.err(),
    }
}

/// Fits every plate of a shelf and orders them, by their index: those that match first, then those that
/// may once they are measured, then the others; each of these by margin, the largest first.
pub fn rank(project: &Project, shelf: &Shelf) -> Vec<(usize, Fit)> {
    let fits = shelf.plates.iter().map(|plate| fit(project, plate));
    let mut ranked: Vec<(usize, Fit)> = fits.enumerate().collect();
    let class = |fit: &Fit| (!fit.matches(), !fit.measure.is_empty());
    let margin = |fit: &Fit| fit.margin().unwrap_or(f64::NEG_INFINITY);
    ranked.sort_by(|(_, a), (_, b)| {
        let by_class = class(a).cmp(&class(b));
        by_class.then(margin(b).total_cmp(&margin(a)))
    });
    ranked
}

/// The best place of a plate. Of places that are as good, the one where its eyes lie as near as can be
/// to the project's.
fn best_place(project: &Project, plate: &ShelfPlate, outline: &[[f64; 2]]) -> Option<Best> {
    let outline: Vec<Point> = outline.iter().map(|&at| at.into()).collect();
    let to = middle(project.eyes.iter().map(|eye| eye.centre));
    let from = middle(plate.eyes.iter().map(|eye| eye.centre));
    let wanted = Placement {
        shift: [to[0] - from[0], to[1] - from[1]],
        turn: Degrees(0.0),
    };
    search::best(&outline, &project.head.wall(), wanted)
}

/// The project with the plate taken over, or why it cannot be.
fn taken_over(
    project: &Project,
    plate: &ShelfPlate,
    placement: Option<Placement>,
) -> Result<Project, Problem> {
    let placement = placement.ok_or_else(wording::no_outline)?;
    let next = taken(project, plate, placement)
        .ok_or_else(|| wording::other_eyes(plate.eyes.len(), project.eyes.len()))?;
    next.check().map(|()| next)
}

/// What must be measured: what is unknown of the parts set, and the rest of the plate.
fn measure(plate: &ShelfPlate, unknown: Vec<Difference>) -> Vec<Measure> {
    let of_parts = unknown.into_iter().map(|difference| Measure {
        dimension: difference.dimension,
        part: difference.part,
    });
    let of_plate = |dimension| Measure {
        dimension,
        part: "plate".to_owned(),
    };
    let outline = plate.outline.is_none().then(|| of_plate("outline"));
    let thickness = plate.thickness.is_none().then(|| of_plate("thickness"));
    let slots = plate.slots.iter().enumerate();
    let ties = slots.filter(|(_, slot)| slot.tie.is_none());
    let ties = ties.map(|(index, _)| Measure {
        dimension: "tie that passes",
        part: crate::wording::slot(index),
    });
    of_parts
        .chain(outline)
        .chain(thickness)
        .chain(ties)
        .collect()
}

impl Placed {
    /// How many of its slots reach an anchor hole.
    pub fn reaching(&self) -> usize {
        let reaches = self.slots.iter().flatten();
        reaches.filter(|reach| reach.within).count()
    }

    /// The most that must be filed off anywhere, mm; None if nothing must.
    pub fn deepest_filing(&self) -> Option<f64> {
        self.filing.iter().map(|own| own.depth).reduce(f64::max)
    }

    /// The plate at a place, with its `edge` there and the project that has taken it `over`, if it can
    /// be.
    fn of(
        project: &Project,
        plate: &ShelfPlate,
        &Best { placement, at_most }: &Best,
        edge: Vec<Point>,
        over: Option<&Project>,
    ) -> Option<Self> {
        let wall = project.head.wall();
        let outline = Outline::polygon(&edge);
        let bounded = Bounded::of(&outline)?;
        let gap = bounded.room_inside(&Bounded::of(&Outline::polygon(&wall))?);
        let thickness = plate.thickness.unwrap_or(project.plate.thickness);
        let limit = project.limits.of(Rule::PlateWall, thickness);
        let eyes: Vec<_> = plate
            .eyes
            .iter()
            .map(|eye| placement.place(eye.centre))
            .collect();
        let holes = &project.head.anchor_holes;
        let reach = |slot: &ShelfSlot| slots::reach(placement.place(slot.at), holes);
        let slots: Vec<_> = plate.slots.iter().map(reach).collect();
        let (mut drilling, beyond) = drilling::slots(project, plate, &edge, placement, &slots);
        let filing = filing::filing(&edge, &Wall::of(&wall), limit.wanted);
        let filed = (!filing.is_empty()).then(|| {
            let inside = Outline::polygon(&wall).inset(limit.wanted);
            Bounded::of(&outline.common(&inside))
        });
        let (mut lacks, mut fails) = (Vec::new(), Vec::new());
        if let Some(over) = over {
            let laid = Laid::out(over);
            drilling.extend(drilling::cable_holes(&laid, plate, placement));
            lacks = drilling::lacks(over, &laid, filed.flatten().as_ref().unwrap_or(&bounded));
            fails = evaluate_laid(over, &laid).findings;
            let of_margin = Rule::PlateWall.info().id;
            fails.retain(|found| found.state == State::Fouls && found.id != of_margin);
        }
        Some(Self {
            placement,
            margin: gap.distance,
            at_most,
            state: limit.state(gap.distance, Rule::PlateWall.info().sense),
            nearest: [gap.from.into(), gap.to.into()],
            spacings: spacings(&eyes),
            eyes,
            slots,
            filing,
            drilling,
            beyond,
            lacks,
            fails,
        })
    }
}

/// Every pair of openings, the first index below the second.
fn spacings(eyes: &[[f64; 2]]) -> Vec<Spacing> {
    let spacing = |a: usize, b: usize| Spacing {
        eyes: [a, b],
        distance: (eyes[b][0] - eyes[a][0]).hypot(eyes[b][1] - eyes[a][1]),
    };
    let pairs = (0..eyes.len()).flat_map(|a| (a + 1..eyes.len()).map(move |b| (a, b)));
    pairs.map(|(a, b)| spacing(a, b)).collect()
}
