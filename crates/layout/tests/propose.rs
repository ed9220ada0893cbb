//! Routes that are proposed: clear where a clear one was planted, refused where there is none.

use std::f64::consts::PI;

use layout::edit::Edit;
use layout::history::History;
use layout::propose::{self, Blocked};
use layout::{Laid, Project, State, evaluate};

use crate::common::Random;
use crate::common::dense::{GAIN, clear_proposal, dense_search, gain, proposed};
use crate::common::routes::{
    SOUGHT, laid_round, led_round, planted, random_corners, random_head, worst,
};

/// A dozen heads, each against a thousand random routes.
#[test]
fn a_proposal_is_clear_where_a_clear_route_was_planted_and_gains_as_little() {
    let mut random = Random::new(211);
    for head in 0..12 {
        let (project, route) = planted(&mut random, head % 4 != 0);
        let found = clear_proposal(&project).unwrap_or_else(|fault| panic!("head {head}: {fault}"));
        let mut tries = 0..1_000;
        let best = dense_search(&mut random, &project, &route, || tries.next().is_some());
        assert!(
            found.gain <= GAIN * best,
            "head {head}: {} {best}",
            found.gain
        );
    }
}

/// A head of two rooms, one above the other, with a neck between them that is narrower than any sheath. Walls count
/// as upright, so that no way leads through.
fn two_rooms(neck: f64) -> Vec<[f64; 2]> {
    /// Half of the neck's width, mm: the thinnest sheath is 1 mm thick.
    const HALF: f64 = 0.45;
    let (left, right) = (neck - HALF, neck + HALF);
    vec![
        [left, -52.0],
        [-80.0, -52.0],
        [-80.0, -110.0],
        [80.0, -110.0],
        [80.0, -52.0],
        [right, -52.0],
        [right, -46.0],
        [88.0, -46.0],
        [88.0, 95.0],
        [-88.0, 95.0],
        [-88.0, -46.0],
        [left, -46.0],
    ]
}

/// Heads in which no way can lead clear: the exit stands in something or beyond the wall, the way to it is
/// barred, or a turn right round is asked for of a sheath that is too stiff to turn in the head.
#[test]
fn where_no_way_leads_clear_none_is_proposed() {
    /// The way is barred, though stop and exit stand clear.
    const BARRED: &str = "barred";
    let mut random = Random::new(213);
    let (mut heads, mut barred) = (0, 0);
    while heads < 50 {
        let mut project = random_head(&mut random);
        let laid = Laid::out(&project);
        let Ok(pull) = &laid.drives[SOUGHT].pull else {
            continue;
        };
        let lead_end = pull.stop - pull.along * project.drives[SOUGHT].lead;
        let behind = lead_end + pull.along * random.between(30.0, 60.0);
        let ring_depth = random.between(-15.0, -12.0);
        let drive = &mut project.drives[SOUGHT];
        let part = match heads % 6 {
            0 => {
                drive.exit = [
                    29.0 + random.between(-8.0, 8.0),
                    random.between(-8.0, 8.0),
                    4.0,
                ];
                "the ball of the right eye"
            }
            1 => {
                drive.exit = [random.between(96.0, 120.0), -20.0, -30.0];
                "the head's wall"
            }
            2 => {
                drive.exit = [
                    random.between(-20.0, 20.0),
                    random.between(-20.0, 20.0),
                    -70.0,
                ];
                "the guard"
            }
            3 => {
                drive.exit = [-29.0 + 20.0, 0.0, ring_depth];
                "the ring of the left eye"
            }
            4 => {
                drive.exit[0] = drive.exit[0].clamp(-60.0, 60.0);
                drive.exit[1] = random.between(-95.0, -65.0);
                project.head.smooth = false;
                project.head.outline = two_rooms(random.between(-60.0, 60.0));
                BARRED
            }
            _ => {
                drive.exit = behind.into();
                drive.cable.least_bend_radius = random.between(220.0, 400.0);
                ""
            }
        };
        match proposed(&project) {
            Err(Blocked::Fixed(parts)) => {
                // A stop of its own may stand wrong, too.
                let is_named = parts.iter().any(|own| own == part);
                assert!(part.is_empty() || part == BARRED || is_named, "{parts:?}");
            }
            Err(Blocked::OnTheWay(parts)) if part == BARRED => {
                assert!(
                    parts.iter().any(|own| own == "the head's wall"),
                    "{parts:?}"
                );
                barred += 1;
            }
            Err(Blocked::OnTheWay(_)) => assert!(part.is_empty()),
            other => panic!("head {heads}: {other:?}"),
        }
        heads += 1;
    }
    assert!(barred > 4, "{barred}");
}

#[test]
fn a_proposal_is_the_same_each_time() {
    let mut random = Random::new(214);
    for _ in 0..4 {
        let project = random_head(&mut random);
        assert_eq!(proposed(&project), proposed(&project));
    }
}

