//! What is to be done to a shelf plate at its place, and what comes of it.

use serde::Serialize;

use super::drilling::{self, Beyond, Drilling};
use super::failing;
use super::filing::{self, Filing};
use super::fit::Placed;
use super::lacks::{self, Lack};
use super::plate::ShelfPlate;
use super::taken::taken;
use super::wall::Wall;
use super::wording;
use crate::evaluate_laid;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::laid::Laid;
use crate::limits::{Rule, State};
use crate::problem::Problem;
use crate::project::Project;
use crate::report::Finding;

/// What is to be done to a placed plate. Places are (x, y) in the project's frame, mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Work {
    /// Where it must be filed so that it keeps the wanted clearance.
    pub filing: Vec<Filing>,
    /// Which holes must be made or widened.
    pub drilling: Vec<Drilling>,
    /// The anchor holes that ties run to and that no slot of the plate could reach.
    pub beyond: Vec<Beyond>,
    /// What it has too little material for, or would once it is filed.
    pub lacks: Vec<Lack>,
    /// What else the plate makes foul, or foul more, once it is taken over, the worst first; empty if it cannot be.
    pub fails: Vec<Finding>,
    /// What fouls then and as much without it, the worst first.
    pub fails_anyway: Vec<Finding>,
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

/// What is to be done to a plate, placed in a project's head as [`fit`](super::fit()) found. The project is laid out
/// round it and evaluated for that. Pure and total.
pub fn work(project: &Project, plate: &ShelfPlate, placed: &Placed) -> Work {
    let placement = placed.placement;
    let corners = plate.outline.as_deref().unwrap_or_default();
    let edge = placement.edge(corners);
    let (wall, outline) = (project.head.wall(), Outline::polygon(&edge));
    let thickness = plate.thickness.unwrap_or(project.plate.thickness);
    let wanted = project.limits.of(Rule::PlateWall, thickness).wanted;
    let (drilling, beyond) = drilling::slots(project, plate, &edge, placement, &placed.slots);
    let mut work = Work {
        filing: filing::filing(&edge, placement, &Wall::of(&wall), wanted),
        drilling,
        beyond,
        lacks: Vec::new(),
        fails: Vec::new(),
        fails_anyway: Vec::new(),
        refused: None,
    };
    let filed = if work.filing.is_empty() {
        None
    } else {
        let inside = Outline::polygon(&wall).inset(wanted);
        Bounded::of(&outline.common(&inside))
    };
    let over = taken(project, plate, placement)
        .ok_or_else(|| wording::not_taken(plate.eyes.len(), project.eyes.len()))
        .and_then(|over| over.check().map(|()| over));
    match over {
        Ok(over) => {
            let laid = Laid::out(&over);
            let holes = drilling::cable_holes(&laid, plate, placement);
            work.drilling.extend(holes);
            if let Some(left) = filed.or_else(|| Bounded::of(&outline)) {
                work.lacks = lacks::lacks(&over, &laid, &left, placement);
            }
            let findings = evaluate_laid(&over, &laid).findings;
            [work.fails, work.fails_anyway] = failing::parted(project, findings);
        }
        Err(problem) => work.refused = Some(problem),
    }
    work
}
