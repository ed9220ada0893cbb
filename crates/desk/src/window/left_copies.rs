//! The dialog that offers the copies of what was not saved when the program ended.

use egui::{Align, Context, Layout, RichText, ScrollArea, Ui, vec2};

use super::app::App;
use super::controls;
use super::dialogs::{self, modal};
use super::pieces;
use super::recovery::{is_older_than_file, name_of, taken_at};
use super::theme::{self, Palette, ROW};
use crate::keep::LeftCopy;

/// Greatest height of the list of copies, in points; more of them scroll.
const LIST_HEIGHT: f32 = 320.0;

/// Room for the list's scroll bar beside the copies, in points.
const BAR_ROOM: f32 = 12.0;

/// What the maker decided.
enum Decision {
    Open(usize),
    /// To be asked whether one goes.
    Doubt(usize),
    Delete(usize),
    /// Not to delete it after all.
    Spare,
    KeepAll,
}

impl App {
    /// Offers the copies that were left over.
    pub(crate) fn show_left_copies(&mut self, ctx: &Context) {
        let mut decision = None;
        let modal = modal("left copies", ctx).show(ctx, |ui| {
            ui.set_width(dialogs::WIDTH + BAR_ROOM);
            pieces::heading(ui, "Changes that were not saved");
            ui.label("Gazewright ended before they were saved. This is what it had copied:");
            ui.add_space(8.0);
            ScrollArea::vertical()
                .max_height(LIST_HEIGHT)
                .show(ui, |ui| {
                    ui.set_width(dialogs::WIDTH);
                    pieces::hairline(ui);
                    for (index, left) in self.copies.left.iter().enumerate() {
                        ui.add_space(6.0);
                        decision = row(ui, index, left, self.copies.doomed == Some(index))
                            .or(decision.take());
                        ui.add_space(6.0);
                        pieces::hairline(ui);
                    }
                });
            ui.add_space(10.0);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add_space(BAR_ROOM);
                let keep = controls::outlined_button(ui, "Keep for later");
                if ui.memory(|memory| memory.focused().is_none()) {
                    keep.request_focus();
                }
                let keep = keep.on_hover_text("They are offered again at the next start");
                if keep.clicked() {
                    decision = Some(Decision::KeepAll);
                }
            });
        });
        if modal.should_close() {
            decision = Some(Decision::KeepAll);
        }
        match decision {
            Some(Decision::Open(index)) => {
                let left = self.copies.left.remove(index);
                // The others are offered again at the next start.
                self.copies.left.clear();
                self.open_copy(left, ctx);
            }
            Some(Decision::Doubt(index)) => self.copies.doomed = Some(index),
            Some(Decision::Spare) => self.copies.doomed = None,
            Some(Decision::Delete(index)) => {
                self.copies.doomed = None;
                let left = self.copies.left.remove(index);
                self.delete_copy(left);
            }
            Some(Decision::KeepAll) => self.copies.left.clear(),
            None => {}
        }
    }
}

/// One copy: whose it is, where it belongs, when it was taken, and what to do with it.
fn row(ui: &mut Ui, index: usize, left: &LeftCopy, doomed: bool) -> Option<Decision> {
    let mut decision = None;
    let name = name_of(left);
    let size = vec2(ui.available_width(), ROW);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_height(ROW);
        decision = if doomed {
            last_question(ui, index, &name)
        } else {
            choices(ui, index, &name, left.project.is_ok())
        };
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let name = RichText::new(name).family(theme::strong());
            ui.add(egui::Label::new(name).truncate());
        });
    });
    // What cannot be read may have lost that, too.
    if left.project.is_ok() || left.taken.is_some() {
        let file = match &left.file {
            Some(file) => file.display().to_string(),
            None => "never saved".to_owned(),
        };
        let measured = match &left.measured {
            Some(_) => ", with the plate that was being measured",
            None => "",
        };
        let taken = taken_at(left.taken);
        pieces::hint(ui, &format!("{file}, copied at {taken}{measured}"));
    }
    if is_older_than_file(left.taken, left.file.as_deref()) {
        let text = "The file was saved again after this copy was taken.";
        let colour = Palette::of(ui.ctx()).tight;
        ui.label(RichText::new(text).size(theme::size::SMALL).color(colour));
    }
    if let Err(error) = &left.project {
        let text = format!("{error} It is kept as it is: mend it by hand, or delete it.");
        pieces::refusal(ui, &text);
    }
    decision
}

/// What can be done with a copy.
fn choices(ui: &mut Ui, index: usize, name: &str, readable: bool) -> Option<Decision> {
    let delete = controls::outlined_button(ui, "Delete");
    let delete = delete.accessible_name(format!("Delete the copy of {name}"));
    let mut decision = delete.clicked().then_some(Decision::Doubt(index));
    if readable {
        let open = controls::strong_button(ui, "Open the copy");
        let open = open.accessible_name(format!("Open the copy of {name}"));
        if open.clicked() {
            decision = Some(Decision::Open(index));
        }
    }
    decision
}

/// Asks once more before a copy goes.
fn last_question(ui: &mut Ui, index: usize, name: &str) -> Option<Decision> {
    let delete = controls::outlined_button(ui, "Delete it for good");
    let delete = delete.accessible_name(format!("Delete the copy of {name} for good"));
    let spare = controls::outlined_button(ui, "Keep it");
    let spare = spare.accessible_name(format!("Keep the copy of {name}"));
    if delete.clicked() {
        Some(Decision::Delete(index))
    } else {
        spare.clicked().then_some(Decision::Spare)
    }
}
