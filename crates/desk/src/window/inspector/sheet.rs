//! The sheet: its paper, its title block, and a small picture of it.

use egui::Ui;
use layout::Edit;
use layout::title_block::TitleBlock;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};
use output::unit::LengthUnit;

use crate::window::command::Command;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;

/// The sheet's options.
#[derive(Default)]
pub(crate) struct SheetStep {
    paper: PaperChoice,
    orientation: OrientationChoice,
}

impl SheetStep {
    /// The options for a sheet that is drawn now.
    pub(crate) fn options(&self, unit: LengthUnit) -> SheetOptions {
        SheetOptions {
            paper: self.paper,
            orientation: self.orientation,
            unit,
            date: jiff::Zoned::now().date().to_string(),
        }
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, step: &mut SheetStep) -> Option<Command> {
    pieces::group(ui, "Title block", true);
    title_block(ui, desk);
    let _ = step;
    None
}

fn title_block(ui: &mut Ui, desk: &mut Desk) {
    type Part = fn(&mut TitleBlock) -> &mut String;
    let parts: [(&str, Part); 4] = [
        ("Legal owner", |block| &mut block.owner),
        ("Number", |block| &mut block.number),
        ("Drawn by", |block| &mut block.creator),
        ("Approved by", |block| &mut block.approved_by),
    ];
    for (label, part) in parts {
        let mut block = desk.project().title_block.clone();
        let value = part(&mut block).clone();
        TextField { label, value: &value, hint: "blank" }.show(ui, desk, |desk, text| {
            let mut block = desk.project().title_block.clone();
            *part(&mut block) = text;
            desk.apply(&Edit::TitleBlock(block))
        });
    }
}
