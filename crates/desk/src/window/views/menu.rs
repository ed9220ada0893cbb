//! The menu at a place of the front view.

use egui::{Popup, Response, SetOpenCommand, Ui};
use layout::Edit;
use layout::handle::Handle;

use super::camera::Camera;
use super::handles;
use super::outline_edit::tenths;
use crate::window::state::Desk;
use crate::window::step::Step;

/// Where the menu was called up.
#[derive(Clone, Copy, Debug)]
struct Called {
    at: [f64; 2],
    handle: Option<Handle>,
}

/// Shows the menu of a place when it is called up there with the other button.
pub(super) fn show(
    ui: &Ui,
    ground: &Response,
    desk: &mut Desk,
    camera: &mut Camera,
    hovered: Option<Handle>,
) {
    let memory = ui.scope_id().with("menu");
    let called = ground.contains_pointer() && ui.input(|input| input.pointer.secondary_clicked());
    if called && let Some(pointer) = ui.input(|input| input.pointer.interact_pos()) {
        let called = Called {
            at: tenths(camera.to_plate(pointer)),
            handle: hovered,
        };
        ui.data_mut(|data| data.insert_temp(memory, called));
    }
    let Some(place) = ui.data(|data| data.get_temp::<Called>(memory)) else {
        return;
    };
    Popup::menu(ground)
        .open_memory(called.then_some(SetOpenCommand::Bool(true)))
        .at_pointer_fixed()
        .accessible_name("front view menu")
        .show(|ui| items(ui, desk, camera, place));
}

fn items(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera, Called { at, handle }: Called) {
    let mirrored = desk.mirror;
    let mut chosen = None;
    let mut item = |ui: &mut Ui, label: &str, edit: Edit| {
        if ui.button(label).clicked() {
            chosen = Some(edit);
        }
    };
    match desk.step {
        Step::Head => item(
            ui,
            "Add anchor hole here",
            Edit::AddAnchorHole { at, mirrored },
        ),
        Step::Eyes => item(ui, "Add eye here", Edit::AddEye(at)),
        Step::Plate => {
            item(ui, "Add slot here", Edit::AddSlot { at, mirrored });
            item(
                ui,
                "Add anchor hole here",
                Edit::AddAnchorHole { at, mirrored },
            );
        }
        Step::Lids | Step::Drives | Step::Hand | Step::Sheet => {}
    }
    if let Some(edit) = chosen {
        let _told_by_the_notice = desk.apply(&edit);
    }
    if let Some(handle) = handle.filter(|handle| handle.can_be_removed(desk.project())) {
        let label = format!("Remove {}", handles::name(handle, desk.project()));
        if ui.button(label).clicked() {
            remove(desk, handle);
        }
    }
    ui.separator();
    if ui.button("Frame all").clicked() {
        camera.ask_to_frame_all();
    }
}

/// Takes a handle away, and its partner in mirror editing. Of a pair of eyes without others only
/// the one goes: no plate is left without an eye. What cannot be taken away by itself stays.
pub(super) fn remove(desk: &mut Desk, handle: Handle) {
    if !handle.can_be_removed(desk.project()) {
        return;
    }
    let last_pair = matches!(handle, Handle::Eye(_)) && desk.project().eyes.len() == 2;
    let mirrored = desk.mirror && !last_pair;
    if desk.apply(&Edit::Remove { handle, mirrored }).is_ok() {
        desk.selected = None;
    }
}
