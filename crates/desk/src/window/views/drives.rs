//! Levers, cable lines, stops and sheaths, from the front and in the cut.

use egui::{Color32, FontId, Pos2, Shape, Stroke, vec2};
use layout::State;
use layout::drive::{Drive, Moves};
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::space;
use layout::handle::Place;
use layout::laid_drive::LaidDrive;
use layout::pull::Pull;
use layout::route::Route;
use layout::turned::Pose;
use layout::wording;

use super::ink::{FINE, Ink};
use super::labels::Labels;
use super::rods;
use crate::window::mark;
use crate::window::state::Desk;
use crate::window::step::Step;
use crate::window::theme::{self, size};

/// Steps in which a bend is drawn.
const STEPS: u32 = 24;

/// Width of a proposed route, in points.
const PROPOSED: f32 = 2.0;

/// How strongly a drive is drawn that is not the chosen one, or in a step that is about others.
const QUIET: f32 = 0.45;

/// Draws the drives that turn eyes, which stand behind the balls, as they are seen from the front.
pub(super) fn of_eyes(ink: &Ink<'_>, desk: &Desk) {
    front(ink, desk, |moves| matches!(moves, Moves::Gaze { .. }));
    rods::front(ink, desk, |moves| matches!(moves, Moves::Gaze { .. }));
}

/// Draws the drives that move lids, which stand beside them, as they are seen from the front.
pub(super) fn of_lids(ink: &Ink<'_>, desk: &Desk) {
    front(ink, desk, |moves| matches!(moves, Moves::Lid { .. }));
    rods::front(ink, desk, |moves| matches!(moves, Moves::Lid { .. }));
}

/// Draws what of the sheaths that move lids lies behind the plate, as it is seen from there.
pub(super) fn behind_plate(ink: &Ink<'_>, desk: &Desk) {
    let from_front = |at: space::Place| Point::new(at.x, at.y);
    let back = -desk.project().plate.thickness;
    for (index, drive, laid) in shown(desk) {
        if let Moves::Lid { .. } = drive.moves
            && let Some(route) = laid.sheath()
        {
            let drawn = Drawn::of(ink, desk, index, &from_front);
            let way = space::flattened(&route.pieces, STEPS);
            for run in runs_below(&way, back) {
                drawn.tube(&drawn.path(&run), 2.0 * laid.sheath_radius);
            }
        }
    }
}

/// The stretches of a way that lie below a height, mm.
fn runs_below(way: &[space::Place], height: f64) -> Vec<Vec<space::Place>> {
    let mut runs: Vec<Vec<space::Place>> = Vec::new();
    let mut below = false;
    for pair in way.windows(2) {
        let [from, to] = [pair[0], pair[1]];
        let crossing = || from + (to - from) * ((height - from.z) / (to.z - from.z));
        if from.z < height && !below {
            runs.push(vec![from]);
        } else if from.z >= height && to.z < height {
            runs.push(vec![crossing()]);
        }
        below = to.z < height;
        if let Some(run) = runs.last_mut().filter(|_| below || from.z < height) {
            run.push(if below { to } else { crossing() });
        }
    }
    runs
}

fn front(ink: &Ink<'_>, desk: &Desk, wanted: fn(Moves) -> bool) {
    let from_front = |at: space::Place| Point::new(at.x, at.y);
    for (index, drive, laid) in shown(desk).filter(|(_, drive, _)| wanted(drive.moves)) {
        Drawn::of(ink, desk, index, &from_front).drive(desk, (index, drive, laid));
    }
}

/// Draws the drives of the chosen eye in its side cut.
pub(super) fn cut(ink: &Ink<'_>, desk: &Desk) {
    let from_side = |at: space::Place| Point::new(-at.z, at.y);
    for (index, drive, laid) in shown(desk) {
        if drive.moves.eye() == desk.chosen_eye {
            Drawn::of(ink, desk, index, &from_side).drive(desk, (index, drive, laid));
        }
    }
    rods::cut(ink, desk);
}

/// Names every drive at its exit, with the mark of its worst state.
pub(super) fn names(ink: &Ink<'_>, desk: &Desk, labels: &mut Labels) {
    if desk.step == Step::Drives {
        for (_, drive, _) in shown(desk) {
            let [x, y, _] = drive.exit;
            let at = ink.camera.to_screen(Point::new(x, y));
            name(ink, labels, at, &drive.name, state(desk, &drive.name));
        }
        rods::names(ink, desk, labels);
    }
}

