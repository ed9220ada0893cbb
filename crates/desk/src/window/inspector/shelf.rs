//! The shelf: which plate that the maker has already fits the head.

use egui::Ui;
use layout::State;
use layout::shelf::{Fit, Placed, Work};

use super::measured_plate;
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::shelf_work::{LookedAt, OpenShelf};
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
    let plates = if count == 1 { "plate" } else { "plates" };
    pieces::hint(ui, &format!("{file}: {count} {plates}, the best first"));
    if !open.is_fresh(desk.history().revision()) {
        pieces::hint(ui, "Trying each plate in the head…");
    }
    list(ui, desk, open);
    open.chosen?;
    let shown = open.shown().map(|(_, looked_at)| looked_at);
    match shown {
        Some(looked_at) => needs(ui, desk, looked_at),
        None => pieces::hint(ui, "Looking at what it needs…"),
    }
    let mut wanted = None;
    ui.horizontal(|ui| {
        let can_be_taken = shown.is_some_and(LookedAt::can_be_taken);
        if can_be_taken && controls::strong_button(ui, "Take this plate").clicked() {
            wanted = Some(Do::Take);
        }
        if desk.measuring.is_none() && controls::outlined_button(ui, "Change its figures").clicked()
        {
            wanted = Some(Do::Measure);
        }
    });
    ui.add_space(4.0);
    wanted
}

fn list(ui: &mut Ui, desk: &Desk, open: &mut OpenShelf) {
    let mut picked = None;
    for (rank, (index, fit)) in open.ranked().iter().enumerate() {
        let chosen = open.chosen == Some(*index);
        if rank >= MOST_LISTED && !open.all_listed && !chosen {
            continue;
        }
        let said = match &fit.placed {
            Some(placed) => format!(
                "{}, {}",
                desk.unit.format_with_symbol(placed.margin),
                known(fit, placed).word()
            ),
            None if fit.matches() => "to be measured".to_owned(),
            None => "other parts".to_owned(),
        };
        let name = &open.shelf.plates[*index].name;
        if controls::pick_row(ui, name, &said, chosen).clicked() {
            picked = Some((!chosen).then_some(*index));
        }
    }
    open.chosen = picked.unwrap_or(open.chosen);
    let more = open.ranked().len() > MOST_LISTED && !open.all_listed;
    if more && controls::link(ui, "List all plates").clicked() {
        open.all_listed = true;
    }
}

/// What a plate comes to: what must be measured first is not known.
fn known(fit: &Fit, placed: &Placed) -> State {
    if fit.measure.is_empty() {
        placed.state
    } else {
        placed.state.max(State::NotChecked)
    }
}

/// What the chosen plate gives, and what must be done to it.
fn needs(ui: &mut Ui, desk: &Desk, LookedAt { fit, work }: &LookedAt) {
    pieces::hint(ui, fit.sentence());
    if let Some(placed) = &fit.placed {
        let length = |mm: f64| desk.unit.format_with_symbol(mm);
        pieces::figure(ui, "Margin to the wall", length(placed.margin));
        for spacing in &placed.spacings {
            pieces::figure(ui, "Spacing that it gives", length(spacing.distance));
        }
        pieces::figure(ui, "Turned by", format!("{:.1}°", placed.placement.turn.0));
        let slots = format!("{} of {}", placed.reaching(), placed.slots.len());
        pieces::figure(ui, "Slots that reach an anchor hole", slots);
    }
    if let Some(deepest) = work.as_ref().and_then(Work::deepest_filing) {
        let deepest = desk.unit.format_with_symbol(deepest);
        pieces::figure(ui, "To be filed, most", deepest);
    }
    let work = work.iter();
    let lacks = work.clone().flat_map(|work| &work.lacks);
    let drilling = work.clone().flat_map(|work| &work.drilling);
    let refused = work.flat_map(|work| &work.refused);
    let differences = fit.differences.iter().map(|one| one.sentence());
    let measure = fit.measure.iter().map(|one| one.sentence());
    let drilling = drilling.map(|one| one.sentence(desk.project()));
    let refused = refused.map(ToString::to_string);
    let sentences = differences
        .chain(measure)
        .chain(drilling)
        .chain(lacks.map(|one| one.sentence()))
        .chain(refused);
    for sentence in sentences {
        pieces::hint(ui, &sentence);
    }
}
