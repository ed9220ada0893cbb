//! The spacing window: where the eyes may stand, and what sets it, rule by rule.

mod axis;
mod marker;
mod verdict;

use egui::{Align2, Color32, FontId, Pos2, Rect, Stroke, Ui, pos2, vec2};
use layout::State;
use layout::spacing::{self, RuleSpans, SpacingWindow, Span};

use super::camera::points;
use crate::window::state::Desk;
use crate::window::theme::{self, PADDING, Palette, size};

/// Height of the panel, in points: all rows, one guide and three lines of the verdict fit.
pub(crate) const HEIGHT: f32 = 258.0;

/// Most rules that are shown: those that matter most where the eyes stand.
const MOST_RULES: usize = 6;

/// Height of a rule's row, of a guide's and of a line of the verdict, in points.
const RULE: f32 = 16.0;

/// Height of the axis with its figures, in points.
const AXIS: f32 = 28.0;

/// Least height of the verdict, in points: what does not fit into it scrolls.
const VERDICT: f32 = 3.0 * RULE;

/// Width of the rules' names, in points.
const NAMES: f32 = 220.0;

/// Room above the rows, for the marker and its figure, in points.
const ABOVE: f32 = 34.0;

/// How far the scale reaches beyond the window, as a share of the window, and at least, mm.
const BEYOND: [f64; 2] = [0.8, 6.0];

/// The part of the spacings that is shown, and where.
struct Scale {
    span: Span,
    track: Rect,
}

impl Scale {
    fn x(&self, spacing: f64) -> f32 {
        let share = (spacing - self.span.low) / (self.span.high - self.span.low);
        self.track.left() + self.track.width() * points(share.clamp(0.0, 1.0))
    }

    fn spacing(&self, x: f32) -> f64 {
        let share = f64::from((x - self.track.left()) / self.track.width());
        self.span.low + share * (self.span.high - self.span.low)
    }
}

/// Shows the panel in the whole of `ui`.
pub(crate) fn show(ui: &mut Ui, desk: &mut Desk) {
    let rect = ui.max_rect().shrink2(vec2(PADDING, 6.0));
    let palette = Palette::of(ui.ctx());
    let faint = |at: Pos2, align: Align2, text: &str| {
        let font = FontId::proportional(size::SMALL);
        ui.painter().text(at, align, text, font, palette.faint);
    };
    let Some(window) = desk.spacing_window().cloned() else {
        faint(
            rect.center(),
            Align2::CENTER_CENTER,
            "Trying every spacing…",
        );
        return;
    };
    if !desk.spacing_is_fresh() {
        faint(
            rect.right_top() + vec2(-150.0, 4.0),
            Align2::RIGHT_TOP,
            "trying every spacing…",
        );
    }
    let guides = desk
        .spaced_eyes()
        .map_or(Vec::new(), |eyes| spacing::guides(desk.project(), eyes));
    let top = rect.top() + ABOVE;
    let below = AXIS + points(guides.len() as f64) * RULE;
    let free = rect.bottom() - VERDICT - below - top - RULE;
    let fits = |rows: &usize| points(*rows as f64) * RULE <= free;
    let mut rules = window.ranked();
    rules.truncate((1..=MOST_RULES).rev().find(fits).unwrap_or(1));
    let rows = points(rules.len() as f64 + 1.0) * RULE;
    let track = Rect::from_min_max(
        pos2(rect.left() + NAMES, top),
        pos2(rect.right() - PADDING, top + rows),
    );
    let scale = Scale {
        span: held_span(ui, desk, &window),
        track,
    };
    whole_window(ui, desk, &scale, &window);
    for (row, own) in rules.iter().enumerate() {
        rule_row(ui, &scale, own, top + RULE * (points(row as f64) + 1.5));
    }
    axis::show(ui, desk.unit, &scale);
    for (row, guide) in guides.iter().enumerate() {
        let y = track.bottom() + AXIS + RULE * (points(row as f64) + 0.5);
        axis::guide(ui, desk.unit, &scale, guide, y);
    }
    marker::show(ui, desk, &scale, &window);
    verdict::show(
        ui,
        desk.unit,
        rect.with_min_y(track.bottom() + below),
        &window,
    );
    marker::to_the_middle(ui, desk, rect, &window);
}

