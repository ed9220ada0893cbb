//! The sheet: its paper, its title block, and a small picture of it.

use egui::{RichText, Ui};
use layout::Edit;
use layout::title_block::TitleBlock;
use output::cut::CutPart;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions, page_name, sheet_pages};
use output::unit::LengthUnit;
use output::{Drawing, Seen};

use super::preview;
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;
use crate::window::theme::Palette;

/// The sheet's options, and the sheet as it was drawn last.
#[derive(Default)]
pub(crate) struct SheetStep {
    /// The part that is drawn.
    pub(crate) part: CutPart,
    paper: PaperChoice,
    orientation: OrientationChoice,
    seen: Seen,
    /// The page that is shown, from 0.
    page: usize,
    drawn: Option<Drawn>,
}

/// A sheet, or why there is none, and what it was drawn from.
struct Drawn {
    revision: u64,
    options: SheetOptions,
    pages: Result<Vec<Drawing>, String>,
}

impl SheetStep {
    /// The options for a sheet that is drawn now.
    pub(crate) fn options(&self, unit: LengthUnit, foam_clearance: f64) -> SheetOptions {
        SheetOptions {
            part: self.part,
            foam_clearance,
            paper: self.paper,
            orientation: self.orientation,
            seen: self.seen,
            unit,
            date: jiff::Zoned::now().date().to_string(),
        }
    }

    /// The sheet of the project as it stands; drawn again only after a change.
    fn pages(&mut self, desk: &Desk, foam_clearance: f64) -> &Result<Vec<Drawing>, String> {
        let options = self.options(desk.unit, foam_clearance);
        let revision = desk.history().revision();
        let current = |drawn: &Drawn| drawn.revision == revision && drawn.options == options;
        let drawn = self.drawn.take().filter(current).unwrap_or_else(|| {
            let pages = sheet_pages(desk.project(), desk.laid(), desk.report(), &options);
            let pages = pages.map_err(|error| format!("{error} {}", error.remedy()));
            Drawn {
                revision,
                options,
                pages,
            }
        });
        &self.drawn.insert(drawn).pages
    }
}

/// Papers and the ways they can lie, as they are offered.
const PAPERS: [(PaperChoice, &str); 4] = [
    (PaperChoice::Auto, "smallest"),
    (PaperChoice::A4, "A4"),
    (PaperChoice::A3, "A3"),
    (PaperChoice::Letter, "Letter"),
];
const ORIENTATIONS: [(OrientationChoice, &str); 3] = [
    (OrientationChoice::Auto, "either"),
    (OrientationChoice::Portrait, "portrait"),
    (OrientationChoice::Landscape, "landscape"),
];

const SIDES: [(Seen, &str); 2] = [(Seen::Front, "front"), (Seen::Back, "back")];

/// The parts to choose from, with what they are called in a row.
pub(super) const PARTS: [(CutPart, &str); 5] = [
    (CutPart::Plate, "plate"),
    (CutPart::Foam, "foam"),
    (CutPart::Guard, "guard"),
    (CutPart::Head, "head"),
    (CutPart::SmallestHead, "small head"),
];

pub(super) fn show(
    ui: &mut Ui,
    desk: &mut Desk,
    step: &mut SheetStep,
    foam_clearance: f64,
) -> Option<Command> {
    pieces::group(ui, "Paper, 1:1", true);
    step.part = pieces::row_below(ui, "Shows the", |ui| {
        chosen(ui, "Shows the", &PARTS, step.part)
    });
    step.paper = pick(ui, "Paper", &PAPERS, step.paper);
    step.orientation = pick(ui, "Way round", &ORIENTATIONS, step.orientation);
    step.seen = pick(ui, "Seen from the", &SIDES, step.seen);
    let units = [(LengthUnit::Millimetre, "mm"), (LengthUnit::Inch, "in")];
    desk.unit = pick(ui, "Lengths in", &units, desk.unit);
    ui.add_space(6.0);
    let mut page = step.page;
    let asked = drawn(ui, step.pages(desk, foam_clearance), &mut page);
    step.page = page;
    pieces::group(ui, "Title block", false);
    title_block(ui, desk);
    pieces::group(ui, "Cautions", false);
    pieces::hint(
        ui,
        "They are on the sheet. Read them before you cut, glue or shape a plate, and follow the rules of your \
         place.",
    );
    asked
}

