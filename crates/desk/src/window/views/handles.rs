//! What can be dragged on front view and side cut, by pointer and by keyboard.

use egui::accesskit::{self, Role};
use egui::{
    CursorIcon, EventFilter, Id, Key, Modifiers, PointerButton, Pos2, Rect, Response, Sense, Ui,
    Vec2, WidgetInfo,
};
use layout::drive::Moves;
use layout::geometry::{Point, Vector};
use layout::handle::{Handle, Place};
use layout::rod::RodEnd;
use layout::{Edit, Project, wording};
use output::LengthUnit;

use super::camera::Camera;
use super::{drives, outline_edit, rods};
use crate::window::state::Desk;
use crate::window::step::Step;

/// Least distance from a handle, in points, at which it can be taken: a finger's tremble.
const HIT_RADIUS: f32 = 10.0;

/// Places per mm that a dragged handle snaps to: tenths, as fields show them.
const DRAG_PLACES: f64 = 10.0;

/// Places per mm that a nudged handle keeps: finer than the finest nudge.
const NUDGE_PLACES: f64 = 1_000.0;

/// A change of place that is under way.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Gesture {
    /// The pointer holds the handle, this far from its place, mm.
    Drag(Handle, Vector),
    /// Arrow keys move it.
    Nudge(Handle),
}

/// What the pointer and the keyboard are at.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Touched {
    /// The handle under the pointer.
    pub(super) hovered: Option<Handle>,
    /// The handle that the keyboard moves.
    pub(super) focused: Option<Handle>,
    /// The handle that is being dragged.
    pub(super) dragged: Option<Handle>,
    /// The handle that was clicked twice.
    pub(super) double_clicked: Option<Handle>,
}

/// The plane that a view shows, and that its handles move in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Plane {
    /// Across and height: the front view.
    Front,
    /// Depth and height: the side cut, where only drives and rods of the chosen eye have handles.
    Cut,
}

impl Plane {
    /// Where a handle is in the plane, mm; depth counts from the plate's front face to the hand.
    pub(super) fn at(self, handle: Handle, desk: &Desk) -> Option<Point> {
        match (self, handle) {
            (_, Handle::Drive(drive, place)) => Some(self.onto(drives::place(desk, drive, place)?)),
            (_, Handle::Rod(rod, end)) => Some(self.onto(rods::place(desk, rod, end)?)),
            (Self::Front, handle) => desk.place_of(handle).map(Into::into),
            (Self::Cut, _) => None,
        }
    }

    /// A place of the plate's frame, mm, in the plane.
    fn onto(self, [x, y, z]: [f64; 3]) -> Point {
        match self {
            Self::Front => Point::new(x, y),
            Self::Cut => Point::new(-z, y),
        }
    }

    /// The place of the plate's frame, mm, that is `to` in the plane and as far off it as `from`.
    fn along_it(self, to: Point, [x, _, z]: [f64; 3]) -> [f64; 3] {
        match self {
            Self::Front => [to.x, to.y, z],
            Self::Cut => [x, to.y, -to.x],
        }
    }

    /// The change that puts a handle somewhere in the plane; None if it cannot be moved there.
    fn put(self, handle: Handle, to: Point, desk: &Desk) -> Option<Edit> {
        let mirrored = desk.mirror;
        match (self, handle) {
            (_, Handle::Drive(drive, place)) => {
                let to = self.along_it(to, drives::place(desk, drive, place)?);
                Some(Edit::MovePlace {
                    drive,
                    place,
                    to: drives::at_rest(desk, drive, place, to),
                    mirrored,
                })
            }
            (_, Handle::Rod(rod, end)) => {
                let to = self.along_it(to, rods::place(desk, rod, end)?);
                let to = rods::at_rest(desk, rod, end, to);
                Some(Edit::MoveRodEnd { rod, end, to })
            }
            (Self::Front, handle) => Some(Edit::Move {
                handle,
                to: to.into(),
                mirrored,
            }),
            (Self::Cut, _) => None,
        }
    }

    /// Where a handle is, in the maker's unit.
    pub(super) fn place_text(self, at: Point, unit: LengthUnit) -> String {
        let [across, up] = [at.x, at.y].map(|along| with_minus(&unit.format(along)));
        let symbol = unit.symbol();
        match self {
            Self::Front => format!("x {across}, y {up} {symbol}"),
            Self::Cut => format!("depth {across}, y {up} {symbol}"),
        }
    }

    /// What a handle is called in the plane.
    fn name(self, handle: Handle, project: &Project) -> String {
        let name = name(handle, project);
        match self {
            Self::Front => name,
            Self::Cut => format!("{name}, in the cut"),
        }
    }

