//! A route that the program proposes for a sheath.

mod blocked;
mod climb;
mod ground;
mod map;
mod scatter;
mod webs;

use std::collections::BTreeMap;
use std::f64::consts::PI;

pub use blocked::Blocked;

use crate::edit::Edit;
use crate::evaluate::evaluate_laid;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::geometry::space::Place;
use crate::laid::Laid;
use crate::limits::{Rule, State};
use crate::project::Project;
use crate::report::{Finding, Report};
use crate::route::Route;
use climb::{MORE_STEPS, Room, Try};
use ground::{Ground, Level, Sought};

/// How far beyond stop and exit corners are looked for, in bend radii and ball diameters: enough to go
/// round a ball. Own choice.
const AROUND: [f64; 2] = [1.5, 1.0];

/// How many of the best tries are held against all rules.
const CHECKED: usize = 4;

/// How many tries are improved once more, the drive's own route among them.
const FINISHED: usize = 4;

/// How many of the best tries are improved to keep at least what they must.
const TIGHTENED: usize = 8;

/// What a sheath that is there may gain as a multiple of another that is as clear: for less, none is laid
/// again. Own choice.
const SLIGHT: f64 = 1.02;

/// The rules about a sheath that its route can change.
const RULES: [Rule; 15] = [
    Rule::RouteShape,
    Rule::SheathPlate,
    Rule::SheathBall,
    Rule::SheathRing,
    Rule::SheathLid,
    Rule::SheathLever,
    Rule::SheathWall,
    Rule::InFront,
    Rule::SheathGap,
    Rule::GuardClearance,
    Rule::HoleOpening,
    Rule::HoleSlot,
    Rule::HoleEdge,
    Rule::HoleGap,
    Rule::LugHole,
];

/// The rules that a plate can break which the holes of a route make larger.
const PLATE_RULES: [Rule; 4] = [
    Rule::PlateWall,
    Rule::Access,
    Rule::LeverPlate,
    Rule::SheathPlate,
];

/// A route for a sheath.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The corners that it cuts, in the plate's frame, mm: what a drive keeps as its `via`.
    pub via: Vec<[f64; 3]>,
    /// The worst state that [`evaluate`](crate::evaluate()) finds in what the route decides; never
    /// `Fouls`.
    pub state: State,
    /// The way of the sheath round them.
    pub route: Route,
    /// How many times as hard as the lever the hand must pull by the route's bends: e^(μΦ).
    pub gain: f64,
}

/// Proposes a route for the sheath of drive `index`: clear of everything if one was found, else at
/// least not fouling, with as little bend as was found; of equal ones the shortest. Stop, lead and exit
/// stay. If `mirrored` and another drive's sheath is its mirror image, both are to follow: then they keep
/// from each other. Pure and bounded: the same answer each time, after a bounded number of tries.
///
/// # Errors
/// [`Blocked`] if there is no such drive, if it is locked or cannot work, or if no way was found, with
/// what stands in it.
pub fn route(
    project: &Project,
    laid: &Laid,
    index: usize,
    mirrored: bool,
) -> Result<Proposal, Blocked> {
    let (Some(drive), Some(worked_out)) = (project.drives.get(index), laid.drives.get(index))
    else {
        return Err(Blocked::NoDrive);
    };
    if drive.locked {
        return Err(Blocked::Locked(drive.name.clone()));
    }
    let pull = worked_out.pull.as_ref();
    let pull = pull.map_err(|problem| Blocked::CannotWork(problem.clone()))?;
    let partner = project.mirror_route(index).filter(|_| mirrored);
    let sought = Sought { index, partner };
    let mut without = project.clone();
    let gone = [Some(index), partner];
    let drives = without.drives.into_iter().enumerate();
    let kept = drives.filter(|(drive, _)| !gone.contains(&Some(*drive)));
    without.drives = kept.map(|(_, drive)| drive).collect();
    let laid_without = Laid::out(&without);
    let outline = Bounded::of(&laid_without.plate);
    let judge = Judge {
        project,
        sought,
        without: of_plate(&evaluate_laid(&without, &laid_without)),
    };
    let wall = Bounded::of(&Outline::polygon(&laid.wall));
    let ground = Ground::new(project, laid, sought, pull, outline.as_ref(), wall.as_ref());
    let in_the_way = ground.fixed_in();
    if !in_the_way.is_empty() {
        return Err(Blocked::fixed(in_the_way));
    }
    let room = room(project, &ground, wall.as_ref());
    let found = found(&judge, &ground, &room)?;
    if found.via == drive.via {
        return Ok(found);
    }
    let present = present(&judge, &ground);
    let is_as_good = |own: &Proposal| own.state <= found.state && own.gain <= SLIGHT * found.gain;
    Ok(present.filter(is_as_good).unwrap_or(found))
}

/// The route that the drive has, if it can be laid and nothing that it decides fouls.
fn present(judge: &Judge, ground: &Ground) -> Option<Proposal> {
    let via = &ground.drive().via;
    let corners: Vec<Place> = via.iter().map(|&at| at.into()).collect();
    let route = ground.lay(&corners);
    let state = judge.state(via);
    (route.is_laid() && state != State::Fouls)
        .then(|| Proposal::of(ground, via.clone(), route, state))
}

impl Proposal {
    fn of(ground: &Ground, via: Vec<[f64; 3]>, route: Route, state: State) -> Self {
        Self {
            via,
            state,
            gain: ground.gain(&route),
            route,
        }
    }
}

