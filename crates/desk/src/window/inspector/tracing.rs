//! The picture under the front view, to trace.

use egui::Ui;
use layout::Edit;
use layout::field::Field;
use layout::geometry::Point;
use layout::tracing::Tracing;

use super::{apply, number};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::views::backdrop::{self, Backdrop};
use crate::window::work::Work;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    let Some(tracing) = desk.project().tracing.clone() else {
        pieces::hint(
            ui,
            "Put a photo or a scan (PNG, JPEG) under the front view and draw the outline over it.",
        );
        let button = controls::outlined_button(ui, Command::TracePicture.label());
        return button.clicked().then_some(Command::TracePicture);
    };
    let name = std::path::Path::new(&tracing.picture).file_name();
    let name = name.map_or_else(
        || tracing.picture.clone(),
        |name| name.to_string_lossy().into_owned(),
    );
    pieces::figure(ui, "Picture", name);
    match backdrop::of(ui.ctx(), &tracing.picture) {
        Backdrop::Loading => pieces::hint(ui, "The picture is being read."),
        Backdrop::Ready(ready) => width(ui, desk, &tracing, ready.size[0]),
        Backdrop::Missing(why) => {
            pieces::refusal(ui, &why);
            if controls::outlined_button(ui, "Look for it again").clicked() {
                backdrop::forget(ui.ctx());
            }
        }
    }
    for field in [
        Field::TracingX,
        Field::TracingY,
        Field::TracingAngle,
        Field::TracingStrength,
    ] {
        number(ui, desk, field, None);
    }
    ui.horizontal_wrapped(|ui| {
        work_button(ui, desk, "Move by hand", Work::MovePicture);
        work_button(ui, desk, "Measure on it", Work::MeasurePicture(Vec::new()));
    });
    measured(ui, desk, &tracing);
    let mut asked = None;
    ui.horizontal(|ui| {
        if controls::outlined_button(ui, "Another picture").clicked() {
            asked = Some(Command::TracePicture);
        }
        if controls::outlined_button(ui, "Remove the picture").clicked() {
            desk.work = Work::Handles;
            apply(desk, &Edit::Tracing(None));
        }
    });
    asked
}

/// A button that starts a kind of work, or ends it where it is under way.
pub(super) fn work_button(ui: &mut Ui, desk: &mut Desk, label: &str, work: Work) {
    let same = std::mem::discriminant(&desk.work) == std::mem::discriminant(&work);
    let label = if same { "Done" } else { label };
    if controls::outlined_button(ui, label).clicked() {
        desk.work = if same { Work::Handles } else { work };
    }
}

fn width(ui: &mut Ui, desk: &mut Desk, tracing: &Tracing, pixels: f64) {
    NumberField {
        label: "Picture width",
        name: None,
        value: tracing.mm_per_pixel * pixels,
        measure: Measure::Length(desk.unit),
    }
    .show(ui, desk, |desk, value| {
        layout::problem::size("width", value)?;
        desk.apply(&Edit::Set(Field::TracingScale, value / pixels))
    });
}

/// What can be done with two places that were picked on the picture.
fn measured(ui: &mut Ui, desk: &mut Desk, tracing: &Tracing) {
    let Work::MeasurePicture(places) = &desk.work else {
        return;
    };
    let [from, to] = places[..] else {
        return;
    };
    NumberField {
        label: "They lie apart by",
        name: None,
        value: (to - from).norm(),
        measure: Measure::Length(desk.unit),
    }
    .show(ui, desk, |desk, distance| {
        layout::problem::size("distance", distance)?;
        let scaled = tracing.scaled([from, to], distance);
        desk.apply(&Edit::Tracing(scaled.or_else(|| Some(tracing.clone()))))?;
        let end = from + (to - from).normalize() * distance;
        desk.work = Work::MeasurePicture(vec![from, end]);
        Ok(())
    });
    ui.horizontal(|ui| {
        for (label, square) in [("Turn them level", false), ("Turn them upright", true)] {
            if controls::outlined_button(ui, label).clicked() {
                let by = turn([from, to], square);
                apply(desk, &Edit::Tracing(Some(tracing.turned(from, by))));
                let end = from + nalgebra::Rotation2::new(by) * (to - from);
                desk.work = Work::MeasurePicture(vec![from, end]);
            }
        }
    });
}

/// The least turn, radians, that lays a line level, or stands it upright.
fn turn([from, to]: [Point; 2], upright: bool) -> f64 {
    use std::f64::consts::{FRAC_PI_2, PI};
    let along = to - from;
    let wanted = if upright { FRAC_PI_2 } else { 0.0 };
    let off = wanted - along.y.atan2(along.x);
    // A line has no direction: half a turn changes nothing.
    off - (off / PI).round() * PI
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_turned_the_short_way() {
        for (to, upright, expected) in [
            ([10.0, 1.0], false, -(0.1_f64.atan())),
            ([-10.0, 1.0], false, 0.1_f64.atan()),
            ([1.0, 10.0], true, 0.1_f64.atan()),
            ([1.0, -10.0], true, -(0.1_f64.atan())),
        ] {
            let by = turn([Point::origin(), to.into()], upright);
            approx::assert_abs_diff_eq!(by, expected, epsilon = 1e-12);
        }
    }
}
