//! Levers against what shares their axis, what lies behind them and what the hand must pull, each found
//! by points that are really turned.

use std::f64::consts::TAU;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use layout::drive::{Drive, End, Moves, Turn};
use layout::geometry::space;
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::{Degrees, Finding, Laid, Project, Report, evaluate};

use crate::common::space::{Vector, add, cross, dot, less, lifted, to_side, unit};
use crate::common::{Random, finding, lidded_pair, random_lids};

/// Thickness of a lever, mm.
const THICKNESS: f64 = 3.0;

/// Distance between places of a lever that are looked at, mm.
const STEP: f64 = 0.25;

/// Two drives of lids of random eyes, levers anywhere near the lids' sides.
fn random_levers(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    let mut lids = random_lids(random);
    let usual = project.parts.lids.expect("the pair has lids");
    (lids.upper, lids.lower) = (usual.upper, usual.lower);
    project.parts.lids = Some(lids);
    project.eyes[1].centre = [random.between(20.0, 70.0), random.between(-40.0, 40.0)];
    let like = project.drives[1].clone();
    let drives = ["one", "other"].map(|name| Drive {
        name: name.to_owned(),
        moves: Moves::Lid {
            eye: random.below(2),
            which: random.pick(&[Which::Upper, Which::Lower]),
        },
        tip: [
            random.pick(&[-1.0, 1.0]) * random.between(15.0, 40.0),
            random.between(-20.0, 20.0),
            random.between(-15.0, 15.0),
        ],
        ..like.clone()
    });
    project.drives = drives.to_vec();
    project
}

/// What a lever's disc about the pivot axis is made of: x of its middle, y of the axis and its reach.
fn disc(project: &Project, drive: &Drive) -> (f64, f64, f64) {
    let [x, y] = project.eyes[drive.moves.eye()].centre;
    let [tip_x, tip_y, tip_z] = drive.tip;
    (x + tip_x, y, tip_y.hypot(tip_z))
}

/// Whether a lever in one of its turns, seen as places all over its disc, has one within `near` along x
/// of the bodies: `fills` gives the spans of x that they fill at a y.
fn meets(lever: (f64, f64, f64), near: f64, fills: impl Fn(f64) -> Vec<[f64; 2]>) -> bool {
    let (x, axis_y, reach) = lever;
    let steps = (reach / STEP).ceil();
    let mut radius = 0.0;
    while radius <= steps {
        let out = (radius * STEP).min(reach);
        let turns = (TAU * out / STEP).ceil().max(1.0);
        let mut turn = 0.0;
        while turn < turns {
            let sin = (TAU * turn / turns).sin();
            let met = fills(axis_y + out * sin);
            let half = THICKNESS / 2.0 + near;
            if met
                .iter()
                .any(|[low, high]| x + half > *low && x - half < *high)
            {
                return true;
            }
            turn += 1.0;
        }
        radius += 1.0;
    }
    false
}

/// The spans along x of all lugs, of the lids of the lever's own eye as whole balls, and of the other lever, at a y. Lugs and
/// levers hold the axis, whose height all eyes share, so that z decides nothing.
fn beside(project: &Project, own: usize, y: f64) -> Vec<[f64; 2]> {
    let lids = project.parts.lids.expect("lids");
    let eye_of = |drive: usize| project.drives[drive].moves.eye();
    let mut spans = Vec::new();
    for (index, eye) in project.eyes.iter().enumerate() {
        let [x, eye_y] = eye.centre;
        if (y - eye_y).abs() <= lids.lug_width / 2.0 {
            for side in [-1.0, 1.0] {
                let middle = x + side * lids.pivot_spacing / 2.0;
                spans.push([-1.0, 1.0].map(|half| middle + half * lids.lug_thickness / 2.0));
            }
        }
        if index == eye_of(own) {
            // 40 mm balls.
            let radius = 20.0 + lids.gap + lids.shell;
            spans.push([x - radius, x + radius]);
        }
    }
    let (x, axis_y, reach) = disc(project, &project.drives[1 - own]);
    if (y - axis_y).abs() <= reach {
        spans.push([x - THICKNESS / 2.0, x + THICKNESS / 2.0]);
    }
    spans
}