/// The worst state of what is found about a drive or a rod.
pub(super) fn state(desk: &Desk, drive: &str) -> State {
    let findings = desk.report().findings.iter();
    let own = findings.filter(|finding| wording::is_about(&finding.part, drive));
    let states = own.map(|finding| finding.state);
    states.max().unwrap_or(State::Clear)
}

/// The drives that the step is about, or that stand beside what it is about.
fn shown(desk: &Desk) -> impl Iterator<Item = (usize, &Drive, &LaidDrive)> {
    let step = desk.step;
    let drives = desk.project().drives.iter().zip(&desk.laid().drives);
    let drives = drives.enumerate();
    let drives = drives.map(|(index, (drive, laid))| (index, drive, laid));
    drives.filter(move |(_, drive, _)| belongs_to(step, drive.moves))
}

/// Whether a step is about what moves a part, or shows it beside what it is about.
pub(super) fn belongs_to(step: Step, moves: Moves) -> bool {
    match step {
        Step::Head | Step::Sheet => false,
        Step::Eyes => matches!(moves, Moves::Gaze { .. }),
        Step::Lids => matches!(moves, Moves::Lid { .. }),
        Step::Plate | Step::Drives | Step::Hand => true,
    }
}

/// What one drive or rod is drawn with.
pub(super) struct Drawn<'a> {
    pub(super) ink: &'a Ink<'a>,
    /// Puts a place into the view's plane.
    pub(super) onto: &'a dyn Fn(space::Place) -> Point,
    pub(super) strength: f32,
}

/// How strongly a drive or rod is drawn, `chosen` or not.
pub(super) fn strength(desk: &Desk, chosen: bool) -> f32 {
    if desk.step == Step::Drives && chosen {
        1.0
    } else {
        QUIET
    }
}

impl<'a> Drawn<'a> {
    fn of(
        ink: &'a Ink<'a>,
        desk: &Desk,
        index: usize,
        onto: &'a dyn Fn(space::Place) -> Point,
    ) -> Self {
        Self {
            ink,
            onto,
            strength: strength(desk, desk.chosen_drive == index),
        }
    }

    fn drive(&self, desk: &Desk, (index, drive, laid): (usize, &Drive, &LaidDrive)) {
        if let Some(route) = &laid.route {
            self.sheath(route, 2.0 * laid.sheath_radius);
        }
        if let Some(Ok(proposal)) = desk.proposal_of(index)
            && proposal.via != drive.via
        {
            let path = self.path(&space::flattened(&proposal.route.pieces, STEPS));
            let stroke = Stroke::new(PROPOSED, self.ink.palette.accent);
            self.ink.dashed(&path, stroke);
        }
        if let Ok(pull) = &laid.pull {
            let pose = desk.stance_of(drive.moves);
            let lever = [pull.lever_root(), pull.tip_at(pose)];
            self.lever(desk, drive.moves, lever);
            self.wire(pull, pose, 2.0 * laid.sheath_radius);
        }
    }

    /// The sheath as a tube; where it cannot be laid, straight lines from point to point.
    fn sheath(&self, route: &Route, diameter: f64) {
        let path = self.path(&space::flattened(&route.pieces, STEPS));
        let edge = self.quiet(self.ink.palette.ink);
        if !route.is_laid() {
            return self.ink.dashed(&path, Stroke::new(FINE, edge));
        }
        self.tube(&path, diameter);
    }

    fn tube(&self, path: &[Pos2], diameter: f64) {
        let edge = self.quiet(self.ink.palette.ink);
        let width = self.ink.camera.length(diameter).max(3.0);
        // The tube's edges are what is left of the ink beside its paper.
        for (width, colour) in [(width, edge), (width - 2.0, self.ink.palette.paper)] {
            let line = Shape::line(path.to_vec(), Stroke::new(width, colour));
            self.ink.painter.add(line);
        }
    }

    /// The bar of a lever from its axis to its tip.
    pub(super) fn lever(&self, desk: &Desk, moves: Moves, [root, tip]: [space::Place; 2]) {
        let lids = desk.project().parts_of(moves.eye()).lids.as_ref();
        let width = lids.map_or(layout::lever::WIDTH, |lids| lids.lever_width);
        // A gaze lever stands on its ball.
        let eye = desk.laid().eyes.get(moves.eye());
        let ball = eye.and_then(|eye| eye.seat.as_ref().ok());
        let within = ball.filter(|_| matches!(moves, Moves::Gaze { .. }));
        let share = within.map_or(0.0, |seat| seat.ball_radius / (tip - root).norm());
        let ends = [root + (tip - root) * share.min(1.0), tip].map(self.onto);
        let radius = width / 2.0;
        let bar = ends.map(|centre| Disc { centre, radius });
        let edge = Stroke::new(FINE, self.quiet(self.ink.palette.ring_edge));
        let fill = self.quiet(self.ink.palette.ring);
        let around = Outline::hull(&bar).flattened();
        self.ink.convex(&around, fill, edge);
    }

