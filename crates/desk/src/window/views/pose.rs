//! "Work the eyes": sliders for gaze and lids, a blink, and a wandering look.

use egui::{RichText, Ui};
use layout::drive::{Moves, Turn};
use layout::laid::LaidEye;
use layout::lid::{LidFit, Which};

use super::handles::with_minus;
use super::slider::{self, Track};
use crate::window::controls;
use crate::window::state::{Desk, Pose};
use crate::window::theme::{Palette, size};

/// What moves the eyes by itself, from when on, seconds of the window's clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Play {
    /// One blink, from a pose back to it.
    Blink(f64, Pose),
    /// A look that wanders, with a blink now and then.
    Wander(f64),
}

/// How long a blink takes, seconds: people's take 0.1 to 0.4 s (two collections of figures, as
/// reported).
const BLINK: f64 = 0.25;

/// Seconds from blink to blink while the look wanders.
const BETWEEN: f64 = 3.7;

/// Shows the sliders and the buttons, and how far the ring stays off the plate.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    play(ui, desk);
    let palette = Palette::of(ui.ctx());
    let eye = desk.laid().eyes.get(desk.chosen_eye);
    let lids = eye.and_then(|eye| eye.lids.as_ref());
    let lid = lids.and_then(|lids| lids.lid(Which::Upper).or(lids.lid(Which::Lower)));
    let lid = lid.copied();
    ui.horizontal(|ui| {
        let heading = RichText::new("Work the eyes");
        ui.label(heading.size(size::SMALL).color(palette.faint));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let now = ui.input(|input| input.time);
            if lid.is_some() && controls::link(ui, "blink").clicked() {
                desk.play = Some(Play::Blink(now, desk.pose));
            }
            let wanders = matches!(desk.play, Some(Play::Wander(_)));
            let word = if wanders { "stop" } else { "look around" };
            if controls::link(ui, word).clicked() {
                desk.play = (!wanders).then_some(Play::Wander(now));
            }
        });
    });
    let mut worked = work_gaze(ui, desk);
    if let Some(lid) = lid {
        worked |= work_lids(ui, desk, &lid);
    }
    if worked {
        desk.play = None;
    }
    let ring = desk.laid().eyes.get(desk.chosen_eye);
    let ring = ring.and_then(|eye| eye.ring.as_ref().ok());
    let clearance = ring.map(|ring| {
        let mm = ring.clearance(desk.pose_of(desk.chosen_eye).tilt());
        with_minus(&desk.unit.format_with_symbol(mm))
    });
    slider::figure_row(ui, "ring to plate", clearance.as_deref().unwrap_or("–"));
}

/// The sliders of the gaze, with the turns at which the ring or a lever of the chosen eye meets the plate. Where a
/// rod takes the eye along, how far its slider may go is not marked.
fn work_gaze(ui: &mut Ui, desk: &mut Desk) -> bool {
    let (gaze, eye) = (desk.project().gaze, desk.chosen_eye);
    let limit = desk.laid().eyes.get(eye).and_then(LaidEye::tilt_limit);
    let Pose { side, lift, .. } = desk.pose_of(eye);
    // Both turns tilt the eye by acos(cos side · cos lift).
    let held_up = |turn: Turn, other: f64, turned_in: f64| {
        let moves = Moves::Gaze { eye, turn };
        let follows = desk.project().rods.iter().any(|rod| rod.follower == moves);
        let most = (limit?.cos() / other.cos()).min(1.0).acos();
        // No eye turns in beyond the gaze's own limit.
        let used = match turn {
            Turn::Side => gaze.side,
            Turn::Lift => gaze.lift,
        };
        let meets = !follows && most < used.radians();
        meets.then_some([-most - turned_in, most - turned_in])
    };
    let to_side = held_up(Turn::Side, lift, desk.toe_in(eye));
    let up_and_down = held_up(Turn::Lift, side, 0.0);
    let mut worked = false;
    for (name, turn, most, held_up) in [
        ("side", &mut desk.pose.side, gaze.side, to_side),
        ("lift", &mut desk.pose.lift, gaze.lift, up_and_down),
    ] {
        worked |= slider::show(ui, name, turn, Track::both_ways(most.radians(), held_up));
    }
    worked
}

/// The slider of the lids: where the leading edge of the upper one is, or of the only one.
fn work_lids(ui: &mut Ui, desk: &mut Desk, lid: &LidFit) -> bool {
    let (open, shut) = (lid.leading(0.0), lid.leading(1.0));
    let mut edge = lid.leading(desk.pose.shut);
    // Where its trailing edge meets the plate.
    let way = Track::of_lid(shut, open, lid.open_limit(0.0));
    let worked = slider::show(ui, "lids", &mut edge, way);
    if worked {
        let way = shut - open;
        desk.pose.shut = if way.abs() > f64::EPSILON {
            ((edge - open) / way).clamp(0.0, 1.0)
        } else {
            0.0
        };
    }
    worked
}

/// Moves the eyes on.
fn play(ui: &Ui, desk: &mut Desk) {
    let Some(now) = desk.play else {
        return;
    };
    let time = ui.input(|input| input.time);
    ui.request_repaint();
    match now {
        Play::Blink(start, before) => {
            let elapsed = time - start;
            desk.pose = before;
            if elapsed >= BLINK {
                desk.play = None;
            } else {
                desk.pose.shut = blink(elapsed, before.shut);
            }
        }
        Play::Wander(start) => {
            let gaze = desk.project().gaze;
            let elapsed = time - start;
            desk.pose = Pose {
                side: gaze.side.radians() * wave(elapsed, 5.3),
                lift: gaze.lift.radians() * wave(elapsed, 7.9),
                shut: blink(elapsed % BETWEEN, 0.0),
            };
        }
    }
}

/// How far the lids are shut `elapsed` seconds into a blink that starts where they are shut by
/// `before`.
fn blink(elapsed: f64, before: f64) -> f64 {
    let share = (elapsed / BLINK).clamp(0.0, 1.0);
    let way = (std::f64::consts::PI * share).sin().powi(2);
    before + (1.0 - before) * way
}

/// A slow way to and fro between −1 and 1.
fn wave(elapsed: f64, period: f64) -> f64 {
    (std::f64::consts::TAU * elapsed / period).sin()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blink_shuts_the_lids_and_opens_them_again_in_the_time_that_people_take() {
        // 100 to 400 ms: Harvard BioNumbers, as reported.
        assert!((0.1..=0.4).contains(&BLINK));
        assert!(blink(0.0, 0.2) < 0.2 + 1e-9);
        assert!((blink(BLINK / 2.0, 0.2) - 1.0).abs() < 1e-9);
        assert!((blink(BLINK, 0.2) - 0.2).abs() < 1e-9);
    }
}
