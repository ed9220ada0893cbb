//! The front view and the side cut, each on its own sheet, side by side.

use egui::{Panel, Rect, Ui, UiBuilder, vec2};

use super::pieces;
use super::state::Desk;
use super::theme::{self, GUTTER, PADDING, PANEL_RADIUS, Palette};
use super::views::{Camera, front, side};

/// Share of the width that the side cut takes.
const SIDE_SHARE: f32 = 0.36;

/// Narrowest side cut, in points, whose sliders can be worked.
const SIDE_LEAST: f32 = 236.0;

/// Shows both views in what is left of `ui`.
pub(crate) fn show(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera) {
    let rect = ui.available_rect_before_wrap();
    let side_width = (rect.width() * SIDE_SHARE).max(SIDE_LEAST).floor();
    let split = rect.right() - side_width;
    let front_rect = rect.with_max_x(split - GUTTER);
    let side_rect = rect.with_min_x(split);
    sheet(ui, front_rect, "Front, as the audience sees it", |ui| {
        front::show(ui, desk, camera);
    });
    let eye = desk.project().eye_name(desk.chosen_eye);
    sheet(
        ui,
        side_rect,
        &format!("Side cut through {}", with_article(&eye)),
        |ui| {
            Panel::bottom("pose")
                .frame(
                    egui::Frame::new()
                        .inner_margin(egui::Margin::symmetric(pieces::whole(PADDING), 8)),
                )
                .show_separator_line(false)
                .show(ui, |ui| side::show_pose(ui, desk));
            side::show(ui, desk, camera);
        },
    );
}

/// "the left eye", but "eye 3".
fn with_article(eye: &str) -> String {
    if eye.ends_with(|c: char| c.is_ascii_digit()) {
        eye.to_owned()
    } else {
        format!("the {eye}")
    }
}

fn sheet(ui: &mut Ui, rect: Rect, heading: &str, add: impl FnOnce(&mut Ui)) {
    let palette = Palette::of(ui.ctx());
    ui.painter().rect_filled(rect, PANEL_RADIUS, palette.paper);
    let builder = UiBuilder::new()
        .id_salt(heading.split(' ').next())
        .max_rect(rect.shrink(1.0));
    ui.scope_builder(builder, |ui| {
        ui.set_clip_rect(ui.clip_rect().intersect(rect));
        let top = rect.left_top() + vec2(PADDING, 10.0);
        let size = vec2(rect.width() - 2.0 * PADDING, theme::size::SMALL + 6.0);
        let title = UiBuilder::new().max_rect(Rect::from_min_size(top, size));
        ui.scope_builder(title, |ui| {
            let text = pieces::small(ui, heading);
            ui.add(egui::Label::new(text).truncate());
        });
        add(ui);
    });
    let edge = palette.hairline();
    ui.painter()
        .rect_stroke(rect, PANEL_RADIUS, edge, egui::StrokeKind::Inside);
}
