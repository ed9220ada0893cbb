//! The guard behind the plate, and the hand's room.

use egui::Ui;
use layout::Edit;
use layout::field::{Field, HandField};
use layout::hand::{GuardAxis, HAND_THICKNESS, HandThickness, PERCENTILES};

use super::{apply, length, number, shown};
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;

/// Offers the thickness of hands of a group by percentile.
fn percentile(ui: &mut Ui, desk: &mut Desk, group: &HandThickness) {
    let now = desk.project().hand.thickness_mm;
    let chosen = group.percentiles.iter().position(|known| *known == now);
    let words = PERCENTILES.map(|share| share.to_string());
    let label = format!("Of {}, percentile", group.of);
    let picked = pieces::row(ui, &label, |ui| {
        let words = words.each_ref().map(String::as_str);
        controls::choice(ui, &label, &words, chosen.unwrap_or(words.len()))
    });
    if let Some(picked) = picked.inner {
        let field = Field::Hand(HandField::Thickness);
        apply(desk, &Edit::Set(field, group.percentiles[picked]));
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    pieces::group(ui, "Guard, a bent mesh or sheet", true);
    for field in [
        HandField::GuardChord,
        HandField::GuardBow,
        HandField::GuardLength,
        HandField::GuardEdge,
    ] {
        number(ui, desk, Field::Hand(field), None);
    }
    let chosen = usize::from(desk.project().hand.guard_axis == GuardAxis::X);
    let picked = pieces::row(ui, "Its axis lies", |ui| {
        controls::choice(ui, "Its axis lies", &["upright", "level"], chosen)
    });
    if let Some(picked) = picked.inner {
        let axis = [GuardAxis::Y, GuardAxis::X][picked];
        apply(desk, &Edit::GuardAxis(axis));
    }
    pieces::group(ui, "Hand and head", false);
    number(ui, desk, Field::Hand(HandField::Thickness), None);
    for group in &HAND_THICKNESS {
        percentile(ui, desk, group);
    }
    let words = desk.project().hand.thickness_words();
    pieces::hint(ui, &pieces::capital(&words));
    number(ui, desk, Field::Hand(HandField::HeadMass), None);
    pieces::hint(
        ui,
        "Centre of mass of the head; only how far forward it lies tells how fingers and pad share its weight",
    );
    for axis in 0..3 {
        let field = Field::Hand(HandField::MassCentre(axis));
        number(ui, desk, field, Some("Centre of mass"));
    }
    pieces::group(ui, "What comes of it", false);
    let figures = desk.report().figures.hand.clone();
    let shown_length = |mm| length(desk, mm);
    for (label, figure) in [
        ("Guard, laid flat", shown_length(figures.guard_flat_mm)),
        ("Bent to a radius of", shown_length(figures.guard_radius_mm)),
        (
            "Guard to moving parts",
            shown_length(figures.guard_clearance_mm),
        ),
        ("Foam, at the edges", shown_length(figures.foam_edge_mm)),
        ("Foam, in the middle", shown_length(figures.foam_middle_mm)),
        ("Depth behind the guard", shown_length(figures.hand_room_mm)),
    ] {
        pieces::figure(ui, label, figure);
    }
    pieces::group(ui, "What the hand carries", false);
    let force = |newtons| shown(newtons, Measure::Force);
    let pressure = |kpa: Option<f64>| kpa.map_or_else(String::new, pressure);
    for (label, newtons, kpa) in [
        ("Fingers", figures.hand_front_n, figures.hand_front_kpa),
        ("Pad", figures.hand_rear_n, figures.hand_rear_kpa),
        (
            "Fingers, without a pad",
            figures.bare_front_n,
            figures.bare_front_kpa,
        ),
        (
            "Plate's edge, without a pad",
            figures.bare_rear_n,
            figures.bare_rear_kpa,
        ),
    ] {
        pieces::figure(ui, label, force(newtons) + &pressure(kpa));
    }
}

/// A pressure with two digits that count: those of a pad and of a plate's edge lie far apart.
fn pressure(kpa: f64) -> String {
    let decimals = match kpa {
        kpa if kpa < 0.1 => 3,
        kpa if kpa < 1.0 => 2,
        _ => 1,
    };
    format!(", {kpa:.decimals$} kPa")
}
