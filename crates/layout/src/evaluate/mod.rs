//! The only place that decides what is clear, tight or fouls.

mod bars;
mod cable_holes;
mod drives;
mod eyes;
mod guard;
mod guard_on_way;
mod hand;
mod levers;
mod lids;
mod on_way;
mod rod_pairs;
mod rods;
mod sheaths;
mod stalks;
mod ties;
mod wires;

use crate::cable_hole::CableHole;
use crate::geometry::Gap;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::laid::Laid;
use crate::limits::{Limit, Rule, State};
use crate::obstacle::{self, Obstacle};
use crate::problem::Problem;
use crate::project::Project;
use crate::report::{Figures, Finding, Report};
use crate::wording;

/// Applies every rule to a project. Pure and total: no input makes it panic, and the same project
/// gives the same answer.
pub fn evaluate(project: &Project) -> Report {
    evaluate_laid(project, &Laid::out(project))
}

/// [`evaluate`] for a project that has been worked out already.
pub fn evaluate_laid(project: &Project, laid: &Laid) -> Report {
    let wall = Bounded::of(&Outline::polygon(&laid.wall));
    evaluate_in(project, laid, wall.as_ref())
}

/// [`evaluate_laid`] within the project's wall, which is ready for distances.
pub(crate) fn evaluate_in(project: &Project, laid: &Laid, wall: Option<&Bounded>) -> Report {
    let mut rules = Rules {
        project,
        laid,
        plate: Bounded::of(&laid.plate),
        wall,
        obstacles: obstacle::of_eyes(project, laid),
        figures: Figures::default(),
        findings: Vec::new(),
    };
    rules.eyes();
    rules.pairs();
    rules.ligaments();
    rules.slots();
    rules.walls();
    rules.straps();
    rules.tie_spread();
    rules.access();
    rules.lids();
    rules.hand();
    rules.levers();
    rules.guard_and_levers();
    rules.plate_holes();
    rules.drives();
    rules.rods();
    rules.not_checked();
    Report {
        figures: rules.figures,
        findings: rules.findings,
    }
}

struct Rules<'a> {
    project: &'a Project,
    laid: &'a Laid,
    plate: Option<Bounded>,
    wall: Option<&'a Bounded>,
    /// What all sheaths must keep from of the eyes.
    obstacles: Vec<Obstacle<'static>>,
    figures: Figures,
    findings: Vec<Finding>,
}

