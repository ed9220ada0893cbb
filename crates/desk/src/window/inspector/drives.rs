//! The drives: what moves, its lever, its cable and the way of its sheath.

use egui::Ui;
use layout::drive::{Drive, End, Moves, Returns, Turn};
use layout::field::{DriveField, Field};
use layout::geometry::space::Piece;
use layout::handle::{Handle, Place};
use layout::lid::Which;
use layout::report::DriveFigures;
use layout::{Edit, Project, laid_drive};

use super::{
    angle, apply, drive_charts, length, mirror_switch, number_set_by, proposals, rods, shown,
};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    let mut asked = None;
    pieces::group(ui, "Which drive", true);
    choose(ui, desk);
    let index = desk.chosen_drive;
    if let Some(drive) = desk.project().drives.get(index).cloned() {
        pieces::group(ui, "What it moves", false);
        moves(ui, desk, index, &drive);
        pieces::group(ui, "Lever tip, from the ball's centre", false);
        let tip = [0, 1, 2].map(DriveField::Tip);
        numbers(ui, desk, index, "Lever tip", &tip);
        pieces::group(ui, "Sheath", false);
        sheath(ui, desk, index, &drive);
        asked = proposals::show(ui, desk, index, &drive);
        pieces::group(ui, "Wire and load", false);
        let fields = [
            DriveField::Wire,
            DriveField::Sheath,
            DriveField::LeastBend,
            DriveField::Modulus,
            DriveField::Friction,
            DriveField::Torque,
        ];
        numbers(ui, desk, index, &drive.name, &fields);
        returns(ui, desk, index, &drive);
        pieces::group(ui, "What comes of it", false);
        if let Some(figures) = desk.report().figures.drives.get(index) {
            show_figures(ui, desk, figures);
        }
        pieces::group(ui, "Over the turn and along the sheath", false);
        drive_charts::show(ui, desk, index);
        ui.add_space(4.0);
        remove(ui, desk, index);
    } else {
        pieces::hint(ui, "No drive yet: nothing moves what is not pulled.");
    }
    pieces::group(ui, "Another one", false);
    add(ui, desk);
    rods::show(ui, desk);
    asked
}

fn choose(ui: &mut Ui, desk: &mut Desk) {
    mirror_switch(ui, desk);
    if let Some(why) = changes_alone(desk) {
        pieces::hint(ui, why);
    }
    let drives = desk.project().drives.clone();
    for (index, drive) in drives.iter().enumerate() {
        let chosen = desk.chosen_drive == index;
        let moved = moved(desk.project(), drive.moves);
        if controls::pick_row(ui, &drive.name, &moved, chosen).clicked() {
            desk.choose_drive(index);
            desk.selected = None;
            desk.selected = Some(Handle::Drive(index, Place::Tip));
        }
    }
}

/// Why a change of the chosen drive, or of its route, goes without that of another though pairs are mirrored.
fn changes_alone(desk: &Desk) -> Option<&'static str> {
    let (project, index) = (desk.project(), desk.chosen_drive);
    if !desk.mirror || index >= project.drives.len() {
        return None;
    }
    if project.mirror_drive(index).is_none() {
        return Some("No drive moves the part opposite: this one changes alone.");
    }
    let alone = project.mirror_route(index).is_none();
    alone.then_some("The sheath opposite is no mirror image of this one: each keeps its own way.")
}

/// What a drive moves, in words.
fn moved(project: &Project, moves: Moves) -> String {
    format!("{}, {}", project.eye_name(moves.eye()), moves.noun())
}

fn numbers(ui: &mut Ui, desk: &mut Desk, index: usize, of: &str, fields: &[DriveField]) {
    for &field in fields {
        number_set_by(
            ui,
            desk,
            Field::Drive(index, field),
            Some(of),
            |desk, value| {
                desk.apply(&Edit::SetDrive {
                    index,
                    field,
                    value,
                    mirrored: desk.mirror,
                })
            },
        );
    }
}

/// Changes one thing of a drive.
fn change(desk: &mut Desk, index: usize, change: impl FnOnce(&mut Drive)) {
    if let Some(mut drive) = desk.project().drives.get(index).cloned() {
        change(&mut drive);
        let mirrored = desk.mirror;
        let replace = Edit::Drive {
            index,
            drive,
            mirrored,
        };
        apply(desk, &replace);
    }
}