/// The part that is shown; while the marker is dragged, it stays what it was.
fn held_span(ui: &Ui, desk: &Desk, window: &SpacingWindow) -> Span {
    let id = ui.scope_id().with("shown");
    let held = ui.data(|data| data.get_temp::<Span>(id));
    let held = held.filter(|_| desk.history().in_gesture());
    let span = held.unwrap_or_else(|| shown(window));
    ui.data_mut(|data| data.insert_temp(id, span));
    span
}

/// The window with some room about it; where there is none, how far the rules that contradict each other hold.
fn shown(window: &SpacingWindow) -> Span {
    let present = window.present;
    let now = window.now().or_else(|| window.nearest());
    let now = now.unwrap_or_else(|| {
        let against = window.contradiction();
        let rules = window.rules.iter();
        let ends = rules.filter_map(|own| {
            let ends = own.holds.iter().flat_map(|span| [span.low, span.high]);
            let off = |end: &f64| (end - present).abs();
            let nearest = ends.min_by(|a, b| off(a).total_cmp(&off(b)));
            nearest.filter(|_| against.contains(&own.rule))
        });
        let here = Span {
            low: present,
            high: present,
        };
        ends.fold(here, |span, end| Span {
            low: span.low.min(end),
            high: span.high.max(end),
        })
    });
    let beyond = (BEYOND[0] * (now.high - now.low)).max(BEYOND[1]);
    Span {
        low: (now.low.min(present) - beyond).max(window.range.low),
        high: (now.high.max(present) + beyond).min(window.range.high),
    }
}

fn name(ui: &Ui, scale: &Scale, y: f32, text: &str, strong: bool) {
    let palette = Palette::of(ui.ctx());
    let font = if strong {
        FontId::new(size::SMALL, theme::strong())
    } else {
        FontId::proportional(size::SMALL)
    };
    let painter = ui.painter();
    let galley = painter.layout_no_wrap(text.to_owned(), font, palette.ink);
    let at = pos2(
        scale.track.left() - 12.0 - galley.size().x,
        y - galley.size().y / 2.0,
    );
    painter.galley(at, galley, palette.ink);
}

fn bar(ui: &Ui, scale: &Scale, span: Span, y: f32, width: f32, colour: Color32) {
    if span.high < scale.span.low || span.low > scale.span.high {
        return;
    }
    let ends = [pos2(scale.x(span.low), y), pos2(scale.x(span.high), y)];
    ui.painter().line_segment(ends, Stroke::new(width, colour));
}

/// The first row: where everything holds, with its ends, and where all is clear.
fn whole_window(ui: &Ui, desk: &Desk, scale: &Scale, window: &SpacingWindow) {
    let palette = Palette::of(ui.ctx());
    let y = scale.track.top() + RULE / 2.0;
    name(ui, scale, y, "can be", true);
    let told = window.now().or_else(|| window.nearest());
    for span in &window.holds {
        bar(ui, scale, *span, y, 10.0, palette.accent);
        let font = FontId::new(size::SMALL, theme::strong());
        let ends = [
            (span.low, Align2::RIGHT_CENTER, -6.0),
            (span.high, Align2::LEFT_CENTER, 6.0),
        ];
        for (end, align, beside) in ends {
            let inside = end > scale.span.low && end < scale.span.high;
            if inside && told == Some(*span) {
                let at = pos2(scale.x(end) + beside, y);
                let text = desk.unit.format(end);
                ui.painter()
                    .text(at, align, text, font.clone(), palette.ink);
            }
        }
    }
    for span in &window.clear {
        bar(ui, scale, *span, y, 4.0, palette.paper);
    }
}

/// A rule: a solid bar where it is clear, a dotted one where it is tight, nothing where it fouls.
fn rule_row(ui: &Ui, scale: &Scale, own: &RuleSpans, y: f32) {
    let palette = Palette::of(ui.ctx());
    name(ui, scale, y, own.rule.info().label, false);
    for span in &own.holds {
        let ends = [pos2(scale.x(span.low), y), pos2(scale.x(span.high), y)];
        if span.high > scale.span.low && span.low < scale.span.high {
            let dots = egui::Shape::dotted_line(&ends, palette.state(State::Tight), 7.0, 2.2);
            ui.painter().extend(dots);
        }
    }
    for span in &own.clear {
        bar(ui, scale, *span, y, 5.0, palette.paper);
        bar(ui, scale, *span, y, 5.0, palette.state(State::Clear));
    }
}
