//! The front view: head, plate and eyes as the audience sees them.
//!
//! A double click on the ground, the button and the Home key frame everything.

use egui::{CursorIcon, Id, Key, Rect, Response, Sense, Ui, vec2};
use layout::closed_curve::CurveOf;
use layout::geometry::Point;
use layout::handle::Handle;
use layout::wording;
use output::Seen;

use super::camera::Camera;
use super::handles::{self, Plane, Touched};
use super::ink::Ink;
use super::labels::Labels;
use super::outline_edit::{self, Place};
use super::shapes::Shapes;
use super::{
    backdrop, drives, eye, grid, grips, hand, lids, margins, menu, navigate, pen, plan, shelf_plate,
};
use crate::window::state::Desk;
use crate::window::step::Step;
use crate::window::theme::{PADDING, Palette};
use crate::window::work::Work;

/// Shows the front view in what is left of `ui`.
pub fn show(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera) {
    let rect = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(rect);
    camera.show_in(rect, desk.laid());
    choose_framed_eye(ui, desk);
    // The ground is no stop for Tab: there is nothing that a keyboard could do with it.
    let ground = ui.interact(
        rect,
        ui.scope_id().with("ground"),
        Sense::CLICK | Sense::DRAG,
    );
    let held = desk.work == Work::MovePicture;
    navigate::by_pointer(ui, &ground, camera, held);
    backdrop::tell_if_missing(ui.ctx(), desk);
    let (touched, ghost) = if desk.work == Work::Handles {
        let touched = handles::work(ui, desk, camera, Plane::Front);
        let ghost = work_ground(ui, &ground, desk, camera, touched);
        remove_by_key(ui, desk, touched);
        menu::show(ui, &ground, desk, camera, touched.hovered);
        (touched, ghost)
    } else {
        pen::work(ui, &ground, desk, camera);
        (Touched::default(), None)
    };
    camera.show_in(rect, desk.laid());
    point_at(ui, &ground, touched, ghost);

    let ink = Ink {
        painter: ui.painter_at(rect),
        palette: Palette::of(ui.ctx()),
        camera,
    };
    draw(&ink, ui, desk, touched, ghost);
    frame_all_button(ui, rect, camera, desk);
}

fn draw(ink: &Ink<'_>, ui: &Ui, desk: &Desk, touched: Touched, ghost: Option<Place>) {
    let shapes = Shapes::of(ui, desk);
    let mut labels = Labels::within(ink.camera.rect().shrink(4.0));
    grid::lines(ink, desk.unit);
    backdrop::draw(ink, desk.project().tracing.as_ref());
    if desk.work == Work::Handles {
        plate_and_eyes(ink, desk, &shapes);
    } else {
        // What is traced or measured must not be hidden.
        plan::edges(ink, desk, &shapes);
    }
    grid::centre_lines(ink);
    plan::head(ink, desk, &shapes);
    if desk.step == Step::Plate && desk.work == Work::Handles {
        let words = plan::smallest_head(ink, desk);
        words.into_iter().for_each(|words| labels.keep_free(words));
    }
    for figure in eye::spacings(ink, desk, &shapes.plate_edge) {
        labels.keep_free(figure);
    }
    let corner = ink.camera.rect().left_bottom() + vec2(PADDING, -PADDING);
    labels.keep_free(grid::scale_bar(ink, desk.unit, corner));
    labels.keep_free(frame_all_place(ink.camera.rect()));
    if desk.work == Work::Handles {
        drives::names(ink, desk, &mut labels);
        if desk.step == Step::Plate {
            plan::hole_names(ink, desk, &mut labels);
        }
        grips::draw(ink, desk, Plane::Front, touched, &mut labels);
    }
    let tag = grips::Tag::of(ink, desk, Plane::Front, touched);
    if let Some(tag) = &tag {
        labels.keep_free(tag.rect);
    }
    let shown = margins::shown(desk).into_iter();
    margins::draw(ink, &mut labels, desk, shown, |[x, y, _]| Point::new(x, y));
    if let Some(tag) = tag {
        tag.draw(ink);
    }
    pen::draw(ui, ink, desk, &mut labels);
    if let Some(place) = ghost {
        grips::ghost(ink, place.at());
    }
}

