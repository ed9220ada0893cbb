//! Levers and their cable lines against tips that are really turned.

use approx::assert_abs_diff_eq;
use layout::drive::{Drive, End, Moves, Turn};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::report::DriveFigures;
use layout::{Degrees, Project, evaluate};

use crate::common::space::{Vector, add, cross, dot, length, less, lifted, scaled, to_side, unit};
use crate::common::{Random, finding, lidded_pair};

/// How near figures must come to what is turned, mm or a share.
const EXACT: f64 = 1e-6;

/// Steps of a turn that is looked at.
const STEPS: i32 = 6_000;

/// One drive of eye 1 with a tip that is worth turning.
fn random_project(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    let drive = &mut project.drives[1];
    let low = [
        random.between(-20.0, 20.0),
        random.between(-20.0, 20.0),
        random.between(-60.0, -22.0),
    ];
    drive.tip = low;
    drive.standoff = random.between(0.5, 12.0);
    let ends = [End::Low, End::High, End::Closed, End::Open];
    let kind = random.below(4);
    drive.moves = match kind {
        0 => Moves::Gaze {
            eye: 1,
            turn: Turn::Side,
        },
        1 => Moves::Gaze {
            eye: 1,
            turn: Turn::Lift,
        },
        2 => Moves::Lid {
            eye: 1,
            which: Which::Upper,
        },
        _ => Moves::Lid {
            eye: 1,
            which: Which::Lower,
        },
    };
    drive.near = ends[if kind < 2 { 0 } else { 2 } + random.below(2)];
    if random.one_in(3) {
        drive.stop = Some([29.0, 0.0, 4.0].map(|at| at + random.between(-60.0, 60.0)));
    }
    project.gaze.side = Degrees(random.between(2.0, 40.0));
    project.gaze.lift = Degrees(random.between(2.0, 40.0));
    let lids = project.parts.lids.as_mut().expect("the pair has lids");
    let upper = lids.upper.as_mut().expect("an upper lid");
    upper.open = Degrees(random.between(5.0, 60.0));
    project
}

/// A drive turned by hand: where its tip is in a pose (own, other), and the axis of its own turn.
struct Turned<'a> {
    drive: &'a Drive,
    closed: f64,
    range: [f64; 2],
    other: f64,
}

impl<'a> Turned<'a> {
    fn of(project: &'a Project) -> Self {
        let drive = &project.drives[1];
        let gaze = &project.gaze;
        let [side, lift] = [gaze.side, gaze.lift].map(|turn| turn.0.to_radians());
        let together = if gaze.together { 1.0 } else { 0.0 };
        let (closed, range, other) = match drive.moves {
            Moves::Gaze {
                turn: Turn::Side, ..
            } => (0.0, [-side, side], lift * together),
            Moves::Gaze {
                turn: Turn::Lift, ..
            } => (0.0, [-lift, lift], side * together),
            Moves::Lid { which, .. } => {
                let lids = project.parts.lids.as_ref().expect("lids");
                let lid = lids.lid(which).expect("the lid");
                let [closed, open] = [lid.closed, lid.open].map(|angle| angle.0.to_radians());
                (closed, [closed, open], 0.0)
            }
        };
        Self {
            drive,
            closed,
            range,
            other,
        }
    }

    fn tip(&self, own: f64, other: f64) -> Vector {
        let tip = self.drive.tip;
        let from_centre = match self.drive.moves {
            Moves::Gaze {
                turn: Turn::Side, ..
            } => to_side(lifted(tip, other), own),
            Moves::Gaze {
                turn: Turn::Lift, ..
            } => to_side(lifted(tip, own), other),
            Moves::Lid {
                which: Which::Upper,
                ..
            } => lifted(tip, own - self.closed),
            Moves::Lid {
                which: Which::Lower,
                ..
            } => lifted(tip, self.closed - own),
        };
        add(from_centre, [29.0, 0.0, 4.0])
    }

    /// The way that the tip goes as its own turn grows, by a small difference, and its distance from
    /// the axis: tip's way = axis × (tip − centre).
    fn axis(&self, other: f64) -> Vector {
        match self.drive.moves {
            Moves::Gaze {
                turn: Turn::Side, ..
            } => [0.0, 1.0, 0.0],
            Moves::Gaze {
                turn: Turn::Lift, ..
            } => to_side([-1.0, 0.0, 0.0], other),
            Moves::Lid {
                which: Which::Upper,
                ..
            } => [-1.0, 0.0, 0.0],
            Moves::Lid {
                which: Which::Lower,
                ..
            } => [1.0, 0.0, 0.0],
        }
    }