    /// Where an arrow key of this way leads.
    fn along(self, way: Vector, camera: &Camera) -> Vector {
        match self {
            Self::Front => camera.seen.point(way.into()).coords,
            Self::Cut => way,
        }
    }
}

/// What a handle is called.
pub fn name(handle: Handle, project: &Project) -> String {
    match handle {
        Handle::Eye(index) => project.eye_name(index),
        Handle::Slot(index) => wording::slot(index),
        Handle::OutlinePoint(_, index) | Handle::AnchorHole(index) => {
            format!("{} {}", handle.noun(), index + 1)
        }
        Handle::Rod(rod, end) => {
            let own = project.rods.get(rod).map_or("", |rod| &rod.name);
            format!("{own}, {}", end.noun())
        }
        Handle::Drive(drive, place) => {
            let own = project.drives.get(drive).map_or("", |drive| &drive.name);
            match place {
                Place::Via(index) => format!("{own}, route point {}", index + 1),
                place => format!("{own}, {}", place.noun()),
            }
        }
    }
}

/// A number with a true minus sign, which is as wide as a plus and easier to see than a hyphen.
pub(super) fn with_minus(number: &str) -> String {
    number.replace('-', "−")
}

/// The handles of the step that is shown, and the selected one.
pub(super) fn shown(desk: &Desk, plane: Plane) -> Vec<Handle> {
    let project = desk.project();
    if plane == Plane::Cut {
        let drives = 0..project.drives.len();
        let of_eye = |index: &usize| project.drives[*index].moves.eye() == desk.chosen_eye;
        let drives = drives.filter(|_| desk.step == Step::Drives).filter(of_eye);
        let drives = drives.flat_map(|index| of_drive(index, desk));
        let rods = rod_ends(desk).filter(|(moves, _)| moves.eye() == desk.chosen_eye);
        return drives.chain(rods.map(|(_, handle)| handle)).collect();
    }
    let on = |steps: &[Step], count: usize| if steps.contains(&desk.step) { count } else { 0 };
    let slots = on(&[Step::Head, Step::Plate], project.ties.len());
    let holes = on(&[Step::Head, Step::Plate], project.head.anchor_holes.len());
    let mut handles: Vec<Handle> = (0..project.eyes.len()).map(Handle::Eye).collect();
    handles.extend((0..slots).map(Handle::Slot));
    handles.extend((0..holes).map(Handle::AnchorHole));
    if let Some(curve) = outline_edit::edited(desk) {
        let points = curve.get(project).map_or(0, |(points, _)| points.len());
        handles.extend((0..points).map(|index| Handle::OutlinePoint(curve, index)));
    }
    let drives = on(&[Step::Drives], project.drives.len());
    handles.extend((0..drives).flat_map(|index| of_drive(index, desk)));
    handles.extend(rod_ends(desk).map(|(_, handle)| handle));
    // Drives and rods are worked in their own step alone.
    let elsewhere = |handle: &Handle| matches!(handle, Handle::Drive(..) | Handle::Rod(..));
    let selected = desk.selected.filter(|selected| !elsewhere(selected));
    handles.extend(selected.filter(|selected| !handles.contains(selected)));
    handles
}

/// The handles of a drive.
fn of_drive(index: usize, desk: &Desk) -> Vec<Handle> {
    let via = desk
        .project()
        .drives
        .get(index)
        .map_or(0, |drive| drive.via.len());
    let via = (0..via).map(Place::Via);
    let places = [Place::Tip, Place::Stop].into_iter().chain(via);
    let handles = places
        .chain([Place::Exit])
        .map(|place| Handle::Drive(index, place));
    { handles }
        .filter(|handle| desk.place_of(*handle).is_some())
        .collect()
}

/// The ends of all rods in their step, each with the part that it is on.
fn rod_ends(desk: &Desk) -> impl Iterator<Item = (Moves, Handle)> {
    let rods = desk.project().rods.iter().enumerate();
    let rods = rods.filter(|_| desk.step == Step::Drives);
    rods.flat_map(|(index, rod)| RodEnd::ALL.map(|end| (rod.end(end).0, Handle::Rod(index, end))))
}

/// How near, in points, the pointer must come to take a handle: an eye is taken by its iris.
pub(super) fn hit_radius(handle: Handle, project: &Project, camera: &Camera) -> f32 {
    let size = match handle {
        Handle::Eye(index) => project.eyes.get(index).map(|eye| eye.iris_diameter / 2.0),
        Handle::Slot(index) => project.ties.get(index).map(|slot| slot.half_diagonal()),
        Handle::AnchorHole(index) => {
            let hole = project.head.anchor_holes.get(index);
            hole.map(|hole| hole.diameter / 2.0)
        }
        Handle::OutlinePoint(..) | Handle::Drive(..) | Handle::Rod(..) => None,
    };
    size.map_or(HIT_RADIUS, |mm| camera.length(mm).max(HIT_RADIUS))
}

