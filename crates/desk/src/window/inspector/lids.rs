//! The lids: how far they open and shut, and the lugs that carry them.

use egui::Ui;
use layout::Edit;
use layout::field::{Field, LidsField, PartsOf};
use layout::lid::{Lid, Lids, Which};
use layout::report::UpperLower;

use super::eyes::{choose, parts_title};
use super::{angle, apply, length, number};
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    pieces::group(ui, "Which eye", true);
    choose(ui, desk);
    let of = PartsOf::used_by(desk.project(), desk.chosen_eye);
    let parts = desk.project().parts_of(desk.chosen_eye);
    let Some(lids) = parts.lids else {
        let radius = parts.ball_diameter / 2.0;
        pieces::hint(ui, "This parts set has no lids.");
        if controls::outlined_button(ui, "Add lids").clicked() {
            apply(desk, &Edit::Lids(of, Some(Lids::around(radius))));
        }
        return;
    };
    pieces::group(ui, "What comes of it", false);
    figures(ui, desk, &lids);
    pieces::group(ui, &parts_title(desk, of), false);
    for which in Which::ALL {
        lid(ui, desk, of, &lids, which);
    }
    pieces::group(ui, "Shell, lugs and levers", false);
    for field in [
        LidsField::Gap,
        LidsField::Shell,
        LidsField::PivotSpacing,
        LidsField::PivotHole,
        LidsField::LugThickness,
        LidsField::LugWidth,
        LidsField::LeverWidth,
    ] {
        number(ui, desk, Field::Lids(of, field), None);
    }
    if controls::outlined_button(ui, "Take the lids away").clicked() {
        apply(desk, &Edit::Lids(of, None));
    }
}

/// What a lid is called.
fn name(which: Which) -> &'static str {
    match which {
        Which::Upper => "Upper lid",
        Which::Lower => "Lower lid",
    }
}

fn lid(ui: &mut Ui, desk: &mut Desk, of: PartsOf, lids: &Lids, which: Which) {
    let own = lids.lid(which);
    if controls::toggle(ui, name(which), own.is_some()) {
        let other = match own {
            Some(_) => None,
            None => like_the_other(desk, lids, which),
        };
        let mut next = *lids;
        match which {
            Which::Upper => next.upper = other,
            Which::Lower => next.lower = other,
        }
        apply(desk, &Edit::Lids(of, Some(next)));
    }
    for field in [
        LidsField::Open(which),
        LidsField::Closed(which),
        LidsField::Extent(which),
    ] {
        number(ui, desk, Field::Lids(of, field), Some(name(which)));
    }
}

/// The lid that joins one that is there: its mirror image; else one to start with.
fn like_the_other(desk: &Desk, lids: &Lids, which: Which) -> Option<Lid> {
    let radius = desk.project().parts_of(desk.chosen_eye).ball_diameter / 2.0;
    let first = Lids::around(radius);
    lids.upper.or(lids.lower).or(first.lid(which))
}

fn figures(ui: &mut Ui, desk: &Desk, lids: &Lids) {
    let Some(eye) = desk.report().figures.eyes.get(desk.chosen_eye) else {
        return;
    };
    let UpperLower { upper, lower } = eye.lid_open_limit_deg;
    if lids.upper.is_some() {
        pieces::figure(ui, "Upper lid opens clear to", angle(upper));
    }
    if lids.lower.is_some() {
        pieces::figure(ui, "Lower lid opens clear to", angle(lower));
    }
    pieces::figure(ui, "Gap when shut", angle(eye.lid_meeting_deg));
    let bare = eye.bare_ball_mm;
    let bare = bare.upper.into_iter().chain(bare.lower).reduce(f64::max);
    pieces::figure(ui, "Bare ball behind a shut lid", length(desk, bare));
    let covered = eye
        .iris_cover
        .map(|share| format!("{:.0} %", 100.0 * share));
    let covered = covered.unwrap_or_else(|| "–".to_owned());
    pieces::figure(ui, "Iris covered at rest", covered);
    pieces::figure(ui, "Lug to lid", length(desk, eye.lug_lid_gap_mm));
}
