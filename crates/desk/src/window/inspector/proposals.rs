//! The route that the program proposes for a sheath, and the lock that keeps the maker's own.

use egui::{RichText, Ui};
use layout::Edit;
use layout::State;
use layout::drive::Drive;
use layout::propose::{self, Proposal};

use super::{angle, apply, length, shown};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// Height of an answer, in points.
const ANSWER: f32 = 180.0;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, index: usize, drive: &Drive) -> Option<Command> {
    if controls::toggle(ui, "Lock this route", drive.locked) {
        let lock = Edit::LockRoute {
            index,
            locked: !drive.locked,
            mirrored: desk.mirror,
        };
        apply(desk, &lock);
    }
    if drive.locked {
        if let Some(Err(blocked)) = desk.proposal_of(index) {
            pieces::hint(ui, &blocked.to_string());
        }
        return None;
    }
    let command = Command::ProposeRoute;
    let button = controls::outlined_button(ui, command.label());
    let asked = button.on_hover_text(command.hover_text(ui.ctx())).clicked();
    if desk.proposing == Some(index) {
        pieces::hint(ui, "Looking for a way…");
    }
    let answered = desk.proposal_of(index).cloned();
    if answered.is_some() && std::mem::take(&mut desk.show_proposal) {
        // The answer may come below what is in sight.
        let below = egui::vec2(0.0, ANSWER);
        let answer = egui::Rect::from_min_size(ui.cursor().min, below);
        ui.scroll_to_rect(answer, None);
    }
    match answered {
        Some(Ok(proposal)) if proposal.via == drive.via => {
            pieces::hint(ui, "None was found that is better than the route as it is.");
        }
        Some(Ok(proposal)) => offered(ui, desk, index, &proposal),
        Some(Err(blocked)) => {
            let colour = Palette::of(ui.ctx()).fouls;
            ui.label(RichText::new(blocked.to_string()).color(colour));
        }
        None => {}
    }
    asked.then_some(command)
}

/// What a proposal comes to, beside what there is, and whether to take it.
fn offered(ui: &mut Ui, desk: &mut Desk, index: usize, proposal: &Proposal) {
    let now = desk.report().figures.drives.get(index);
    let [bend, sheath, gain] = [
        now.and_then(|now| now.bend_total_deg),
        now.and_then(|now| now.sheath_mm),
        now.and_then(|now| now.pull_gain),
    ];
    let bends = layout::Degrees::from_radians(proposal.route.total_bend()).0;
    let was = |now: String, then: String| format!("{then}, now {now}");
    let times = |gain: Option<f64>| shown(gain, Measure::Plain);
    for (name, value) in [
        (
            "Proposed, bends in all",
            was(angle(bend), angle(Some(bends))),
        ),
        (
            "Sheath",
            was(
                length(desk, sheath),
                length(desk, Some(proposal.route.length())),
            ),
        ),
        (
            "Friction makes the pull, times",
            was(times(gain), times(Some(proposal.gain))),
        ),
    ] {
        pieces::figure(ui, name, value);
    }
    let name = &desk.project().drives[index].name;
    let now = propose::decided(desk.report(), name);
    let fouls: Vec<&str> = now
        .filter(|finding| finding.state == State::Fouls)
        .map(|finding| finding.sentence.as_str())
        .collect();
    if !fouls.is_empty() {
        pieces::hint(ui, &format!("It ends this: {}", fouls.join(" ")));
    }
    if proposal.state == State::Tight {
        pieces::hint(
            ui,
            "It holds, but comes closer to something than is wanted.",
        );
    }
    let partner = desk.project().mirror_route(index).filter(|_| desk.mirror);
    if let Some(partner) = partner {
        let name = &desk.project().drives[partner].name;
        pieces::hint(
            ui,
            &format!("The sheath of “{name}” is to be its mirror image."),
        );
    }
    ui.horizontal(|ui| {
        if controls::strong_button(ui, "Take this route").clicked() {
            desk.take_proposal(index);
        }
        if controls::outlined_button(ui, "Drop it").clicked() {
            desk.proposed = None;
        }
    });
}