fn of_rule(report: &Report, rule: Rule) -> Vec<&Finding> {
    let findings = report.findings.iter();
    findings
        .filter(|found| found.id == rule.info().id)
        .collect()
}

#[test]
fn levers_of_lids_keep_along_their_axis_what_places_all_over_their_discs_do() {
    let mut random = Random::new(141);
    let (mut clear, mut foul) = (0, 0);
    for _ in 0..300 {
        let project = random_levers(&mut random);
        let report = evaluate(&project);
        let found = of_rule(&report, Rule::LeverBeside);
        for (index, drive) in project.drives.iter().enumerate() {
            let lever = disc(&project, drive);
            let name = format!("lever of the {}", drive.name);
            // What neighbours have is no part of this: see `neighbours`.
            let neighbour = project.eye_name(1 - drive.moves.eye());
            let theirs = format!("lids of the {neighbour}");
            let own = found
                .iter()
                .filter(|found| found.part.contains(&name) && !found.part.contains(&theirs));
            let least = own.filter_map(|found| found.value).reduce(f64::min);
            let Some(least) = least else {
                panic!("no word of {name}");
            };
            let met = |near| meets(lever, near, |y| beside(&project, index, y));
            // Where nothing is within the figure, nothing is nearer; a little more, and something is.
            if least > 0.0 {
                assert!(!met(least - 1e-6), "{name} {least} {:?}", project.drives);
                assert!(met(least + 1e-6), "{name} {least} {:?}", project.drives);
                clear += 1;
            } else {
                assert!(met(0.0), "{name} {least} {:?}", project.drives);
                foul += 1;
            }
        }
    }
    assert!(clear > 50 && foul > 50, "{clear} {foul}");
}

#[test]
fn what_turns_with_an_eye_comes_as_near_the_cavity_s_back_as_points_that_are_turned() {
    let mut random = Random::new(142);
    let mut fouls = 0;
    for _ in 0..40 {
        let mut project = lidded_pair();
        project.drives.truncate(1);
        project.drives[0].tip = [
            random.between(-6.0, 6.0),
            random.between(-6.0, 6.0),
            random.between(-60.0, -30.0),
        ];
        project.gaze.side = Degrees(random.between(1.0, 30.0));
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        project.gaze.together = random.one_in(2);
        project.head.cavity_depth = random.between(20.0, 65.0);
        let laid = Laid::out(&project);
        let ring = laid.eyes[0].ring.as_ref().expect("the pair's ring");
        let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| turn.0.to_radians());
        let tilt = if project.gaze.together {
            (side.cos() * lift.cos()).acos()
        } else {
            side.max(lift)
        };
        // Every point of the ring's section and the lever's tip, tilted to all sides.
        let section = ring.profile.iter().map(|p| [p.radius, 0.0, -p.depth]);
        let points: Vec<Vector> = section.chain([project.drives[0].tip]).collect();
        let mut lowest = -20.0_f64;
        for point in points {
            for turn in 0..720 {
                let spun = spun(point, f64::from(turn) * TAU / 720.0);
                for step in 0..=400 {
                    let tilted = to_side(spun, tilt * f64::from(step) / 400.0);
                    lowest = lowest.min(tilted[2]);
                }
            }
        }
        let expected = 4.0 + lowest + project.head.cavity_depth;
        let report = evaluate(&project);
        let found = finding(&report, Rule::SweepBack, "left eye");
        assert_abs_diff_eq!(found.value.unwrap(), expected, epsilon = 2e-3);
        assert!(found.value.unwrap() <= expected + 1e-9);
        assert_eq!(found.state == State::Fouls, expected < 0.0);
        fouls += u32::from(expected < 0.0);
    }
    assert!((5..35).contains(&fouls), "{fouls}");
}

