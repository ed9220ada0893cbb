//! The small pieces that panels are put together from.

use egui::text::{CCursor, CCursorRange};
use egui::{
    Align, Color32, Frame, Id, Layout, Margin, RichText, Sense, Stroke, TextEdit, Ui, vec2,
};

use super::theme::{self, PADDING, PANEL_RADIUS, Palette, ROW};

/// Width of a number field, in points: `1000.25 mm` fits.
pub(crate) const FIELD_WIDTH: f32 = 108.0;

/// Width of a text field, in points.
pub(crate) const TEXT_WIDTH: f32 = 180.0;

/// Height of a field, in points: rows then stand a little apart.
pub(crate) const FIELD_HEIGHT: f32 = ROW - 4.0;

/// Space between a field's edge and its text.
pub(crate) const FIELD_MARGIN: Margin = Margin::symmetric(8, 2);

/// A sheet of paper.
pub(crate) fn paper(palette: &Palette) -> Frame {
    Frame::new()
        .fill(palette.paper)
        .stroke(palette.hairline())
        .corner_radius(PANEL_RADIUS)
}

/// A number of points as margins take it.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a small whole number of points"
)]
pub(crate) const fn whole(points: f32) -> i8 {
    points as i8
}

/// Room between a scroll bar and the edge of its paper, in points.
const BAR_ROOM: i8 = 2;

/// What scrolls on [`scrolling_paper`] keeps this free for the bar.
pub(crate) const SCROLLED_MARGIN: Margin = Margin {
    right: whole(PADDING) - BAR_ROOM,
    ..Margin::ZERO
};

/// A sheet of paper with room at its edge, where a scroll bar fits at the right.
pub(crate) fn scrolling_paper(palette: &Palette) -> Frame {
    let margin = Margin {
        right: BAR_ROOM,
        ..Margin::same(whole(PADDING))
    };
    paper(palette).inner_margin(margin)
}

/// A number as it is read: with a minus sign, where a hyphen would be typed.
pub(crate) fn with_minus(number: &str) -> String {
    number.replace('-', "−")
}

/// A name at the start of a sentence or a row.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}

/// What a panel is called.
pub(crate) fn heading(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).heading());
    ui.add_space(4.0);
}

/// Starts a group of rows: a hairline, unless it is the first, and a small heading.
pub(crate) fn group(ui: &mut Ui, title: &str, first: bool) {
    if !first {
        ui.add_space(8.0);
        hairline(ui);
        ui.add_space(6.0);
    }
    ui.label(small(ui, title));
}

/// Small text that steps back.
pub(crate) fn small(ui: &Ui, text: impl Into<String>) -> RichText {
    RichText::new(text)
        .size(theme::size::SMALL)
        .color(Palette::of(ui.ctx()).faint)
}

/// A line across the panel, one pixel wide.
pub(crate) fn hairline(ui: &mut Ui) {
    let stroke = Palette::of(ui.ctx()).hairline();
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, stroke);
}

/// A row: what was put at its right end, and the label's id for a screen reader.
pub(crate) struct Row<R> {
    pub(crate) inner: R,
    pub(crate) inner_label: Id,
}

/// A row with a label at its left and what `add` puts at its right end.
pub(crate) fn row<R>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> R) -> Row<R> {
    let size = vec2(ui.available_width(), ROW);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_size(size);
        let inner_label = ui.label(label).id;
        let inner = ui
            .with_layout(Layout::right_to_left(Align::Center), add)
            .inner;
        Row { inner, inner_label }
    })
    .inner
}

/// A label with what `add` puts at the right end of the row below it, for choices that fill a row.
pub(crate) fn row_below<R>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> R) -> R {
    row(ui, label, |_| ());
    let size = vec2(ui.available_width(), ROW);
    let layout = Layout::right_to_left(Align::Center);
    ui.allocate_ui_with_layout(size, layout, add).inner
}

/// A row that shows a figure: its label steps back, its value stands out. A label that holds a maker's own
/// words may be long: it is cut where the value begins, and whole under the pointer.
pub(crate) fn figure(ui: &mut Ui, label: &str, value: impl Into<String>) {
    let palette = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), ROW - 5.0);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.label(RichText::new(value).family(theme::strong()));
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let label = RichText::new(label).color(palette.faint);
            ui.add(egui::Label::new(label).truncate());
        });
    });
}

/// A sentence in small type.
pub(crate) fn hint(ui: &mut Ui, text: &str) {
    let text = small(ui, text);
    ui.label(text);
}

/// Keeps a value from frame to frame, or forgets it.
pub(crate) fn remember<T: Clone + Send + Sync + 'static>(ui: &Ui, id: Id, value: Option<T>) {
    ui.data_mut(|data| match value {
        Some(value) => {
            data.insert_temp(id, value);
        }
        None => data.remove::<T>(id),
    });
}

/// Why a value was refused, below its field.
pub(crate) fn refusal(ui: &mut Ui, why: &str) {
    let colour = Palette::of(ui.ctx()).fouls;
    ui.label(RichText::new(why).size(theme::size::SMALL).color(colour));
    ui.add_space(4.0);
}

/// Gives the fields of this `ui` an edge of their own colour.
pub(crate) fn field_edges(ui: &mut Ui, colour: Option<Color32>) {
    if let Some(colour) = colour {
        let visuals = ui.visuals_mut();
        visuals.selection.stroke.color = colour;
        let widgets = &mut visuals.widgets;
        for state in [
            &mut widgets.inactive,
            &mut widgets.hovered,
            &mut widgets.active,
        ] {
            state.bg_stroke = Stroke::new(1.5, colour);
        }
    }
}

/// Selects all of a text field's text, so that typing replaces it.
pub(crate) fn select_all(ctx: &egui::Context, id: Id, text: &str) {
    if let Some(mut state) = TextEdit::load_state(ctx, id) {
        let end = CCursor::new(text.chars().count());
        state
            .cursor
            .set_char_range(Some(CCursorRange::two(CCursor::new(0), end)));
        state.store(ctx, id);
    }
}
