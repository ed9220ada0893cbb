//! The shelf: which plate that the maker has already fits the head.

use egui::Ui;
use layout::shelf::Verdict;

use super::{measured_plate, shelf_needs};
use crate::ranking;
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::shelf_work::OpenShelf;
use crate::window::state::Desk;

/// Most plates that are listed at first: the best ones.
const MOST_LISTED: usize = 8;

/// What is to be done with the plate that is chosen.
enum Do {
    Take,
    Measure,
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    if let Some(mut open) = desk.shelf.take() {
        let wanted = opened(ui, desk, &mut open);
        desk.shelf = Some(open);
        match wanted {
            Some(Do::Take) => desk.take_plate(),
            Some(Do::Measure) => desk.measure_chosen(ui.ctx()),
            None => {}
        }
    } else {
        pieces::hint(ui, "Does a plate that you have already fit this head?");
    }
    let mut asked = None;
    let measure = desk.measuring.is_none().then_some(Command::MeasurePlate);
    for command in [Command::OpenShelf, Command::KeepOnShelf]
        .into_iter()
        .chain(measure)
    {
        let button = controls::outlined_button(ui, command.label());
        if button.on_hover_text(command.hover_text(ui.ctx())).clicked() {
            asked = Some(command);
        }
    }
    asked.or(measured_plate::show(ui, desk))
}

/// The plates, and what the chosen one needs; says what is to be done with it.
fn opened(ui: &mut Ui, desk: &Desk, open: &mut OpenShelf) -> Option<Do> {
    let file = open.path.file_name().unwrap_or_default().to_string_lossy();
    let count = open.shelf.plates.len();
    let plates = ranking::counted(count);
    let order = if count > 1 { ", the best first" } else { "" };
    let is_fresh = open.is_fresh(desk.history().revision());
    let serving = if is_fresh && count > 0 {
        format!("; {}", ranking::what_serves(&open.serving()))
    } else {
        String::new()
    };
    pieces::hint(ui, &format!("{file}: {plates}{order}{serving}"));
    troubles(ui, open);
    if count == 0 {
        return None;
    }
    if !is_fresh {
        pieces::hint(ui, "Trying each plate in the head…");
    }
    list(ui, desk, open);
    open.chosen?;
    let shown = open.shown();
    match shown {
        Some((_, looked_at)) => shelf_needs::summary(ui, desk, looked_at),
        None => pieces::hint(ui, "Looking at what it needs…"),
    }
    let mut wanted = None;
    ui.horizontal(|ui| {
        let can_be_taken = shown.is_some_and(|(_, looked_at)| looked_at.can_be_taken());
        if can_be_taken && controls::strong_button(ui, "Take this plate").clicked() {
            wanted = Some(Do::Take);
        }
        if desk.measuring.is_none() && controls::outlined_button(ui, "Change its figures").clicked()
        {
            wanted = Some(Do::Measure);
        }
    });
    if let Some((plate, looked_at)) = shown {
        shelf_needs::details(ui, desk, looked_at, plate.middle());
    }
    ui.add_space(4.0);
    wanted
}

/// What is wrong with entries of the file: those that are left out stand out.
fn troubles(ui: &mut Ui, open: &OpenShelf) {
    for (said, left_out) in open.troubles.iter().take(MOST_LISTED) {
        if *left_out {
            pieces::refusal(ui, said);
        } else {
            pieces::hint(ui, said);
        }
    }
    let more = open.troubles.len().saturating_sub(MOST_LISTED);
    if more > 0 {
        let said = format!("And {more} more: `gazewright fit` tells them all.");
        pieces::hint(ui, &said);
    }
    if let Some(nothing) = &open.nothing {
        pieces::hint(ui, nothing);
    }
}

fn list(ui: &mut Ui, desk: &Desk, open: &mut OpenShelf) {
    let mut picked = None;
    for (rank, (index, fit)) in open.ranked().iter().enumerate() {
        let chosen = open.chosen == Some(*index);
        if rank >= MOST_LISTED && !open.all_listed && !chosen {
            continue;
        }
        let margin = fit.margin();
        let margin = margin.map(|mm| pieces::with_minus(&desk.unit.format_with_symbol(mm)));
        let verdict = open.verdict(rank);
        let said = margin.into_iter().chain(verdict.map(Verdict::words));
        let said = said.collect::<Vec<_>>().join(", ");
        let mark = verdict.map(Verdict::state);
        let name = &open.names[*index];
        if controls::marked_row(ui, name, mark, &said, chosen).clicked() {
            picked = Some((!chosen).then_some(*index));
        }
    }
    open.chosen = picked.unwrap_or(open.chosen);
    let more = open.ranked().len() > MOST_LISTED && !open.all_listed;
    if more && controls::link(ui, "List all plates").clicked() {
        open.all_listed = true;
    }
}
