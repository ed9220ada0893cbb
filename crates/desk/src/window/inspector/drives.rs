//! The drives: what moves, its lever, its cable and the way of its sheath.

use egui::Ui;
use layout::drive::{self, Cable, Drive, End, Moves, Returns, Turn};
use layout::field::{DriveField, Field};
use layout::geometry::space::Piece;
use layout::handle::{Handle, Place};
use layout::lid::Which;
use layout::report::DriveFigures;
use layout::{Edit, Project};

use super::{angle, apply, drive_charts, length, number, shown};
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    pieces::group(ui, "Which drive", true);
    choose(ui, desk);
    let index = desk.chosen_drive;
    if let Some(drive) = desk.project().drives.get(index).cloned() {
        pieces::group(ui, "What comes of it", false);
        if let Some(figures) = desk.report().figures.drives.get(index) {
            show_figures(ui, desk, figures);
        }
        pieces::group(ui, "Over the turn and along the sheath", false);
        drive_charts::show(ui, desk, index);
        pieces::group(ui, "What it moves", false);
        moves(ui, desk, index, &drive);
        pieces::group(ui, "Lever tip, from the ball's centre", false);
        numbers(
            ui,
            desk,
            index,
            "Lever tip",
            &[0, 1, 2].map(DriveField::Tip),
        );
        pieces::group(ui, "Sheath", false);
        sheath(ui, desk, index, &drive);
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
        ui.add_space(4.0);
        if controls::outlined_button(ui, "Remove this drive").clicked() {
            apply(desk, &Edit::RemoveDrive(index));
        }
    } else {
        pieces::hint(ui, "No drive yet: nothing moves what is not pulled.");
    }
    pieces::group(ui, "Another one", false);
    add(ui, desk);
}

fn choose(ui: &mut Ui, desk: &mut Desk) {
    let drives = desk.project().drives.clone();
    for (index, drive) in drives.iter().enumerate() {
        let chosen = desk.chosen_drive == index;
        let moved = moved(desk.project(), drive.moves);
        if controls::pick_row(ui, &drive.name, &moved, chosen).clicked() {
            desk.choose_drive(index);
            desk.selected = Some(Handle::Drive(index, Place::Tip));
        }
    }
}

/// What a drive moves, in words.
fn moved(project: &Project, moves: Moves) -> String {
    let eye = project.eye_name(moves.eye());
    match moves {
        Moves::Lid { which, .. } => format!("{eye}, {}", lid(which)),
        Moves::Gaze { turn, .. } => format!("{eye}, {}", turn_name(turn)),
    }
}

fn lid(which: Which) -> &'static str {
    match which {
        Which::Upper => "upper lid",
        Which::Lower => "lower lid",
    }
}

fn turn_name(turn: Turn) -> &'static str {
    match turn {
        Turn::Side => "to the side",
        Turn::Lift => "up and down",
    }
}

fn numbers(ui: &mut Ui, desk: &mut Desk, index: usize, of: &str, fields: &[DriveField]) {
    for &field in fields {
        number(ui, desk, Field::Drive(index, field), Some(of));
    }
}

/// Changes one thing of a drive.
fn change(desk: &mut Desk, index: usize, change: impl FnOnce(&mut Drive)) {
    if let Some(mut drive) = desk.project().drives.get(index).cloned() {
        change(&mut drive);
        apply(desk, &Edit::Drive(index, drive));
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
        named.map_or(Ok(()), |drive| desk.apply(&Edit::Drive(index, drive)))
    });
    let eyes: Vec<String> = (0..desk.project().eyes.len())
        .map(|eye| desk.project().eye_name(eye))
        .collect();
    let eyes: Vec<_> = eyes.iter().map(String::as_str).collect();
    let of = |label: &str| format!("{}: {label}", drive.name);
    let now = drive.moves.eye();
    if let Some(picked) = controls::list(ui, "Eye", &of("Eye"), &eyes, now) {
        change(desk, index, |drive| match &mut drive.moves {
            Moves::Lid { eye, .. } | Moves::Gaze { eye, .. } => *eye = picked,
        });
    }
    let kinds = [
        "upper lid",
        "lower lid",
        "eye to the side",
        "eye up and down",
    ];
    let chosen = match drive.moves {
        Moves::Lid { which, .. } => usize::from(which == Which::Lower),
        Moves::Gaze { turn, .. } => 2 + usize::from(turn == Turn::Lift),
    };
    if let Some(picked) = controls::list(ui, "Moves", &of("Moves"), &kinds, chosen) {
        change(desk, index, |drive| {
            let eye = drive.moves.eye();
            (drive.moves, drive.near) = kind(eye, picked);
        });
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

/// What is moved, in the order in which it is offered, and the end that a sheath starts from.
fn kind(eye: usize, picked: usize) -> (Moves, End) {
    match picked {
        0 | 1 => {
            let which = Which::ALL[picked];
            (Moves::Lid { eye, which }, End::Closed)
        }
        2 => {
            let turn = Turn::Side;
            (Moves::Gaze { eye, turn }, End::High)
        }
        _ => {
            let turn = Turn::Lift;
            (Moves::Gaze { eye, turn }, End::High)
        }
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

fn add(ui: &mut Ui, desk: &mut Desk) {
    let eye = desk.chosen_eye;
    if controls::outlined_button(ui, "Add a drive").clicked() {
        let drive = first_drive(desk.project(), eye);
        if desk.apply(&Edit::AddDrive(drive)).is_ok() {
            desk.choose_drive(desk.project().drives.len().saturating_sub(1));
        }
    }
}

/// A drive to start with: of the upper lid, or of the side turn where there are no lids.
fn first_drive(project: &Project, eye: usize) -> Drive {
    /// A thin steel wire in a plastic sheath: own choice, in the range of what is sold for it.
    const CABLE: Cable = Cable {
        inner_diameter: 0.3,
        sheath_diameter: 3.0,
        modulus_gpa: 206.0,
        friction: 0.12,
        least_bend_radius: 30.0,
    };
    let parts = project.parts_of(eye);
    let [x, y] = project.eyes.get(eye).map_or([0.0; 2], |eye| eye.centre);
    let side = if x < 0.0 { -1.0 } else { 1.0 };
    let radius = parts.ball_diameter / 2.0;
    let upper = parts.lids.filter(|lids| lids.upper.is_some());
    let (picked, tip) = match upper {
        // Beside the lug, below the axis.
        Some(lids) => (
            0,
            [
                side * (lids.pivot_spacing / 2.0 + lids.lug_thickness),
                -12.0,
                0.0,
            ],
        ),
        // A stalk behind the ball.
        None => (2, [0.0, 0.0, -1.5 * radius]),
    };
    let (moves, near) = kind(eye, picked);
    let what = if upper.is_some() { "lid" } else { "gaze" };
    let wanted = format!("{} {what}", project.eye_name(eye));
    Drive {
        name: drive::free_name(&project.drives, &wanted),
        moves,
        tip,
        near,
        standoff: 2.0,
        stop: None,
        lead: 15.0,
        cable: CABLE,
        via: Vec::new(),
        exit: [x + tip[0], y - 3.0 * radius, -1.6 * radius],
        torque_nmm: 20.0,
        returns: None,
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
