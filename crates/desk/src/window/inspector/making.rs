//! The parts for the cutter and the printer, and what the maker's tools do.

use egui::{RichText, Ui};
use layout::field::{Field, PartsOf};
use layout::seat::Seat;
use layout::workshop::Workshop;
use layout::{Edit, Project};
use output::cut::{Cut, CutOptions, CutPart, cut_drawing};
use output::solid::{Solid, SolidOptions, fit_gauge, solids};

use super::{apply, making_preview, number};
use crate::parts::{self, CutFormat};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;
use crate::window::theme::Palette;

/// What is made for cutter and printer, and as it was made last.
pub(crate) struct Making {
    /// The part that is cut.
    pub(crate) part: CutPart,
    foam_clearance: f64,
    glue_gap: f64,
    made: Option<Made>,
}

/// What was made, from which project, and how.
struct Made {
    revision: u64,
    part: CutPart,
    options: (CutOptions, SolidOptions),
    cut: Result<Cut, String>,
    solids: Result<Vec<Solid>, String>,
}

impl Default for Making {
    fn default() -> Self {
        Self {
            part: CutPart::Plate,
            foam_clearance: CutOptions::default().foam_clearance,
            glue_gap: SolidOptions::default().glue_gap,
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
        });
        self.made.insert(made)
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, making: &mut Making) -> Option<Command> {
    pieces::group(ui, "Cut file", false);
    let names = ["plate", "foam", "head"];
    let chosen = CutPart::ALL.iter().position(|part| *part == making.part);
    let picked = pieces::row(ui, "Part", |ui| {
        controls::choice(ui, "Part", &names, chosen.unwrap_or_default())
    });
    if let Some(picked) = picked.inner {
        making.part = CutPart::ALL[picked];
    }
    if making.part == CutPart::Foam {
        making.foam_clearance = own(ui, desk, "Foam off the sweep by", making.foam_clearance);
    }
    let mut asked = cut(ui, making.made(desk));
    pieces::group(ui, "Solids", false);
    making.glue_gap = own(ui, desk, "Glue between ball and ring", making.glue_gap);
    asked = asked.or(printed(ui, desk, making));
    pieces::group(ui, "What your tools do", false);
    asked = asked.or(gauge(ui, desk));
    workshop(ui, desk);
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
        Ok(cut) => making_preview::cut(ui, cut),
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
    making_preview::solids(ui, solids);
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

fn buttons(ui: &mut Ui, commands: &[Command]) -> Option<Command> {
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

fn trouble(ui: &mut Ui, why: &str) {
    let colour = Palette::of(ui.ctx()).fouls;
    ui.label(RichText::new(why).color(colour));
}

/// The plate to print first, and what its dots mean.
fn gauge(ui: &mut Ui, desk: &Desk) -> Option<Command> {
    pieces::hint(
        ui,
        "Print the fit gauge as it is, without hole allowance. Find the seat that a ball just turns freely in, \
         the hole that a pin just passes and the slot that a tie just passes, and count their dots.",
    );
    for row in fit_gauge(desk.project()).rows {
        let values = row.values.map(|mm| desk.unit.format(mm));
        let text = format!(
            "1 to {} dots, {}: {} {}",
            values.len(),
            row.tries,
            values.join(", "),
            desk.unit.symbol()
        );
        pieces::hint(ui, &text);
    }
    buttons(ui, &[Command::SaveGauge])
}

/// What the maker found out about their tools, kept in the project.
fn workshop(ui: &mut Ui, desk: &mut Desk) {
    let Some(own) = desk.project().workshop.clone() else {
        pieces::hint(
            ui,
            "Parts are drawn exact: what your printer and your cutter take away can be noted here.",
        );
        if controls::outlined_button(ui, "Note what they do").clicked() {
            let clearance = running_clearance(desk.project());
            let workshop = Workshop::unknown(clearance);
            apply(desk, &Edit::Workshop(Some(workshop)));
        }
        return;
    };
    TextField {
        label: "Workshop",
        value: &own.name,
        hint: "printer and plastic",
    }
    .show(ui, desk, |desk, name| {
        let workshop = desk.project().workshop.clone();
        let named = workshop.map(|workshop| Workshop { name, ..workshop });
        desk.apply(&Edit::Workshop(named))
    });
    for field in [
        Field::HoleAllowance,
        Field::FoundClearance,
        Field::Kerf,
        Field::BedWidth,
        Field::BedDepth,
    ] {
        number(ui, desk, field, None);
    }
    if let Seat::Spherical { centre_height, .. } = desk.project().parts.seat
        && running_clearance(desk.project()) != own.running_clearance
        && controls::outlined_button(ui, "Use this running clearance in the seats").clicked()
    {
        let seat = Seat::Spherical {
            centre_height,
            running_clearance: own.running_clearance,
        };
        apply(desk, &Edit::SeatKind(PartsOf::Shared, seat));
    }
    if controls::outlined_button(ui, "Forget them").clicked() {
        apply(desk, &Edit::Workshop(None));
    }
}

/// The running clearance that the project's seats have now, mm; a usual one for plain seats.
fn running_clearance(project: &Project) -> f64 {
    /// Half of what a plastic ball may be larger by, and a tenth more, mm.
    const USUAL: f64 = 0.4;
    match project.parts.seat {
        Seat::Spherical {
            running_clearance, ..
        } => running_clearance,
        Seat::Plain { .. } => USUAL,
    }
}
