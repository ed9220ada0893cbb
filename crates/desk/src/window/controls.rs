//! What can be clicked: buttons, choices, switches.

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align, Button, Color32, ComboBox, CornerRadius, Galley, Layout, Rect, Response, RichText, Role,
    Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use layout::State;

use super::mark;
use super::pieces::{FIELD_HEIGHT, FIELD_WIDTH, row};
use super::theme::{self, PADDING, Palette, ROW};

/// A button that is only text until the pointer is over it.
pub(crate) fn quiet_button(ui: &mut Ui, text: &str, enabled: bool) -> Response {
    ui.add_enabled(enabled, Button::new(text).frame_when_inactive(false))
}

/// A button with an edge.
pub(crate) fn outlined_button(ui: &mut Ui, text: &str) -> Response {
    let palette = Palette::of(ui.ctx());
    let text = RichText::new(text).color(palette.accent);
    let edge = Stroke::new(1.0, palette.accent);
    ui.add(
        Button::new(text)
            .fill(palette.paper)
            .stroke(edge)
            .corner_radius(PILL),
    )
}

/// The button for what the window is there for.
pub(crate) fn strong_button(ui: &mut Ui, text: &str) -> Response {
    let palette = Palette::of(ui.ctx());
    let text = RichText::new(text)
        .color(palette.on_accent)
        .family(theme::strong());
    let button = Button::new(text)
        .fill(palette.accent)
        .stroke(Stroke::NONE)
        .corner_radius(PILL);
    ui.scope(|ui| {
        ui.spacing_mut().button_padding.x = PADDING;
        ui.add(button.min_size(vec2(0.0, ROW)))
    })
    .inner
}

/// Rounding of buttons with round ends: more than half of their height.
const PILL: CornerRadius = CornerRadius::same(16);

/// Words that do something.
pub(crate) fn link(ui: &mut Ui, text: &str) -> Response {
    let colour = Palette::of(ui.ctx()).accent;
    ui.add(
        Button::new(RichText::new(text).color(colour))
            .frame_when_inactive(false)
            .small(),
    )
}

/// An area that can be clicked or reached by Tab, with a ring while it has the focus.
pub(crate) fn clickable(ui: &mut Ui, size: Vec2, info: impl Fn() -> WidgetInfo) -> Response {
    let (_, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(info);
    focus_ring(ui, &response, response.rect);
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    response
}

/// The ring around what has the keyboard's focus.
pub(crate) fn focus_ring(ui: &Ui, response: &Response, rect: Rect) {
    if response.has_focus() {
        let stroke = Stroke::new(2.0, Palette::of(ui.ctx()).accent);
        ui.painter().rect_stroke(
            rect.expand(2.0),
            theme::FIELD_RADIUS,
            stroke,
            StrokeKind::Outside,
        );
    }
}

/// A choice among a few of `what`; gives the index of a new choice.
pub(crate) fn choice(ui: &mut Ui, what: &str, options: &[&str], chosen: usize) -> Option<usize> {
    let palette = Palette::of(ui.ctx());
    let mut picked = None;
    let font = egui::FontId::proportional(theme::size::BODY);
    let galleys: Vec<_> = options
        .iter()
        .map(|&option| {
            ui.painter()
                .layout_no_wrap(option.to_owned(), font.clone(), Color32::PLACEHOLDER)
        })
        .collect();
    let width = |galley: &egui::Galley| galley.size().x + 2.0 * CHOICE_MARGIN;
    let all: f32 = galleys
        .iter()
        .map(|galley| width(galley) + CHOICE_GAP)
        .sum();
    let size = vec2(all - CHOICE_GAP, FIELD_HEIGHT);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = CHOICE_GAP;
        let track = Rect::from_min_size(ui.max_rect().min, size);
        ui.painter().rect(
            track,
            theme::FIELD_RADIUS,
            palette.field,
            palette.hairline(),
            StrokeKind::Inside,
        );
        for (index, galley) in galleys.into_iter().enumerate() {
            let selected = index == chosen;
            let size = vec2(width(&galley), FIELD_HEIGHT);
            let spoken = format!("{what}: {}", options[index]);
            let response = clickable(ui, size, || {
                WidgetInfo::selected(Role::RadioButton, true, selected, &spoken)
            });
            let rect = response.rect;
            if selected {
                let edge = Stroke::new(1.0, palette.accent);
                let fill = palette.accent.gamma_multiply(0.12);
                ui.painter()
                    .rect(rect, theme::FIELD_RADIUS, fill, edge, StrokeKind::Inside);
            } else if response.hovered() {
                ui.painter()
                    .rect_filled(rect, theme::FIELD_RADIUS, palette.field);
            }
            let ink = if selected {
                palette.accent
            } else {
                palette.ink
            };
            ui.painter()
                .galley(rect.center() - galley.size() / 2.0, galley, ink);
            if response.clicked() && !selected {
                picked = Some(index);
            }
        }
    });
    picked
}

