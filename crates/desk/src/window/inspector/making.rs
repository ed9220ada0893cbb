//! The parts for the cutter and the printer.

use egui::{RichText, Ui};
use layout::Project;
use output::cut::{Cut, CutOptions, CutPart, cut_drawing};
use output::solid::{Solid, SolidOptions, fit_gauge, solids};

use super::making_preview;
use super::sheet;
use super::tools::{self, Found};
use crate::parts::{self, CutFormat};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// What is made for cutter and printer, and as it was made last.
pub(crate) struct Making {
    /// The part that is cut.
    pub(crate) part: CutPart,
    /// How far the foam stands off what the rings sweep, mm.
    pub(crate) foam_clearance: f64,
    glue_gap: f64,
    found: Found,
    made: Option<Made>,
}

/// What was made, from which project, and how.
struct Made {
    revision: u64,
    part: CutPart,
    options: (CutOptions, SolidOptions),
    cut: Result<Cut, String>,
    solids: Result<Vec<Solid>, String>,
    gauge: Result<Solid, String>,
}

impl Default for Making {
    fn default() -> Self {
        Self {
            part: CutPart::Plate,
            foam_clearance: CutOptions::default().foam_clearance,
            glue_gap: SolidOptions::default().glue_gap,
            found: Found::default(),
            made: None,
        }
    }
}

impl Making {
    /// How parts are cut.
    pub(crate) fn cut_options(&self, project: &Project) -> CutOptions {
        CutOptions {
            foam_clearance: self.foam_clearance,
            ..parts::cut_options(project)
        }
    }

    /// How parts are printed.
    pub(crate) fn solid_options(&self, project: &Project) -> SolidOptions {
        SolidOptions {
            glue_gap: self.glue_gap,
            ..parts::solid_options(project)
        }
    }

    /// The parts of the project as it stands; made again only after a change.
    fn made(&mut self, desk: &Desk) -> &Made {
        let (project, laid) = (desk.project(), desk.laid());
        let revision = desk.history().revision();
        let options = (self.cut_options(project), self.solid_options(project));
        let part = self.part;
        let current =
            |made: &Made| made.revision == revision && made.part == part && made.options == options;
        let made = self.made.take().filter(current).unwrap_or_else(|| Made {
            revision,
            part,
            options,
            cut: cut_drawing(project, laid, part, &options.0)
                .map_err(|error| format!("{error} {}", error.remedy())),
            solids: solids(project, laid, &options.1)
                .map_err(|error| format!("{error} {}", error.remedy())),
            gauge: parts::gauge_solid(project)
                .map_err(|error| format!("{error} {}", error.remedy())),
        });
        self.made.insert(made)
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, making: &mut Making) -> Option<Command> {
    pieces::group(ui, "Cut file", false);
    making.part = pieces::row_below(ui, "Part", |ui| {
        sheet::chosen(ui, "Part", &sheet::PARTS, making.part)
    });
    if making.part == CutPart::Foam {
        making.foam_clearance = own(ui, desk, "Foam off the sweep by", making.foam_clearance);
    }
    let mut asked = cut(ui, making.made(desk));
    pieces::group(ui, "Solids", false);
    making.glue_gap = own(ui, desk, "Glue between ball and ring", making.glue_gap);
    asked = asked.or(printed(ui, desk, making));
    pieces::group(ui, "What your tools do", false);
    let rows = fit_gauge(desk.project()).rows;
    let unit = desk.unit;
    asked = asked.or(tools::gauge(ui, unit, &rows, &making.made(desk).gauge));
    tools::answers(ui, desk, &rows, &mut making.found);
    tools::workshop(ui, desk);
    asked
}

/// A length that is not part of the project.
fn own(ui: &mut Ui, desk: &mut Desk, label: &str, value: f64) -> f64 {
    let typed = std::cell::Cell::new(value);
    NumberField {
        label,
        name: None,
        value,
        measure: Measure::Length(desk.unit),
    }
    .show(ui, desk, |_, value| {
        layout::problem::within(label, value, 0.0..=50.0, "mm")?;
        typed.set(value);
        Ok(())
    });
    typed.get()
}

fn cut(ui: &mut Ui, made: &Made) -> Option<Command> {
    match &made.cut {
        Ok(cut) => {
            making_preview::cut(ui, cut);
            if let Some(said) = cut.falls_apart() {
                pieces::hint(ui, &said);
            }
        }
        Err(why) => {
            trouble(ui, why);
            return None;
        }
    }
    buttons(
        ui,
        &[
            Command::SaveCut(CutFormat::Svg),
            Command::SaveCut(CutFormat::Dxf),
        ],
    )
}

fn printed(ui: &mut Ui, desk: &Desk, making: &mut Making) -> Option<Command> {
    let workshop = desk.project().workshop.clone();
    let solids = match &making.made(desk).solids {
        Ok(solids) => solids,
        Err(why) => {
            trouble(ui, why);
            return None;
        }
    };
    making_preview::solids(ui, "The solids as they are printed", solids);
    for solid in solids {
        let footprint = parts::footprint(solid);
        let [width, depth] = footprint.map(|mm| desk.unit.format(mm));
        let count = match solid.count() {
            1 => String::new(),
            count => format!("{count} × "),
        };
        let size = format!("{count}{width} × {depth} {}", desk.unit.symbol());
        pieces::figure(ui, &pieces::capital(solid.name()), size);
        if workshop.as_ref().is_some_and(|own| !own.holds(footprint)) {
            trouble(ui, "It is larger than the printer's bed.");
        }
    }
    buttons(ui, &[Command::SaveSolids])
}

pub(super) fn buttons(ui: &mut Ui, commands: &[Command]) -> Option<Command> {
    let mut asked = None;
    ui.add_space(4.0);
    for &command in commands {
        let button = controls::outlined_button(ui, command.label());
        if button.on_hover_text(command.hover_text(ui.ctx())).clicked() {
            asked = Some(command);
        }
    }
    asked
}

pub(super) fn trouble(ui: &mut Ui, why: &str) {
    let colour = Palette::of(ui.ctx()).fouls;
    ui.label(RichText::new(why).color(colour));
}
