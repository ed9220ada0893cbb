//! Margins drawn where they occur, as the report has them.

use egui::{FontId, Pos2, Rect, Stroke, vec2};
use layout::closed_curve::CurveOf;
use layout::geometry::Point;
use layout::handle::Handle;
use layout::{Finding, State, wording};

use super::handles::with_minus;
use super::ink::Ink;
use super::labels::Labels;
use crate::window::mark;
use crate::window::state::Desk;
use crate::window::step::Step;
use crate::window::theme::{self, size};

/// Most clear margins of a selected thing that are drawn: those nearest to what is wanted.
const MOST_CLEAR: usize = 4;

/// Size of a label's mark, in points.
const MARK: f32 = 11.0;

/// A margin that is to be drawn.
pub(super) struct Margin<'a> {
    finding: &'a Finding,
    framed: bool,
}

/// The margins that the views draw: what is tight or fouls in the step that is shown, what is framed, and,
/// even when clear, what concerns the selected handle. The weightiest come first.
pub(super) fn shown(desk: &Desk) -> Vec<Margin<'_>> {
    let findings = &desk.report().findings;
    let margin = |(index, finding)| Margin {
        finding,
        framed: desk.framed == Some(index),
    };
    let placed = findings
        .iter()
        .enumerate()
        .filter(|(_, finding)| !finding.place.is_empty());
    let (mut shown, clear): (Vec<_>, Vec<_>) = placed
        .map(margin)
        .partition(|margin| margin.framed || is_pressing(margin.finding, desk.step));
    shown.sort_by_key(|margin| std::cmp::Reverse((margin.framed, margin.finding.state)));
    let mut clear: Vec<_> = clear
        .into_iter()
        .filter(|margin| is_seen_in_plan(margin.finding) && concerns_selected(desk, margin.finding))
        .collect();
    let room = |finding: &Finding| {
        let room = finding
            .value
            .zip(finding.wanted)
            .map(|(value, wanted)| (value - wanted).abs());
        room.unwrap_or(f64::INFINITY)
    };
    clear.sort_by(|a, b| room(a.finding).total_cmp(&room(b.finding)));
    shown.extend(clear.into_iter().take(MOST_CLEAR));
    shown
}

/// Whether a finding is tight or fouls, and is drawn in a step without being asked for. Drives and hand have
/// steps of their own, whose margins would hide the rest; what is only tight and has no figure has nothing to
/// show.
fn is_pressing(finding: &Finding, step: Step) -> bool {
    let apart = |step: Step| matches!(step, Step::Drives | Step::Hand).then_some(step);
    let pressing = match finding.state {
        State::Fouls => true,
        State::Tight => finding.value.is_some(),
        State::Clear | State::NotChecked => false,
    };
    pressing && apart(Step::of_finding(finding)) == apart(step)
}

/// Whether a margin has a length when it is seen from the front.
fn is_seen_in_plan(finding: &Finding) -> bool {
    /// Shorter lines than this, mm, are no more than a point.
    const LEAST: f64 = 0.05;
    match finding.place.as_slice() {
        [a, b] => (a[0] - b[0]).hypot(a[1] - b[1]) > LEAST,
        _ => false,
    }
}

fn concerns_selected(desk: &Desk, finding: &Finding) -> bool {
    let is_about = |name: &str| wording::is_about(&finding.part, name);
    match desk.selected {
        Some(Handle::Eye(index)) => is_about(&desk.project().eye_name(index)),
        Some(Handle::Slot(index)) => {
            is_about(&wording::slot(index)) || is_about(&wording::tie(index))
        }
        Some(Handle::OutlinePoint(CurveOf::Head, _)) => {
            matches!(finding.id, "plate_wall" | "sweep_wall")
        }
        Some(Handle::OutlinePoint(CurveOf::Plate, _)) => {
            matches!(finding.id, "plate_wall" | "rim" | "slot_edge")
        }
        // Drives and rods are worked on in a step of their own.
        Some(Handle::Drive(..) | Handle::Rod(..)) if desk.step != Step::Drives => false,
        Some(Handle::Drive(index, _)) => {
            let drive = desk.project().drives.get(index);
            drive.is_some_and(|drive| is_about(&drive.name))
        }
        Some(Handle::Rod(index, _)) => {
            let rod = desk.project().rods.get(index);
            rod.is_some_and(|rod| is_about(&rod.name))
        }
        Some(Handle::AnchorHole(_)) | None => false,
    }
}