fn found(judge: &Judge, ground: &Ground, room: &Room) -> Result<Proposal, Blocked> {
    let direct = ground.lay(&[]);
    if direct.is_laid() && direct.total_bend() <= PI && judge.state(&[]) == State::Clear {
        // What turns to its exit at once, and not more than half round, bends least: to go on first, or
        // to the other side, only adds to the turn.
        return Ok(Proposal::of(ground, Vec::new(), direct, State::Clear));
    }
    let mut tries = climb::search(ground, room, Level::Wanted);
    let drawn: Vec<Place> = ground.drive().via.iter().map(|&via| via.into()).collect();
    tries.insert(0, Try::new(ground, drawn, Level::Wanted));
    for one in tries.iter_mut().take(FINISHED) {
        *one = one.clone().improved(ground, Level::Wanted, MORE_STEPS);
    }
    let fewer = tries.iter().take(FINISHED).flat_map(Try::with_fewer);
    let fewer = fewer.map(|via| {
        Try::new(ground, via, Level::Wanted).improved(ground, Level::Wanted, MORE_STEPS)
    });
    let fewer: Vec<Try> = fewer.collect();
    tries.extend(fewer);
    if let Some(proposal) = checked(judge, ground, tries.clone()) {
        return Ok(proposal);
    }
    tries.sort_by(|a, b| a.worth.total_cmp(&b.worth));
    let tight = tries.into_iter().take(TIGHTENED).map(|one| {
        Try::new(ground, one.via, Level::Least).improved(ground, Level::Least, MORE_STEPS)
    });
    let mut tight: Vec<Try> = tight.collect();
    if let Some(proposal) = checked(judge, ground, tight.clone()) {
        return Ok(proposal);
    }
    tight.sort_by(|a, b| a.worth.total_cmp(&b.worth));
    // What the best try runs into: more names would only be those of other ways.
    let best = tight.first();
    let parts = best.map_or_else(Vec::new, |best| ground.in_the_way(&best.via));
    Err(Blocked::on_the_way(parts))
}

/// The best of those tries that keep what they must and that no rule finds to foul: a clear one, if
/// any is.
fn checked(judge: &Judge, ground: &Ground, mut tries: Vec<Try>) -> Option<Proposal> {
    tries.retain(|one| Ground::keeps(one.worth));
    tries.sort_by(|a, b| a.worth.total_cmp(&b.worth));
    let mut best = None::<Proposal>;
    for one in tries.iter().take(CHECKED) {
        let via: Vec<[f64; 3]> = one.via.iter().map(|&at| at.into()).collect();
        let state = judge.state(&via);
        if best.as_ref().map_or(State::Fouls, |best| best.state) > state {
            let route = ground.lay(&one.via);
            best = Some(Proposal::of(ground, via, route, state));
        }
        if state == State::Clear {
            break;
        }
    }
    best
}

/// What says how good a route of the sought drive is.
struct Judge<'a> {
    project: &'a Project,
    sought: Sought,
    /// What the rules find about the plate without the drive, and without its mirror image.
    without: BTreeMap<(&'static str, String), State>,
}

impl Judge<'_> {
    /// The worst that the rules find in what a route decides, its mirror image taken along: about the sheath, and
    /// about the plate, which its holes may make larger.
    fn state(&self, via: &[[f64; 3]]) -> State {
        let index = self.sought.index;
        let set = Edit::SetRoute {
            index,
            via: via.to_vec(),
            mirrored: self.sought.partner.is_some(),
        };
        let Ok(project) = set.apply(self.project) else {
            return State::Fouls;
        };
        let report = evaluate_laid(&project, &Laid::out(&project));
        let own = decided(&report, &project.drives[index].name).map(|finding| finding.state);
        let of_plate = of_plate(&report);
        let worse = { of_plate.iter() }
            .filter(|(about, state)| { self.without.get(about) }.is_some_and(|was| was < state));
        let worse = worse.map(|(_, state)| *state);
        own.chain(worse).max().unwrap_or(State::Clear)
    }
}

/// What the rules that a larger plate can break find, each with its part.
fn of_plate(report: &Report) -> BTreeMap<(&'static str, String), State> {
    let findings = report.findings.iter();
    let of_plate =
        findings.filter(|found| PLATE_RULES.iter().any(|rule| rule.info().id == found.id));
    let found = of_plate.map(|found| ((found.id, found.part.clone()), found.state));
    found.collect()
}

/// The findings about the drive of a name that its route decides.
pub fn decided<'r>(report: &'r Report, name: &str) -> impl Iterator<Item = &'r Finding> {
    let (first, second) = (format!("{name} and "), format!(" and {name}"));
    let name = name.to_owned();
    report.findings.iter().filter(move |finding| {
        let part = &finding.part;
        let is_own = *part == name || part.starts_with(&first) || part.ends_with(&second);
        is_own && RULES.iter().any(|rule| rule.info().id == finding.id)
    })
}

/// Where corners are looked for: about stop and exit, within the head in plan.
fn room(project: &Project, ground: &Ground, wall: Option<&Bounded>) -> Room {
    let ball = project.parts_of(ground.drive().moves.eye()).ball_diameter;
    let around = AROUND[0] * ground.start.radius + AROUND[1] * ball;
    let (stop, exit) = (ground.start.stop, ground.exit);
    let around = nalgebra::Vector3::repeat(around);
    let (mut low, mut high) = (stop.inf(&exit) - around, stop.sup(&exit) + around);
    if let Some([in_head, to]) = wall.map(Bounded::corners) {
        for axis in 0..2 {
            low[axis] = low[axis].max(in_head[axis]);
            high[axis] = high[axis].min(to[axis]).max(low[axis]);
        }
    }
    Room { low, high }
}
