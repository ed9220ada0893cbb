//! The eyes: where they are, their parts, and how far they turn.

use egui::Ui;
use layout::Edit;
use layout::field::{Field, PartsOf};
use layout::handle::Handle;
use layout::report::PairFigures;
use layout::seat::Seat;
use layout::workshop::Workshop;

use super::{angle, apply, length, mirror_switch, number, place, ring, ring_charts, seated, tools};
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::{NumberField, OpenNumberField};
use crate::window::pieces;
use crate::window::state::Desk;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    pieces::group(ui, "Where", true);
    choose(ui, desk);
    spacing(ui, desk);
    let eye = desk.chosen_eye;
    let name = pieces::capital(&desk.project().eye_name(eye));
    place(ui, desk, Handle::Eye(eye), &name);
    mirror_switch(ui, desk);
    pieces::group(ui, "What comes of it", false);
    figures(ui, desk);
    let of = PartsOf::used_by(desk.project(), eye);
    pieces::group(ui, &parts_title(desk, of), false);
    parts(ui, desk, of);
    ring::find(ui, desk, of);
    pieces::group(ui, "What the ring does", false);
    ring_charts::show(ui, desk);
    pieces::group(ui, "What keeps it seated", false);
    seated::show(ui, desk, of);
    pieces::group(ui, "Iris", false);
    for field in [Field::IrisDiameter(eye), Field::PupilDiameter(eye)] {
        number(ui, desk, field, None);
    }
    pieces::group(ui, "Gaze, to both sides", false);
    gaze(ui, desk);
    pieces::group(ui, "How many", false);
    count(ui, desk);
}

/// Whose parts the fields are.
pub(super) fn parts_title(desk: &Desk, of: PartsOf) -> String {
    let name = &desk.project().parts_of(desk.chosen_eye).name;
    match of {
        PartsOf::Shared => format!("Parts set: {name}"),
        PartsOf::Eye(_) => format!("Parts set of this eye alone: {name}"),
    }
}

/// Which eye the side cut and the fields are about.
pub(super) fn choose(ui: &mut Ui, desk: &mut Desk) {
    let names: Vec<_> = (0..desk.project().eyes.len())
        .map(|eye| desk.project().eye_name(eye))
        .collect();
    let names: Vec<_> = names.iter().map(String::as_str).collect();
    let picked = if names.len() <= MOST_IN_A_ROW {
        controls::choice(ui, "Chosen", &names, desk.chosen_eye)
    } else {
        controls::list(ui, "Chosen", "Chosen", &names, desk.chosen_eye)
    };
    if let Some(eye) = picked {
        desk.chosen_eye = eye;
        desk.selected = Some(Handle::Eye(eye));
    }
}

/// Most eyes that are offered side by side; more go into a list.
const MOST_IN_A_ROW: usize = 5;

fn pair(desk: &Desk) -> Option<&PairFigures> {
    let [a, b] = desk.spaced_eyes()?;
    desk.report()
        .figures
        .pairs
        .iter()
        .find(|pair| (pair.a, pair.b) == (a, b))
}

fn spacing(ui: &mut Ui, desk: &mut Desk) {
    let Some((eyes, value)) =
        pair(desk).and_then(|pair| Some(([pair.a, pair.b], pair.spacing_mm?)))
    else {
        return;
    };
    let label = if desk.project().eyes.len() == 2 {
        "Spacing".to_owned()
    } else {
        let other = eyes
            .into_iter()
            .find(|&eye| eye != desk.chosen_eye)
            .unwrap_or_default();
        format!("Spacing to {}", desk.project().eye_name(other))
    };
    NumberField {
        label: &label,
        name: None,
        value,
        measure: Measure::Length(desk.unit),
    }
    .show(ui, desk, |desk, distance| {
        layout::problem::size("spacing", distance)?;
        desk.apply(&Edit::Spacing { eyes, distance })
    });
    if controls::toggle(ui, "Spacing window", desk.spacing_shown) {
        desk.spacing_shown = !desk.spacing_shown;
    }
    if desk.spacing_shown {
        own_ratio(ui, desk);
    }
}

/// The maker's own ratio of spacing and face, which the spacing window shows as a guide.
fn own_ratio(ui: &mut Ui, desk: &mut Desk) {
    let field = OpenNumberField {
        label: "Own ratio to the face's width",
        name: None,
        value: tools::noted(desk.project()).spacing_ratio,
        measure: Measure::Plain,
        open: "none",
    };
    field.show(ui, desk, |desk, spacing_ratio| {
        let workshop = Workshop {
            spacing_ratio,
            ..tools::noted(desk.project())
        };
        desk.apply(&Edit::Workshop(Some(workshop)))
    });
}

