//! What a route is searched on: what it must keep from, and what a try at it is worth.

use std::cell::Cell;

use super::map::Map;
use super::webs::{self, Web};
use crate::cable_hole::CableHole;
use crate::drive::Drive;
use crate::force;
use crate::geometry::bounded::Bounded;
use crate::geometry::space::{Piece, Place};
use crate::laid::Laid;
use crate::laid_drive;
use crate::limits::{Limit, Rule, TOLERANCE};
use crate::obstacle::{self, Body, Obstacle};
use crate::project::Project;
use crate::pull::Pull;
use crate::route::{Fault, Route, Start};

/// Distance of the places along a route that are measured where it is near something, mm: what lies
/// between them is allowed for.
const STEP: f64 = 1.0;

/// The same where it is too near, mm: how much it is need not be measured as closely.
const STEP_WITHIN: f64 = 3.0;

/// Most places measured along a route for one obstacle: a longer one takes longer steps.
const MOST_PLACES: f64 = 500.0;

/// Any try that comes too near to something is worse than all that do not by at least this, radians:
/// far more than any route bends.
const FOULS: f64 = 1e3;

/// Any try that cannot be laid is worse by at least this than all that can.
const UNLAID: f64 = 1e9;

/// The most that a fault counts, mm: a leg before a turn right round lacks more than any number.
const MOST_LACKING: f64 = 1e6;

/// What a millimetre of length counts, radians of bend: it decides only between equal bends. Own
/// choice.
const LENGTH: f64 = 1e-4;

/// What a hole in the plate counts, radians of bend, about 6°: it is more work, and weakens the plate.
/// Own choice.
const HOLE: f64 = 0.1;

/// What a corner counts, radians of bend, about half a degree: fewer are easier to make. Own choice.
const CORNER: f64 = 0.01;

/// What a margin below the wanted one counts for each millimetre that it lacks and millimetre of way,
/// radians of bend: 1 mm along 10 mm is as bad as 12°. Own choice.
const TIGHT: f64 = 0.02;

/// What a route is to keep beyond what is wanted, mm, where its way allows it: the search measures from place to
/// place and on a map, and a little less than it found would no longer be clear.
const SPARE: f64 = 0.1;

/// The way along which a web that is too narrow counts, mm: it weighs as much as a sheath that comes too
/// near to something along this much. Own choice.
const WEB: f64 = 10.0;

/// How much of its margins a route must keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Level {
    /// All that is wanted, as far as lead and exit, which stay where they are, allow it.
    Wanted,
    /// What must hold.
    Least,
}

/// The drive whose route is sought, and the one whose sheath is to be its mirror image.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sought {
    pub(super) index: usize,
    pub(super) partner: Option<usize>,
}

/// The surroundings of one drive's sheath.
pub(super) struct Ground<'a> {
    project: &'a Project,
    laid: &'a Laid,
    index: usize,
    partner: Option<usize>,
    pull: &'a Pull,
    outline: Option<&'a Bounded>,
    kept: Vec<Kept<'a>>,
    last_in_the_way: Cell<usize>,
    /// Those of the holes for lead and wire.
    webs: Vec<Web>,
    pub(super) start: Start,
    pub(super) exit: Place,
}

/// Something to keep from, how far the sheath's centre line must and how far it should, mm, and how near
/// lead and exit already are.
struct Kept<'a> {
    obstacle: Obstacle<'a>,
    least: f64,
    wanted: f64,
    fixed: f64,
    /// Of plate or wall.
    map: Option<Map<'a>>,
}

impl<'a> Ground<'a> {
    /// Of drive `index`, on a plate and in a wall that were laid out without it.
    pub(super) fn new(
        project: &'a Project,
        laid: &'a Laid,
        sought: Sought,
        pull: &'a Pull,
        outline: Option<&'a Bounded>,
        wall: Option<&'a Bounded>,
    ) -> Self {
        let index = sought.index;
        let drive = &project.drives[index];
        let guard = laid.guard.as_ref().ok();
        let guard = guard
            .into_iter()
            .flat_map(|g| [Body::Mesh(g), Body::Hand(g)]);
        let others = laid.drives.iter().enumerate();
        let others = others.filter(|(other, _)| *other != index && Some(*other) != sought.partner);
        let mirror = sought.partner.map(|_| Body::Mirror {
            side: 1.0_f64.copysign(drive.exit[0]),
        });
        let sheaths = others.filter_map(|(other, laid)| Obstacle::sheath(other, laid));
        let plate = outline.map(|outline| Body::Plate {
            outline,
            holes: &[],
            thickness: project.plate.thickness,
        });
        let obstacles = obstacle::of_eyes(project, laid)
            .into_iter()
            .chain(guard.map(Obstacle::only))
            .chain(sheaths)
            .chain(mirror.map(Obstacle::only))
            .chain(obstacle::levers(laid, drive))
            .chain([Obstacle::only(Body::Face)])
            .chain(plate.map(Obstacle::only))
            .chain(wall.map(Body::Wall).map(Obstacle::only));
        let mut ground = Self {
            project,
            laid,
            index,
            partner: sought.partner,
            pull,
            outline,
            kept: Vec::new(),
            last_in_the_way: Cell::new(0),
            webs: Vec::new(),
            start: laid_drive::start(drive, pull),
            exit: drive.exit.into(),
        };
        let lead = ground.lead();
        let holes = ground.holes(&lead);
        ground.webs = ground.webs_of(&holes);
        ground.kept = obstacles
            .map(|one| ground.keep(one, &lead, &holes))
            .collect();
        ground
    }