/// Lets pointer and keyboard work all handles of a plane.
pub(super) fn work(ui: &Ui, desk: &mut Desk, camera: &mut Camera, plane: Plane) -> Touched {
    let memory = ui.scope_id().with("gesture");
    let mut gesture: Option<Gesture> = ui.data(|data| data.get_temp(memory)).flatten();
    let mut touched = Touched::default();
    let handles = shown(desk, plane);
    let nearest = nearest(ui, &handles, desk, camera, plane);
    for &handle in &handles {
        let Some(at) = plane.at(handle, desk) else {
            continue;
        };
        let id = ui.scope_id().with(handle);
        let centre = camera.to_screen(at);
        let area = Rect::from_center_size(
            centre,
            Vec2::splat(2.0 * hit_radius(handle, desk.project(), camera)),
        );
        // Where handles lie close together the nearest one is taken, whatever their order.
        let yields =
            nearest.is_some_and(|(nearest, pointer)| nearest != handle && area.contains(pointer));
        let area = if yields { Rect::from_pos(centre) } else { area };
        let response = ui.interact(area, id, Sense::drag());
        describe(&response, handle, desk, plane);
        let worked = Worked {
            handle,
            plane,
            camera: *camera,
        };
        worked.drag(ui, &response, desk, &mut gesture);
        if response.hovered() && nearest.is_some_and(|(nearest, _)| nearest == handle) {
            touched.hovered = Some(handle);
            // A click that came and went between two frames is no drag, and takes the handle, too.
            if ui.input(|input| input.pointer.primary_clicked()) {
                select(desk, handle);
                response.request_focus();
            }
            let twice =
                ui.input(|input| input.pointer.button_double_clicked(PointerButton::Primary));
            touched.double_clicked = twice.then_some(handle).or(touched.double_clicked);
        }
        if response.gained_focus() {
            select(desk, handle);
            // What the pointer is on is in view.
            if !response.hovered() {
                camera.frame_points(&[[at.x, at.y, 0.0]]);
            }
        }
        if response.has_focus() {
            touched.focused = Some(handle);
            worked.nudge(ui, id, desk, &mut gesture);
        }
    }
    end_what_is_over(ui, desk, &mut gesture, touched);
    if let Some(Gesture::Drag(handle, _)) = gesture {
        touched.dragged = Some(handle);
    }
    ui.data_mut(|data| data.insert_temp(memory, gesture));
    touched
}

/// Shows by the pointer's shape that a handle can be taken, or is held.
pub(super) fn point_at(ui: &Ui, touched: Touched) {
    if touched.dragged.is_some() {
        ui.set_cursor_icon(CursorIcon::Grabbing);
    } else if touched.hovered.is_some() {
        ui.set_cursor_icon(CursorIcon::Grab);
    }
}

/// The handle that the pointer is nearest to, measured by how near it must come, and the pointer.
fn nearest(
    ui: &Ui,
    handles: &[Handle],
    desk: &Desk,
    camera: &Camera,
    plane: Plane,
) -> Option<(Handle, Pos2)> {
    let pointer = ui.input(|input| input.pointer.latest_pos())?;
    let distance = |handle: &Handle| {
        let at = plane.at(*handle, desk)?;
        let away = (camera.to_screen(at) - pointer).length();
        Some(away / hit_radius(*handle, desk.project(), camera))
    };
    let near = handles
        .iter()
        .filter_map(|handle| Some((*handle, distance(handle)?)));
    near.filter(|(_, distance)| *distance <= std::f32::consts::SQRT_2)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(handle, _)| (handle, pointer))
}

/// Tells assistive technology what a handle is, what it is called and where it stands.
fn describe(response: &Response, handle: Handle, desk: &Desk, plane: Plane) {
    let label = plane.name(handle, desk.project());
    let place = plane.at(handle, desk);
    let place = place.map(|at| plane.place_text(at, desk.unit));
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, &label));
    response
        .ctx
        .accesskit_node_builder(response.id, |node: &mut accesskit::Node| {
            node.set_value(place.unwrap_or_default());
            node.set_role_description("handle");
        });
}

fn select(desk: &mut Desk, handle: Handle) {
    desk.selected = Some(handle);
    match handle {
        Handle::Eye(index) => desk.chosen_eye = index,
        Handle::Drive(index, _) => desk.choose_drive(index),
        Handle::Rod(index, _) => desk.chosen_rod = index,
        _ => {}
    }
}

