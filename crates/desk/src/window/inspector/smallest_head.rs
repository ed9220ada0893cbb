//! The smallest head that takes the plate.

use egui::Ui;

use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    let shown = desk.smallest.is_some();
    if controls::toggle(ui, "Smallest head for this plate", shown) {
        desk.show_smallest_head(!shown);
    }
    let take = match &desk.smallest {
        None => false,
        Some(Err(problem)) => {
            pieces::refusal(ui, &problem.to_string());
            false
        }
        Some(Ok(head)) => {
            pieces::figure(ui, "Width × height", desk.in_words(head.size));
            pieces::hint(
                ui,
                "It keeps off plate, rings, lids, lugs and guard as far as is wanted. Sheaths and ties do not \
                 count: lead them once the head is there.",
            );
            controls::outlined_button(ui, "Take as head outline").clicked()
        }
    };
    if take {
        desk.take_smallest_head();
    }
}
