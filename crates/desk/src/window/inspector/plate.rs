//! The plate: its thickness and outline, and what comes of them.

use egui::Ui;
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::edit::HoleChange;
use layout::field::Field;
use layout::plate::PlateOutline;

use super::{
    apply, curve, length, limits, mirror_switch, number, shelf, shown_place, slots, smallest_head,
};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::{Desk, Notice, Offer};

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, limits_shown: &mut bool) -> Option<Command> {
    pieces::group(ui, "Outline", true);
    number(ui, desk, Field::PlateThickness, None);
    style(ui, desk);
    let trim = desk.project().plate.trim_to_head;
    if controls::toggle(ui, "Trim to the head", trim) {
        apply(desk, &Edit::TrimToHead(!trim));
    }
    mirror_switch(ui, desk);
    let from_file = controls::outlined_button(ui, Command::ImportPlate.label());
    let asked = from_file.clicked().then_some(Command::ImportPlate);
    pieces::group(ui, "What comes of it", false);
    figures(ui, desk);
    cable_holes(ui, desk);
    pieces::group(ui, "A head for it", false);
    smallest_head::show(ui, desk);
    pieces::group(ui, "Slots for ties", false);
    let asked = asked.or(slots::show(ui, desk));
    pieces::group(ui, "Plates that you have", false);
    let asked = asked.or(shelf::show(ui, desk));
    pieces::group(ui, "Limits", false);
    limits::show(ui, desk, limits_shown);
    asked
}

fn style(ui: &mut Ui, desk: &mut Desk) {
    let chosen = match desk.project().plate.outline {
        PlateOutline::Band => 0,
        PlateOutline::Waisted { .. } => 1,
        PlateOutline::HeadInset { .. } => 2,
        PlateOutline::Drawn { .. } => 3,
    };
    let styles = ["band", "waisted", "inset", "drawn"];
    let picked = pieces::row(ui, "Style", |ui| {
        controls::choice(ui, "Style", &styles, chosen)
    })
    .inner;
    let style = picked.and_then(|picked| match picked {
        0 => Some(PlateOutline::Band),
        1 => Some(waisted_like_now(desk)),
        2 => Some(inset_like_now(desk)),
        _ => PlateOutline::drawn_after(&desk.laid().plate),
    });
    if let Some(style) = style {
        restyle(desk, style);
    }
    curve::show(ui, desk, CurveOf::Plate);
    if let PlateOutline::Drawn { .. } = desk.project().plate.outline {
        let padded = desk.project().plate.padded;
        if controls::toggle(ui, "Pads round slots, lugs and holes", padded) {
            apply(desk, &Edit::Padded(!padded));
        }
    }
    let fields: &[Field] = match desk.project().plate.outline {
        PlateOutline::Drawn { .. } => &[],
        PlateOutline::Band => &[Field::PlateRim],
        PlateOutline::Waisted { .. } => &[Field::PlateRim, Field::Bridge, Field::Fillet],
        PlateOutline::HeadInset { .. } => &[Field::InsetBottom, Field::InsetTop],
    };
    for &field in fields {
        number(ui, desk, field, None);
    }
}

/// What a cable hole that the plate came with is called here and in the front view.
pub(crate) fn hole_name(index: usize) -> String {
    format!("Hole {}", index + 1)
}

/// The holes for cables that a plate which exists came with.
fn cable_holes(ui: &mut Ui, desk: &mut Desk) {
    let holes = desk.laid().plate_holes.clone();
    if holes.is_empty() {
        return;
    }
    pieces::group(ui, "Cable holes that it has", false);
    for (index, hole) in holes.iter().enumerate() {
        let at = shown_place(desk, hole.middle().into());
        pieces::figure(
            ui,
            &hole_name(index),
            format!("{at} · {}", desk.in_words(hole.size())),
        );
        let number = index + 1;
        let wider = desk.laid().widened_hole(desk.project(), index);
        if let Some(wider) = wider
            && controls::link(
                ui,
                &format!("Widen hole {number} for what passes beside it"),
            )
            .on_hover_text(format!("To {}.", desk.in_words(wider.size())))
            .clicked()
        {
            apply(desk, &Edit::PlateHole(index, HoleChange::Widen));
        }
        if controls::link(ui, &format!("Forget hole {number}")).clicked() {
            apply(desk, &Edit::PlateHole(index, HoleChange::Forget));
        }
    }
}

/// Gives the plate another style. An outline that was drawn makes way for it, which is told.
fn restyle(desk: &mut Desk, style: PlateOutline) {
    let drawn = |outline: &PlateOutline| matches!(outline, PlateOutline::Drawn { .. });
    let given_up = drawn(&desk.project().plate.outline) && !drawn(&style);
    let had_holes = !desk.project().plate.cable_holes.is_empty();
    if desk.apply(&Edit::PlateStyle(style)).is_ok() && (given_up || had_holes) {
        let told = Notice::good(if had_holes {
            "The plate that was there made way for this style, with its cable holes."
        } else {
            "The drawn plate outline made way for this style."
        });
        desk.notice = Some(told.offering(Offer::Undo));
    }
}

/// A bridge half as high as the ball is wide, its inner corners as round as the rim is wide: a
/// waist that shows, and no thinner than the rest.
fn waisted_like_now(desk: &Desk) -> PlateOutline {
    let project = desk.project();
    PlateOutline::Waisted {
        bridge: (project.parts.ball_diameter / 2.0).round(),
        fillet: project.plate.rim.round(),
    }
}

/// Least height of a plate that starts to follow the head, mm.
const LEAST_HEIGHT: f64 = 10.0;

/// The head's inset from as low to as high as the plate reaches now, to whole millimetres.
fn inset_like_now(desk: &Desk) -> PlateOutline {
    let reach = desk
        .laid()
        .plate
        .bounds()
        .map_or([-LEAST_HEIGHT, LEAST_HEIGHT], |[low, high]| [low.y, high.y]);
    let bottom = reach[0].round();
    PlateOutline::HeadInset {
        bottom,
        top: reach[1].round().max(bottom + LEAST_HEIGHT),
    }
}

fn figures(ui: &mut Ui, desk: &Desk) {
    let plate = &desk.report().figures.plate;
    pieces::figure(ui, "Width", length(desk, plate.plate_width_mm));
    pieces::figure(ui, "Height", length(desk, plate.plate_height_mm));
    pieces::figure(ui, "Area", area(desk, plate.plate_area_mm2));
    pieces::figure(ui, "Least rim", length(desk, plate.rim_mm));
    pieces::figure(ui, "To the wall", length(desk, plate.plate_wall_mm));
    pieces::figure(
        ui,
        "Eyes and stops among the slots by",
        length(desk, plate.tie_spread_mm),
    );
    pieces::figure(
        ui,
        "Ring sweep to the wall",
        length(desk, plate.sweep_wall_mm),
    );
}

/// Square millimetres in a square centimetre: areas are shown in cm² or in².
const MM2_PER_CM2: f64 = 100.0;

fn area(desk: &Desk, mm2: Option<f64>) -> String {
    use output::unit::{LengthUnit, MM_PER_INCH};
    let Some(mm2) = mm2 else {
        return "–".to_owned();
    };
    match desk.unit {
        LengthUnit::Millimetre => format!("{:.1} cm²", mm2 / MM2_PER_CM2),
        LengthUnit::Inch => format!("{:.2} in²", mm2 / (MM_PER_INCH * MM_PER_INCH)),
    }
}