    fn radius(&self) -> f64 {
        let [x, y, z] = self.drive.tip;
        match self.drive.moves {
            Moves::Gaze {
                turn: Turn::Side, ..
            } => x.hypot(z),
            _ => y.hypot(z),
        }
    }

    /// Near and far end.
    fn ends(&self) -> [Vector; 2] {
        let [low, high] = self.range.map(|own| self.tip(own, 0.0));
        match self.drive.near {
            End::Low | End::Closed => [low, high],
            End::High | End::Open => [high, low],
        }
    }
}

fn figures(project: &Project) -> DriveFigures {
    evaluate(project).figures.drives[1].clone()
}

/// The largest error, degrees, the least arm without its sign, and the longest wire over all poses.
fn sampled(turned: &Turned<'_>, others: i32) -> [f64; 3] {
    let [near, far] = turned.ends();
    let along = unit(less(far, near));
    let on_line = less(near, scaled(along, turned.drive.standoff));
    let stop = turned.drive.stop.unwrap_or(on_line);
    let (mut error, mut wire) = (0.0_f64, 0.0_f64);
    let mut arms = [f64::INFINITY, f64::NEG_INFINITY];
    let steps = if others == 0 { STEPS } else { 400 };
    for across in -others..=others {
        let other = turned.other * f64::from(across) / f64::from(others.max(1));
        for step in 0..=steps {
            let [low, high] = turned.range;
            let own = low + (high - low) * f64::from(step) / f64::from(steps);
            let tip = turned.tip(own, other);
            let out = less(tip, stop);
            wire = wire.max(length(out));
            let direction = unit(out);
            error = error.max(length(cross(direction, along)).atan2(dot(direction, along)));
            let from_centre = less(tip, [29.0, 0.0, 4.0]);
            let arm = dot(cross(from_centre, direction), turned.axis(other)) / turned.radius();
            arms = [arms[0].min(arm), arms[1].max(arm)];
        }
    }
    let arm = if arms[0] <= 0.0 && arms[1] >= 0.0 {
        0.0
    } else {
        arms[0].abs().min(arms[1].abs())
    };
    [error.to_degrees(), arm, wire]
}

#[test]
fn strokes_errors_arms_and_wires_are_those_of_a_tip_that_is_turned() {
    let mut random = Random::new(141);
    let mut kinds = [0; 2];
    for _ in 0..300 {
        let mut project = random_project(&mut random);
        project.gaze.together = false;
        let turned = Turned::of(&project);
        let found = figures(&project);
        let [near, far] = turned.ends();
        assert_abs_diff_eq!(
            found.stroke_mm.unwrap(),
            length(less(far, near)),
            epsilon = EXACT
        );
        let [error, arm, wire] = sampled(&turned, 0);
        // A peak between two samples is higher by less than the square of half their distance; an
        // error has a corner only where it is 0.
        assert_abs_diff_eq!(found.pull_error_deg.unwrap(), error, epsilon = 2e-5);
        assert_abs_diff_eq!(found.arm_share.unwrap(), arm, epsilon = EXACT);
        assert_abs_diff_eq!(found.unsupported_mm.unwrap(), wire, epsilon = 1e-5);
        kinds[usize::from(project.drives[1].stop.is_some())] += 1;
    }
    assert!(kinds.iter().all(|&count| count > 50), "{kinds:?}");
}

#[test]
fn with_the_other_turn_used_together_no_pose_pulls_worse_than_is_said() {
    let mut random = Random::new(142);
    let mut tested = 0;
    while tested < 40 {
        let project = random_project(&mut random);
        let turned = Turned::of(&project);
        if turned.other == 0.0 {
            continue;
        }
        let found = figures(&project);
        let [error, arm, wire] = sampled(&turned, 200);
        assert!(found.pull_error_deg.unwrap() >= error - EXACT);
        assert_abs_diff_eq!(found.pull_error_deg.unwrap(), error, epsilon = 0.05);
        assert!(found.arm_share.unwrap() <= arm + EXACT);
        assert_abs_diff_eq!(found.arm_share.unwrap(), arm, epsilon = 1e-3);
        assert!(found.unsupported_mm.unwrap() >= wire - EXACT);
        assert_abs_diff_eq!(found.unsupported_mm.unwrap(), wire, epsilon = 2e-3);
        tested += 1;
    }
}

