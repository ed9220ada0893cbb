//! How the pointer moves what a view shows.
//!
//! Dragging the ground or holding the middle button pans. A wheel and a pinch zoom about the
//! pointer; two fingers pan where the system tells them from a wheel (it reports points, not
//! lines).

use egui::{Event, MouseWheelUnit, PointerButton, Response, Ui};

use super::camera::Camera;

/// How much one notch of a wheel zooms.
const ZOOM_PER_LINE: f64 = 1.15;

/// Lets the pointer pan and zoom; where the ground is `held`, dragging it is meant for something else.
pub(super) fn by_pointer(ui: &Ui, ground: &Response, camera: &mut Camera, held: bool) {
    if ground.dragged_by(PointerButton::Primary) && !held {
        camera.pan(ground.drag_delta());
    }
    if !ground.contains_pointer() {
        return;
    }
    let (middle, delta, pinch) = ui.input(|input| {
        let pointer = &input.pointer;
        (
            pointer.middle_down(),
            pointer.delta(),
            f64::from(input.zoom_delta()),
        )
    });
    if middle && delta != egui::Vec2::ZERO {
        camera.pan(delta);
    }
    let Some(pointer) = ui.input(|input| input.pointer.hover_pos()) else {
        return;
    };
    if pinch != 1.0 {
        camera.zoom_about(pointer, pinch);
    }
    for event in ui.input(|input| input.events.clone()) {
        if let Event::MouseWheel {
            unit,
            delta,
            modifiers,
            ..
        } = event
            && !modifiers.command
        {
            match unit {
                MouseWheelUnit::Point => camera.pan(delta),
                MouseWheelUnit::Line | MouseWheelUnit::Page => {
                    camera.zoom_about(pointer, ZOOM_PER_LINE.powf(f64::from(delta.y)));
                }
            }
        }
    }
}
