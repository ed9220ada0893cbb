//! What one eye has against what stands beside it: the lids and balls of its neighbours, and slots.

use approx::assert_abs_diff_eq;
use layout::drive::{Drive, End, Moves};
use layout::lid::Which;
use layout::limits::Rule;
use layout::tie::TieSlot;
use layout::{Degrees, Finding, Project, State, evaluate};

use crate::common::space::lifted;
use crate::common::{Random, finding, lidded_pair, random_lids};

/// Radius of the pair's balls, mm.
const BALL: f64 = 20.0;

/// Thickness of a lever, mm.
const THICKNESS: f64 = 3.0;

/// Turns of a lever that are looked at: of one of 30 mm, its tip moves by 0.01 mm between two.
const TURNS: i32 = 3000;

/// A lid's lever of the left eye beside a right eye that may have no lids.
fn levers(random: &mut Random) -> (Project, bool) {
    let mut project = lidded_pair();
    let mut lids = random_lids(random);
    let usual = project.parts.lids.expect("the pair has lids");
    (lids.upper, lids.lower) = (usual.upper, usual.lower);
    project.parts.lids = Some(lids);
    project.eyes[1].centre = [random.between(20.0, 60.0), random.between(-40.0, 40.0)];
    let bare = random.one_in(2);
    if bare {
        let mut parts = project.parts.clone();
        parts.lids = None;
        project.eyes[1].parts = Some(Box::new(parts));
    }
    let like = project.drives[1].clone();
    project.drives = vec![Drive {
        name: "lever".to_owned(),
        moves: Moves::Lid {
            eye: 0,
            which: random.pick(&[Which::Upper, Which::Lower]),
        },
        near: End::Closed,
        tip: [
            random.between(22.0, 60.0),
            random.between(-20.0, 20.0),
            random.between(-15.0, 15.0),
        ],
        ..like
    }];
    (project, bare)
}

/// How near the lever comes to the right eye's centre in any of many turns, mm.
fn nearest_turn(project: &Project) -> f64 {
    let drive = &project.drives[0];
    let Moves::Lid { which, .. } = drive.moves else {
        panic!("it moves a lid");
    };
    let lids = project.parts.lids.expect("lids");
    let lid = lids.lid(which).expect("the lid");
    let sign = if which == Which::Upper { 1.0 } else { -1.0 };
    let apart = [0, 1].map(|axis| project.eyes[1].centre[axis] - project.eyes[0].centre[axis]);
    let beyond = (apart[0] - drive.tip[0]).abs() - THICKNESS / 2.0;
    let most = (lid.open.0 - lid.closed.0).to_radians();
    let turns = (0..=TURNS).map(|turn| most * f64::from(turn) / f64::from(TURNS));
    let gaps = turns.map(|turn| {
        let [_, y, z] = lifted([0.0, drive.tip[1], drive.tip[2]], sign * turn);
        let share = (apart[1] * y / (y * y + z * z)).clamp(0.0, 1.0);
        let off = (apart[1] - share * y).hypot(share * z) - lids.lever_width / 2.0;
        if beyond < 0.0 && off < 0.0 {
            beyond.max(off)
        } else {
            beyond.max(0.0).hypot(off.max(0.0))
        }
    });
    gaps.fold(f64::INFINITY, f64::min)
}

fn beside_neighbour(project: &Project, what: &str) -> Finding {
    let report = evaluate(project);
    let part = format!("lever of the lever and {what} of the right eye");
    finding(&report, Rule::LeverBeside, &part).clone()
}

#[test]
fn a_lid_s_lever_keeps_from_a_neighbour_s_lids_or_ball_it_does_in_the_nearest_of_its_turns() {
    let mut random = Random::new(171);
    let (mut clear, mut fouls, mut balls) = (0, 0, 0);
    for _ in 0..200 {
        let (project, bare) = levers(&mut random);
        let lids = project.parts.lids.expect("lids");
        let (what, radius) = if bare {
            ("ball", BALL)
        } else {
            ("lids", BALL + lids.gap + lids.shell)
        };
        let found = beside_neighbour(&project, what);
        let value = found.value.expect("a gap");
        let expected = nearest_turn(&project) - radius;
        assert_abs_diff_eq!(value, expected, epsilon = 1e-3);
        assert_eq!(found.state == State::Fouls, value < -1e-6);
        clear += u32::from(value > 0.0);
        fouls += u32::from(value < 0.0);
        balls += u32::from(bare);
    }
    assert!(
        clear > 5 && fouls > 5 && balls > 5,
        "{clear} {fouls} {balls}"
    );
}