fn parts(ui: &mut Ui, desk: &mut Desk, of: PartsOf) {
    for field in [Field::BallDiameter(of), Field::BallPlus(of)] {
        number(ui, desk, field, None);
    }
    let parts = desk.project().parts_of(desk.chosen_eye);
    let thickness = desk.project().plate.thickness;
    let (seat, fit, plus) = (parts.seat, parts.seat_fit(thickness), parts.ball_plus);
    let chosen = usize::from(matches!(seat, Seat::Spherical { .. }));
    let picked = pieces::row(ui, "Seat", |ui| {
        controls::choice(ui, "Seat", &["plain", "spherical"], chosen)
    })
    .inner;
    if let (Some(picked), Ok(fit)) = (picked, fit) {
        let seat = if picked == 0 {
            Seat::Plain {
                opening_diameter: tenth(2.0 * fit.opening_back.min(fit.opening_front)),
            }
        } else {
            Seat::Spherical {
                centre_height: tenth(fit.centre_height),
                running_clearance: tenth(plus / 2.0 + LARGEST_BALL_CLEARANCE),
            }
        };
        apply(desk, &Edit::SeatKind(of, seat));
    }
    for field in [
        Field::OpeningDiameter(of),
        Field::CentreHeight(of),
        Field::RunningClearance(of),
        Field::RingDepth(of),
        Field::RingThickness(of),
        Field::RingDiameter(of),
        Field::RingBevel(of),
    ] {
        number(ui, desk, field, None);
    }
}

/// What a spherical seat should leave around the largest ball, mm: the wanted running clearance.
const LARGEST_BALL_CLEARANCE: f64 = 0.1;

fn gaze(ui: &mut Ui, desk: &mut Desk) {
    number(ui, desk, Field::Side, None);
    number(ui, desk, Field::Lift, None);
    let together = desk.project().gaze.together;
    if controls::toggle(ui, "Both turns at once", together) {
        apply(desk, &Edit::Together(!together));
    }
    number(ui, desk, Field::LooksAt, None);
}

fn figures(ui: &mut Ui, desk: &Desk) {
    let Some(eye) = desk.report().figures.eyes.get(desk.chosen_eye) else {
        return;
    };
    let diameter = |radius: Option<f64>| length(desk, radius.map(|radius| 2.0 * radius));
    pieces::figure(
        ui,
        "Opening, front, diameter",
        diameter(eye.opening_front_mm),
    );
    pieces::figure(ui, "Opening, back, diameter", diameter(eye.opening_back_mm));
    pieces::figure(
        ui,
        "Ring holds on by",
        length(desk, eye.retention_overlap_mm),
    );
    pieces::figure(ui, "Eye can turn", angle(eye.tilt_limit_deg));
    pieces::figure(ui, "Working tilt", angle(eye.working_tilt_deg));
    pieces::figure(
        ui,
        "Ring clearance at that tilt",
        length(desk, eye.ring_clearance_mm),
    );
    pieces::figure(ui, "Play forward", length(desk, eye.ring_play_mm));
    pieces::figure(
        ui,
        "Ball behind the plate",
        length(desk, eye.ball_behind_mm),
    );
    pieces::figure(
        ui,
        "Sweep behind the plate",
        length(desk, eye.sweep_depth_mm),
    );
    if let Some(pair) = pair(desk) {
        pieces::figure(ui, "Toe-in of each eye", angle(pair.toe_in_deg));
        pieces::figure(ui, "Pupils apart", length(desk, pair.pupil_spacing_mm));
    }
}

/// How far above the highest eye a new one starts, as a share of the ball's diameter.
const NEXT_EYE: f64 = 1.5;

fn count(ui: &mut Ui, desk: &mut Desk) {
    ui.horizontal(|ui| {
        if controls::outlined_button(ui, "Add an eye").clicked() {
            let project = desk.project();
            let highest = project
                .eyes
                .iter()
                .map(|eye| eye.centre[1])
                .fold(f64::NEG_INFINITY, f64::max);
            let (at, added) = (
                [0.0, highest + NEXT_EYE * project.parts.ball_diameter],
                project.eyes.len(),
            );
            if desk.apply(&Edit::AddEye(at)).is_ok() {
                desk.chosen_eye = added;
                desk.selected = Some(Handle::Eye(added));
            }
        }
        if desk.project().eyes.len() > 1
            && controls::outlined_button(ui, "Remove this eye").clicked()
        {
            let handle = Handle::Eye(desk.chosen_eye);
            apply(
                desk,
                &Edit::Remove {
                    handle,
                    mirrored: false,
                },
            );
        }
    });
}

/// A length rounded to 0.1 mm, as a maker would type it.
fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}
