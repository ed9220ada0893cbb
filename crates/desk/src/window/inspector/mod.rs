//! The fields of the step that is shown.

mod charts;
mod curve;
mod drive_charts;
mod drives;
mod eyes;
mod hand;
mod head;
mod lids;
mod limits;
mod making;
mod making_preview;
mod measured_plate;
mod placing;
pub(super) mod plate;
mod preview;
mod proposals;
mod ring;
mod ring_charts;
mod rods;
mod seated;
mod sheet;
mod shelf;
mod shelf_needs;
mod slots;
mod smallest_head;
mod tools;
mod tracing;

use egui::Ui;
use layout::field::Field;
use layout::handle::Handle;
use layout::{Edit, Problem, Project};

use super::app::App;
use super::command::Command;
use super::controls;
use super::expression::Measure;
use super::number_field::NumberField;
use super::pieces;
use super::state::Desk;
use super::step::Step;

/// What the fields remember that is not part of the project.
pub(crate) struct Inspector {
    start: head::StartShape,
    /// The sheet's options and its preview.
    pub(crate) sheet: sheet::SheetStep,
    /// The parts for cutter and printer, and their previews.
    pub(crate) making: making::Making,
    /// Whether the findings that are clear are shown.
    pub(crate) clear_shown: bool,
    /// Whether the findings that are not checked are shown.
    pub(crate) not_checked_shown: bool,
    limits_shown: bool,
}

impl Inspector {
    pub(crate) fn new(project: &Project) -> Self {
        Self {
            start: head::StartShape::of(project),
            sheet: sheet::SheetStep::default(),
            making: making::Making::default(),
            clear_shown: false,
            not_checked_shown: false,
            limits_shown: false,
        }
    }
}

/// Shows the fields of the current step.
pub(crate) fn show(ui: &mut Ui, app: &mut App) -> Option<Command> {
    let (desk, inspector) = (&mut app.desk, &mut app.inspector);
    ui.push_id(desk.step, |ui| {
        pieces::heading(ui, desk.step.name());
        match desk.step {
            Step::Head => return head::show(ui, desk, &mut inspector.start),
            Step::Eyes => eyes::show(ui, desk),
            Step::Plate => return plate::show(ui, desk, &mut inspector.limits_shown),
            Step::Lids => lids::show(ui, desk),
            Step::Drives => return drives::show(ui, desk),
            Step::Hand => hand::show(ui, desk),
            Step::Sheet => {
                let foam_clearance = inspector.making.foam_clearance;
                let asked = sheet::show(ui, desk, &mut inspector.sheet, foam_clearance);
                return asked.or(making::show(ui, desk, &mut inspector.making));
            }
        }
        None
    })
    .inner
}

/// The row of a number of the project, if the project has it. `of` is what the number belongs to,
/// where the label alone would not tell it from others.
fn number(ui: &mut Ui, desk: &mut Desk, field: Field, of: Option<&str>) {
    number_set_by(ui, desk, field, of, |desk, value| {
        desk.apply(&Edit::Set(field, value))
    });
}

/// The same for a number that is changed in a way of its own.
fn number_set_by(
    ui: &mut Ui,
    desk: &mut Desk,
    field: Field,
    of: Option<&str>,
    set: impl Fn(&mut Desk, f64) -> Result<(), Problem>,
) {
    let Some(value) = field.get(desk.project()) else {
        return;
    };
    let label = field.label();
    NumberField {
        label,
        name: of.map(|of| format!("{of}: {label}")),
        value,
        measure: Measure::of(field.unit(), desk.unit),
    }
    .show(ui, desk, set);
}

/// The rows of a handle's place. Its partner goes along when the desk mirrors.
fn place(ui: &mut Ui, desk: &mut Desk, handle: Handle, of: &str) {
    let Some(at) = handle.at(desk.project()) else {
        return;
    };
    for (axis, label) in ["Across", "Height"].into_iter().enumerate() {
        NumberField {
            label,
            name: Some(format!("{of}: {label}")),
            value: at[axis],
            measure: Measure::Length(desk.unit),
        }
        .show(ui, desk, |desk, value| {
            let mut to = at;
            to[axis] = value;
            let mirrored = desk.mirror;
            desk.apply(&Edit::Move {
                handle,
                to,
                mirrored,
            })
        });
    }
}

/// A place as a short text.
fn shown_place(desk: &Desk, [x, y]: [f64; 2]) -> String {
    let show = |value| pieces::with_minus(&desk.unit.format(value));
    format!("({}, {})", show(x), show(y))
}

/// A figure that is a length, in the maker's unit; a dash where it has no value.
fn length(desk: &Desk, value: Option<f64>) -> String {
    shown(value, Measure::Length(desk.unit))
}

/// A figure that is an angle in degrees; a dash where it has no value.
fn angle(value: Option<f64>) -> String {
    shown(
        value.map(|degrees| (degrees * 10.0).round() / 10.0),
        Measure::Angle,
    )
}

fn shown(value: Option<f64>, measure: Measure) -> String {
    value.map_or_else(|| "–".to_owned(), |value| measure.show(value))
}

/// The switch that makes handles move and come in pairs.
fn mirror_switch(ui: &mut Ui, desk: &mut Desk) {
    if controls::toggle(ui, "Mirror the pair", desk.mirror) {
        desk.mirror = !desk.mirror;
    }
}

/// Makes a change that has no field of its own; a refusal is told at the window's foot.
fn apply(desk: &mut Desk, edit: &Edit) {
    // `Desk::apply` has put the reason into the notice.
    let _ = desk.apply(edit);
}
