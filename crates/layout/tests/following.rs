//! What is found of rods, and what counts with them.

use approx::assert_abs_diff_eq;
use layout::drive::{End, Moves, Turn};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::report::EyeFigures;
use layout::rod::Rod;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::{Random, chained_eyes, finding, lidded_pair, pair, rod, rodded_pair, side_of};

fn lid_of(eye: usize, which: Which) -> Moves {
    Moves::Lid { eye, which }
}

fn shape(change: impl FnOnce(&mut Project)) -> String {
    let mut project = rodded_pair();
    change(&mut project);
    assert_eq!(project.check(), Ok(()));
    let report = evaluate(&project);
    let found = finding(&report, Rule::RodShape, "link");
    assert_eq!((found.state, found.value), (State::Fouls, None));
    assert_eq!(found.place.len(), 1);
    assert_eq!(report.figures.rods[0].follower_difference_deg, None);
    found.sentence.clone()
}

#[test]
fn a_rod_that_cannot_work_is_a_finding_that_says_why_and_what_would_help() {
    assert_eq!(
        shape(|p| {
            p.parts.lids = None;
            p.rods[0].driver = lid_of(0, Which::Upper);
            p.rods[0].follower = lid_of(1, Which::Upper);
        }),
        "The rod “link” moves a lid that its eye does not have. Add the lid, or let something else be moved."
    );
    assert_eq!(
        shape(|p| p.rods[0].driver_tip = [0.0, 30.0, 0.0]),
        "The rod “link” has its lever tip on the axis it should turn about. Move the tip away from the axis."
    );
    assert_eq!(
        shape(|p| p.rods[0].follower_tip = [0.0, 0.0, -19.0]),
        "The rod “link” has its lever tip inside the ball. Put the tip outside the ball."
    );
    assert_eq!(
        shape(|p| {
            let lids = p.parts.lids.as_mut().unwrap();
            lids.upper.as_mut().unwrap().open = Degrees(91.0);
            p.rods[0].driver = lid_of(0, Which::Upper);
            p.rods[0].follower = lid_of(1, Which::Upper);
        }),
        "The rod “link” is driven beyond a quarter turn from straight ahead. Let the turn stay within a \
         quarter turn to each side."
    );
    assert_eq!(
        shape(|p| {
            p.rods[0].driver_tip = [29.0, 0.0, -30.0];
            p.rods[0].follower_tip = [-29.0, 0.0, -30.0];
        }),
        "The rod “link” has both ends in one place. Put its ends apart."
    );
    assert_eq!(
        shape(|p| {
            // Both tips on one line with the follower's axis, in plan.
            p.rods[0].driver_tip = [18.0, 0.0, -60.0];
            p.rods[0].follower_tip = [-20.0, 0.0, -30.0];
        }),
        "The rod “link” lies in line with the lever that it should turn. Move one of its ends, so that it \
         stands more square to that lever."
    );
    let mut stuck = rodded_pair();
    stuck.gaze.side = Degrees(60.0);
    stuck.rods[0].follower_tip = [0.0, 0.0, -21.0];
    let report = evaluate(&stuck);
    let found = finding(&report, Rule::RodShape, "link");
    assert_eq!((found.state, found.place.len()), (State::Fouls, 1));
    let figures = &report.figures.rods[0];
    assert!(figures.rod_length_mm.is_some() && figures.follower_difference_deg.is_none());
}

