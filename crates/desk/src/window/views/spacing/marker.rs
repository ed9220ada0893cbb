//! The marker that stands where the eyes do, and moves them.

use egui::{
    Align2, CursorIcon, EventFilter, FontId, Key, Rect, Response, Sense, Stroke, Ui, WidgetInfo,
    pos2, vec2,
};
use layout::spacing::SpacingWindow;

use super::Scale;
use crate::window::state::Desk;
use crate::window::theme::{self, Palette, size};
use crate::window::{controls, mark, pieces};

/// What a press of an arrow key moves the marker by, mm: plain, and with Shift.
const STEPS: [f64; 2] = [0.1, 1.0];

/// How finely the marker is dragged, in places for each mm.
const GRID: f64 = 10.0;

/// Shows the marker and works it.
pub(super) fn show(ui: &mut Ui, desk: &mut Desk, scale: &Scale, window: &SpacingWindow) {
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
    let length = desk.unit.format_with_symbol(present);
    let text = head + vec2(14.0, 0.0);
    mark::paint(ui.painter(), text + vec2(4.0, 0.0), 10.0, state, &palette);
    ui.painter().text(
        text + vec2(14.0, 0.0),
        Align2::LEFT_CENTER,
        &length,
        FontId::new(size::BODY, theme::strong()),
        palette.ink,
    );
    response.widget_info(|| WidgetInfo {
        current_text_value: Some(format!("{length}, {}", state.word())),
        ..WidgetInfo::slider(true, present, "Spacing in its window")
    });
    work(ui, desk, scale, &response, present);
}

fn work(ui: &Ui, desk: &mut Desk, scale: &Scale, response: &Response, present: f64) {
    if response.drag_started() || response.clicked() {
        response.request_focus();
    }
    if response.drag_started() {
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

/// The button that puts the eyes into the middle of where they may stand.
pub(super) fn to_the_middle(ui: &mut Ui, desk: &mut Desk, rect: Rect, window: &SpacingWindow) {
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