    pub(super) fn drive(&self) -> &'a Drive {
        &self.project.drives[self.index]
    }

    /// The route round some corners.
    pub(super) fn lay(&self, via: &[Place]) -> Route {
        Route::lay(&self.start, via, self.exit)
    }

    /// How many times as hard as the lever the hand must pull by a route's bends.
    pub(super) fn gain(&self, route: &Route) -> f64 {
        force::pull_gain(self.drive().cable.friction, route.total_bend())
    }

    /// What a try is worth, the less the better: below [`FOULS`] the radians that it bends, and what
    /// else counts as bend; above, how much it comes too near to things. No more than that it is worse
    /// is said where it is worse than `best`.
    pub(super) fn worth(&self, via: &[Place], level: Level, best: f64) -> f64 {
        let route = self.lay(via);
        if !route.is_laid() {
            let lacking = route.faults.iter().map(Fault::lacks);
            return UNLAID + lacking.map(|mm| mm.min(MOST_LACKING)).sum::<f64>();
        }
        let worth = route.total_bend() + LENGTH * route.length() + CORNER * via.len() as f64;
        if worth >= best {
            return worth;
        }
        let holes = self.holes(&route.pieces);
        let made = holes.iter().filter(|hole| !self.laid.has_hole_for(hole));
        let worth = worth + HOLE * made.count() as f64;
        let mut lacks = Lacks::default();
        let is_beaten = |lacks: Lacks| lacks.hard > 0.0 && FOULS + lacks.hard >= best;
        // What stood in the way of the last try most likely stands in that of this one.
        let first = self.last_in_the_way.get();
        let others = (0..self.kept.len()).filter(|&index| index != first);
        for index in [first].into_iter().chain(others) {
            let Some(kept) = self.kept.get(index).filter(|_| !is_beaten(lacks)) else {
                continue;
            };
            let kept = kept.lacks(&route, &holes, level);
            if kept.hard > 0.0 {
                self.last_in_the_way.set(index);
            }
            lacks = lacks.and(kept);
        }
        if !is_beaten(lacks) {
            lacks = lacks.and(self.webs_lack(&holes, level));
        }
        if lacks.hard > 0.0 {
            FOULS + lacks.hard
        } else {
            worth + TIGHT * lacks.soft
        }
    }

    /// Whether a worth is that of a route that keeps what it must.
    pub(super) fn keeps(worth: f64) -> bool {
        worth < FOULS
    }

    /// What lead, wire or exit already stand in: then no route helps.
    pub(super) fn fixed_in(&self) -> Vec<String> {
        let kept = self.kept.iter();
        let kept = kept.filter(|kept| kept.fixed < kept.least - TOLERANCE);
        let webs = self.webs.iter();
        let webs = webs.filter(|web| web.width < self.limit(web.rule).least - TOLERANCE);
        kept.map(|kept| kept.obstacle.name(self.project))
            .chain(webs.map(|web| web.name.clone()))
            .collect()
    }

    /// What stands in the way of a try; nothing if it cannot even be laid.
    pub(super) fn in_the_way(&self, via: &[Place]) -> Vec<String> {
        let route = self.lay(via);
        if !route.is_laid() {
            return Vec::new();
        }
        let holes = self.holes(&route.pieces);
        let kept = self.kept.iter();
        let kept = kept.filter(|kept| kept.lacks(&route, &holes, Level::Least).hard > 0.0);
        let webs = self.webs_of(&holes).into_iter();
        let webs = webs.filter(|web| self.web_lacks(web, Level::Least) > 0.0);
        kept.map(|kept| kept.obstacle.name(self.project))
            .chain(webs.map(|web| web.name))
            .collect()
    }

    fn lead(&self) -> [Piece; 1] {
        let Start {
            stop,
            heading,
            lead,
            ..
        } = self.start;
        [Piece::straight(stop, stop + heading * lead)]
    }

    fn limit(&self, rule: Rule) -> Limit {
        self.project.limits.of(rule, self.project.plate.thickness)
    }

    fn keep(&self, obstacle: Obstacle<'a>, lead: &[Piece], holes: &[CableHole]) -> Kept<'a> {
        let own_radius = self.laid.drives[self.index].sheath_radius;
        let limit = self.limit(obstacle.rule());
        let needed = |margin: f64| match obstacle.body {
            Body::Hand(_) => 0.0,
            // A rule about how far in front at most: none is proposed that could stay behind.
            Body::Face => -limit.wanted,
            Body::Mirror { .. } => margin / 2.0 + own_radius,
            _ => margin + own_radius,
        };
        let with_holes = obstacle.with_holes(holes);
        let in_plate = (-self.project.plate.thickness..=0.0).contains(&self.exit.z);
        let at_exit = match obstacle.body {
            // It gets a hole there.
            Body::Plate { .. } if in_plate => f64::INFINITY,
            _ => with_holes.distance(self.exit, f64::INFINITY),
        };
        let lead_end = lead.last().map(|lead| lead.at(1.0));
        let lead_end = lead_end.map(|end| Piece::straight(end, end));
        let along = match obstacle.body {
            // It counts from there on.
            Body::OwnLever(_) => with_holes.near(lead_end.as_slice(), f64::INFINITY),
            _ => with_holes.near(lead, f64::INFINITY),
        };
        let fixed = along.map_or(at_exit, |near| near.distance.min(at_exit));
        let least = needed(limit.least);
        Kept {
            obstacle,
            least: match obstacle.body {
                // Where lead or exit stand in front, they may.
                Body::Face => least.min(fixed),
                _ => least,
            },
            wanted: needed(limit.wanted) + SPARE,
            fixed,
            map: match obstacle.body {
                Body::Plate { outline, .. } | Body::Wall(outline) => Some(Map::new(outline)),
                _ => None,
            },
        }
    }

    /// The holes that a sheath needs in the plate.
    fn holes(&self, pieces: &[Piece]) -> Vec<CableHole> {
        let Some(outline) = self.outline else {
            return Vec::new();
        };
        let mut holes = laid_drive::holes(self.project, self.drive(), self.pull, pieces);
        holes.retain(|hole| hole.lies_in(outline));
        holes
    }

    fn webs_of(&self, holes: &[CableHole]) -> Vec<Web> {
        webs::of(
            self.project,
            self.laid,
            [Some(self.index), self.partner],
            holes,
        )
    }

    fn webs_lack(&self, holes: &[CableHole], level: Level) -> Lacks {
        let webs = self.webs_of(holes);
        let sum = |level| {
            webs.iter()
                .map(|web| self.web_lacks(web, level))
                .sum::<f64>()
        };
        Lacks {
            hard: sum(level) * WEB,
            soft: sum(Level::Wanted) * WEB,
        }
    }

    /// By how much a web is too narrow, mm; those of lead and wire are as they are.
    fn web_lacks(&self, web: &Web, level: Level) -> f64 {
        let limit = self.limit(web.rule);
        let needed = match level {
            Level::Wanted => limit.wanted,
            Level::Least => limit.least,
        };
        let fixed = self.webs.iter().find(|fixed| fixed.rule == web.rule);
        let needed = fixed.map_or(needed, |fixed| fixed.width.min(needed));
        (needed - TOLERANCE - web.width).max(0.0)
    }
}

