//! What moves the eyes by itself: a blink, and a look that wanders.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use egui::Ui;
use layout::gaze::Gaze;

use crate::window::state::{Desk, Pose};

/// What moves the eyes by itself, from when on, seconds of the window's clock, and from which pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Play {
    /// One blink, which ends in the pose that it started from.
    Blink(f64, Pose),
    /// A look that wanders, with a blink now and then.
    Wander(f64, Pose),
}

/// How long a blink takes, seconds: people's take 0.1 to 0.4 s (two collections of figures, as
/// reported).
const BLINK: f64 = 0.25;

/// Seconds from blink to blink while the look wanders.
const BETWEEN: f64 = 3.7;

/// How long a look that begins to wander takes to come back to straight ahead, seconds: slow enough to be
/// seen. Own choice.
const BACK: f64 = 0.6;

/// How long the look takes to both sides and back, and up, down and back, seconds: own choice. No small
/// multiples of both meet, so that the look seldom repeats itself.
const SWEEPS: [f64; 2] = [5.3, 7.9];

/// Moves the eyes on.
pub(super) fn go_on(ui: &Ui, desk: &mut Desk) {
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
        Play::Wander(start, before) => {
            desk.pose = wander(&desk.project().gaze, time - start, before);
        }
    }
}

/// How far the lids are shut `elapsed` seconds into a blink that starts where they are shut by
/// `before`.
fn blink(elapsed: f64, before: f64) -> f64 {
    let share = (elapsed / BLINK).clamp(0.0, 1.0);
    before + (1.0 - before) * (PI * share).sin().powi(2)
}

/// The pose `elapsed` seconds after the look began to wander from `before`: it comes back to straight ahead
/// first. Turns that the character never uses at once take turns.
fn wander(gaze: &Gaze, elapsed: f64, before: Pose) -> Pose {
    if elapsed < BACK {
        let left = (FRAC_PI_2 * elapsed / BACK).cos().powi(2);
        return Pose {
            side: before.side * left,
            lift: before.lift * left,
            shut: before.shut * left,
        };
    }
    let elapsed = elapsed - BACK;
    let [side, lift] = if gaze.together || gaze.side.0 == 0.0 || gaze.lift.0 == 0.0 {
        SWEEPS.map(|period| wave(elapsed, period))
    } else {
        in_turn(elapsed)
    };
    Pose {
        side: gaze.side.radians() * side,
        lift: gaze.lift.radians() * lift,
        shut: blink(elapsed % BETWEEN, 0.0),
    }
}

/// Side and lift, each as a share of its largest, where one rests while the other goes.
fn in_turn(elapsed: f64) -> [f64; 2] {
    let [to_sides, up_and_down] = SWEEPS;
    // It comes to a stop before the other one starts.
    let sweep = |elapsed, period| {
        let way = wave(elapsed, period);
        way * way.abs()
    };
    let elapsed = elapsed % (to_sides + up_and_down);
    if elapsed < to_sides {
        [sweep(elapsed, to_sides), 0.0]
    } else {
        [0.0, sweep(elapsed - to_sides, up_and_down)]
    }
}

/// A slow way to and fro between −1 and 1.
fn wave(elapsed: f64, period: f64) -> f64 {
    (TAU * elapsed / period).sin()
}

#[cfg(test)]
mod tests {
    use layout::Degrees;

    use super::*;

    #[test]
    fn a_blink_shuts_the_lids_and_opens_them_again_in_the_time_that_people_take() {
        // 100 to 400 ms: Harvard BioNumbers, as reported.
        assert!((0.1..=0.4).contains(&BLINK));
        assert!(blink(0.0, 0.2) < 0.2 + 1e-9);
        assert!((blink(BLINK / 2.0, 0.2) - 1.0).abs() < 1e-9);
        assert!((blink(BLINK, 0.2) - 0.2).abs() < 1e-9);
    }

    #[test]
    fn a_look_that_wanders_never_jumps_and_one_turn_stops_before_the_other_starts() {
        const MILLISECOND: f64 = 0.001;
        let before = Pose {
            side: 0.2,
            ..Pose::default()
        };
        for together in [false, true] {
            let gaze = Gaze {
                side: Degrees(16.0),
                lift: Degrees(10.0),
                together,
                looks_at: 700.0,
            };
            let at = |step: u32| wander(&gaze, f64::from(step) * MILLISECOND, before);
            assert_eq!(at(0), before);
            let turns: [fn(Pose) -> f64; 2] = [|pose| pose.side, |pose| pose.lift];
            for (turn, other) in [(turns[0], turns[1]), (turns[1], turns[0])] {
                for step in 1..30_000 {
                    let [was, is, will_be] = [step - 1, step, step + 1].map(|step| turn(at(step)));
                    let speed = (is - was) / MILLISECOND;
                    // 60° in a second: a look that jumps over a tenth of a degree is faster.
                    assert!(speed.abs() < PI / 3.0, "{speed} in step {step}");
                    if !together {
                        assert!(is == 0.0 || other(at(step)) == 0.0, "both in step {step}");
                        let faster = (will_be - is) / MILLISECOND - speed;
                        assert!(faster.abs() < 0.01, "{faster} in step {step}");
                    }
                }
            }
        }
    }
}
