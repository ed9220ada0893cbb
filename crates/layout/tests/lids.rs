//! Lids against points of their shells that are really turned about the pivot axis.

use approx::assert_abs_diff_eq;
use layout::drive::{End, Moves};
use layout::lid::{Lid, Lids, Which};
use layout::limits::{Rule, State};
use layout::report::UpperLower;
use layout::{Degrees, Project, evaluate};
use nalgebra::{Point3, Rotation3, Vector3};

use crate::common::{Random, finding, lidded_pair, random_lids};

/// What a turned point may differ by, mm or degrees.
const TURNED: f64 = 1e-6;

/// A single eye at the origin with random lids: the project, its lids, and the height of the ball's
/// centre.
fn cases(seed: u64) -> impl Iterator<Item = (Project, Lids)> {
    let mut random = Random::new(seed);
    (0..200).map(move |_| {
        let mut project = lidded_pair();
        project.eyes.truncate(1);
        project.eyes[0].centre = [0.0, 0.0];
        let lids = random_lids(&mut random);
        project.parts.lids = Some(lids);
        (project, lids)
    })
}

const HEIGHT: f64 = 4.0;
const BALL: f64 = 20.0;

fn of(lids: &Lids, which: Which) -> Option<Lid> {
    match which {
        Which::Upper => lids.upper,
        Which::Lower => lids.lower,
    }
}

fn figure(figures: UpperLower, which: Which) -> Option<f64> {
    match which {
        Which::Upper => figures.upper,
        Which::Lower => figures.lower,
    }
}

/// A point of a lid's outside, `degrees` behind straight ahead, turned there about the pivot axis;
/// the lower lid's turns the other way.
fn turned(lids: &Lids, which: Which, degrees: f64) -> Point3<f64> {
    let radius = BALL + lids.gap + lids.shell;
    let axis = match which {
        Which::Upper => -Vector3::x_axis(),
        Which::Lower => Vector3::x_axis(),
    };
    let turn = Rotation3::from_axis_angle(&axis, degrees.to_radians());
    turn * Point3::new(0.0, 0.0, radius) + Vector3::new(0.0, 0.0, HEIGHT)
}

fn name(which: Which) -> &'static str {
    match which {
        Which::Upper => "upper lid of the eye",
        Which::Lower => "lower lid of the eye",
    }
}

const LIDS: [Which; 2] = [Which::Upper, Which::Lower];

#[test]
fn the_trailing_edge_stands_over_the_plate_where_it_is_turned_to() {
    let mut fouls = 0;
    for (project, lids) in cases(61) {
        let report = evaluate(&project);
        for which in LIDS {
            let Some(lid) = of(&lids, which) else {
                continue;
            };
            let found = finding(&report, Rule::LidPlate, name(which));
            let edge = turned(&lids, which, (lid.open.0 + lid.extent.0).min(180.0));
            assert_abs_diff_eq!(found.value.unwrap(), edge.z, epsilon = TURNED);
            assert_abs_diff_eq!(found.place[0][1], edge.y, epsilon = TURNED);
            fouls += usize::from(found.state == State::Fouls);
        }
    }
    assert!(fouls > 50, "{fouls}");
}