fn moves(ui: &mut Ui, desk: &mut Desk, index: usize, drive: &Drive) {
    TextField {
        label: "Name",
        value: &drive.name,
        hint: "",
    }
    .show(ui, desk, |desk, name| {
        let drive = desk.project().drives.get(index).cloned();
        let named = drive.map(|drive| Drive { name, ..drive });
        let mirrored = desk.mirror;
        named.map_or(Ok(()), |drive| {
            desk.apply(&Edit::Drive {
                index,
                drive,
                mirrored,
            })
        })
    });
    let eyes: Vec<String> = (0..desk.project().eyes.len())
        .map(|eye| desk.project().eye_name(eye))
        .collect();
    let eyes: Vec<_> = eyes.iter().map(String::as_str).collect();
    let of = |label: &str| format!("{}: {label}", drive.name);
    let now = drive.moves.eye();
    if let Some(picked) = controls::list(ui, "Eye", &of("Eye"), &eyes, now) {
        move_to(desk, index, drive.moves.of_eye(picked));
    }
    let kinds = kinds(now);
    let names = kinds.map(Moves::noun);
    let chosen = kinds.iter().position(|kind| *kind == drive.moves);
    if let Some(picked) = controls::list(
        ui,
        "Moves",
        &of("Moves"),
        &names,
        chosen.unwrap_or_default(),
    ) {
        move_to(desk, index, kinds[picked]);
    }
    let ends = ends(drive.moves);
    let names = ends.map(|end| end_name(drive.moves, end));
    let chosen = usize::from(drive.near == ends[1]);
    let picked = pieces::row(ui, "Sheath nearest when", |ui| {
        controls::choice(ui, "Sheath nearest when", &names, chosen)
    });
    if let Some(picked) = picked.inner {
        change(desk, index, |drive| drive.near = ends[picked]);
    }
}

/// What of an eye can be moved, in the order in which it is offered.
fn kinds(eye: usize) -> [Moves; 4] {
    let [upper, lower] = Which::ALL.map(|which| Moves::Lid { eye, which });
    let [side, lift] = [Turn::Side, Turn::Lift].map(|turn| Moves::Gaze { eye, turn });
    [upper, lower, side, lift]
}

/// Puts a drive on another part.
fn move_to(desk: &mut Desk, index: usize, moves: Moves) {
    if let Some(drive) = desk.project().drives.get(index) {
        let moved = drive.moved_to(desk.project(), moves);
        change(desk, index, |drive| *drive = moved);
        desk.choose_drive(index);
    }
}

/// Both ends of a turn.
fn ends(moves: Moves) -> [End; 2] {
    match moves {
        Moves::Lid { .. } => [End::Open, End::Closed],
        Moves::Gaze { .. } => [End::Low, End::High],
    }
}

/// What an end is called; the sides are the audience's.
fn end_name(moves: Moves, end: End) -> &'static str {
    let to_side = matches!(
        moves,
        Moves::Gaze {
            turn: Turn::Side,
            ..
        }
    );
    match (end, to_side) {
        (End::Open, _) => "open",
        (End::Closed, _) => "shut",
        (End::Low, true) => "left",
        (End::High, true) => "right",
        (End::Low, false) => "down",
        (End::High, false) => "up",
    }
}

/// What takes the moved thing back.
fn returns(ui: &mut Ui, desk: &mut Desk, index: usize, drive: &Drive) {
    const ALL: [Returns; 3] = [Returns::Spring, Returns::Elastic, Returns::Push];
    let names = ["a spring", "an elastic", "a push of the wire"];
    let now = ALL.iter().position(|own| *own == drive.returned_by());
    let label = format!("{}: Goes back by", drive.name);
    let picked = controls::list(ui, "Goes back by", &label, &names, now.unwrap_or(0));
    if let Some(picked) = picked {
        change(desk, index, |drive| drive.returns = Some(ALL[picked]));
    }
}

