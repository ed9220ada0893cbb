//! Tracing a curve, and moving and measuring the picture under it.

use egui::{
    Align2, CursorIcon, FontId, Key, PointerButton, Pos2, Rect, Response, Role, Sense, Stroke,
    StrokeKind, Ui, Vec2, WidgetInfo, vec2,
};
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::draft::Draft;
use layout::geometry::{Point, Vector};
use layout::tracing::Tracing;

use super::camera::Camera;
use super::ink::{BOLD, FINE, Ink};
use super::labels::Labels;
use super::outline_edit::tenths;
use crate::window::state::Desk;
use crate::window::theme::size;
use crate::window::work::Work;

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
        return desk.end_work();
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
        Work::Trace(curve) => trace(ui, desk, camera, curve, clicked),
    }
    point_at(ui, ground, desk);
}

/// Draws a curve: a click sets a point, or closes the curve at its first one.
fn trace(ui: &Ui, desk: &mut Desk, camera: &Camera, curve: CurveOf, clicked: Option<Pos2>) {
    let typing = ui.ctx().text_edit_focused();
    let pressed = |key| !typing && ui.input(|input| input.key_pressed(key));
    let drawn = desk.draft(curve).map_or(&[][..], |draft| &draft.points);
    let first = drawn.first().filter(|_| drawn.len() > 1);
    let closes = |pointer: Pos2| {
        first.is_some_and(|&at| camera.to_screen(at.into()).distance(pointer) <= CLOSES)
    };
    if pressed(Key::Enter) || clicked.is_some_and(closes) {
        // The notice tells what stands in the way.
        let _told = desk.close_draft(curve);
    } else if let Some(pointer) = clicked {
        desk.draw_point(curve, tenths(camera.to_plate(pointer)));
    } else if pressed(Key::Backspace) {
        desk.take_point_back(curve);
    }
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

/// Draws what is set so far, and says what comes next.
pub(super) fn draw(ui: &Ui, ink: &Ink<'_>, desk: &Desk, labels: &mut Labels) {
    let accent = ink.palette.accent;
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
                dot(ink, at, POINT);
            }
        }
        Work::Trace(curve) => {
            if let Some(draft) = desk.draft(*curve) {
                drawn_so_far(ink, draft, desk.mirror);
            }
        }
    }
    if let Some(hint) = desk.work.hint(desk.mirror) {
        let covered = say(ui, ink, hint);
        labels.keep_free(covered);
    }
}

/// Draws the points of a curve that is not closed yet, and what would close it.
fn drawn_so_far(ink: &Ink<'_>, draft: &Draft, mirrored: bool) {
    let accent = ink.palette.accent;
    let points: Vec<Point> = draft.points.iter().map(|&at| at.into()).collect();
    if mirrored && points.len() > 1 {
        let mut whole = ink.path(&draft.closed(true));
        whole.extend(whole.first().copied());
        ink.dashed(&whole, Stroke::new(FINE, accent));
    }
    for leg in ink.path(&points).windows(2) {
        ink.painter
            .line_segment([leg[0], leg[1]], Stroke::new(BOLD, accent));
    }
    for (index, &at) in points.iter().enumerate() {
        dot(ink, at, if index == 0 { POINT + 1.5 } else { POINT });
    }
}

fn dot(ink: &Ink<'_>, at: Point, radius: f32) {
    let edge = Stroke::new(BOLD, ink.palette.accent);
    ink.painter
        .circle(ink.camera.to_screen(at), radius, ink.palette.paper, edge);
}

/// Says what comes next, on a slip of paper at the top of the view; returns what it covers.
fn say(ui: &Ui, ink: &Ink<'_>, hint: &str) -> Rect {
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
    // At the top, where it hides no scale and no button.
    let size = words.size() + 2.0 * ROOM;
    let middle = ink.camera.rect().center_top() + vec2(0.0, size.y / 2.0 + 1.0);
    let slip = Rect::from_center_size(middle, size);
    let edge = Stroke::new(FINE, palette.accent);
    ink.painter
        .rect(slip, 5.0, palette.paper, edge, StrokeKind::Inside);
    ink.painter.galley(slip.min + ROOM, words, palette.ink);
    ui.interact(slip, ui.scope_id().with("hint"), Sense::hover())
        .widget_info(|| WidgetInfo::labeled(Role::Label, true, hint));
    slip
}