#[test]
fn the_cable_line_is_square_to_the_lever_at_mid_turn() {
    // Common practice, no source: the cable pulls square to the lever in the middle of its turn.
    let mut random = Random::new(143);
    for _ in 0..100 {
        let mut project = random_project(&mut random);
        project.gaze.together = false;
        let turned = Turned::of(&project);
        let [near, far] = turned.ends();
        let middle = turned.tip((turned.range[0] + turned.range[1]) / 2.0, 0.0);
        let axis = turned.axis(0.0);
        let from_centre = less(middle, [29.0, 0.0, 4.0]);
        let lever = less(from_centre, scaled(axis, dot(from_centre, axis)));
        assert_abs_diff_eq!(dot(unit(lever), unit(less(far, near))), 0.0, epsilon = 1e-9);
    }
}

#[test]
fn a_drive_that_cannot_work_is_a_finding_that_says_why_and_what_would_help() {
    let shape = |change: fn(&mut Project)| {
        let mut project = lidded_pair();
        change(&mut project);
        let report = evaluate(&project);
        let found = finding(&report, Rule::DriveShape, "right lid");
        assert_eq!((found.state, found.value), (State::Fouls, None));
        assert_eq!(report.figures.drives[1].stroke_mm, None);
        found.sentence.clone()
    };
    assert!(
        shape(|p| {
            p.drives[1].near = End::Closed;
            p.drives[1].tip = [29.5, 0.0, 0.0];
        })
        .contains("lever tip on the axis")
    );
    assert!(shape(|p| p.drives[1].near = End::High).contains("near end"));
    assert!(
        shape(|p| {
            p.drives[1].near = End::Closed;
            let lids = p.parts.lids.as_mut().unwrap();
            lids.upper.as_mut().unwrap().open = Degrees(91.0);
        })
        .contains("beyond a quarter turn")
    );
    assert!(
        shape(|p| {
            p.drives[1].near = End::Closed;
            let lids = p.parts.lids.as_mut().unwrap();
            lids.upper.as_mut().unwrap().open = Degrees(-0.5);
        })
        .contains("over no angle")
    );
    assert!(
        shape(|p| {
            p.drives[1].near = End::Closed;
            p.parts.lids.as_mut().unwrap().upper = None;
        })
        .contains("a lid that its eye does not have")
    );
    assert!(
        shape(|p| {
            p.drives[1].moves = Moves::Gaze {
                eye: 1,
                turn: Turn::Side,
            };
            p.drives[1].tip = [0.0, 0.0, -19.0];
        })
        .contains("inside the ball")
    );
}

#[test]
fn a_turn_that_no_cable_moves_is_told_and_one_that_a_cable_moves_is_not() {
    let mut project = lidded_pair();
    project.drives[1].near = End::Closed;
    let told = |project: &Project| {
        let found = evaluate(project).findings;
        let found = found.into_iter().filter(|f| f.id == "undriven");
        found.map(|f| (f.state, f.sentence)).collect::<Vec<_>>()
    };
    let sentences = told(&project);
    assert!(sentences.iter().all(|(state, _)| *state == State::Tight));
    let said = |text: &str| {
        sentences
            .iter()
            .any(|(_, sentence)| sentence.contains(text))
    };
    // The left eye's side turn and the right upper lid have their drives.
    assert!(said("No cable turns the right eye to the side."));
    assert!(said("No cable moves the lower lid of the right eye."));
    assert!(said("No cable moves the upper lid of the left eye."));
    assert_eq!(sentences.len(), 4);
    project.gaze.side = Degrees(0.0);
    assert_eq!(told(&project).len(), 3);
}

#[test]
fn a_lever_through_the_plate_fouls_and_one_beside_it_does_not() {
    let mut project = lidded_pair();
    let drive = &mut project.drives[1];
    drive.near = End::Closed;
    drive.tip = [20.0, -3.0, -8.0];
    let report = evaluate(&project);
    assert_eq!(
        finding(&report, Rule::LeverPlate, "right lid").state,
        State::Fouls
    );
    project.drives[1].tip = [50.0, -3.0, -8.0];
    let report = evaluate(&project);
    assert_eq!(
        finding(&report, Rule::LeverPlate, "right lid").state,
        State::Clear
    );
}