/// Where what turns to its exit at once, and not more than half round, is clear, nothing bends less: it is
/// proposed, whatever was drawn before.
#[test]
fn where_the_way_straight_to_the_exit_is_clear_it_is_proposed() {
    let mut random = Random::new(215);
    let mut tested = 0;
    while tested < 10 {
        let project = random_head(&mut random);
        if worst(&project) != State::Clear {
            continue;
        }
        let direct = laid_round(&project, &Laid::out(&project), &[]).expect("it has a pull");
        if direct.total_bend() > PI {
            continue;
        }
        let drawn = led_round(&project, &random_corners(&mut random, 2));
        let found = proposed(&drawn).expect("the straight way is clear");
        let off = found.gain / gain(&project, &direct);
        assert!(
            found.via.is_empty() && (off - 1.0).abs() < 1e-9,
            "{found:?}"
        );
        tested += 1;
    }
}

#[test]
fn a_route_is_taken_locked_and_unlocked_in_one_step_each() {
    let mut random = Random::new(216);
    let (project, _) = planted(&mut random, true);
    let found = proposed(&project).expect("a clear route was planted");
    let mut history = History::new(project.clone(), true);
    let via = found.via.clone();
    let set = Edit::SetRoute {
        index: SOUGHT,
        via,
        mirrored: false,
    };
    assert_eq!(set.label(), "route");
    let lock = |locked| Edit::LockRoute {
        index: SOUGHT,
        locked,
        mirrored: false,
    };
    assert_eq!(lock(true).label(), "lock route");
    assert_eq!(lock(false).label(), "unlock route");
    history.apply(&set).expect("the drive is there");
    history.apply(&lock(true)).expect("the drive is there");
    let locked = history.project().clone();
    assert_eq!(locked.drives[SOUGHT].via, found.via);
    assert_eq!(worst(&locked), State::Clear);
    assert_eq!(
        proposed(&locked).expect_err("it is locked").to_string(),
        "The route of cable 0 is locked."
    );
    history.apply(&lock(false)).expect("the drive is there");
    assert!(proposed(history.project()).is_ok());
    for _ in 0..3 {
        history.undo();
    }
    assert_eq!(history.project(), &project);
}

#[test]
fn a_lock_is_kept_in_a_file_only_where_there_is_one() {
    let mut drive = random_head(&mut Random::new(217)).drives[SOUGHT].clone();
    let text = ron::to_string(&drive).expect("a drive can be written");
    assert!(!text.contains("locked"));
    drive.locked = true;
    let text = ron::to_string(&drive).expect("a drive can be written");
    assert_eq!(ron::from_str(&text), Ok(drive));
}

#[test]
fn what_stands_in_the_way_is_said_in_one_sentence() {
    let parts = |parts: &[&str]| {
        parts
            .iter()
            .map(|&part| part.to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        Blocked::OnTheWay(parts(&["the guard", "the ring of the left eye"])).to_string(),
        "No clear way was found: the guard and the ring of the left eye stand in the way."
    );
    assert_eq!(
        Blocked::OnTheWay(parts(&["the plate"])).to_string(),
        "No clear way was found: the plate stands in the way."
    );
    assert_eq!(
        Blocked::OnTheWay(Vec::new()).to_string(),
        "No way was found: there is no room for the sheath's bends."
    );
    assert_eq!(
        Blocked::Fixed(parts(&["the guard", "the plate", "slot 2"])).to_string(),
        "No way leads clear: the sheath's stop, its lead or its exit is too near to the guard, the plate \
         and slot 2."
    );
    let project = random_head(&mut Random::new(218));
    let gone = propose::route(&project, &Laid::out(&project), 99, false);
    assert_eq!(gone, Err(Blocked::NoDrive));
}

/// A character whose cables all work keeps working whatever is proposed, and needs no harder a pull.
#[test]
fn proposals_for_a_sample_bend_no_more_than_what_it_has() {
    let text = include_str!("../../../demo/bramble.ron");
    let project: Project = ron::from_str(text).expect("a demo can be read");
    let laid = Laid::out(&project);
    let report = evaluate(&project);
    for (index, figures) in report.figures.drives.iter().enumerate() {
        let found = propose::route(&project, &laid, index, true).expect("its own route is there");
        let own = figures.pull_gain.expect("it has a route");
        assert!(found.gain <= own + 1e-9, "{index}: {} {own}", found.gain);
    }
}

/// Sizes and places at the ends of what a project may hold: there is an answer, and its numbers are some.
#[test]
fn strange_drives_are_answered_too() {
    let ends = [0.0, 0.01, 1.0, 30.0, 500.0, 2_000.0];
    let mut random = Random::new(220);
    let (mut strange, mut answered) = (0, 0);
    while strange < 60 {
        let mut project = random_head(&mut random);
        for _ in 0..3 {
            let mut changed = project.clone();
            let end = random.pick(&ends);
            let sign = random.pick(&[-1.0, 1.0]);
            let drive = &mut changed.drives[SOUGHT];
            match random.below(7) {
                0 => drive.exit[random.below(3)] = sign * end,
                1 => drive.lead = end,
                2 => drive.standoff = end,
                3 => drive.cable.least_bend_radius = end,
                4 => drive.cable.sheath_diameter = end,
                5 => drive.stop = Some([sign * end, -end, end]),
                _ => changed.plate.thickness = end,
            }
            if changed.check().is_ok() {
                project = changed;
            }
        }
        if let Ok(found) = proposed(&project) {
            assert!(found.gain.is_finite() && found.state != State::Fouls);
            assert!(found.via.iter().flatten().all(|at| at.is_finite()));
            answered += 1;
        }
        strange += 1;
    }
    assert!(answered > 5, "{answered}");
}
