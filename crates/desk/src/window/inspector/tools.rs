//! What the maker's printer and cutter do: the plate that tells it, and what was found out.

use egui::Ui;
use layout::field::{Field, PartsOf};
use layout::seat::Seat;
use layout::workshop::Workshop;
use layout::{Edit, Project};
use output::LengthUnit;
use output::solid::{GaugeRow, STEPS, Solid, Tried};

use super::making::{buttons, trouble};
use super::{apply, making_preview, number};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;

/// The dots that the maker found on a printed gauge, as indices of a row's values, until they are taken
/// into the project.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Found {
    seat: Option<usize>,
    hole: Option<usize>,
}

impl Found {
    /// Where the answer to a row is kept; None if no setting follows from it.
    fn of(&mut self, tried: Tried) -> Option<&mut Option<usize>> {
        match tried {
            Tried::Seat => Some(&mut self.seat),
            Tried::Hole => Some(&mut self.hole),
            Tried::Slot => None,
        }
    }
}

/// The plate to print first, and what its dots mean.
pub(super) fn gauge(
    ui: &mut Ui,
    unit: LengthUnit,
    rows: &[GaugeRow],
    solid: &Result<Solid, String>,
) -> Option<Command> {
    pieces::hint(
        ui,
        "Print the fit gauge as it is, without hole allowance. In each row look for the first step that \
         fits, and count its dots.",
    );
    for row in rows {
        let probe = format!("{} {}", unit.format(row.probe), unit.symbol());
        let fits = match row.tried {
            Tried::Seat => format!("Seats: a ball of {probe} turns freely. Running clearance"),
            Tried::Hole => format!("Holes: the shank of a {probe} drill passes. Too small by"),
            Tried::Slot => format!("Slots: a tie {probe} wide passes. Larger than the tie by"),
        };
        let values = row.values.map(|mm| unit.format(mm)).join(", ");
        pieces::hint(ui, &format!("{fits} {values} {}.", unit.symbol()));
    }
    match solid {
        Ok(solid) => {
            let spoken = "The fit gauge as it is printed";
            making_preview::solids(ui, spoken, std::slice::from_ref(solid));
        }
        Err(why) => {
            trouble(ui, why);
            return None;
        }
    }
    buttons(ui, &[Command::SaveGauge])
}

/// Takes the dots that the maker counted, and what they mean into the project in one step.
pub(super) fn answers(ui: &mut Ui, desk: &mut Desk, rows: &[GaugeRow], found: &mut Found) {
    let dots: [String; STEPS] = std::array::from_fn(|step| (step + 1).to_string());
    let dots = dots.each_ref().map(String::as_str);
    for row in rows {
        let label = format!("Dots of the {}", row.tried.noun());
        let Some(answer) = found.of(row.tried) else {
            continue;
        };
        // With none chosen yet, none is marked.
        let chosen = answer.unwrap_or(STEPS);
        let picked = pieces::row(ui, &label, |ui| controls::choice(ui, &label, &dots, chosen));
        *answer = picked.inner.or(*answer);
    }
    let value = |tried: Tried, step: Option<usize>| {
        let row = rows.iter().find(|row| row.tried == tried)?;
        Some(row.values[step?])
    };
    let clearance = value(Tried::Seat, found.seat);
    let allowance = value(Tried::Hole, found.hole);
    if clearance.is_none() && allowance.is_none() {
        return;
    }
    if controls::outlined_button(ui, "Take what you found").clicked() {
        let old = noted(desk.project());
        let workshop = Workshop {
            running_clearance: clearance.unwrap_or(old.running_clearance),
            hole_allowance: allowance.unwrap_or(old.hole_allowance),
            ..old
        };
        apply(desk, &Edit::Workshop(Some(workshop)));
        *found = Found::default();
    }
}

/// What the maker found out about their tools, kept in the project.
pub(super) fn workshop(ui: &mut Ui, desk: &mut Desk) {
    let Some(own) = desk.project().workshop.clone() else {
        pieces::hint(
            ui,
            "Parts are drawn exact: what your printer and your cutter take away can be noted here.",
        );
        if controls::outlined_button(ui, "Note what they do").clicked() {
            let workshop = noted(desk.project());
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
/// What is noted of the workshop, or what is taken of one that nothing is known of.
pub(super) fn noted(project: &Project) -> Workshop {
    let own = project.workshop.clone();
    own.unwrap_or_else(|| Workshop::unknown(running_clearance(project)))
}

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
