//! What keeps the eyes seated.

use egui::Ui;
use layout::Edit;
use layout::field::{Field, PartsOf};
use layout::gaze::SeatedBy;

use super::{apply, length, number, shown};
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;

/// Pull that an elastic starts with where the eye's weight is unknown, N: a thin cord's.
const USUAL_PULL: f64 = 0.5;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, of: PartsOf) {
    let chosen = match desk.project().seated_by {
        SeatedBy::Elastic { .. } => 0,
        SeatedBy::Lids => 1,
        SeatedBy::Nothing => 2,
    };
    let figures = desk.report().figures.eyes.get(desk.chosen_eye);
    let (left, needed) = figures.map_or((None, None), |eye| (eye.play_left_mm, eye.pull_needed_n));
    let picked = pieces::row(ui, "Kept seated by", |ui| {
        controls::choice(
            ui,
            "Kept seated by",
            &["elastic", "lids", "nothing"],
            chosen,
        )
    })
    .inner;
    if let Some(picked) = picked {
        let seated_by = match picked {
            0 => SeatedBy::Elastic {
                pull_n: needed.map_or(USUAL_PULL, tenth_up),
            },
            1 => SeatedBy::Lids,
            _ => SeatedBy::Nothing,
        };
        apply(desk, &Edit::SeatedBy(seated_by));
    }
    let elastic = matches!(desk.project().seated_by, SeatedBy::Elastic { .. });
    if elastic {
        number(ui, desk, Field::Pull, None);
        number(ui, desk, Field::EyeMass(of), None);
        pieces::figure(ui, "Pull needed", shown(needed, Measure::Force));
    }
    pieces::figure(ui, "Play left", length(desk, left));
}

/// The next tenth of a newton.
fn tenth_up(newtons: f64) -> f64 {
    (newtons * 10.0).ceil() / 10.0
}