#[test]
fn a_rod_tells_how_its_follower_keeps_in_step_and_how_square_it_stands() {
    let said = |rule, limit: (f64, f64)| {
        let mut project = rodded_pair();
        project.rods[0].follower_tip = [6.0, 0.0, -28.0];
        match rule {
            Rule::RodFollow => project.limits.rod_follow = Some(limit.into()),
            _ => project.limits.rod_angle = Some(limit.into()),
        }
        let report = evaluate(&project);
        let found = finding(&report, rule, "link");
        assert_eq!(found.place.len(), 2);
        (found.state, found.sentence.clone())
    };
    let steps = [
        (
            (180.0, 180.0),
            State::Clear,
            "What the link moves keeps in step with what drives it.",
        ),
        (
            (180.0, 0.0),
            State::Tight,
            "What the link moves falls a little out of step with what drives it.",
        ),
        (
            (0.0, 0.0),
            State::Fouls,
            "What the link moves turns otherwise than what drives it.",
        ),
    ];
    for (limit, state, sentence) in steps {
        assert_eq!(said(Rule::RodFollow, limit), (state, sentence.to_owned()));
    }
    let angles = [
        (
            (0.0, 0.0),
            State::Clear,
            "The link stands well across the lever that it turns, over the whole turn.",
        ),
        (
            (0.0, 90.0),
            State::Tight,
            "The link pulls aslant at the lever that it turns in a part of the turn.",
        ),
        (
            (90.0, 90.0),
            State::Fouls,
            "The link comes so near to lying in line with the lever that it turns that it may jam.",
        ),
    ];
    for (limit, state, sentence) in angles {
        assert_eq!(said(Rule::RodAngle, limit), (state, sentence.to_owned()));
    }
}

#[test]
fn a_part_that_a_driven_one_takes_along_is_driven_and_so_is_a_whole_chain() {
    let undriven = |project: &Project| {
        let found = evaluate(project).findings;
        let found = found.iter().filter(|finding| finding.id == "undriven");
        found.count()
    };
    let mut project = chained_eyes();
    project.drives[0].moves = side_of(0);
    assert_eq!(undriven(&project), 0);
    project.drives[0].moves = side_of(1);
    assert_eq!(undriven(&project), 1);
    project.rods.remove(0);
    assert_eq!(undriven(&project), 2);
    project.drives.clear();
    assert_eq!(undriven(&project), 4);
    // A project that no check has seen, whose rods drive each other in a circle.
    let mut circle = chained_eyes();
    circle.drives.clear();
    circle
        .rods
        .push(rod(side_of(3), side_of(0), [0.0, 0.0, -30.0]));
    assert_eq!(undriven(&circle), 4);
}

#[test]
fn a_follower_counts_at_the_angles_that_its_rod_takes_it_to() {
    let mut random = Random::new(331);
    let mut parted = 0;
    for _ in 0..60 {
        let mut project = rodded_pair();
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        project.gaze.together = random.one_in(2);
        project.rods[0].follower_tip = [
            random.between(-12.0, 12.0),
            0.0,
            random.between(-40.0, -24.0),
        ];
        let laid = Laid::out(&project);
        let Ok(Ok([low, high])) = laid.rods[0].as_ref().map(|rod| rod.follows.clone()) else {
            continue;
        };
        let (side, lift) = (high.max(-low), project.gaze.lift.0.to_radians());
        let tilt = if project.gaze.together {
            (side.cos() * lift.cos()).acos()
        } else {
            side.max(lift)
        };
        let figures = evaluate(&project).figures.eyes;
        assert_abs_diff_eq!(
            figures[1].working_tilt_deg.unwrap(),
            tilt.to_degrees(),
            epsilon = 1e-5
        );
        let own = project.gaze.working_tilt().to_degrees();
        assert_abs_diff_eq!(figures[0].working_tilt_deg.unwrap(), own, epsilon = 1e-9);
        parted += u32::from((figures[1].working_tilt_deg.unwrap() - own).abs() > 2.0);
    }
    assert!(parted > 10, "{parted}");
}

