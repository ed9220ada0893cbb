//! Tracing a curve, and moving and measuring the picture under it.

use egui::{
    Align2, CursorIcon, FontId, Key, PointerButton, Pos2, Rect, Response, Stroke, StrokeKind, Ui,
    Vec2, vec2,
};
use layout::Edit;
use layout::geometry::{Point, Vector};
use layout::tracing::Tracing;

use super::camera::Camera;
use super::ink::{BOLD, FINE, Ink};
use super::labels::Labels;
use crate::window::state::Desk;
use crate::window::theme::size;
use crate::window::work::{Work, with_mirror_image};

/// How near to its first point, in points, a click closes a curve.
const CLOSES: f32 = 10.0;

/// Radius of a point that is set, in points.
const POINT: f32 = 4.2;

/// Lets the pointer and the keys do the work that is under way.
pub(super) fn work(ui: &Ui, ground: &Response, desk: &mut Desk, camera: &Camera) {
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        if desk.history().in_gesture() {
            desk.cancel_gesture();
        }
        desk.work = Work::Handles;
        return;
    }
    let clicked = ground
        .clicked()
        .then(|| ground.interact_pointer_pos())
        .flatten();
    match desk.work.clone() {
        Work::Handles => {}
        Work::MovePicture => move_picture(ui, ground, desk, camera),
        Work::MeasurePicture(mut places) => {
            if let Some(pointer) = clicked {
                if places.len() > 1 {
                    places.clear();
                }
                places.push(camera.to_plate(pointer));
                desk.work = Work::MeasurePicture(places);
            }
        }
        Work::Trace(curve, mut points) => {
            let closes = |pointer: Pos2| {
                let first = points.first().filter(|_| points.len() > 1);
                first.is_some_and(|&at| camera.to_screen(at).distance(pointer) <= CLOSES)
            };
            let typing = ui.ctx().text_edit_focused();
            let pressed = |key| !typing && ui.input(|input| input.key_pressed(key));
            if pressed(Key::Enter) || clicked.is_some_and(closes) {
                // The notice tells what stands in the way.
                let _told = desk.close_trace();
            } else if let Some(pointer) = clicked {
                points.push(tenths(camera.to_plate(pointer)));
                desk.work = Work::Trace(curve, points);
            } else if pressed(Key::Backspace) {
                points.pop();
                desk.work = Work::Trace(curve, points);
            }
        }
    }
    point_at(ui, ground, desk);
}

fn move_picture(ui: &Ui, ground: &Response, desk: &mut Desk, camera: &Camera) {
    let Some(tracing) = desk.project().tracing.clone() else {
        desk.work = Work::Handles;
        return;
    };
    if ground.drag_started_by(PointerButton::Primary) {
        desk.begin_gesture();
    }
    let by = ground.drag_delta();
    if ground.dragged_by(PointerButton::Primary) && by != egui::Vec2::ZERO {
        let way: Vector = camera.to_plate(Pos2::ZERO + by) - camera.to_plate(Pos2::ZERO);
        let at = (Point::from(tracing.at) + way).into();
        let moved = Tracing { at, ..tracing };
        // The notice tells what stands in the way.
        let _told = desk.apply(&Edit::Tracing(Some(moved)));
        ui.request_repaint();
    }
    if ground.drag_stopped() {
        desk.finish_gesture();
    }
}

fn point_at(ui: &Ui, ground: &Response, desk: &Desk) {
    if ground.hovered() || ground.dragged() {
        ui.set_cursor_icon(match desk.work {
            Work::Handles => CursorIcon::Default,
            Work::MovePicture => CursorIcon::Move,
            Work::MeasurePicture(_) | Work::Trace(..) => CursorIcon::Crosshair,
        });
    }
}

fn tenths(at: Point) -> Point {
    at.map(|along| (along * 10.0).round() / 10.0)
}

/// Draws what is set so far, and says what comes next.
pub(super) fn draw(ink: &Ink<'_>, desk: &Desk, labels: &mut Labels) {
    let accent = ink.palette.accent;
    let dot = |at: Point, radius: f32| {
        let edge = Stroke::new(BOLD, accent);
        ink.painter
            .circle(ink.camera.to_screen(at), radius, ink.palette.paper, edge);
    };
    match &desk.work {
        Work::Handles | Work::MovePicture => {}
        Work::MeasurePicture(places) => {
            if let [from, to] = places[..] {
                let line = [from, to].map(|at| ink.camera.to_screen(at));
                ink.painter.line_segment(line, Stroke::new(BOLD, accent));
                let length = desk.unit.format_with_symbol((to - from).norm());
                let middle = line[0] + (line[1] - line[0]) / 2.0 - vec2(0.0, 12.0);
                let text = ink.text(middle, Align2::CENTER_CENTER, &length, ink.palette.ink);
                labels.keep_free(text);
            }
            for &at in places {
                dot(at, POINT);
            }
        }
        Work::Trace(_, points) => {
            let path = ink.path(points);
            for leg in path.windows(2) {
                ink.painter
                    .line_segment([leg[0], leg[1]], Stroke::new(BOLD, accent));
            }
            if desk.mirror && points.len() > 1 {
                let mut whole = ink.path(&with_mirror_image(points));
                whole.extend(whole.first().copied());
                ink.dashed(&whole, Stroke::new(FINE, accent));
            }
            for (index, &at) in points.iter().enumerate() {
                dot(at, if index == 0 { POINT + 1.5 } else { POINT });
            }
        }
    }
    if let Some(hint) = desk.work.hint() {
        let covered = say(ink, hint);
        labels.keep_free(covered);
    }
}

/// Says what comes next, on a slip of paper at the foot of the view; returns what it covers.
fn say(ink: &Ink<'_>, hint: &str) -> Rect {
    /// Room around the words, in points.
    const ROOM: Vec2 = vec2(10.0, 5.0);
    let font = FontId::proportional(size::SMALL);
    let palette = &ink.palette;
    let words = ink.painter.layout(
        hint.to_owned(),
        font,
        palette.ink,
        ink.camera.rect().width() - 60.0,
    );
    let middle = ink.camera.rect().center_bottom() - vec2(0.0, 52.0);
    let slip = Rect::from_center_size(middle, words.size() + 2.0 * ROOM);
    let edge = Stroke::new(FINE, palette.accent);
    ink.painter
        .rect(slip, 5.0, palette.paper, edge, StrokeKind::Inside);
    ink.painter.galley(slip.min + ROOM, words, palette.ink);
    slip
}
