//! The right-hand column: the fields of the step, and below them the findings.

use egui::{AsIdSalt, Id, ScrollArea, Ui};

use super::app::App;
use super::command::Command;
use super::theme::{GUTTER, PADDING, Palette};
use super::{findings, inspector, pieces};

/// Width of the column, in points.
pub(crate) const WIDTH: f32 = 340.0;

/// Most of the column's height that the fields take while the findings have more to say.
const FIELDS_SHARE: f32 = 0.62;

/// Shows the column.
pub(crate) fn show(ui: &mut Ui, app: &mut App) -> Option<Command> {
    let palette = Palette::of(ui.ctx());
    let total = ui.available_height();
    // What both would like to have, known from the frame before.
    let wishes = Id::unique("column wishes");
    let [fields, rest] = ui
        .data(|data| data.get_temp::<[f32; 2]>(wishes))
        .unwrap_or([total; 2]);
    let chrome = 2.0 * PADDING + 2.0;
    let room = total - GUTTER - 2.0 * chrome;
    let most = (room * FIELDS_SHARE).max(room - rest);
    let fields_height = fields.min(most).floor();
    let rest_height = (room - fields_height).max(0.0);
    ui.spacing_mut().item_spacing.y = 0.0;
    // Each step is where it was left.
    let fields_of = ("fields", app.desk.step);
    let (asked, fields) = scrolled(ui, &palette, fields_of, fields_height, |ui| {
        inspector::show(ui, app)
    });
    ui.add_space(GUTTER);
    let ((), rest) = scrolled(ui, &palette, "findings", rest_height, |ui| {
        findings::show(ui, app);
    });
    let now = [fields, rest];
    if ui.data(|data| data.get_temp::<[f32; 2]>(wishes)) != Some(now) {
        ui.data_mut(|data| data.insert_temp(wishes, now));
        ui.ctx().request_repaint();
    }
    asked
}

/// A sheet of a fixed height whose content scrolls; gives the content's own height as well.
fn scrolled<R>(
    ui: &mut Ui,
    palette: &Palette,
    name: impl AsIdSalt,
    height: f32,
    add: impl FnOnce(&mut Ui) -> R,
) -> (R, f32) {
    pieces::scrolling_paper(palette)
        .show(ui, |ui| {
            let output = ScrollArea::vertical()
                .id_salt(name)
                .content_margin(pieces::SCROLLED_MARGIN)
                .auto_shrink(false)
                .max_height(height)
                .min_scrolled_height(height)
                .show(ui, |ui| {
                    ui.spacing_mut().item_spacing.y = 2.0;
                    let inner = add(ui);
                    (inner, ui.min_rect().height())
                });
            output.inner
        })
        .inner
}