#[test]
fn the_gap_of_a_lever_to_the_plate_is_that_of_the_bar_turned_step_by_step() {
    let mut random = Random::new(144);
    let mut in_front = 0;
    for _ in 0..200 {
        let mut project = lidded_pair();
        let drive = &mut project.drives[1];
        drive.near = End::Closed;
        drive.tip = [20.0, random.between(-9.0, 9.0), random.between(-3.0, 14.0)];
        if drive.tip[1].hypot(drive.tip[2]) < 1.0 {
            continue;
        }
        let turned_project = project.clone();
        let turned = Turned::of(&turned_project);
        let lowest = (0..=STEPS).map(|step| {
            let [low, high] = turned.range;
            let own = low + (high - low) * f64::from(step) / f64::from(STEPS);
            turned.tip(own, 0.0)[2].min(4.0)
        });
        // Half of the lever's 5 mm.
        let front = lowest.fold(f64::INFINITY, f64::min) - 2.5;
        let found = figures(&project).lever_plate_mm.unwrap();
        if front > -2.0 {
            assert_abs_diff_eq!(found, front, epsilon = 1e-5);
            in_front += 1;
        }
    }
    assert!(in_front > 80, "{in_front}");
}

#[test]
fn a_gaze_lever_counts_in_what_its_eye_sweeps_and_in_how_far_it_turns() {
    let mut random = Random::new(145);
    let mut counts = [0; 3];
    for _ in 0..200 {
        let mut project = lidded_pair();
        project.drives.truncate(1);
        project.gaze.side = Degrees(random.between(5.0, 40.0));
        let mut bare = project.clone();
        bare.drives.clear();
        let drive = &mut project.drives[0];
        let out = random.point(16.0);
        drive.tip = [out.x, out.y, random.between(-34.0, -8.0)];
        if length(drive.tip) <= 20.3 {
            continue;
        }
        let ring = evaluate(&bare).figures.eyes[0].clone();
        let found = evaluate(&project).figures.eyes[0].clone();
        // Rolled about its axis to every side and tilted by every angle up to the working one. Centre
        // 4 mm before the plate's face, 3 mm thick.
        let tilt = project.gaze.side.0.to_radians();
        let (mut deepest, mut widest, mut nearest) = (0.0_f64, 0.0_f64, f64::INFINITY);
        let mut limit = f64::INFINITY;
        for roll in 0..360 {
            let (sin, cos) = f64::from(roll).to_radians().sin_cos();
            let [x, y, z] = project.drives[0].tip;
            let rolled = [x * cos - y * sin, x * sin + y * cos, z];
            for step in 0..=400 {
                let angle = tilt * f64::from(step) / 400.0;
                let [x, y, z] = lifted(rolled, angle);
                deepest = deepest.max(-z);
                widest = widest.max(x.hypot(y));
                nearest = nearest.min(-z);
            }
            let reaches = (0..900).map(|step| f64::from(step) / 10.0);
            let meets = reaches
                .into_iter()
                .find(|angle| -lifted(rolled, angle.to_radians())[2] < 7.0);
            limit = limit.min(meets.unwrap_or(f64::INFINITY));
        }
        let of_ring = ring.sweep_depth_mm.unwrap();
        assert_abs_diff_eq!(
            found.sweep_depth_mm.unwrap(),
            (deepest - 7.0).max(of_ring),
            epsilon = 0.01
        );
        let of_ring = ring.sweep_reach_mm.unwrap();
        assert_abs_diff_eq!(
            found.sweep_reach_mm.unwrap(),
            widest.max(of_ring),
            epsilon = 0.01
        );
        let of_ring = ring.ring_clearance_mm.unwrap();
        assert_abs_diff_eq!(
            found.ring_clearance_mm.unwrap(),
            (nearest - 7.0).min(of_ring),
            epsilon = 0.01
        );
        let expected = limit.min(ring.tilt_limit_deg.unwrap());
        assert_abs_diff_eq!(found.tilt_limit_deg.unwrap(), expected, epsilon = 0.11);
        counts[0] += u32::from(found.sweep_depth_mm > ring.sweep_depth_mm);
        counts[1] += u32::from(found.sweep_reach_mm > ring.sweep_reach_mm);
        counts[2] += u32::from(found.tilt_limit_deg < ring.tilt_limit_deg);
    }
    assert!(counts.iter().all(|&count| count > 10), "{counts:?}");
}