    /// The cable line, the bare wire on it, and the bracket's mark across the stop.
    fn wire(&self, pull: &Pull, pose: Pose, diameter: f64) {
        /// How far the stop's stroke reaches beyond the sheath, as a share of its diameter.
        const STOP: f32 = 0.9;
        let places = [pull.stop, pull.near, pull.far, pull.tip_at(pose)];
        let [stop, near, far, tip] =
            places.map(|place| self.ink.camera.to_screen((self.onto)(place)));
        let faint = Stroke::new(FINE, self.quiet(self.ink.palette.faint));
        self.ink.centre_line(&[near, far], faint);
        let ink = self.quiet(self.ink.palette.ink);
        let painter = &self.ink.painter;
        painter.line_segment([stop, tip], Stroke::new(1.4, ink));
        painter.circle(tip, 2.6, self.ink.palette.paper, Stroke::new(1.2, ink));
        let along = (far - near).normalized();
        let across = along.rot90() * self.ink.camera.length(diameter) * STOP;
        painter.line_segment([stop - across, stop + across], Stroke::new(2.2, ink));
    }

    fn path(&self, places: &[space::Place]) -> Vec<Pos2> {
        let places: Vec<Point> = places.iter().map(|&place| (self.onto)(place)).collect();
        self.ink.path(&places)
    }

    pub(super) fn quiet(&self, colour: Color32) -> Color32 {
        self.ink.palette.paper.lerp_to_gamma(colour, self.strength)
    }
}

/// Where a place of a drive shows in the plate's frame, mm: the lever's tip goes with its lever.
pub(super) fn place(desk: &Desk, index: usize, place: Place) -> Option<[f64; 3]> {
    match (place, posed(desk, index)) {
        (Place::Tip, Some((pull, pose))) => Some(pull.tip_at(pose).into()),
        (place, _) => place.laid_at(desk.project(), desk.laid(), index),
    }
}

/// Where a place of a drive that shows `at` is as the project gives it.
pub(super) fn at_rest(desk: &Desk, index: usize, place: Place, at: [f64; 3]) -> [f64; 3] {
    match (place, posed(desk, index)) {
        (Place::Tip, Some((pull, pose))) => rounded(pull.rest_of(pose, at.into())),
        _ => at,
    }
}

/// A turned place to a thousandth of a millimetre, so that files stay short.
pub(super) fn rounded(at: space::Place) -> [f64; 3] {
    /// Parts of a millimetre.
    const PARTS: f64 = 1_000.0;
    at.map(|along| (along * PARTS).round() / PARTS).into()
}

/// A drive's pull, and where its turn stands as the eyes are worked.
fn posed(desk: &Desk, index: usize) -> Option<(&Pull, Pose)> {
    let drive = desk.project().drives.get(index)?;
    let pull = desk.laid().drives.get(index)?.pull.as_ref().ok()?;
    Some((pull, desk.stance_of(drive.moves)))
}

/// The name of a drive or a rod with its state's mark.
pub(super) fn name(ink: &Ink<'_>, labels: &mut Labels, at: Pos2, name: &str, state: State) {
    /// Size of the mark, and the room after it and around both, in points.
    const MARK: f32 = 9.0;
    const GAP: f32 = 5.0;
    const AROUND: egui::Vec2 = vec2(5.0, 2.0);
    let font = FontId::new(size::SMALL, theme::strong());
    let text = ink
        .painter
        .layout_no_wrap(name.to_owned(), font, ink.palette.ink);
    let inner = vec2(MARK + GAP + text.size().x, text.size().y);
    let rect = labels.place(at, inner + 2.0 * AROUND);
    ink.painter
        .rect_filled(rect, 4.0, ink.palette.paper.gamma_multiply(0.9));
    let start = rect.shrink2(AROUND).left_center();
    let centre = start + vec2(MARK / 2.0, 0.0);
    mark::paint(&ink.painter, centre, MARK, state, &ink.palette);
    let at = start + vec2(MARK + GAP, -text.size().y / 2.0);
    ink.painter.galley(at, text, ink.palette.ink);
}