#[test]
fn a_lug_keeps_from_a_neighbour_s_bare_ball_what_places_all_over_it_do() {
    /// Places along each side of a lug.
    const PLACES: i32 = 24;
    let mut random = Random::new(172);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..100 {
        let mut project = lidded_pair();
        let lids = random_lids(&mut random);
        if !lids.any() {
            continue;
        }
        project.parts.lids = Some(lids);
        let mut parts = project.parts.clone();
        parts.lids = None;
        project.eyes[1].parts = Some(Box::new(parts));
        project.eyes[1].centre = [random.between(-10.0, 40.0), random.between(-30.0, 30.0)];
        let [[x, y], other] = [project.eyes[0].centre, project.eyes[1].centre];
        let along = |half: f64| {
            (-PLACES..=PLACES).map(move |place| half * f64::from(place) / f64::from(PLACES))
        };
        let mut least = f64::INFINITY;
        for side in [-1.0, 1.0] {
            for off_x in along(lids.lug_thickness / 2.0) {
                let at_x = x + side * lids.pivot_spacing / 2.0 + off_x - other[0];
                for off_y in along(lids.lug_width / 2.0) {
                    // The lug stands at every height up to its pivot, which is that of the ball's centre.
                    let at = at_x.hypot(y + off_y - other[1]);
                    least = least.min(at - BALL);
                }
            }
        }
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugLidGap, "left eye and right eye");
        let value = found.value.expect("a gap");
        // Between two places of a lug that holds the ball's centre itself there is some more room.
        let missed = if value < 1.0 - BALL { 0.4 } else { 0.02 };
        assert!(
            (-1e-9..missed).contains(&(least - value)),
            "{least} {value}"
        );
        assert_eq!(found.state == State::Fouls, value < -1e-6);
        if found.state == State::Fouls {
            assert!(
                found.sentence.contains("the ball of the other"),
                "{found:?}"
            );
            fouls += 1;
        } else {
            clear += 1;
        }
    }
    assert!(clear > 10 && fouls > 10, "{clear} {fouls}");
}

#[test]
fn a_slot_keeps_from_the_lugs_feet_what_places_round_its_edge_do() {
    /// Places along each piece of the slot's edge.
    const PLACES: i32 = 720;
    let mut random = Random::new(173);
    let (mut clear, mut tight, mut fouls) = (0, 0, 0);
    for _ in 0..100 {
        let mut project = lidded_pair();
        let angle = random.between(0.0, 180.0);
        project.ties = vec![TieSlot {
            at: [
                -29.0 - 26.0 + random.between(-8.0, 8.0),
                random.between(-12.0, 12.0),
            ],
            angle: Degrees(angle),
            tie: [4.8, 1.3],
            ..project.ties[0]
        }];
        project.eyes[0].centre = [-29.0, 0.0];
        let lids = project.parts.lids.expect("lids");
        // 0.7 mm wider than the tie, and its corners are rounded by as much.
        let [length, width] = [4.8 + 0.7, 1.3 + 0.7];
        let corner = 0.7;
        let straight = [length / 2.0 - corner, width / 2.0 - corner];
        let at = project.ties[0].at;
        let (sin, cos) = angle.to_radians().sin_cos();
        let mut least = f64::INFINITY;
        let mut crossed = false;
        for step in 0..PLACES {
            let share = f64::from(step) / f64::from(PLACES);
            let turn = std::f64::consts::TAU * share;
            let along = straight.map(|half| half * (2.0 * share - 1.0));
            for (u, v) in [
                // The corners, the sides between them, and the middle.
                (
                    straight[0].copysign(turn.cos()) + corner * turn.cos(),
                    straight[1].copysign(turn.sin()) + corner * turn.sin(),
                ),
                (along[0], width / 2.0),
                (along[0], -width / 2.0),
                (length / 2.0, along[1]),
                (-length / 2.0, along[1]),
                (along[0], 0.0),
            ] {
                let [x, y] = [at[0] + u * cos - v * sin, at[1] + u * sin + v * cos];
                for eye in &project.eyes {
                    for side in [-1.0, 1.0] {
                        let off_x = (x - eye.centre[0] - side * lids.pivot_spacing / 2.0).abs();
                        let beyond = [
                            off_x - lids.lug_thickness / 2.0,
                            (y - eye.centre[1]).abs() - lids.lug_width / 2.0,
                        ];
                        crossed |= beyond[0].max(beyond[1]) < 0.0;
                        least = least.min(beyond[0].max(0.0).hypot(beyond[1].max(0.0)));
                    }
                }
            }
        }
        let report = evaluate(&project);
        let found = report.findings.iter().find(|found| found.id == "lug_slot");
        let found = found.expect("a finding of the slot");
        let value = found.value.expect("a gap");
        if crossed {
            assert!(value < 0.0, "{value} {found:?}");
        } else {
            assert_abs_diff_eq!(value, least, epsilon = 0.02);
        }
        clear += u32::from(found.state == State::Clear);
        tight += u32::from(found.state == State::Tight);
        fouls += u32::from(found.state == State::Fouls);
        assert_eq!(found.state == State::Clear, value >= 2.0 - 1e-6);
    }
    assert!(
        clear > 10 && tight > 5 && fouls > 10,
        "{clear} {tight} {fouls}"
    );
}