fn plate_and_eyes(ink: &Ink<'_>, desk: &Desk, shapes: &Shapes) {
    if ink.camera.seen == Seen::Back {
        // They stand before the plate, which hides them from here.
        drives::of_lids(ink, desk);
    }
    plan::plate(ink, shapes);
    if outline_edit::edited(desk) == Some(CurveOf::Plate) {
        plan::drawn_curve(ink, desk);
    }
    plan::ties(ink, desk);
    plan::openings(ink, desk);
    plan::sweeps(ink, desk);
    match ink.camera.seen {
        Seen::Front => {
            drives::of_eyes(ink, desk);
            eye::balls(ink, desk);
            lids::draw(ink, desk);
            drives::of_lids(ink, desk);
        }
        Seen::Back => {
            eye::rings(ink, desk);
            drives::of_eyes(ink, desk);
            drives::behind_plate(ink, desk);
        }
    }
    match desk.step {
        Step::Hand => hand::plan(ink, desk),
        Step::Plate => {
            shelf_plate::draw(ink, desk);
            plan::proposed_slots(ink, desk);
        }
        _ => {}
    }
}

/// Cuts through the eye that a newly framed finding is about.
fn choose_framed_eye(ui: &Ui, desk: &mut Desk) {
    let memory = ui.scope_id().with("framed");
    let seen: Option<usize> = ui.data(|data| data.get_temp(memory)).flatten();
    if seen == desk.framed {
        return;
    }
    ui.data_mut(|data| data.insert_temp(memory, desk.framed));
    let finding = desk
        .framed
        .and_then(|index| desk.report().findings.get(index));
    let eyes = 0..desk.project().eyes.len();
    let about = finding.and_then(|finding| {
        let mut eyes = eyes;
        eyes.find(|&eye| wording::is_about(&finding.part, &desk.project().eye_name(eye)))
    });
    desk.chosen_eye = about.unwrap_or(desk.chosen_eye);
}

/// Clicks on the ground: on the curve that is drawn in this step they add a point, elsewhere they let go of what is
/// selected; twice, they frame everything. Returns where a click would add a point.
fn work_ground(
    ui: &Ui,
    ground: &Response,
    desk: &mut Desk,
    camera: &mut Camera,
    touched: Touched,
) -> Option<Place> {
    let added_memory = ui.scope_id().with("point added");
    if let Some(handle @ Handle::OutlinePoint(..)) = touched.double_clicked
        && !is_fresh(ui, added_memory)
    {
        menu::remove(desk, handle);
    }
    let free = touched.hovered.is_none() && ground.hovered();
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| free);
    let ghost = pointer.and_then(|pointer| outline_edit::under(desk, camera, pointer));
    if let Some(place) = ghost.filter(|_| ground.clicked()) {
        outline_edit::add(desk, place);
        let now = ui.input(|input| input.time);
        ui.data_mut(|data| data.insert_temp(added_memory, now));
        return None;
    }
    if ground.double_clicked() {
        camera.ask_to_frame_all();
    } else if ground.clicked() {
        desk.selected = None;
        desk.framed = None;
    }
    ghost
}

/// Whether a point was added a moment ago: the second click of a double click is not meant for it.
fn is_fresh(ui: &Ui, memory: Id) -> bool {
    /// Seconds within which two clicks may be one double click.
    const MOMENT: f64 = 0.6;
    let added: Option<f64> = ui.data(|data| data.get_temp(memory));
    let now = ui.input(|input| input.time);
    added.is_some_and(|added| now - added < MOMENT)
}

fn remove_by_key(ui: &Ui, desk: &mut Desk, touched: Touched) {
    let pressed =
        ui.input(|input| input.key_pressed(Key::Delete) || input.key_pressed(Key::Backspace));
    if let Some(handle) = touched.focused.filter(|_| pressed) {
        menu::remove(desk, handle);
    }
}

fn point_at(ui: &Ui, ground: &Response, touched: Touched, ghost: Option<Place>) {
    handles::point_at(ui, touched);
    if ground.dragged() {
        ui.set_cursor_icon(CursorIcon::Grabbing);
    } else if touched.hovered.is_none() && ghost.is_some() {
        ui.set_cursor_icon(CursorIcon::Copy);
    }
}

fn frame_all_place(rect: Rect) -> Rect {
    /// Size of the button, in points.
    const SIZE: egui::Vec2 = vec2(74.0, 22.0);
    Rect::from_min_size(rect.right_bottom() - vec2(PADDING, PADDING) - SIZE, SIZE)
}

fn frame_all_button(ui: &mut Ui, rect: Rect, camera: &mut Camera, desk: &Desk) {
    let text = egui::RichText::new("Frame all").small();
    let button = ui.place(frame_all_place(rect), egui::Button::new(text));
    let button = button.on_hover_text("Show the whole head and plate (Home)");
    let key = ui.input(|input| input.key_pressed(Key::Home)) && !ui.ctx().text_edit_focused();
    if button.clicked() || key {
        camera.frame_all(desk.laid(), rect);
        // What was just drawn is out of date.
        ui.request_repaint();
    }
}