impl Rules<'_> {
    fn limit(&self, rule: Rule) -> Limit {
        self.project.limits.of(rule, self.project.plate.thickness)
    }

    /// Depth of the plate's back face in the plate's frame, mm.
    fn back(&self) -> f64 {
        -self.project.plate.thickness
    }

    fn state(&self, rule: Rule, limit: Limit, value: f64) -> State {
        limit.state(value, rule.info().sense)
    }

    fn find(&mut self, rule: Rule, part: String, value: f64, place: Vec<[f64; 3]>) {
        let say = |state, part: &str| wording::sentence(rule, state, part);
        self.find_saying(rule, part, value, place, say);
    }

    /// Finds a figure of a rule that has a sentence of its own for this part.
    fn find_saying(
        &mut self,
        rule: Rule,
        part: String,
        value: f64,
        place: Vec<[f64; 3]>,
        say: impl FnOnce(State, &str) -> String,
    ) {
        let limit = self.limit(rule);
        let state = self.state(rule, limit, value);
        let sentence = say(state, &part);
        self.push(rule, (state, value, limit.wanted), sentence, part, place);
    }

    /// Adds a finding: its state, figure and what is wanted; a figure that is no number is none.
    fn push(
        &mut self,
        rule: Rule,
        (state, value, wanted): (State, f64, f64),
        sentence: String,
        part: String,
        place: Vec<[f64; 3]>,
    ) {
        let info = rule.info();
        self.findings.push(Finding {
            id: info.id,
            state,
            value: value.is_finite().then_some(value),
            wanted: Some(wanted),
            unit: info.unit,
            sentence,
            part,
            place,
        });
    }

    /// Finds what has no figure: a part that cannot be made, or something that is not there.
    fn find_without_figure(
        &mut self,
        rule: Rule,
        state: State,
        sentence: String,
        part: String,
        place: Vec<[f64; 3]>,
    ) {
        let info = rule.info();
        self.findings.push(Finding {
            id: info.id,
            state,
            value: None,
            wanted: None,
            unit: info.unit,
            sentence,
            part,
            place,
        });
    }

    /// Finds that a part cannot be made, or cannot work.
    fn find_problem(
        &mut self,
        rule: Rule,
        problem: &Problem,
        part: String,
        place: Option<[f64; 3]>,
    ) {
        let place = place.into_iter().collect();
        self.find_without_figure(rule, State::Fouls, problem.to_string(), part, place);
    }

    /// Finds the gap of a rule at height `z`, mm, and returns its figure.
    fn find_gap(&mut self, rule: Rule, part: String, gap: Option<Gap>, z: f64) -> Option<f64> {
        let say = |state, part: &str| wording::sentence(rule, state, part);
        self.find_gap_saying(rule, part, gap, z, say)
    }

    /// The same of a rule that has a sentence of its own for this part.
    fn find_gap_saying(
        &mut self,
        rule: Rule,
        part: String,
        gap: Option<Gap>,
        z: f64,
        say: impl FnOnce(State, &str) -> String,
    ) -> Option<f64> {
        let gap = gap?;
        let place = [gap.from, gap.to].map(|at| [at.x, at.y, z]);
        self.find_saying(rule, part, gap.distance, place.into(), say);
        Some(gap.distance)
    }

    fn ligaments(&mut self) {
        let laid = self.laid;
        let mut least_rim = None::<f64>;
        for (index, eye) in laid.eyes.iter().enumerate() {
            let Some(opening) = eye.opening() else {
                continue;
            };
            let plate = self.plate.as_ref();
            let gap = plate.map(|p| p.room_around(opening.centre).grown(opening.radius));
            let rim = self.find_gap(Rule::Rim, self.project.eye_name(index), gap, 0.0);
            least_rim = least_rim.into_iter().chain(rim).reduce(f64::min);
        }
        self.figures.plate.rim_mm = least_rim;
    }

    fn walls(&mut self) {
        let laid = self.laid;
        let plate = self.plate.as_ref().zip(self.wall);
        let plate = plate.map(|(plate, wall)| plate.room_inside(wall));
        self.figures.plate.plate_wall_mm =
            self.find_gap(Rule::PlateWall, "plate".to_owned(), plate, 0.0);
        if let Some([low, high]) = laid.plate.bounds() {
            self.figures.plate.plate_width_mm = Some(high.x - low.x);
            self.figures.plate.plate_height_mm = Some(high.y - low.y);
            self.figures.plate.plate_area_mm2 = Some(self.plate_area());
        }
        let mut least = None::<f64>;
        for (index, eye) in laid.eyes.iter().enumerate() {
            let gap = eye.sweep().and_then(|sweep| {
                let wall = self.wall?;
                Some(wall.room_around(sweep.centre).grown(sweep.radius))
            });
            let of_ring = eye.ring.as_ref().ok();
            let of_ring = of_ring.map(|ring| ring.sweep_reach(eye.working_tilt));
            let by_lever = eye.sweep().map(|sweep| sweep.radius) > of_ring;
            let say = |state, eye: &str| wording::sweep_and_head(state, eye, by_lever, "the wall");
            let name = self.project.eye_name(index);
            let found = self.find_gap_saying(Rule::SweepWall, name, gap, self.back(), say);
            least = least.into_iter().chain(found).reduce(f64::min);
        }
        self.figures.plate.sweep_wall_mm = least;
        self.sweep_back();
    }

    /// What turns with an eye must not reach the back of the cavity.
    fn sweep_back(&mut self) {
        let (back, end) = (self.back(), -self.project.head.cavity_depth);
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            if let Some(depth) = eye.sweep_depth() {
                let at = |z: f64| [eye.centre.x, eye.centre.y, z];
                let deepest = back - depth;
                let of_ring = eye.ring.as_ref().ok();
                let of_ring = of_ring.map(|ring| ring.sweep_depth(eye.working_tilt));
                let by_lever = Some(depth) > of_ring;
                let say = |state, eye: &str| {
                    wording::sweep_and_head(state, eye, by_lever, "the back of the head")
                };
                let name = self.project.eye_name(index);
                let place = vec![at(deepest), at(end)];
                self.find_saying(Rule::SweepBack, name, deepest - end, place, say);
            }
        }
    }

    /// Area of the plate's front face: the outline less openings, slots and holes, mm².
    fn plate_area(&self) -> f64 {
        let openings = self.laid.eyes.iter().filter_map(|eye| {
            let seat = eye.seat.as_ref().ok()?;
            Some(std::f64::consts::PI * seat.opening_front * seat.opening_front)
        });
        let slots = self.laid.slots.iter().map(|slot| slot.area());
        let holes = self.laid.cable_holes().map(CableHole::area);
        self.laid.plate.area() - openings.chain(slots).chain(holes).sum::<f64>()
    }

    /// The plate with its eyes must pass the head's opening: √(least width² + depth²) at most.
    fn access(&mut self) {
        let Some(width) = self.laid.plate.least_width() else {
            return;
        };
        let seats = self
            .laid
            .eyes
            .iter()
            .filter_map(|eye| eye.seat.as_ref().ok());
        let (front, back) = seats.fold((0.0_f64, -self.back()), |(front, back), seat| {
            (
                front.max(seat.centre_height + seat.ball_radius),
                back.max(seat.ball_radius - seat.centre_height),
            )
        });
        let needed = width.hypot(front + back);
        let room = self.project.head.access - needed;
        self.find(Rule::Access, "plate".to_owned(), room, Vec::new());
    }

    /// What a project holds and this build does not evaluate.
    fn not_checked(&mut self) {
        if self.project.eyes.iter().any(|eye| eye.carrier.is_some()) {
            let (id, sentence) = wording::CARRIERS_NOT_CHECKED;
            self.findings.push(Finding {
                id,
                state: State::NotChecked,
                value: None,
                wanted: None,
                unit: "",
                sentence: sentence.to_owned(),
                part: "eyes".to_owned(),
                place: Vec::new(),
            });
        }
    }
}

fn nearest<T>(gaps: impl Iterator<Item = (Gap, T)>) -> Option<(Gap, T)> {
    gaps.reduce(|best, other| {
        if other.0.distance < best.0.distance {
            other
        } else {
            best
        }
    })
}