fn sheath(ui: &mut Ui, desk: &mut Desk, index: usize, drive: &Drive) {
    let own = [DriveField::Standoff, DriveField::Lead];
    if drive.stop.is_some() {
        numbers(ui, desk, index, &drive.name, &own[1..]);
        pieces::hint(ui, "Sheath stop, moved off the cable line");
        let fields = [0, 1, 2].map(DriveField::Stop);
        numbers(ui, desk, index, "Sheath stop", &fields);
        if controls::outlined_button(ui, "Put the stop back on the line").clicked() {
            change(desk, index, |drive| drive.stop = None);
        }
    } else {
        numbers(ui, desk, index, &drive.name, &own);
    }
    if !drive.via.is_empty() {
        let hint = "Route points are corners, which the sheath cuts by its bends: a point may lie outside the head and the sheath inside.";
        pieces::hint(ui, hint);
    }
    for corner in 0..drive.via.len() {
        let name = format!("Route point {}", corner + 1);
        pieces::hint(ui, &name);
        let fields = [0, 1, 2].map(|axis| DriveField::Via(corner, axis));
        numbers(ui, desk, index, &name, &fields);
        if controls::outlined_button(ui, &format!("Remove point {}", corner + 1)).clicked() {
            let handle = Handle::Drive(index, Place::Via(corner));
            let mirrored = false;
            apply(desk, &Edit::Remove { handle, mirrored });
        }
    }
    pieces::hint(ui, "Exit");
    numbers(ui, desk, index, "Exit", &[0, 1, 2].map(DriveField::Exit));
    if controls::outlined_button(ui, "Add a route point").clicked() {
        let last = on_last_leg(desk, index);
        change(desk, index, |drive| {
            let before = drive.via.last().copied().unwrap_or(drive.tip);
            let halfway = [0, 1, 2].map(|axis| (before[axis] + drive.exit[axis]) / 2.0);
            drive.via.push(last.unwrap_or(halfway));
        });
    }
}

/// The middle of the last straight piece of a route, where a corner changes nothing yet.
fn on_last_leg(desk: &Desk, index: usize) -> Option<[f64; 3]> {
    let sheath = desk.laid().drives.get(index)?.sheath()?;
    let last = sheath.pieces.last()?;
    let straight = matches!(last, Piece::Straight(_));
    straight.then(|| last.at(0.5).into())
}

fn remove(ui: &mut Ui, desk: &mut Desk, index: usize) {
    let partner = desk.project().mirror_drive(index);
    let mirrored = desk.mirror && partner.is_some();
    let text = if mirrored {
        "Remove this drive and its partner"
    } else {
        "Remove this drive"
    };
    if controls::outlined_button(ui, text).clicked() {
        apply(desk, &Edit::RemoveDrive { index, mirrored });
    }
}

/// Adds drives: of what no cable moves yet, or one more of the chosen eye.
fn add(ui: &mut Ui, desk: &mut Desk) {
    let lacking = laid_drive::undriven(desk.project());
    let mut added = None;
    for &moves in &lacking {
        let text = format!("Add a drive for {}", moved(desk.project(), moves));
        if controls::outlined_button(ui, &text).clicked() {
            added = Some(moves);
        }
    }
    if lacking.is_empty() {
        pieces::hint(ui, "Each turn that the character uses has its cable.");
        if controls::outlined_button(ui, "Add a drive").clicked() {
            added = Some(kinds(desk.chosen_eye)[2]);
        }
    }
    if let Some(moves) = added {
        let index = desk.project().drives.len();
        let (drive, mirrored) = (Drive::fresh(desk.project(), moves), desk.mirror);
        if desk.apply(&Edit::AddDrive { drive, mirrored }).is_ok() {
            desk.choose_drive(index);
            desk.selected = None;
        }
    }
}

fn show_figures(ui: &mut Ui, desk: &Desk, figures: &DriveFigures) {
    let share = |share: Option<f64>| {
        share.map_or_else(|| "–".to_owned(), |share| format!("{:.0} %", 100.0 * share))
    };
    let times = |times: Option<f64>| shown(times, Measure::Plain);
    let force = |newtons: Option<f64>| {
        newtons.map_or_else(|| "–".to_owned(), |newtons| format!("{newtons:.2} N"))
    };
    for (name, value) in [
        ("Stroke", length(desk, figures.stroke_mm)),
        ("A finger pulls", length(desk, figures.travel_mm)),
        ("Pull error", angle(figures.pull_error_deg)),
        ("Least arm, of the lever", share(figures.arm_share)),
        ("Wire without sheath", length(desk, figures.unsupported_mm)),
        (
            "Drawn by the other turn",
            length(desk, figures.crosstalk_mm),
        ),
        ("Straight behind the stop", length(desk, figures.lead_mm)),
        ("Sheath, cut to", length(desk, figures.sheath_mm)),
        ("Wire, cut to", length(desk, figures.inner_mm)),
        ("Bends in all", angle(figures.bend_total_deg)),
        ("Tightest bend", length(desk, figures.bend_least_mm)),
        ("Force at the lever", force(figures.lever_force_n)),
        ("Force at the hand", force(figures.hand_force_n)),
        ("Friction makes that, times", times(figures.pull_gain)),
        ("Safe against buckling, times", times(figures.push_safety)),
    ] {
        pieces::figure(ui, name, value);
    }
}
