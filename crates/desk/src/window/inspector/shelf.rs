//! The shelf: which plate that the maker has already fits the head.

use egui::Ui;
use layout::State;
use layout::shelf::{Fit, Placed};

use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::shelf_work::OpenShelf;
use crate::window::state::Desk;

/// Most plates that are listed: the best ones.
const MOST_LISTED: usize = 8;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    if let Some(mut open) = desk.shelf.take() {
        let take = opened(ui, desk, &mut open);
        desk.shelf = Some(open);
        if take {
            desk.take_plate();
        }
    } else {
        pieces::hint(ui, "Does a plate that you have already fit this head?");
    }
    let mut asked = None;
    for command in [Command::OpenShelf, Command::KeepOnShelf] {
        let button = controls::outlined_button(ui, command.label());
        if button.on_hover_text(command.hover_text(ui.ctx())).clicked() {
            asked = Some(command);
        }
    }
    asked
}

/// The plates, and what the chosen one needs; says whether it is to be taken.
fn opened(ui: &mut Ui, desk: &Desk, open: &mut OpenShelf) -> bool {
    let file = open.path.file_name().unwrap_or_default().to_string_lossy();
    let count = open.shelf.plates.len();
    let plates = if count == 1 { "plate" } else { "plates" };
    pieces::hint(ui, &format!("{file}: {count} {plates}, the best first"));
    if !open.is_fresh(desk.history().revision()) {
        pieces::hint(ui, "Trying each plate in the head…");
    }
    list(ui, desk, open);
    let Some((_, fit)) = open.shown() else {
        return false;
    };
    needs(ui, desk, fit);
    let taken = fit.refused.is_none() && controls::strong_button(ui, "Take this plate").clicked();
    ui.add_space(4.0);
    taken
}

fn list(ui: &mut Ui, desk: &Desk, open: &mut OpenShelf) {
    let mut picked = None;
    for (index, fit) in open.ranked().iter().take(MOST_LISTED) {
        let chosen = open.chosen == Some(*index);
        let said = match &fit.placed {
            Some(placed) => format!(
                "{}, {}",
                desk.unit.format_with_symbol(placed.margin),
                worst(fit, placed).word()
            ),
            None => "to be measured".to_owned(),
        };
        let name = &open.shelf.plates[*index].name;
        if controls::pick_row(ui, name, &said, chosen).clicked() {
            picked = Some((!chosen).then_some(*index));
        }
    }
    open.chosen = picked.unwrap_or(open.chosen);
}

/// What a plate comes to: parts that differ foul, what must be measured first is not known.
fn worst(fit: &Fit, placed: &Placed) -> State {
    if !fit.matches() {
        State::Fouls
    } else if !fit.measure.is_empty() {
        placed.state.max(State::NotChecked)
    } else {
        placed.state
    }
}

/// What the chosen plate gives, and what must be done to it.
fn needs(ui: &mut Ui, desk: &Desk, fit: &Fit) {
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
        if let Some(deepest) = placed.deepest_filing() {
            pieces::figure(ui, "To be filed, most", length(deepest));
        }
    }
    let placed = fit.placed.iter();
    let lacks = placed.clone().flat_map(|placed| &placed.lacks);
    let drilling = placed.flat_map(|placed| &placed.drilling);
    let differences = fit.differences.iter().map(|one| one.sentence());
    let measure = fit.measure.iter().map(|one| one.sentence());
    let drilling = drilling.map(|one| one.sentence(desk.project()));
    let refused = fit.refused.iter().map(ToString::to_string);
    let sentences = differences
        .chain(measure)
        .chain(drilling)
        .chain(lacks.map(|one| one.sentence()))
        .chain(refused);
    for sentence in sentences {
        pieces::hint(ui, &sentence);
    }
}
