//! The spacing window: where the eyes may stand, and what sets it, rule by rule.

use egui::{
    Align2, Color32, CursorIcon, EventFilter, FontId, Key, Pos2, Rect, Response, Sense, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};
use layout::State;
use layout::limits::Rule;
use layout::spacing::{self, RuleSpans, SpacingWindow, Span};

use super::camera::points;
use crate::window::state::Desk;
use crate::window::theme::{self, PADDING, Palette, size};
use crate::window::{controls, mark, pieces};

/// Height of the panel, in points.
pub(crate) const HEIGHT: f32 = 226.0;

/// Most rules that are shown: those that come into play nearest to the present spacing.
const MOST_RULES: usize = 6;

/// Height of a rule's row, in points.
const RULE: f32 = 16.0;

/// Width of the rules' names, in points.
const NAMES: f32 = 220.0;

/// Room above the rows, for the marker and its figure, in points.
const ABOVE: f32 = 34.0;

/// How far the scale reaches beyond the window, as a share of the window, and at least, mm.
const BEYOND: [f64; 2] = [0.8, 6.0];

/// What a press of an arrow key moves the marker by, mm: plain, and with Shift.
const STEPS: [f64; 2] = [0.1, 1.0];

/// How finely the marker is dragged, in places for each mm.
const GRID: f64 = 10.0;

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
    let rules = nearest_rules(&window);
    let top = rect.top() + ABOVE;
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
    axis(ui, desk, &scale);
    marker(ui, desk, &scale, &window);
    verdict(ui, desk, rect, &window);
    to_the_middle(ui, desk, rect, &window);
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

/// The window with some room about it.
fn shown(window: &SpacingWindow) -> Span {
    let present = window.present;
    let now = window.now().or_else(|| window.nearest()).unwrap_or(Span {
        low: present,
        high: present,
    });
    let beyond = (BEYOND[0] * (now.high - now.low)).max(BEYOND[1]);
    Span {
        low: (now.low.min(present) - beyond).max(window.range.low),
        high: (now.high.max(present) + beyond).min(window.range.high),
    }
}

