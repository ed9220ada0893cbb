//! How one shelf plate fits one head.

use serde::Serialize;

use super::made::middle;
use super::matching::{Difference, matching};
use super::placement::Placement;
use super::plate::{ShelfPlate, ShelfSlot};
use super::search::{self, Best};
use super::slots::{self, Reach};
use super::wall::Wall;
use crate::angle::Degrees;
use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::limits::{Rule, State};
use crate::project::Project;

/// The dimension of a slot that no tie was tried in.
pub(super) const TIE_THAT_PASSES: &str = "tie that passes";

/// The dimension of a plate whose openings have no places yet.
pub(super) const SPACING: &str = "spacing";

/// What is to be said of a shelf plate for a project.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// The dimensions of its parts set that differ from the project's.
    pub differences: Vec<Difference>,
    /// What must be measured before all can be said.
    pub measure: Vec<Measure>,
    /// Its best place in the head; None if its outline is not known or it was not looked for.
    pub placed: Option<Placed>,
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
    /// A margin that no other place has more of, mm: the proof that the best one is the best.
    pub at_most: f64,
    /// The margin of the best place, mm, where the plate is kept where the eyes are instead; else None.
    pub most: Option<f64>,
    /// The margin's state, by the limit of plate and wall.
    pub state: State,
    /// Where the margin occurs: on the plate, and on the wall.
    pub nearest: [[f64; 2]; 2],
    /// Where its openings come to lie, in the plate's order; empty while its spacing is not measured.
    pub eyes: Vec<[f64; 2]>,
    /// How far its openings stand apart.
    pub spacings: Vec<Spacing>,
    /// The anchor hole nearest to each slot, in the plate's order; None in a head without any.
    pub slots: Vec<Option<Reach>>,
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
    /// All but its place.
    fn unplaced(project: &Project, plate: &ShelfPlate) -> Self {
        let (unknown, differences) = matching(plate, project)
            .into_iter()
            .partition(Difference::is_unknown);
        Self {
            differences,
            measure: measure(plate, unknown),
            placed: None,
        }
    }

    /// Whether nothing that is known of the plate's parts set differs from the project's.
    pub fn matches(&self) -> bool {
        self.differences.is_empty()
    }

    /// The margin at the best place, mm.
    pub fn margin(&self) -> Option<f64> {
        self.placed.as_ref().map(|placed| placed.margin)
    }
}

/// Finds the best place of a plate in a project's head, whatever parts it is made for: the shift and the turn, of
/// no more than [`MOST_TURN`](super::MOST_TURN) to either side, with the largest margin to the wall. It is the
/// best to within 0.02 mm, but in the rare cases in which [`Placed::at_most`] stays farther above it. Pure and
/// total; a plate that [`ShelfPlate::check`] refuses has no place.
pub fn fit(project: &Project, plate: &ShelfPlate) -> Fit {
    let said = Fit::unplaced(project, plate);
    let placed = Trial::of(project).place(plate);
    Fit { placed, ..said }
}

/// Orders plates that were tried, by their index: those that match first, then those that may once they are
/// measured, each of these by margin, the largest first; then the others.
pub fn ordered(fits: Vec<Fit>) -> Vec<(usize, Fit)> {
    let mut ranked: Vec<(usize, Fit)> = fits.into_iter().enumerate().collect();
    let class = |fit: &Fit| (!fit.matches(), !fit.measure.is_empty());
    let margin = |fit: &Fit| fit.margin().unwrap_or(f64::NEG_INFINITY);
    ranked.sort_by(|(_, a), (_, b)| {
        let by_class = class(a).cmp(&class(b));
        by_class.then(margin(b).total_cmp(&margin(a)))
    });
    ranked
}

/// A head that plates are tried in, made ready for many.
pub struct Trial<'a> {
    pub(super) project: &'a Project,
    wall: Wall,
    bounded: Option<Bounded>,
    /// The middle of the project's eyes, mm.
    eyes: [f64; 2],
}

impl<'a> Trial<'a> {
    /// Makes the head of a project ready.
    pub fn of(project: &'a Project) -> Self {
        let wall = project.head.wall();
        Self {
            project,
            wall: Wall::of(&wall),
            bounded: Bounded::of(&Outline::polygon(&wall)),
            eyes: middle(project.eyes.iter().map(|eye| eye.centre)),
        }
    }

    /// How a plate fits, as [`fit`] says; for one that does not match, no place is looked for.
    pub fn fit(&self, plate: &ShelfPlate) -> Fit {
        let said = Fit::unplaced(self.project, plate);
        let placed = if said.matches() {
            self.place(plate)
        } else {
            None
        };
        Fit { placed, ..said }
    }

    /// The best place of a plate. Of places that are as good, the one where its eyes lie as near as can be
    /// to the project's.
    fn place(&self, plate: &ShelfPlate) -> Option<Placed> {
        plate.check("plate").ok()?;
        let corners = plate.outline.as_ref()?;
        let outline: Vec<Point> = corners.iter().map(|&at| at.into()).collect();
        let wanted = self.on_the_eyes(plate);
        let Best { placement, at_most } = search::best(&outline, &self.wall, wanted)?;
        self.placed(plate, corners, placement, at_most)
    }

    /// The level place at which the middle of a plate's openings lies on that of the project's eyes.
    pub(super) fn on_the_eyes(&self, plate: &ShelfPlate) -> Placement {
        let from = plate.middle();
        Placement {
            shift: [self.eyes[0] - from[0], self.eyes[1] - from[1]],
            turn: Degrees(0.0),
        }
    }

    /// What a place gives; no place has more of a margin than `at_most`, mm.
    pub(super) fn placed(
        &self,
        plate: &ShelfPlate,
        corners: &[[f64; 2]],
        placement: Placement,
        at_most: f64,
    ) -> Option<Placed> {
        let project = self.project;
        let bounded = Bounded::of(&Outline::polygon(&placement.edge(corners)))?;
        let gap = bounded.room_inside(self.bounded.as_ref()?);
        let thickness = plate.thickness.unwrap_or(project.plate.thickness);
        let limit = project.limits.of(Rule::PlateWall, thickness);
        let centres = plate.centres().unwrap_or_default().into_iter();
        let eyes: Vec<_> = centres.map(|centre| placement.place(centre)).collect();
        let holes = &project.head.anchor_holes;
        let reach = |slot: &ShelfSlot| slots::reach(placement.place(slot.at), holes);
        Some(Placed {
            placement,
            margin: gap.distance,
            at_most,
            most: None,
            state: limit.state(gap.distance, Rule::PlateWall.info().sense),
            nearest: [gap.from.into(), gap.to.into()],
            spacings: spacings(&eyes),
            eyes,
            slots: plate.slots.iter().map(reach).collect(),
        })
    }
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
    let spacing = plate.centres().is_none().then(|| of_plate(SPACING));
    let thickness = plate.thickness.is_none().then(|| of_plate("thickness"));
    let slots = plate.slots.iter().enumerate();
    let ties = slots.filter(|(_, slot)| slot.tie.is_none());
    let ties = ties.map(|(index, _)| Measure {
        dimension: TIE_THAT_PASSES,
        part: crate::wording::slot(index),
    });
    of_parts
        .chain(outline)
        .chain(spacing)
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