/// A point turned about the axis that points forward.
fn spun([x, y, z]: Vector, angle: f64) -> Vector {
    let (sin, cos) = angle.sin_cos();
    [x * cos - y * sin, x * sin + y * cos, z]
}

/// Least moment arm of the first drive about its own axis while it turns, by small steps, mm.
fn least_arm(project: &Project, laid: &Laid) -> f64 {
    let drive = &project.drives[0];
    let stop: Vector = laid.drives[0].pull.as_ref().expect("a pull").stop.into();
    let lids = project.parts.lids.expect("lids");
    let upper = lids.upper.expect("an upper lid");
    let [closed, open] = [upper.closed, upper.open].map(|angle| angle.0.to_radians());
    let side = project.gaze.side.0.to_radians();
    let lid = matches!(drive.moves, Moves::Lid { .. });
    let [from, to] = if lid {
        [0.0, open - closed]
    } else {
        [-side, side]
    };
    let axis = if lid {
        [-1.0, 0.0, 0.0]
    } else {
        [0.0, 1.0, 0.0]
    };
    let [x, y] = project.eyes[drive.moves.eye()].centre;
    let arm = |step: i32| {
        let angle = from + (to - from) * f64::from(step) / 4_000.0;
        let tip = if lid {
            lifted(drive.tip, angle)
        } else {
            to_side(drive.tip, angle)
        };
        let along = unit(less(stop, add(tip, [x, y, 4.0])));
        dot(cross(tip, along), axis).abs()
    };
    (0..=4_000).map(arm).fold(f64::INFINITY, f64::min)
}

/// What a pull of 1 N at the lever has become at the hand: each small bend of the sheath presses the wire
/// against it with the force that turns it, and friction adds its share.
fn pulled_round(places: &[Vector], friction: f64) -> f64 {
    let ways: Vec<Vector> = places
        .windows(2)
        .map(|pair| unit(less(pair[1], pair[0])))
        .collect();
    ways.windows(2).fold(1.0, |pull, pair| {
        let bend = less(pair[1], pair[0]);
        let half = friction * dot(bend, bend).sqrt() / 2.0;
        pull * (1.0 + half) / (1.0 - half)
    })
}

#[test]
fn the_hand_pulls_what_arm_and_friction_make_of_the_torque_step_by_step() {
    let mut random = Random::new(143);
    let mut tried = 0;
    while tried < 100 {
        let mut project = lidded_pair();
        project.drives.truncate(1);
        project.gaze.together = false;
        let drive = &mut project.drives[0];
        if random.one_in(2) {
            drive.moves = Moves::Lid {
                eye: 1,
                which: Which::Upper,
            };
            drive.near = random.pick(&[End::Closed, End::Open]);
            drive.tip = [31.0, random.between(-16.0, -8.0), random.between(-4.0, 4.0)];
        } else {
            drive.moves = Moves::Gaze {
                eye: 0,
                turn: Turn::Side,
            };
            drive.tip = [0.0, random.between(-8.0, 8.0), random.between(-40.0, -25.0)];
        }
        drive.exit = [
            random.between(-60.0, 60.0),
            -110.0,
            random.between(-80.0, -30.0),
        ];
        drive.torque_nmm = random.between(1.0, 150.0);
        drive.cable.friction = random.between(0.02, 0.4);
        drive.cable.least_bend_radius = random.between(5.0, 20.0);
        let laid = Laid::out(&project);
        let Some(route) = laid.drives[0].sheath() else {
            continue;
        };
        let places = space::flattened(&route.pieces, 4_000);
        let places: Vec<Vector> = places.into_iter().map(Vector::from).collect();
        let drive = &project.drives[0];
        let gain = pulled_round(&places, drive.cable.friction);
        let expected = drive.torque_nmm / least_arm(&project, &laid) * gain;
        let report = evaluate(&project);
        let found = finding(&report, Rule::HandForce, &drive.name);
        assert_relative_eq!(found.value.unwrap(), expected, max_relative = 1e-5);
        tried += 1;
    }
}
