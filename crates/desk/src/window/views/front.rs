//! The front view: head, plate and eyes as the audience sees them.

use egui::{Shape, Stroke, Ui};

use super::camera::Camera;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// Shows the front view in what is left of `ui`.
pub fn show(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera) {
    let rect = ui.available_rect_before_wrap();
    ui.allocate_rect(rect, egui::Sense::hover());
    camera.show_in(rect, desk.laid());
    let palette = Palette::of(ui.ctx());
    let wall = desk.laid().wall.iter().map(|&at| camera.to_screen(at));
    let painter = ui.painter_at(rect);
    painter.add(Shape::closed_line(wall.collect(), Stroke::new(1.5, palette.ink)));
}
