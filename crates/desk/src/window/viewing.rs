//! The front view and the side cut, each on its own sheet, side by side.

use egui::{Align, Layout, Panel, Rect, Ui, UiBuilder, vec2};
use output::Seen;

use super::command::Command;
use super::state::Desk;
use super::step::Step;
use super::theme::{self, GUTTER, PADDING, PANEL_RADIUS, Palette};
use super::views::{Camera, front, pose, side, spacing};
use super::{controls, pieces};

/// Share of the width that the side cut takes.
const SIDE_SHARE: f32 = 0.36;

/// Narrowest side cut, in points, whose sliders can be worked.
const SIDE_LEAST: f32 = 236.0;

/// Shows both views in what is left of `ui`.
pub(crate) fn show(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera) -> Option<Command> {
    let mut rect = ui.available_rect_before_wrap();
    if desk.spacing_shown && desk.step == Step::Eyes {
        let top = (rect.bottom() - spacing::HEIGHT).max(rect.center().y);
        let below = rect.with_min_y(top);
        rect = rect.with_max_y(top - GUTTER);
        let heading = format!("Spacing window, {}", desk.unit.symbol());
        sheet(ui, below, "spacing", &heading, |ui| spacing::show(ui, desk));
    }
    let side_width = (rect.width() * SIDE_SHARE).max(SIDE_LEAST).floor();
    let split = rect.right() - side_width;
    let front_rect = rect.with_max_x(split - GUTTER);
    let side_rect = rect.with_min_x(split);
    let heading = match camera.seen {
        Seen::Front => "From the front, as the audience sees it",
        Seen::Back => "From the back; left and right are the audience's",
    };
    sheet(ui, front_rect, "front", heading, |ui| {
        front::show(ui, desk, camera);
    });
    let asked = side_switch(ui, front_rect, camera.seen);
    let eye = desk.project().eye_name(desk.chosen_eye);
    sheet(
        ui,
        side_rect,
        "side",
        &format!("Side cut through {}", with_article(&eye)),
        |ui| {
            Panel::bottom("pose")
                .frame(
                    egui::Frame::new()
                        .inner_margin(egui::Margin::symmetric(pieces::whole(PADDING), 8)),
                )
                .show_separator_line(false)
                .show(ui, |ui| pose::show(ui, desk));
            side::show(ui, desk, camera);
        },
    );
    asked
}

/// The switch at the front view's upper right corner that turns it over.
fn side_switch(ui: &mut Ui, front: Rect, seen: Seen) -> Option<Command> {
    /// Width of the switch, in points: both words fit.
    const WIDTH: f32 = 112.0;
    let room = Rect::from_min_size(
        front.right_top() + vec2(-WIDTH - 8.0, 7.0),
        vec2(WIDTH, pieces::FIELD_HEIGHT),
    );
    let chosen = usize::from(seen == Seen::Back);
    let switch = UiBuilder::new()
        .id_salt("side seen")
        .max_rect(room)
        .layout(Layout::right_to_left(Align::Min));
    let picked = ui.scope_builder(switch, |ui| {
        controls::choice(ui, "Seen from", &["front", "back"], chosen)
    });
    let picked = picked.inner.filter(|&picked| picked != chosen);
    picked.map(|_| Command::TurnOver)
}

/// "the left eye", but "eye 3".
fn with_article(eye: &str) -> String {
    if eye.ends_with(|c: char| c.is_ascii_digit()) {
        eye.to_owned()
    } else {
        format!("the {eye}")
    }
}

fn sheet(ui: &mut Ui, rect: Rect, name: &str, heading: &str, add: impl FnOnce(&mut Ui)) {
    let palette = Palette::of(ui.ctx());
    ui.painter().rect_filled(rect, PANEL_RADIUS, palette.paper);
    let builder = UiBuilder::new().id_salt(name).max_rect(rect.shrink(1.0));
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
