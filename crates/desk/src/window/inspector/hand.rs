//! The guard behind the plate, and the hand's room.

use egui::Ui;
use layout::Edit;
use layout::field::{Field, HandField};
use layout::hand::GuardAxis;

use super::{apply, length, number, shown};
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::pieces;
use crate::window::state::Desk;

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
    number(ui, desk, Field::Hand(HandField::HeadMass), None);
    pieces::hint(ui, "Centre of mass of the head");
    for axis in 0..3 {
        let field = Field::Hand(HandField::MassCentre(axis));
        number(ui, desk, field, Some("Centre of mass"));
    }
    pieces::group(ui, "What comes of it", false);
    let figures = desk.report().figures.hand.clone();
    pieces::figure(ui, "Guard, laid flat", length(desk, figures.guard_flat_mm));
    pieces::figure(
        ui,
        "Guard to moving parts",
        length(desk, figures.guard_clearance_mm),
    );
    pieces::figure(
        ui,
        "Room left behind the hand",
        length(desk, figures.hand_room_mm),
    );
    pieces::figure(
        ui,
        "Fingers carry",
        shown(figures.hand_front_n, Measure::Force),
    );
    pieces::figure(
        ui,
        "Pad carries",
        shown(figures.hand_rear_n, Measure::Force),
    );
}