/// Space beside the words of a choice, in points.
const CHOICE_MARGIN: f32 = 9.0;

/// Space between the options of a choice, in points.
const CHOICE_GAP: f32 = 2.0;

/// A row with a choice among many, unfolded by a click; gives the index of a new choice.
pub(crate) fn list(
    ui: &mut Ui,
    label: &str,
    name: &str,
    options: &[&str],
    chosen: usize,
) -> Option<usize> {
    let mut picked = chosen;
    row(ui, label, |ui| {
        let combo = ComboBox::from_id_salt(name)
            .selected_text(options[chosen])
            .width(FIELD_WIDTH)
            .show_ui(ui, |ui| {
                for (index, option) in options.iter().enumerate() {
                    ui.selectable_value(&mut picked, index, *option);
                }
            });
        combo.response.accessible_name(name);
    });
    (picked != chosen).then_some(picked)
}

/// A slim switch in a row; true when it was flipped.
pub(crate) fn toggle(ui: &mut Ui, label: &str, on: bool) -> bool {
    let palette = Palette::of(ui.ctx());
    let row = row(ui, label, |ui| {
        let response = clickable(ui, SWITCH, || {
            WidgetInfo::selected(Role::CheckBox, true, on, label)
        });
        let rect = response.rect;
        let radius = rect.height() / 2.0;
        let travel = ui.ctx().animate_bool(response.id, on);
        let (track, knob) = if on {
            (palette.accent, palette.on_accent)
        } else {
            (palette.field, palette.faint)
        };
        let edge = if on || response.hovered() {
            palette.accent
        } else {
            palette.faint
        };
        ui.painter().rect(
            rect,
            radius,
            track,
            Stroke::new(1.0, edge),
            StrokeKind::Inside,
        );
        let x = egui::lerp((rect.left() + radius)..=(rect.right() - radius), travel);
        ui.painter()
            .circle_filled(egui::pos2(x, rect.center().y), radius - 4.0, knob);
        response
    });
    row.inner.labelled_by(row.inner_label).clicked()
}

/// Size of a switch, in points.
const SWITCH: Vec2 = vec2(36.0, 20.0);

/// Least room between name and figure of a row, in points.
const PICK_GAP: f32 = 8.0;

/// Width of the mark in a row, in points.
const PICK_MARK: f32 = 9.0;

/// A row of a list that can be chosen: a name at its left, a figure at its right. A name that would run into the
/// figure is cut, and told in full on hovering.
pub(crate) fn pick_row(ui: &mut Ui, name: &str, figure: &str, chosen: bool) -> Response {
    marked_row(ui, name, None, figure, chosen)
}

/// The same with a state's mark before the figure.
pub(crate) fn marked_row(
    ui: &mut Ui,
    name: &str,
    state: Option<State>,
    figure: &str,
    chosen: bool,
) -> Response {
    let palette = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), ROW - 4.0);
    let spoken = format!("{name}, {figure}");
    let response = clickable(ui, size, || {
        WidgetInfo::selected(Role::RadioButton, true, chosen, &spoken)
    });
    let rect = response.rect;
    if chosen || response.hovered() {
        let share = if chosen { 0.14 } else { 0.06 };
        ui.painter().rect_filled(
            rect,
            theme::FIELD_RADIUS,
            palette.accent.gamma_multiply(share),
        );
    }
    let font = egui::FontId::proportional(theme::size::BODY);
    let inner = rect.shrink2(vec2(8.0, 0.0));
    let painter = ui.painter();
    let figure = painter.layout_no_wrap(figure.to_owned(), font.clone(), palette.faint);
    let mut named = LayoutJob::simple_singleline(name.to_owned(), font, palette.ink);
    let marked = state.map_or(0.0, |_| PICK_MARK + PICK_GAP);
    let room = inner.width() - figure.size().x - PICK_GAP - marked;
    named.wrap = TextWrapping::truncate_at_width(room.max(0.0));
    let named = painter.layout_job(named);
    let is_cut = named.elided;
    let top = |galley: &Galley| inner.center().y - galley.size().y / 2.0;
    let name_at = pos2(inner.left(), top(&named));
    let figure_at = pos2(inner.right() - figure.size().x, top(&figure));
    if let Some(state) = state {
        let before = PICK_GAP + PICK_MARK / 2.0;
        let at = pos2(figure_at.x - before, inner.center().y);
        mark::paint(painter, at, PICK_MARK, state, &palette);
    }
    painter.galley(name_at, named, palette.ink);
    painter.galley(figure_at, figure, palette.faint);
    if is_cut {
        return response.on_hover_text(name);
    }
    response
}
