//! The slots that the program proposes, and the lock that keeps the maker's own.

use std::cell::Cell;

use egui::{RichText, Ui};
use layout::problem::{SMALLEST, within};
use layout::ties::length::TieLength;
use layout::ties::{MOST_TIES, Proposal, WhyNot};
use layout::{Edit, Problem};

use super::{apply, length};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// Largest width or thickness of a tie that is asked for, mm. Own choice.
const LARGEST_TIE: f64 = 50.0;

/// The switch that locks a slot.
pub(super) fn lock(ui: &mut Ui, desk: &mut Desk, slot: usize) {
    let locked = desk.project().ties[slot].locked;
    if controls::toggle(ui, "Lock this slot", locked) {
        let mirrored = desk.mirror;
        let locked = !locked;
        let lock = Edit::LockSlot {
            slot,
            locked,
            mirrored,
        };
        apply(desk, &lock);
    }
}

/// What is wanted, and what came of it.
pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    wanted(ui, desk);
    let command = Command::ProposeSlots;
    let button = controls::outlined_button(ui, command.label());
    let asked = button.on_hover_text(command.hover_text(ui.ctx())).clicked();
    if desk.slots.looking {
        pieces::hint(ui, "Looking for places…");
    }
    match desk.slots_found().cloned() {
        Some(Ok(proposal)) => offered(ui, desk, &proposal),
        Some(Err(why)) => refused(ui, &why),
        None => {}
    }
    asked.then_some(command)
}

fn wanted(ui: &mut Ui, desk: &mut Desk) {
    let most = MOST_TIES as f64;
    let count = typed(
        ui,
        desk,
        "Ties in all",
        desk.slots.count as f64,
        Measure::Count,
        |count| {
            within("Ties in all", count, 1.0..=most, "")?;
            if count.fract() == 0.0 {
                return Ok(());
            }
            Err(Problem::new(
                "count",
                "There is no part of a tie.",
                "Use a whole number.",
            ))
        },
    );
    desk.slots.count = (1..=MOST_TIES)
        .rfind(|&own| own as f64 <= count)
        .unwrap_or(1);
    for (side, label) in ["Tie width", "Tie thickness"].into_iter().enumerate() {
        let (now, measure) = (desk.slots.tie[side], Measure::Length(desk.unit));
        desk.slots.tie[side] = typed(ui, desk, label, now, measure, |value| {
            within(label, value, SMALLEST..=LARGEST_TIE, "mm")
        });
    }
}

/// A number that is not part of the project.
fn typed(
    ui: &mut Ui,
    desk: &mut Desk,
    label: &str,
    value: f64,
    measure: Measure,
    check: impl Fn(f64) -> Result<(), Problem>,
) -> f64 {
    let typed = Cell::new(value);
    let field = NumberField {
        label,
        name: None,
        value,
        measure,
    };
    field.show(ui, desk, |_, value| {
        check(value)?;
        typed.set(value);
        Ok(())
    });
    typed.get()
}

/// What a proposal comes to, beside what there is, and whether to take it.
fn offered(ui: &mut Ui, desk: &mut Desk, proposal: &Proposal) {
    let now = &desk.report().figures.plate;
    let spread = format!(
        "{}, now {}",
        length(desk, Some(proposal.spread)),
        length(desk, now.tie_spread_mm)
    );
    pieces::figure(ui, "Eyes and stops inside by", spread);
    let ties = proposal.slots.iter();
    let ties = ties.filter_map(|slot| TieLength::of(desk.project(), slot));
    let ways: Vec<f64> = ties.map(|tie| tie.run).collect();
    let longest = ways.iter().copied().reduce(f64::max);
    let shortest = ways.iter().copied().reduce(f64::min);
    pieces::figure(ui, "Shortest way to a hole", length(desk, shortest));
    pieces::figure(ui, "Longest way to a hole", length(desk, longest));
    pieces::figure(ui, "Pads stand out by", length(desk, Some(proposal.grows)));
    if proposal.spread < 0.0 {
        pieces::hint(
            ui,
            "An eye or a sheath stop lies beyond the slots. More ties would hold it.",
        );
    }
    if !proposal.proven {
        pieces::hint(
            ui,
            "There are too many ways to look into all: a better one may be left.",
        );
    }
    ui.horizontal(|ui| {
        if controls::strong_button(ui, "Take these slots").clicked() {
            desk.take_slots();
        }
        if controls::outlined_button(ui, "Drop them").clicked() {
            desk.drop_slots();
        }
    });
}

/// Why none is proposed, and the figures of that.
fn refused(ui: &mut Ui, why: &WhyNot) {
    let colour = Palette::of(ui.ctx()).fouls;
    ui.label(RichText::new(why.to_string()).color(colour));
    if let WhyNot::Fewer { fit, taken } = why {
        pieces::figure(ui, "Slots that have room", fit.to_string());
        for (by, places) in taken {
            pieces::figure(ui, &format!("Places lost to {by}"), places.to_string());
        }
    }
}
