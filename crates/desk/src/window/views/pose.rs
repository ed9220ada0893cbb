//! "Work the eyes": sliders for gaze and lids, and what starts a blink or a wandering look.

use egui::{RichText, Ui};
use layout::drive::{Moves, Turn};
use layout::laid::LaidEye;
use layout::lid::{LidFit, Which};

use super::handles::with_minus;
use super::play::{self, Play};
use super::slider::{self, Track};
use crate::window::controls;
use crate::window::state::{Desk, Pose};
use crate::window::theme::{Palette, size};

/// Shows the sliders and the buttons, and how far the ring stays off the plate.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    play::go_on(ui, desk);
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
            let wanders = matches!(desk.play, Some(Play::Wander(..)));
            let word = if wanders { "stop" } else { "look around" };
            if controls::link(ui, word).clicked() {
                desk.play = (!wanders).then_some(Play::Wander(now, desk.pose));
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

/// What the sliders of the gaze do where the character never uses both turns at once.
const ONE_AT_A_TIME: &str = "One turn at a time: the other one goes back to 0.";

/// The sliders of the gaze. Where the character never uses both turns at once, one that is moved lets the
/// other go back to 0.
fn work_gaze(ui: &mut Ui, desk: &mut Desk) -> bool {
    let gaze = desk.project().gaze;
    let one_at_a_time = !gaze.together && gaze.side.0 > 0.0 && gaze.lift.0 > 0.0;
    let mut worked = false;
    for (name, turn, most) in [
        ("side", Turn::Side, gaze.side),
        ("lift", Turn::Lift, gaze.lift),
    ] {
        let way = Track::both_ways(most.radians(), held_up(desk, turn));
        let note = one_at_a_time.then_some(ONE_AT_A_TIME);
        let Pose { side, lift, .. } = &mut desk.pose;
        let (own, other) = match turn {
            Turn::Side => (side, lift),
            Turn::Lift => (lift, side),
        };
        if slider::show(ui, name, own, way, note) {
            worked = true;
            if one_at_a_time {
                *other = 0.0;
            }
        }
    }
    worked
}

/// The turns at which the ring or a lever of the chosen eye meets the plate, with the other turn as it is while
/// this one is moved.
fn held_up(desk: &Desk, turn: Turn) -> Option<[f64; 2]> {
    let (gaze, eye) = (desk.project().gaze, desk.chosen_eye);
    let look = if gaze.together {
        desk.pose
    } else {
        Pose::default()
    };
    let Pose { side, lift, .. } = desk.pose_in(look, eye);
    let (other, used, turned_in) = match turn {
        Turn::Side => (lift, gaze.side, desk.toe_in(eye)),
        Turn::Lift => (side, gaze.lift, 0.0),
    };
    let limit = desk.laid().eyes.get(eye).and_then(LaidEye::tilt_limit)?;
    let moves = Moves::Gaze { eye, turn };
    if { desk.project().rods.iter() }.any(|rod| rod.follower == moves) {
        let turned = |own: f64| match turn {
            Turn::Side => Pose { side: own, ..look },
            Turn::Lift => Pose { lift: own, ..look },
        };
        let beyond = |own: f64| desk.pose_in(turned(own), eye).tilt() > limit;
        return held_up_by_rod(used.radians(), beyond);
    }
    // Both turns tilt the eye by acos(cos side · cos lift).
    let most = (limit.cos() / other.cos()).min(1.0).acos();
    // No eye turns in beyond the gaze's own limit.
    (most < used.radians()).then_some([-most - turned_in, most - turned_in])
}

/// The same of an eye that a rod takes along, not evenly: found by halving the way to both ends of the slider, which
/// goes as far as `most`, radians.
fn held_up_by_rod(most: f64, beyond: impl Fn(f64) -> bool) -> Option<[f64; 2]> {
    let ends = [-most, most];
    let held_up = ends.map(|end| {
        if beyond(end) {
            last_free(0.0, end, &beyond)
        } else {
            end
        }
    });
    (held_up != ends).then_some(held_up)
}

/// The last place on the way from one that is free to one that is `beyond` which is still free.
fn last_free(mut free: f64, mut past: f64, beyond: impl Fn(f64) -> bool) -> f64 {
    /// Halvings of the way: so many leave less of it than any slider shows.
    const HALVINGS: u32 = 24;
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(free, past);
        if beyond(middle) {
            past = middle;
        } else {
            free = middle;
        }
    }
    free
}

/// The slider of the lids: where the leading edge of the upper one is, or of the only one. It marks where the first
/// lid meets the plate.
fn work_lids(ui: &mut Ui, desk: &mut Desk, lid: &LidFit) -> bool {
    let (open, shut) = (lid.leading(0.0), lid.leading(1.0));
    let mut edge = lid.leading(desk.pose.shut);
    let first = { Which::ALL.into_iter() }
        .filter_map(|which| Some((which, meets_plate(desk, which)?)))
        .max_by(|(_, one), (_, other)| one.total_cmp(other));
    let way = Track::of_lid(shut, open, first.map(|(_, shut)| lid.leading(shut)));
    let note = first.map(|(which, _)| format!("The {} meets the plate.", which.noun()));
    let worked = slider::show(ui, "lids", &mut edge, way, note.as_deref());
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

/// How far the lids are still shut, 0 to 1, when the trailing edge of this one of the chosen eye meets the plate;
/// None if it opens freely. Found by halving: a rod does not take a lid along evenly.
fn meets_plate(desk: &Desk, which: Which) -> Option<f64> {
    let eye = desk.chosen_eye;
    let lids = desk.laid().eyes.get(eye)?.lids.as_ref()?;
    let limit = lids.lid(which)?.open_limit(0.0)?;
    let beyond = |shut: f64| desk.edge_in(Pose { shut, ..desk.pose }, eye, which) > limit;
    beyond(0.0).then(|| last_free(1.0, 0.0, beyond))
}