fn pick<T: Copy + PartialEq>(ui: &mut Ui, label: &str, options: &[(T, &str)], now: T) -> T {
    pieces::row(ui, label, |ui| chosen(ui, label, options, now)).inner
}

/// A choice of one of `what`; gives the new one, or the one that there is.
pub(super) fn chosen<T: Copy + PartialEq>(
    ui: &mut Ui,
    what: &str,
    options: &[(T, &str)],
    now: T,
) -> T {
    let names: Vec<_> = options.iter().map(|(_, name)| *name).collect();
    let chosen = options
        .iter()
        .position(|(option, _)| *option == now)
        .unwrap_or_default();
    let picked = controls::choice(ui, what, &names, chosen);
    picked.map_or(now, |index| options[index].0)
}

/// The picture of one of the sheet's pages with what it is drawn on, or why there is none.
fn drawn(ui: &mut Ui, pages: &Result<Vec<Drawing>, String>, shown: &mut usize) -> Option<Command> {
    let pages = match pages {
        Ok(pages) => pages,
        Err(why) => {
            let colour = Palette::of(ui.ctx()).fouls;
            ui.label(RichText::new(why).color(colour));
            return None;
        }
    };
    let count = pages.len();
    *shown = (*shown).min(count.saturating_sub(1));
    let page = pages.get(*shown)?;
    let mut paper = page_name(page.page).unwrap_or_default();
    if count > 1 {
        turn(ui, shown, count);
        paper = format!("{count} pages of {paper}");
    }
    // Above the picture, where no page is so long that they are out of sight.
    let asked = buttons(ui);
    preview::show(ui, page, &format!("The sheet on {paper}"));
    pieces::figure(ui, "Drawn on", paper);
    asked
}

/// The buttons that save and print the sheet.
fn buttons(ui: &mut Ui) -> Option<Command> {
    ui.horizontal(|ui| {
        let mut asked = None;
        let save = controls::strong_button(ui, Command::SaveSheet.label());
        let print = controls::outlined_button(ui, Command::Print.label());
        for (button, command) in [(save, Command::SaveSheet), (print, Command::Print)] {
            if button.on_hover_text(command.hover_text(ui.ctx())).clicked() {
                asked = Some(command);
            }
        }
        asked
    })
    .inner
}

/// Turns from page to page.
fn turn(ui: &mut Ui, shown: &mut usize, count: usize) {
    ui.horizontal(|ui| {
        let (first, last) = (*shown == 0, *shown + 1 == count);
        if controls::quiet_button(ui, "← Page before", !first).clicked() {
            *shown -= 1;
        }
        ui.label(format!("page {} of {count}", *shown + 1));
        if controls::quiet_button(ui, "Next page →", !last).clicked() {
            *shown += 1;
        }
    });
}

fn title_block(ui: &mut Ui, desk: &mut Desk) {
    type Part = fn(&mut TitleBlock) -> &mut String;
    let parts: [(&str, Part); 4] = [
        ("Legal owner", |block| &mut block.owner),
        ("Number", |block| &mut block.number),
        ("Drawn by", |block| &mut block.creator),
        ("Approved by", |block| &mut block.approved_by),
    ];
    let mut block = desk.project().title_block.clone();
    let mut missing = Vec::new();
    for (label, part) in parts {
        let value = part(&mut block).clone();
        if value.is_empty() {
            missing.push(label.to_lowercase());
        }
        TextField {
            label,
            value: &value,
            hint: "",
        }
        .show(ui, desk, |desk, text| {
            let mut block = desk.project().title_block.clone();
            *part(&mut block) = text;
            desk.apply(&Edit::TitleBlock(block))
        });
    }
    if desk.project().name.trim().is_empty() {
        missing.insert(0, "name of the character".to_owned());
    }
    if !missing.is_empty() {
        pieces::hint(ui, &format!("Still blank: {}.", missing.join(", ")));
    }
}