/// What a try lacks of its margins, mm along mm of way: of those that it must keep, and of those that
/// are wanted.
#[derive(Clone, Copy, Debug, Default)]
struct Lacks {
    hard: f64,
    soft: f64,
}

impl Lacks {
    fn and(self, other: Self) -> Self {
        Self {
            hard: self.hard + other.hard,
            soft: self.soft + other.soft,
        }
    }
}

impl Kept<'_> {
    fn lacks(&self, route: &Route, holes: &[CableHole], level: Level) -> Lacks {
        let obstacle = self.obstacle.with_holes(holes);
        let length = route.length();
        let step = (length / MOST_PLACES).max(STEP);
        let rise = route
            .least_radius()
            .map_or(0.0, |radius| step * step / (8.0 * radius));
        // Between two places on a straight line that are this far away, none is nearer than `needed`;
        // lead and exit are as near as they are.
        let at_places = |needed: f64| {
            let between = needed.max(0.0).hypot(step / 2.0) + needed.min(0.0);
            (between + rise).min(self.fixed - TOLERANCE)
        };
        let wanted = at_places(self.wanted);
        let hard = match level {
            Level::Wanted => wanted,
            Level::Least => at_places(self.least),
        };
        let mut lacks = Lacks::default();
        walk(obstacle.pieces_of(route), |place| {
            let distance = match &self.map {
                Some(map) => obstacle.distance_by(place, wanted, |_, at| map.room(at)),
                None => obstacle.distance(place, wanted),
            };
            if distance >= wanted {
                return (distance - wanted).max(step);
            }
            let step = step.max(STEP_WITHIN);
            lacks.hard += (hard - distance).max(0.0) * step;
            lacks.soft += (wanted - distance) * step;
            step
        });
        lacks
    }
}

/// Looks at places along pieces, from the first to the last; `look` says how far on the next one is, mm.
fn walk(pieces: &[Piece], mut look: impl FnMut(Place) -> f64) {
    let mut ahead = 0.0;
    for piece in pieces {
        let length = piece.length();
        while ahead < length {
            ahead += look(piece.at(ahead / length));
        }
        ahead -= length;
    }
    if let Some(last) = pieces.last() {
        look(last.at(1.0));
    }
}