/// The rules that begin or cease to hold nearest to the present spacing.
fn nearest_rules(window: &SpacingWindow) -> Vec<&RuleSpans> {
    let off = |own: &&RuleSpans| {
        let spans = own.holds.iter().chain(&own.clear);
        let ends = spans.flat_map(|span| [span.low, span.high]);
        let inner = ends.filter(|end| *end > window.range.low && *end < window.range.high);
        inner
            .map(|end| (end - window.present).abs())
            .fold(f64::INFINITY, f64::min)
    };
    let mut rules: Vec<&RuleSpans> = window.rules.iter().collect();
    rules.sort_by(|a, b| off(a).total_cmp(&off(b)));
    rules.truncate(MOST_RULES);
    rules
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
    for span in &window.holds {
        bar(ui, scale, *span, y, 10.0, palette.accent);
        let font = FontId::new(size::SMALL, theme::strong());
        let ends = [
            (span.low, Align2::RIGHT_CENTER, -6.0),
            (span.high, Align2::LEFT_CENTER, 6.0),
        ];
        for (end, align, beside) in ends {
            let inside = end > scale.span.low && end < scale.span.high;
            if inside && window.now() == Some(*span) {
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

fn axis(ui: &Ui, desk: &Desk, scale: &Scale) {
    let palette = Palette::of(ui.ctx());
    let y = scale.track.bottom() + 6.0;
    let font = FontId::proportional(size::SMALL);
    let step = round_step((scale.span.high - scale.span.low) / 8.0);
    let mut at = (scale.span.low / step).ceil() * step;
    while at <= scale.span.high {
        let x = scale.x(at);
        let tick = [pos2(x, y), pos2(x, y + 4.0)];
        ui.painter().line_segment(tick, palette.hairline());
        let text = desk.unit.format(at);
        let place = pos2(x, y + 5.0);
        ui.painter()
            .text(place, Align2::CENTER_TOP, text, font.clone(), palette.faint);
        at += step;
    }
    let Some(eyes) = desk.spaced_eyes() else {
        return;
    };
    for guide in spacing::guides(desk.project(), eyes) {
        if scale.span.contains(guide.spacing) {
            let x = scale.x(guide.spacing);
            let line = [pos2(x, scale.track.top()), pos2(x, y)];
            let dashes = egui::Shape::dashed_line(&line, palette.hairline(), 3.0, 3.0);
            ui.painter().extend(dashes);
            let place = pos2(x, y + 5.0 + RULE);
            ui.painter().text(
                place,
                Align2::CENTER_TOP,
                guide.label,
                font.clone(),
                palette.faint,
            );
        }
    }
}

/// A step of 1, 2 or 5 times a power of ten that is at least this, mm.
fn round_step(least: f64) -> f64 {
    let tenth = 10.0_f64.powf(least.max(1e-3).log10().floor());
    let steps = [1.0, 2.0, 5.0].map(|times| times * tenth);
    let found = steps.into_iter().find(|step| *step >= least);
    found.unwrap_or(10.0 * tenth)
}

fn marker(ui: &mut Ui, desk: &mut Desk, scale: &Scale, window: &SpacingWindow) {
    let palette = Palette::of(ui.ctx());
    let present = window.present;
    let x = scale.x(present);
    let head = pos2(x, scale.track.top() - 8.0);
    let reach = scale.track.expand2(vec2(8.0, 18.0));
    let response = ui.interact(reach, ui.scope_id().with("marker"), Sense::click_and_drag());
    let response = response.on_hover_cursor(CursorIcon::ResizeHorizontal);
    let stem = [head, pos2(x, scale.track.bottom() + 4.0)];
    ui.painter()
        .line_segment(stem, Stroke::new(1.2, palette.ink));
    let around = if response.has_focus() { 9.0 } else { 7.0 };
    ui.painter().circle_filled(head, around, palette.accent);
    // The window tells of the spacing alone; how the eyes stand, all findings say.
    let state = desk.report().worst();
    let text = head + vec2(14.0, 0.0);
    mark::paint(ui.painter(), text + vec2(4.0, 0.0), 10.0, state, &palette);
    ui.painter().text(
        text + vec2(14.0, 0.0),
        Align2::LEFT_CENTER,
        desk.unit.format_with_symbol(present),
        FontId::new(size::BODY, theme::strong()),
        palette.ink,
    );
    response.widget_info(|| WidgetInfo::slider(true, present, "Spacing in its window"));
    work(ui, desk, scale, &response, present);
}

fn work(ui: &Ui, desk: &mut Desk, scale: &Scale, response: &Response, present: f64) {
    if response.drag_started() {
        response.request_focus();
        desk.begin_gesture();
    }
    let held = response.dragged() || response.drag_stopped() || response.clicked();
    if let Some(pointer) = response.interact_pointer_pos().filter(|_| held) {
        let at = (scale.spacing(pointer.x) * GRID).round() / GRID;
        put(desk, at, present);
    }
    if response.drag_stopped() {
        desk.finish_gesture();
    }
    if response.has_focus() {
        let arrows = EventFilter {
            horizontal_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        let moved: f64 = ui.input(|input| {
            let step = STEPS[usize::from(input.modifiers.shift)];
            let presses = |key| input.num_presses(key) as f64;
            step * (presses(Key::ArrowRight) - presses(Key::ArrowLeft))
        });
        if moved != 0.0 {
            put(desk, present + moved, present);
        }
    }
}

fn put(desk: &mut Desk, at: f64, present: f64) {
    let range = desk.spacing_window().map(|window| window.range);
    let at = range.map_or(at, |range| at.clamp(range.low, range.high));
    if (at - present).abs() > f64::EPSILON {
        desk.space(at);
    }
}

/// What sets the window, in words.
fn verdict(ui: &Ui, desk: &Desk, rect: Rect, window: &SpacingWindow) {
    let palette = Palette::of(ui.ctx());
    let length = |mm: f64| desk.unit.format_with_symbol(mm);
    let mut said = Vec::new();
    if let Some(now) = window.now() {
        for (end, bound) in [(now.low, "Not less than"), (now.high, "not more than")] {
            let rules = window.governing(end);
            if !rules.is_empty() {
                said.push(format!("{bound} {}: {}", length(end), labels(&rules)));
            }
        }
    } else {
        let against = window.contradiction();
        if against.is_empty() {
            said.push(format!("Fouls here: {}", labels(&window.broken())));
        } else {
            said.push(format!(
                "No spacing holds, since these contradict each other: {}",
                labels(&against)
            ));
        }
    }
    if !window.always_foul.is_empty() {
        said.push(format!(
            "fouls at every spacing and is left out: {}",
            labels(&window.always_foul)
        ));
    }
    if !window.never_clear.is_empty() {
        said.push(format!(
            "clear at no spacing: {}",
            labels(&window.never_clear)
        ));
    }
    let text = said.join("; ") + ".";
    let font = FontId::proportional(size::SMALL);
    let galley = ui.painter().layout(text, font, palette.ink, rect.width());
    let at = pos2(rect.left(), rect.bottom() - galley.size().y);
    ui.painter().galley(at, galley, palette.ink);
}

fn labels(rules: &[Rule]) -> String {
    let labels: Vec<_> = rules.iter().map(|rule| rule.info().label).collect();
    labels.join(", ")
}

fn to_the_middle(ui: &mut Ui, desk: &mut Desk, rect: Rect, window: &SpacingWindow) {
    let Some(middle) = window.middle() else {
        return;
    };
    let room = Rect::from_min_size(
        rect.right_top() + vec2(-120.0, -2.0),
        vec2(120.0, pieces::FIELD_HEIGHT),
    );
    let builder = egui::UiBuilder::new()
        .id_salt("to the middle")
        .max_rect(room)
        .layout(egui::Layout::right_to_left(egui::Align::Min));
    ui.scope_builder(builder, |ui| {
        if controls::outlined_button(ui, "To the middle").clicked() {
            desk.space(middle);
        }
    });
}
