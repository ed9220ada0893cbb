//! Where a placed plate ends too early for what it carries.

use serde::Serialize;

use super::ground::{Beside, Ground, Hole};
use crate::cable_hole::MEASURED;
use crate::geometry::{Gap, Point};
use crate::laid::Laid;
use crate::limits::{Limit, Rule, Sense, State};
use crate::lug::FOOT_MARGIN;
use crate::project::Project;
use crate::report::Finding;
use crate::wording;

/// Material that a plate lacks round something.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lack {
    /// What it is missing round.
    pub part: String,
    /// What of the plate comes too near to it; None: its edge.
    pub beside: Option<String>,
    /// Whether it is there and comes too near as it is; else it is still to be made, and has no room.
    #[serde(skip)]
    pub(super) is_there: bool,
    /// Whether what there is will do. It will not for a hole that is still to be made.
    pub state: State,
    /// What there is, mm; negative where the part reaches beyond the edge.
    pub web: f64,
    /// What is wanted, mm.
    pub wanted: f64,
    /// By how much the plate ends too early, mm.
    pub by: f64,
    /// Where the web is least: on the part and on the edge, (x, y) in the head, mm.
    pub place: [[f64; 2]; 2],
    /// Where on the edge that is, in the plate's own frame, mm.
    pub at_on_plate: [f64; 2],
    /// The finding that would say the same.
    #[serde(skip)]
    pub(super) without: Option<Without>,
}

/// A finding that is not told since a lack says the same.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Without {
    pub(super) rule: Rule,
    pub(super) parts: String,
}

impl Lack {
    /// Whether it is about a cable hole that the plate has.
    pub(super) fn is_about_plate_hole(&self) -> bool {
        let parts = [Some(&self.part), self.beside.as_ref()];
        let mut parts = parts.into_iter().flatten();
        parts.any(|part| wording::is_about_plate_hole(part))
    }

    /// Whether it says what a finding would.
    pub(super) fn says(&self, finding: &Finding) -> bool {
        let same = |own: &Without| own.rule.info().id == finding.id && own.parts == finding.part;
        self.without.as_ref().is_some_and(same)
    }
}

/// Something that a plate must reach round.
struct Carried {
    part: String,
    /// It is every place within `radius`, mm, of this polygon.
    core: Vec<Point>,
    radius: f64,
    limit: Limit,
}

/// Where a plate with this edge ends too early for the openings, slots and lugs of the project that
/// was laid out round it, and what comes too near to the cable holes that it has itself. Layouts add a rim or a pad
/// there; a plate that exists has none.
pub(super) fn lacks(ground: &Ground) -> Vec<Lack> {
    let to_edge = carried(&ground.project, ground.laid)
        .into_iter()
        .filter_map(|own| {
            let gap = ground.edge.room_around_polygon(&own.core)?;
            lack(ground, own.part, None, (gap.grown(own.radius), own.limit))
        });
    to_edge.chain(of_holes(ground)).collect()
}

/// A web that is thinner than is wanted, between a part and what is `beside` it, or the edge.
fn lack(
    ground: &Ground,
    part: String,
    beside: Option<String>,
    (gap, limit): (Gap, Limit),
) -> Option<Lack> {
    let wanted = limit.wanted.max(0.0);
    let by = wanted - gap.distance;
    (by > MEASURED).then(|| Lack {
        part,
        beside,
        is_there: true,
        state: limit.state(gap.distance, Sense::AtLeast),
        web: gap.distance,
        wanted,
        by,
        place: [gap.from.into(), gap.to.into()],
        at_on_plate: ground.placement.back(gap.to.into()),
        without: None,
    })
}

/// The webs from a plate's own cable holes to its edge and to all that is beside them.
fn of_holes(ground: &Ground) -> Vec<Lack> {
    let (project, holes) = (&ground.project, ground.holes.iter().enumerate());
    let of_hole = |(index, hole): (usize, &Hole)| {
        let part = ground.name_of(Beside::Hole(hole.of)).unwrap_or_default();
        let later = ground.holes.iter().skip(index + 1);
        let webs = ground.webs_of(&hole.shape, later).into_iter();
        webs.filter_map(move |(beside, rule, gap)| {
            let limit = project.limits.of(rule, project.plate.thickness);
            lack(ground, part.clone(), ground.name_of(beside), (gap, limit))
        })
    };
    holes.flat_map(of_hole).collect()
}

fn carried(project: &Project, laid: &Laid) -> Vec<Carried> {
    let limit = |rule| project.limits.of(rule, project.plate.thickness);
    let openings = laid.eyes.iter().enumerate().filter_map(|(index, eye)| {
        let opening = eye.opening()?;
        Some(Carried {
            part: project.eye_name(index),
            core: vec![opening.centre],
            radius: opening.radius,
            limit: limit(Rule::Rim),
        })
    });
    let slots = project
        .ties
        .iter()
        .enumerate()
        .map(|(index, slot)| Carried {
            part: wording::slot(index),
            core: slot.core().to_vec(),
            radius: slot.corner_radius(),
            limit: limit(Rule::SlotEdge),
        });
    let lugs = laid.eyes.iter().enumerate().flat_map(|(index, eye)| {
        let sides = ["left lug", "right lug"].into_iter();
        let name = project.eye_name(index);
        let lugs = sides.zip(eye.lugs.into_iter().flatten());
        lugs.map(move |(side, lug)| Carried {
            part: wording::piece(side, &name),
            core: lug.foot().to_vec(),
            radius: 0.0,
            // The foot must stand on the plate; the rest is room for its fillet of glue.
            limit: Limit::from((0.0, FOOT_MARGIN)),
        })
    });
    openings.chain(slots).chain(lugs).collect()
}