/// A handle of a plane, as a view shows it.
struct Worked {
    handle: Handle,
    plane: Plane,
    camera: Camera,
}

impl Worked {
    fn drag(&self, ui: &Ui, response: &Response, desk: &mut Desk, gesture: &mut Option<Gesture>) {
        let (pressed_at, moved) = ui.input(|input| {
            let pointer = &input.pointer;
            (pointer.press_origin(), pointer.delta() != Vec2::ZERO)
        });
        let pointer = response.interact_pointer_pos();
        let mut moved = moved;
        if response.drag_started_by(PointerButton::Primary)
            && let Some((pressed_at, at)) = pressed_at.zip(self.plane.at(self.handle, desk))
        {
            select(desk, self.handle);
            response.request_focus();
            desk.begin_gesture();
            let off = at - self.camera.to_plate(pressed_at);
            *gesture = Some(Gesture::Drag(self.handle, off));
            moved = pointer != Some(pressed_at);
        }
        // The pointer may move and let go between two frames: the last way counts, too.
        let held = response.dragged_by(PointerButton::Primary) || response.drag_stopped();
        if let Some(Gesture::Drag(dragged, off)) = *gesture
            && dragged == self.handle
            && held
            && moved
            && let Some(pointer) = pointer
        {
            let to = self.camera.to_plate(pointer) + off;
            self.move_to(desk, rounded(to, DRAG_PLACES));
        }
    }

    /// Moves it by the arrow keys: a tenth of a millimetre, with Shift one, with Alt a hundredth.
    fn nudge(&self, ui: &Ui, id: Id, desk: &mut Desk, gesture: &mut Option<Gesture>) {
        let arrows = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
        let steps = ui.input(|input| {
            let steps = input.events.iter().filter_map(|event| match *event {
                egui::Event::Key {
                    key,
                    pressed: true,
                    modifiers,
                    ..
                } => Some(self.plane.along(way(key)?, &self.camera) * step(modifiers)),
                _ => None,
            });
            steps.collect::<Vec<_>>()
        });
        for step in steps {
            let Some(at) = self.plane.at(self.handle, desk) else {
                return;
            };
            if gesture.is_none() {
                desk.begin_gesture();
                *gesture = Some(Gesture::Nudge(self.handle));
            }
            self.move_to(desk, rounded(at + step, NUDGE_PLACES));
        }
    }

    /// Moves it, and its partner in the mirror. A place that no plate can be laid out from is
    /// refused, and the desk's notice says why: the handle then stays at the last good one.
    fn move_to(&self, desk: &mut Desk, to: Point) {
        if self.plane.at(self.handle, desk) != Some(to)
            && let Some(edit) = self.plane.put(self.handle, to, desk)
        {
            let _told_by_the_notice = desk.apply(&edit);
        }
    }
}

const ARROWS: [Key; 4] = [
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::ArrowUp,
    Key::ArrowDown,
];

fn way(key: Key) -> Option<Vector> {
    match key {
        Key::ArrowLeft => Some(-Vector::x()),
        Key::ArrowRight => Some(Vector::x()),
        Key::ArrowUp => Some(Vector::y()),
        Key::ArrowDown => Some(-Vector::y()),
        _ => None,
    }
}

/// How far one press of an arrow key moves, mm.
fn step(modifiers: Modifiers) -> f64 {
    if modifiers.shift {
        1.0
    } else if modifiers.alt {
        0.01
    } else {
        0.1
    }
}

fn rounded(at: Point, places: f64) -> Point {
    at.map(|along| (along * places).round() / places)
}

/// Ends a gesture when the pointer or the keys let go; Escape puts back what was before it.
fn end_what_is_over(ui: &Ui, desk: &mut Desk, gesture: &mut Option<Gesture>, touched: Touched) {
    let Some(under_way) = *gesture else {
        return;
    };
    let (escaped, held, arrow_down) = ui.input(|input| {
        (
            input.key_pressed(Key::Escape),
            input.pointer.primary_down(),
            ARROWS.iter().any(|&key| input.key_down(key)),
        )
    });
    let over = match under_way {
        Gesture::Drag(..) => !held,
        Gesture::Nudge(handle) => !arrow_down || touched.focused != Some(handle),
    };
    if escaped {
        desk.cancel_gesture();
        *gesture = None;
    } else if over {
        desk.finish_gesture();
        *gesture = None;
    } else if !desk.history().in_gesture() {
        // Undo ended it.
        *gesture = None;
    }
}
