//! The slots that ties pass through.

use egui::Ui;
use layout::field::Field;
use layout::handle::Handle;
use layout::{Edit, Project};

use super::{apply, length, number, place, placing, shown_place};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    let slots = desk.project().ties.clone();
    for (index, slot) in slots.iter().enumerate() {
        let handle = Handle::Slot(index);
        let name = format!("Slot {}", index + 1);
        let chosen = desk.selected == Some(handle);
        let figure = shown_place(desk, slot.at);
        if controls::pick_row(ui, &name, &figure, chosen).clicked() {
            desk.selected = (!chosen).then_some(handle);
        }
        if chosen {
            one(ui, desk, index, &name);
        }
    }
    if slots.is_empty() {
        pieces::hint(ui, "No slot yet: ties hold the plate to the head.");
    }
    let add = if desk.mirror {
        "Add a pair of slots"
    } else {
        "Add a slot"
    };
    if controls::outlined_button(ui, add).clicked() {
        let (at, mirrored) = (free_place(desk), desk.mirror);
        if desk.apply(&Edit::AddSlot { at, mirrored }).is_ok() {
            desk.selected = Some(Handle::Slot(slots.len()));
        }
    }
    placing::show(ui, desk)
}

fn one(ui: &mut Ui, desk: &mut Desk, index: usize, name: &str) {
    let handle = Handle::Slot(index);
    place(ui, desk, handle, name);
    for field in [
        Field::SlotAngle(index),
        Field::TieWidth(index),
        Field::TieThickness(index),
    ] {
        number(ui, desk, field, Some(name));
    }
    leads_to(ui, desk, index, name);
    tie_length(ui, desk, index);
    placing::lock(ui, desk, index);
    if controls::outlined_button(ui, "Remove this slot").clicked() {
        let mirrored = desk.mirror;
        apply(desk, &Edit::Remove { handle, mirrored });
    }
    ui.add_space(4.0);
}

fn leads_to(ui: &mut Ui, desk: &mut Desk, slot: usize, name: &str) {
    let holes = desk.project().head.anchor_holes.len();
    let now = desk.project().ties[slot].anchor;
    let numbered = (0..holes).map(|hole| format!("hole {}", hole + 1));
    let names: Vec<_> = ["none".to_owned()].into_iter().chain(numbered).collect();
    let names: Vec<_> = names.iter().map(String::as_str).collect();
    let label = "Leads to anchor hole";
    let chosen = now.map_or(0, |hole| hole + 1);
    if let Some(picked) = controls::list(ui, label, &format!("{name}: {label}"), &names, chosen) {
        let anchor = picked.checked_sub(1);
        apply(desk, &Edit::LeadTo { slot, anchor });
    }
}

/// How long the slot's tie has to be, if it runs to a hole.
fn tie_length(ui: &mut Ui, desk: &Desk, slot: usize) {
    let Some(tie) = desk.report().figures.ties.get(slot) else {
        return;
    };
    if tie.run_mm.is_some() {
        pieces::figure(ui, "Its way to the hole", length(desk, tie.run_mm));
        pieces::figure(ui, "Tie no shorter than", length(desk, tie.tie_needed_mm));
        pieces::figure(ui, "Usual tie", length(desk, tie.tie_length_mm));
    }
}

/// How far outside the outermost opening a new slot starts, mm.
const BESIDE: f64 = 12.0;

/// How far above the highest slot there a new one starts, mm.
const ABOVE: f64 = 16.0;

/// Where a new slot starts: at the right of the outermost opening, above what is there.
fn free_place(desk: &Desk) -> [f64; 2] {
    let project: &Project = desk.project();
    let openings = desk.laid().eyes.iter().filter_map(|eye| eye.opening());
    let right = openings
        .map(|opening| opening.centre.x + opening.radius)
        .fold(0.0, f64::max);
    let beside = project
        .ties
        .iter()
        .map(|slot| slot.at)
        .filter(|at| at[0] > 0.0);
    let highest = beside.reduce(|a, b| if b[1] > a[1] { b } else { a });
    highest.map_or([(right + BESIDE).round(), 0.0], |[x, y]| [x, y + ABOVE])
}
