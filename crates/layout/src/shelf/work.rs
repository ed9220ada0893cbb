//! What is to be done to a shelf plate at its place, and what comes of it.

use serde::Serialize;

use super::drilling::Drilling;
use super::failing;
use super::filing::{self, Filing};
use super::fit::Placed;
use super::ground::Ground;
use super::lacks::{self, Lack};
use super::new_holes;
use super::new_slots::{self, Beyond};
use super::plate::{MOST_CORNERS, ShelfPlate};
use super::taken::taken;
use super::thinned::thinned;
use super::wall::Wall;
use super::wording;
use crate::cable_hole::PlateHole;
use crate::closed_curve::{self, CurveOf};
use crate::evaluate_laid;
use crate::geometry::outline::Outline;
use crate::geometry::polygon::FLATTENING;
use crate::laid::Laid;
use crate::limits::{Rule, State};
use crate::problem::Problem;
use crate::project::Project;
use crate::report::Finding;
use crate::tie::TieSlot;

/// How much more is filed off than must be, mm, so that no corner that is left out makes the wall tight.
const SPARE: f64 = 2.0 * FLATTENING;

/// What is to be done to a placed plate. Places are (x, y) in the project's frame, mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Work {
    /// Where it must be filed so that it keeps the wanted clearance.
    pub filing: Vec<Filing>,
    /// Which holes must be made or widened.
    pub drilling: Vec<Drilling>,
    /// The anchor holes that ties run to and that no slot of the plate could reach.
    pub beyond: Vec<Beyond>,
    /// Its slots once they are made and widened as is said, those that it has first; empty if it cannot be taken over.
    #[serde(skip)]
    pub slots: Vec<TieSlot>,
    /// Its own cable holes once they are widened as is said.
    #[serde(skip)]
    pub cable_holes: Vec<PlateHole>,
    /// The corners of its edge as filing leaves it; None where nothing must be filed, or where that leaves no plate.
    #[serde(skip)]
    pub filed: Option<Vec<[f64; 2]>>,
    /// What it has too little material for, or would once it is filed.
    pub lacks: Vec<Lack>,
    /// What else the plate makes foul, or foul more, once it is taken over, the worst first; empty if it cannot be.
    pub fails: Vec<Finding>,
    /// What fouls then and as much without it, the worst first.
    pub fails_anyway: Vec<Finding>,
    /// How many things are tight then: findings, and webs of the plate's own cable holes.
    pub tight: usize,
    /// Why it cannot be taken over; None if it can.
    pub refused: Option<Problem>,
}

impl Work {
    /// The most that must be filed off anywhere, mm; None if nothing must.
    pub fn deepest_filing(&self) -> Option<f64> {
        self.filing.iter().map(|own| own.depth).reduce(f64::max)
    }

    /// How many things foul with the plate: what it makes foul, and what it has too little material for.
    pub fn fouls(&self) -> usize {
        let lacks = self.lacks.iter();
        self.fails.len() + lacks.filter(|lack| lack.state == State::Fouls).count()
    }
}

/// The corners of a filed edge; None if they are no edge of a plate.
fn corners_of(edge: &Outline) -> Option<Vec<[f64; 2]>> {
    let corners = thinned(&edge.flattened(), MOST_CORNERS).into_iter();
    let corners: Vec<[f64; 2]> = corners.map(Into::into).collect();
    let checked = closed_curve::check(CurveOf::Plate, "outline", &corners, false);
    checked.is_ok().then_some(corners)
}

/// What is to be done to a plate, placed in a project's head as [`fit`](super::fit()) found. The project is laid out
/// round it and evaluated for that; where it cannot be, no hole is ordered, since nobody knows what it would come near.
/// Pure and total.
pub fn work(project: &Project, plate: &ShelfPlate, placed: &Placed) -> Work {
    let placement = placed.placement;
    let corners = plate.outline.as_deref().unwrap_or_default();
    let edge = placement.edge(corners);
    let (wall, outline) = (project.head.wall(), Outline::polygon(&edge));
    let thickness = plate.thickness.unwrap_or(project.plate.thickness);
    let wanted = project.limits.of(Rule::PlateWall, thickness).wanted;
    let mut work = Work {
        filing: filing::filing(&edge, placement, &Wall::of(&wall), wanted),
        drilling: Vec::new(),
        beyond: Vec::new(),
        slots: Vec::new(),
        cable_holes: Vec::new(),
        filed: None,
        lacks: Vec::new(),
        fails: Vec::new(),
        fails_anyway: Vec::new(),
        tight: 0,
        refused: None,
    };
    let inside = |off: f64| outline.common(&Outline::polygon(&wall).inset(wanted + off));
    let must_be_filed = !work.filing.is_empty();
    work.filed = must_be_filed
        .then(|| inside(SPARE))
        .and_then(|filed| corners_of(&filed));
    let filed = must_be_filed.then(|| inside(0.0));
    let left = filed.filter(|filed| !filed.is_empty()).unwrap_or(outline);
    let over = taken(project, plate, placement)
        .ok_or_else(|| wording::not_taken(plate.eyes.len(), project.eyes.len()))
        .and_then(|over| over.check().map(|()| over));
    match over {
        Ok(mut over) => {
            let wider = new_slots::widen(project, plate, &mut over, placement);
            let laid = Laid::out(&over);
            if let Some(mut ground) = Ground::of(&over, &laid, plate, &left, placement) {
                work.lacks = lacks::lacks(&ground);
                let (holes, too_thin) = new_holes::cable_holes(&mut ground);
                let (slots, beyond) = new_slots::missing(project, &mut ground, &placed.slots);
                work.drilling = [wider, slots, holes].concat();
                work.lacks.extend(too_thin);
                work.beyond = beyond;
                work.cable_holes = ground.holes_of_plate().collect();
                work.slots = ground.project.ties;
            }
            let mut findings = evaluate_laid(&over, &laid).findings;
            findings.retain(|found| !work.lacks.iter().any(|lack| lack.says(found)));
            let is_tight = |state: State| state == State::Tight;
            // The project that was evaluated knows nothing of the plate's own holes.
            let of_holes = work.lacks.iter().filter(|own| own.is_about_plate_hole());
            work.tight = findings.iter().filter(|own| is_tight(own.state)).count()
                + of_holes.filter(|own| is_tight(own.state)).count();
            [work.fails, work.fails_anyway] = failing::parted(project, findings);
        }
        Err(problem) => work.refused = Some(problem),
    }
    work
}