#[test]
fn a_lid_that_follows_opens_as_far_as_its_rod_takes_it_and_its_cable_with_it() {
    let mut project = lidded_pair();
    let (driver, follower) = (lid_of(0, Which::Upper), lid_of(1, Which::Upper));
    project.drives[1].near = End::Closed;
    // Lids on one axis turn alike whatever their levers: the right eye stands higher.
    project.eyes[1].centre[1] = 25.0;
    project.rods = vec![Rod {
        follower_tip: [0.0, 3.0, -18.0],
        diameter: 1.2,
        ..rod(driver, follower, [0.0, 3.0, -16.0])
    }];
    assert_eq!(project.check(), Ok(()));
    let laid = Laid::out(&project);
    let [closed, open] = laid.rods[0].as_ref().unwrap().follows.clone().unwrap();
    let shut = (-0.5_f64).to_radians();
    assert_abs_diff_eq!(closed, shut, epsilon = 1e-9);
    assert!(open < 32.0_f64.to_radians(), "{open}");
    let lid = *laid.eyes[1]
        .lids
        .as_ref()
        .unwrap()
        .lid(Which::Upper)
        .unwrap();
    assert_abs_diff_eq!(lid.open, open, epsilon = 1e-12);
    let driving = *laid.eyes[0]
        .lids
        .as_ref()
        .unwrap()
        .lid(Which::Upper)
        .unwrap();
    assert_abs_diff_eq!(driving.open, 33.0_f64.to_radians(), epsilon = 1e-12);
    // The right lid's own cable: 2·r·sin(Δ/2).
    let [_, y, z] = project.drives[1].tip;
    let stroke = 2.0 * y.hypot(z) * ((open - shut) / 2.0).sin();
    let found = evaluate(&project).figures.drives[1].stroke_mm.unwrap();
    assert_abs_diff_eq!(found, stroke, epsilon = 1e-9);
}

#[test]
fn a_chain_goes_on_from_what_its_first_rod_does() {
    let mut project = chained_eyes();
    project.rods[1].follower_tip = [5.0, 0.0, -26.0];
    project.rods[2].follower_tip = [-4.0, 0.0, -33.0];
    let laid = Laid::out(&project);
    let rods: Vec<_> = laid.rods.iter().map(|rod| rod.as_ref().unwrap()).collect();
    assert_eq!(rods[1].driver_range, [-22.0_f64, 22.0].map(f64::to_radians));
    assert_eq!(rods[2].driver_range, rods[1].follows.clone().unwrap());
    assert_eq!(rods[0].driver_range, rods[2].follows.clone().unwrap());
    assert_ne!(rods[0].driver_range, rods[1].driver_range);
}

#[test]
fn the_levers_of_a_rod_count_in_what_their_eyes_sweep_as_those_of_cables_do() {
    let tip = [22.0, -9.0, -26.0];
    let mut cabled = pair();
    cabled.drives = [0, 1]
        .map(|eye| {
            let mut drive = cabled.drives[0].clone();
            (drive.moves, drive.tip) = (side_of(eye), tip);
            drive
        })
        .into();
    let mut tied = cabled.clone();
    tied.drives.clear();
    tied.rods = vec![rod(side_of(0), side_of(1), tip)];
    let mut bare = tied.clone();
    bare.rods.clear();
    let [cabled, tied, bare] = [cabled, tied, bare].map(|project| evaluate(&project).figures);
    for eye in 0..2 {
        let [cabled, tied, bare] = [&cabled, &tied, &bare].map(|figures| &figures.eyes[eye]);
        for of in [
            |eye: &EyeFigures| eye.sweep_depth_mm,
            |eye: &EyeFigures| eye.sweep_reach_mm,
            |eye: &EyeFigures| eye.foam_hole_mm,
        ] {
            assert_abs_diff_eq!(of(tied).unwrap(), of(cabled).unwrap(), epsilon = 1e-9);
            assert!(of(tied) > of(bare));
        }
    }
    assert!(tied.hand.guard_clearance_mm < bare.hand.guard_clearance_mm);
}

#[test]
fn it_is_the_same_in_which_order_a_file_holds_its_rods() {
    let mut project = rodded_pair();
    project.gaze.lift = Degrees(14.0);
    project.rods[0].follower_tip = [5.0, 0.0, -26.0];
    let lift = |eye| Moves::Gaze {
        eye,
        turn: Turn::Lift,
    };
    project.eyes[1].centre[1] = 30.0;
    project.rods.push(Rod {
        name: "lifter".to_owned(),
        follower_tip: [0.0, 2.0, -33.0],
        ..rod(lift(0), lift(1), [0.0, 3.0, -28.0])
    });
    let figures = |project: &Project| evaluate(project).figures.rods;
    let found = figures(&project);
    assert!(found.iter().all(|rod| rod.transmission_least_deg.is_some()));
    project.rods.reverse();
    let mut turned_round = figures(&project);
    turned_round.reverse();
    assert_eq!(found, turned_round);
}