/// Draws margins, each between its places as `onto` projects them into the view. All lines come
/// before all labels, so that no line strikes a label out.
pub(super) fn draw<'a>(
    ink: &Ink<'_>,
    labels: &mut Labels,
    desk: &Desk,
    margins: impl Iterator<Item = Margin<'a>>,
    onto: impl Fn([f64; 3]) -> Point,
) {
    let ends = |margin: &Margin<'_>| {
        let place = &margin.finding.place;
        let ends = place.first().zip(place.last())?;
        Some([ends.0, ends.1].map(|&end| ink.camera.to_screen(onto(end))))
    };
    let middle = |[from, to]: [Pos2; 2]| from + (to - from) / 2.0;
    let seen: Vec<_> = margins
        .filter_map(|margin| Some((ends(&margin)?, margin)))
        .filter(|(ends, _)| ink.painter.clip_rect().contains(middle(*ends)))
        .collect();
    // The weightiest line lies on top; its label has the first choice of room.
    for (ends, margin) in seen.iter().rev() {
        margin.line(ink, labels, *ends);
    }
    for (ends, margin) in seen {
        margin.label(ink, labels, desk, middle(ends));
    }
}

impl Margin<'_> {
    /// Whether it is about the eye of this name and shows in the cut through it: its places lie in
    /// the plane x = `x`, mm.
    pub(super) fn lies_in_cut(&self, eye: &str, x: f64) -> bool {
        /// Room for rounding, mm.
        const IN_PLANE: f64 = 1e-6;
        let in_plane = |place: &[f64; 3]| (place[0] - x).abs() < IN_PLANE;
        wording::is_about(&self.finding.part, eye)
            && self.finding.place.len() == 2
            && self.finding.place.iter().all(in_plane)
    }

    /// Draws its line, and keeps labels off it.
    fn line(&self, ink: &Ink<'_>, labels: &mut Labels, [from, to]: [Pos2; 2]) {
        /// Room that labels leave beside the line, in points.
        const BESIDE: f32 = 4.0;
        let colour = ink.palette.state(self.finding.state);
        if self.framed {
            self.emphasise(ink, from + (to - from) / 2.0, (to - from).length());
        }
        let width = if self.finding.state == State::Clear {
            1.4
        } else {
            2.2
        };
        ink.painter
            .line_segment([from, to], Stroke::new(width + 2.4, ink.palette.paper));
        line_with_ends(ink, [from, to], Stroke::new(width, colour));
        labels.keep_free(Rect::from_two_pos(from, to).expand(BESIDE));
    }

    /// Rings the place of the framed finding.
    fn emphasise(&self, ink: &Ink<'_>, middle: Pos2, length: f32) {
        /// Room between the margin and the ring around it, in points.
        const AROUND: f32 = 13.0;
        let colour = ink.palette.state(self.finding.state);
        let radius = length / 2.0 + AROUND;
        ink.painter.circle(
            middle,
            radius,
            colour.gamma_multiply(0.13),
            Stroke::new(2.0, colour),
        );
    }

    fn label(&self, ink: &Ink<'_>, labels: &mut Labels, desk: &Desk, middle: Pos2) {
        /// Room around mark and figure, in points.
        const PADDING: egui::Vec2 = vec2(5.0, 2.0);
        /// Room between mark and figure, in points.
        const GAP: f32 = 5.0;
        /// A label farther away than this, in points, is tied to its place by a line.
        const NEAR: f32 = 16.0;
        let size = if self.framed { size::BODY } else { size::SMALL };
        let text = value(self.finding, desk);
        let figure =
            ink.painter
                .layout_no_wrap(text, FontId::new(size, theme::strong()), ink.palette.ink);
        let inner = vec2(MARK + GAP + figure.size().x, figure.size().y.max(MARK));
        let rect = labels.place(middle, inner + 2.0 * PADDING);
        let colour = ink.palette.state(self.finding.state);
        let edge = Rect::from_min_max(rect.min, rect.max).clamp(middle);
        if (edge - middle).length() > NEAR {
            ink.painter
                .line_segment([middle, edge], Stroke::new(1.0, colour.gamma_multiply(0.6)));
        }
        ink.painter
            .rect_filled(rect, 4.0, ink.palette.paper.gamma_multiply(0.9));
        let content = rect.shrink2(PADDING);
        let centre = content.left_center() + vec2(MARK / 2.0, 0.0);
        mark::paint(&ink.painter, centre, MARK, self.finding.state, &ink.palette);
        let at = content.left_center() + vec2(MARK + GAP, -figure.size().y / 2.0);
        ink.painter.galley(at, figure, ink.palette.ink);
    }
}

/// A finding's figure in the maker's unit.
fn value(finding: &Finding, desk: &Desk) -> String {
    match (finding.value, finding.unit) {
        (Some(value), "mm") => with_minus(&desk.unit.format(value)),
        (Some(value), unit) => with_minus(&format!("{value:.1}{unit}")),
        (None, _) => finding.state.word().to_owned(),
    }
}

/// A line with a short stroke across each end.
fn line_with_ends(ink: &Ink<'_>, [from, to]: [Pos2; 2], stroke: Stroke) {
    /// Half the length of a stroke across, in points.
    const HALF: f32 = 4.0;
    let along = to - from;
    if along.length() < 0.5 {
        ink.painter.circle_filled(from, 3.0, stroke.color);
        return;
    }
    let across = along.normalized().rot90() * HALF;
    ink.painter.line_segment([from, to], stroke);
    for end in [from, to] {
        ink.painter
            .line_segment([end - across, end + across], stroke);
    }
}