#[test]
fn a_lid_opens_until_its_trailing_edge_comes_as_near_to_the_plate_as_wanted() {
    let mut limits = 0;
    for (project, lids) in cases(62) {
        let report = evaluate(&project);
        for which in LIDS {
            let Some(lid) = of(&lids, which) else {
                assert_eq!(
                    figure(report.figures.eyes[0].lid_open_limit_deg, which),
                    None
                );
                continue;
            };
            // The wanted clearance of 1 mm is passed once while the edge turns from straight
            // ahead to straight back.
            let (mut low, mut high) = (-lid.extent.0, 180.0 - lid.extent.0);
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if turned(&lids, which, middle + lid.extent.0).z > 1.0 {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            let found = figure(report.figures.eyes[0].lid_open_limit_deg, which);
            assert_abs_diff_eq!(found.unwrap(), low, epsilon = TURNED);
            limits += 1;
        }
    }
    assert!(limits > 200, "{limits}");
}

#[test]
fn a_lid_that_reaches_past_straight_back_has_gone_through_the_plate_there() {
    let mut project = lidded_pair();
    let lids = project.parts.lids.as_mut().unwrap();
    lids.upper = Some(Lid {
        open: Degrees(90.0),
        closed: Degrees(0.0),
        extent: Degrees(180.0),
    });
    let report = evaluate(&project);
    let found = finding(&report, Rule::LidPlate, "upper lid of the left eye");
    assert_abs_diff_eq!(found.value.unwrap(), 4.0 - 22.4, epsilon = TURNED);
    assert_eq!(found.state, State::Fouls);
}

#[test]
fn shut_lids_leave_the_angle_open_that_is_between_their_turned_edges() {
    for (project, lids) in cases(63) {
        let report = evaluate(&project);
        let figures = &report.figures.eyes[0];
        let (Some(upper), Some(lower)) = (lids.upper, lids.lower) else {
            assert_eq!(figures.lid_meeting_deg, None);
            continue;
        };
        let edge = |which, lid: Lid| {
            let edge = turned(&lids, which, lid.closed.0);
            edge.y.atan2(edge.z - HEIGHT).to_degrees()
        };
        let open = edge(Which::Upper, upper) - edge(Which::Lower, lower);
        assert_abs_diff_eq!(figures.lid_meeting_deg.unwrap(), open, epsilon = TURNED);
        let arc = (BALL + lids.gap + lids.shell) * open.to_radians();
        assert_abs_diff_eq!(figures.lid_meeting_mm.unwrap(), arc, epsilon = TURNED);
        let state = finding(&report, Rule::LidMeeting, "eye").state;
        let expected = match open {
            open if open <= -1.0 => State::Clear,
            open if open <= 0.0 => State::Tight,
            _ => State::Fouls,
        };
        assert_eq!(state, expected);
    }
}

#[test]
fn the_bare_strip_is_what_no_point_of_the_shut_lid_stands_in_front_of() {
    let mut bare = 0;
    for (project, lids) in cases(64) {
        let report = evaluate(&project);
        for which in LIDS {
            let Some(lid) = of(&lids, which) else {
                continue;
            };
            let highest = (0..=20_000)
                .map(|step| lid.closed.0 + lid.extent.0 * f64::from(step) / 20_000.0)
                .map(|degrees| turned(&lids, which, degrees).y.abs() * degrees.signum())
                .fold(f64::NEG_INFINITY, f64::max);
            let found = finding(&report, Rule::BareBall, name(which));
            assert_abs_diff_eq!(found.value.unwrap(), BALL - highest, epsilon = TURNED);
            let strip = figure(report.figures.eyes[0].bare_ball_mm, which);
            assert_eq!(strip.is_some(), BALL > highest);
            bare += usize::from(strip.is_some());
            assert_ne!(found.state, State::Fouls, "it only looks ill");
        }
    }
    assert!(bare > 50, "{bare}");
}

#[test]
fn two_lids_on_one_axis_need_a_shell_more_between_lug_and_lid() {
    let mut project = lidded_pair();
    let gap = |project: &Project| {
        let report = evaluate(project);
        let found = finding(&report, Rule::LugLidGap, "left eye").clone();
        let figure = report.figures.eyes[0].lug_lid_gap_mm;
        assert_eq!(found.value, figure);
        (found.value.unwrap(), found.wanted.unwrap(), found.state)
    };
    // Lugs 3 mm thick and 52 mm apart leave 26 − 1.5 = 24.5 mm; lids reach 20 + 0.8 + 1.6 = 22.4.
    let (value, wanted, state) = gap(&project);
    assert_abs_diff_eq!(value, 2.1, epsilon = TURNED);
    assert_abs_diff_eq!(wanted, 1.6 + 0.4, epsilon = TURNED);
    assert_eq!(state, State::Clear);
    project.parts.lids.as_mut().unwrap().pivot_spacing = 50.8;
    assert_eq!(gap(&project).2, State::Fouls);
    project.parts.lids.as_mut().unwrap().pivot_spacing = 51.0;
    assert_eq!(gap(&project).2, State::Tight);
    project.parts.lids.as_mut().unwrap().lower = None;
    let (value, wanted, state) = gap(&project);
    assert_abs_diff_eq!(value, 1.6, epsilon = TURNED);
    assert_abs_diff_eq!(wanted, 0.4, epsilon = TURNED);
    assert_eq!(state, State::Clear);
    // The pivots inside the lids.
    project.parts.lids.as_mut().unwrap().pivot_spacing = 30.0;
    assert_eq!(gap(&project).2, State::Fouls);
}

#[test]
fn the_room_about_a_pivot_is_what_its_hole_leaves() {
    for (project, lids) in cases(65) {
        if !lids.any() {
            continue;
        }
        let report = evaluate(&project);
        let value = |rule| finding(&report, rule, "eye").value.unwrap();
        let lowest = HEIGHT - lids.pivot_hole / 2.0;
        assert_abs_diff_eq!(value(Rule::PivotPlate), lowest, epsilon = TURNED);
        assert_abs_diff_eq!(
            value(Rule::BossPlate),
            lowest - lids.shell,
            epsilon = TURNED
        );
        let web = (lids.lug_width - lids.pivot_hole) / 2.0;
        assert_abs_diff_eq!(value(Rule::PivotLug), web, epsilon = TURNED);
    }
}

#[test]
fn lids_that_cannot_be_made_are_findings_that_say_why() {
    let beyond = "The upper lid of the right eye turns beyond a quarter turn from straight ahead. \
                  Let its leading edge stay on the front half of the ball.";
    let below = "The upper lid of the right eye is open farther down its turn than it is shut. \
                 Put the open end of its turn beyond the shut one.";
    let nothing = "The upper lid of the right eye reaches over no angle: there is nothing of it. \
                   Give it an extent.";
    for (open, closed, extent, sentence) in [
        (90.5, 0.0, 60.0, beyond),
        (30.0, -91.0, 60.0, beyond),
        (-10.0, 5.0, 60.0, below),
        (30.0, 0.0, 0.0, nothing),
    ] {
        let mut project = lidded_pair();
        let lids = project.parts.lids.as_mut().unwrap();
        lids.upper = Some(Lid {
            open: Degrees(open),
            closed: Degrees(closed),
            extent: Degrees(extent),
        });
        assert_eq!(project.check(), Ok(()), "it can be kept and mended");
        let report = evaluate(&project);
        let found = finding(&report, Rule::LidShape, "upper lid of the right eye");
        assert_eq!(
            (found.state, found.sentence.as_str()),
            (State::Fouls, sentence)
        );
        let figures = &report.figures.eyes[1];
        assert_eq!(figures.lid_open_limit_deg.upper, None);
        assert!(figures.lid_open_limit_deg.lower.is_some());
        assert_eq!((figures.lid_meeting_deg, figures.iris_cover), (None, None));
    }
}

#[test]
fn spheres_of_lids_keep_apart_as_their_centres_do_less_their_radii() {
    let mut random = Random::new(66);
    for _ in 0..200 {
        let mut project = lidded_pair();
        let lids = random_lids(&mut random);
        project.parts.lids = Some(lids);
        project.eyes[1].centre = random.point(60.0).into();
        // The other eye's seat is 2 mm lower, and it may have no lids.
        let mut parts = project.parts.clone();
        parts.ball_diameter = 36.0;
        parts.seat = layout::seat::Seat::Plain {
            opening_diameter: 2.0 * (18.0_f64.powi(2) - 2.0_f64.powi(2)).sqrt(),
        };
        let bare = random.one_in(2);
        if bare {
            parts.lids = None;
        }
        project.eyes[0].parts = Some(Box::new(parts));
        let [[ax, ay], [bx, by]] = [project.eyes[0].centre, project.eyes[1].centre];
        let shell = |has: bool| if has { lids.gap + lids.shell } else { 0.0 };
        let apart = (Point3::new(ax, ay, 2.0) - Point3::new(bx, by, 4.0)).norm()
            - (18.0 + shell(!bare && lids.any()))
            - (20.0 + shell(lids.any()));
        let found = evaluate(&project).figures.pairs[0].lid_gap_mm;
        assert_eq!(found.is_some(), lids.any());
        if let Some(found) = found {
            assert_abs_diff_eq!(found, apart, epsilon = TURNED);
        }
    }
}

#[test]
fn an_eye_without_lids_has_no_lugs_and_no_lid_figures() {
    let mut project = lidded_pair();
    let lids = project.parts.lids.as_mut().unwrap();
    (lids.upper, lids.lower) = (None, None);
    let report = evaluate(&project);
    let figures = &report.figures.eyes[0];
    assert_eq!(figures.iris_cover, None);
    assert_eq!(figures.lug_lid_gap_mm, None);
    assert_eq!(report.figures.pairs[0].lug_gap_mm, None);
    for rule in [Rule::BossPlate, Rule::LugWall, Rule::LidWall, Rule::LidGap] {
        let id = rule.info().id;
        assert!(report.findings.iter().all(|found| found.id != id), "{id}");
    }
}

#[test]
fn a_lid_s_lever_that_stands_farther_out_than_the_lids_is_what_comes_near_the_wall() {
    let mut project = lidded_pair();
    project.head.smooth = false;
    project.head.outline = vec![[64.0, 90.0], [-64.0, 90.0], [-64.0, -90.0], [64.0, -90.0]];
    project.drives.truncate(1);
    project.drives[0].moves = Moves::Lid {
        eye: 0,
        which: Which::Upper,
    };
    project.drives[0].near = End::Closed;
    project.drives[0].tip = [-31.0, -12.0, 0.0];
    let found = |project: &Project, eye: &str| {
        let report = evaluate(project);
        let found = finding(&report, Rule::LidWall, eye).clone();
        (found.value.unwrap(), found.sentence)
    };
    // The lever is 3 mm thick, the shell 22.4 mm from the ball's centre.
    let (value, sentence) = found(&project, "left eye");
    assert_abs_diff_eq!(value, 64.0 - 29.0 - 31.0 - 1.5, epsilon = 1e-9);
    assert_eq!(
        sentence,
        "A lid's lever of the left eye swings clear of the wall."
    );
    let (value, sentence) = found(&project, "right eye");
    assert_abs_diff_eq!(value, 64.0 - 29.0 - 22.4, epsilon = 1e-9);
    assert_eq!(
        sentence,
        "The lids of the right eye swing clear of the wall."
    );
    // On its way from 70° to 103.5° the tip passes straight up, half a width beyond it.
    let (sin, cos) = 70.0_f64.to_radians().sin_cos();
    project.drives[0].tip = [-31.0, 80.0 * sin, 80.0 * cos];
    for corner in &mut project.head.outline {
        corner[0] *= 1.5;
    }
    let (value, _) = found(&project, "left eye");
    assert_abs_diff_eq!(value, 90.0 - 80.0 - 2.5, epsilon = 1e-6);
}
