//! Lugs against distances that geo measures and points of their solids.

use approx::assert_abs_diff_eq;
use geo::{Area, Contains, Distance, Euclidean, Intersects};
use layout::limits::{Rule, State};
use layout::lug::{FOOT_MARGIN, Lug};
use layout::plate::PlateOutline;
use layout::{Laid, Project, evaluate};
use nalgebra::Point3;

use crate::common::{Random, finding, lidded_pair, random_lids, star};

const EXACT: f64 = 1e-6;

fn rectangle(centre: [f64; 2], [x, y]: [f64; 2]) -> geo::Polygon {
    geo::Rect::new(
        [centre[0] - x / 2.0, centre[1] - y / 2.0],
        [centre[0] + x / 2.0, centre[1] + y / 2.0],
    )
    .to_polygon()
}

/// The feet of an eye's lugs from the model's numbers, left and right.
fn feet(project: &Project, eye: usize) -> [geo::Polygon; 2] {
    let lids = project.parts_of(eye).lids.expect("the eye has lids");
    let [x, y] = project.eyes[eye].centre;
    [-1.0, 1.0].map(|side| {
        let centre = [x + side * lids.pivot_spacing / 2.0, y];
        rectangle(centre, [lids.lug_thickness, lids.lug_width])
    })
}

fn random_project(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    project.drives.clear();
    let mut lids = random_lids(random);
    lids.upper = project.parts.lids.and_then(|lids| lids.upper);
    project.parts.lids = Some(lids);
    project.eyes[0].centre = random.point(20.0).into();
    project.eyes[1].centre = [random.between(35.0, 75.0), random.between(-50.0, 50.0)];
    project.head.outline = star(random, 12, 70.0, 130.0);
    project.head.smooth = random.one_in(2);
    project
}

const PART: &str = "left eye and right eye";

#[test]
fn lugs_keep_apart_what_geo_measures_and_foul_where_they_meet_or_have_passed_each_other() {
    let mut random = Random::new(101);
    let (mut apart, mut fouls) = (0, 0);
    for _ in 0..300 {
        let project = random_project(&mut random);
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugGap, PART);
        let value = found.value.unwrap();
        assert_eq!(report.figures.pairs[0].lug_gap_mm, Some(value));
        let [left, right] = [0, 1].map(|eye| feet(&project, eye));
        let least = left
            .iter()
            .flat_map(|one| {
                right
                    .iter()
                    .map(move |other| Euclidean.distance(one, other))
            })
            .fold(f64::INFINITY, f64::min);
        let meet = left
            .iter()
            .any(|one| right.iter().any(|other| one.intersects(other)));
        let lids = project.parts.lids.unwrap();
        let [[ax, ay], [bx, by]] = [project.eyes[0].centre, project.eyes[1].centre];
        let passed =
            bx - ax < lids.pivot_spacing + lids.lug_thickness && (by - ay).abs() < lids.lug_width;
        assert_eq!(value < 0.0, meet || passed, "{value} {:?}", project.eyes);
        if value > 0.0 {
            assert_abs_diff_eq!(value, least, epsilon = EXACT);
            apart += 1;
        } else {
            assert_eq!(found.state, State::Fouls);
            fouls += 1;
        }
    }
    assert!(apart > 100 && fouls > 20, "{apart} {fouls}");
}

#[test]
fn neighbouring_eyes_may_share_one_lug() {
    let mut project = lidded_pair();
    let mut found = |spacing: f64| {
        project.eyes[1].centre = [-29.0 + spacing, 0.0];
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugGap, PART).clone();
        (
            found.state,
            found.value,
            report.figures.pairs[0].lug_gap_mm,
            found.sentence,
        )
    };
    let (state, value, figure, sentence) = found(52.0);
    assert_eq!((state, value, figure), (State::Clear, None, None));
    assert_eq!(
        sentence,
        "The pivots between left eye and right eye share one lug."
    );
    assert_eq!(found(52.04).0, State::Clear);
    assert_eq!(found(52.06).0, State::Fouls);
    assert_eq!(found(51.94).0, State::Fouls);
    // Three millimetres of lug on, they touch; four, they are as far apart as wanted.
    assert_eq!(found(55.0).0, State::Tight);
    assert_eq!(found(56.0).0, State::Clear);
    let passed = found(45.0);
    assert_eq!(passed.0, State::Fouls);
    assert_abs_diff_eq!(passed.1.unwrap(), -10.0, epsilon = EXACT);
    assert_abs_diff_eq!(found(50.0).1.unwrap(), -5.0, epsilon = EXACT);
}

#[test]
fn lugs_that_have_passed_each_other_part_by_the_shorter_way() {
    let gap = |x: f64, y: f64| {
        let mut project = lidded_pair();
        project.eyes[1].centre = [x, y];
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugGap, PART);
        let [from, to] = [0, 1].map(|end| Point3::from(found.place[end]));
        assert_abs_diff_eq!(
            (to - from).norm(),
            found.value.unwrap().abs(),
            epsilon = EXACT
        );
        found.value.unwrap()
    };
    // Lugs of 3 by 10 mm, 26 mm from their eyes: 45 mm apart they have passed by 7 mm and 3 mm.
    assert_abs_diff_eq!(gap(16.0, 0.5), -9.5, epsilon = EXACT);
    assert_abs_diff_eq!(gap(16.0, 9.5), -0.5, epsilon = EXACT);
    assert_abs_diff_eq!(gap(16.0, -9.5), -0.5, epsilon = EXACT);
    assert_abs_diff_eq!(gap(21.0, 4.0), -5.0, epsilon = EXACT);
    assert!(gap(16.0, 10.5) > 0.4);
}

/// Points of a lug's solid near its surface, from its numbers: a bar with a half-circle on top.
fn solid(lug: &Lug) -> Vec<Point3<f64>> {
    const STEPS: i32 = 60;
    let share = |step: i32| f64::from(step) / f64::from(STEPS);
    let mut points = Vec::new();
    for across in 0..=6 {
        let x = lug.centre.x + lug.thickness * (f64::from(across) / 6.0 - 0.5);
        let mut add = |y: f64, z: f64| points.push(Point3::new(x, lug.centre.y + y, z));
        for along in -STEPS..=STEPS {
            let y = lug.width / 2.0 * share(along);
            let top = lug.pivot_height + ((lug.width / 2.0).powi(2) - y * y).max(0.0).sqrt();
            (0..=STEPS).for_each(|up| add(y, top * share(up)));
        }
    }
    points
}

#[test]
fn a_lug_keeps_from_its_neighbour_s_lids_what_its_nearest_point_does() {
    let mut random = Random::new(102);
    let mut near = 0;
    for _ in 0..60 {
        let project = random_project(&mut random);
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugLidGap, PART).value.unwrap();
        let laid = Laid::out(&project);
        let lids = project.parts.lids.unwrap();
        let radius = 20.0 + lids.gap + lids.shell;
        let reach = |from: usize, to: usize| {
            let [x, y] = project.eyes[to].centre;
            let centre = Point3::new(x, y, 4.0);
            let points = laid.eyes[from].lugs.unwrap();
            let points = points.iter().flat_map(solid);
            points
                .map(|point| (point - centre).norm() - radius)
                .fold(f64::INFINITY, f64::min)
        };
        let least = reach(0, 1).min(reach(1, 0));
        assert!(found <= least + EXACT, "{found} {least}");
        assert_abs_diff_eq!(found, least, epsilon = 0.25);
        near += u32::from(found < 5.0);
    }
    assert!(near > 10, "{near}");
}

#[test]
fn lugs_and_lids_keep_from_the_wall_what_geo_measures() {
    let mut random = Random::new(103);
    let (mut inside, mut out) = (0, 0);
    for _ in 0..200 {
        let project = random_project(&mut random);
        let report = evaluate(&project);
        let laid = Laid::out(&project);
        let ring: geo::LineString = laid
            .wall
            .iter()
            .map(|p| geo::coord! { x: p.x, y: p.y })
            .collect();
        let wall = geo::Polygon::new(ring, Vec::new());
        let lids = project.parts.lids.unwrap();
        for (eye, name) in ["left eye", "right eye"].into_iter().enumerate() {
            let centre = geo::Point::from(project.eyes[eye].centre);
            let apart = Euclidean.distance(&centre, wall.exterior());
            let room = if wall.contains(&centre) {
                apart
            } else {
                -apart
            };
            let found = finding(&report, Rule::LidWall, name).value.unwrap();
            let radius = 20.0 + lids.gap + lids.shell;
            assert_abs_diff_eq!(found, room - radius, epsilon = EXACT);

            let found = finding(&report, Rule::LugWall, name).value.unwrap();
            let feet = feet(&project, eye);
            if feet.iter().all(|foot| wall.contains(foot)) {
                let room = feet.map(|foot| Euclidean.distance(foot.exterior(), wall.exterior()));
                assert_abs_diff_eq!(found, room[0].min(room[1]), epsilon = EXACT);
                inside += 1;
            } else {
                assert!(found <= EXACT, "{found}");
                out += 1;
            }
        }
    }
    assert!(inside > 50 && out > 10, "{inside} {out}");
}

#[test]
fn every_style_of_plate_reaches_under_the_lugs() {
    for outline in [
        PlateOutline::Band,
        PlateOutline::Waisted {
            bridge: 12.0,
            fillet: 0.0,
        },
        PlateOutline::HeadInset {
            bottom: -3.0,
            top: 3.0,
        },
        PlateOutline::Drawn {
            outline: vec![[40.0, -24.0], [40.0, 24.0], [-40.0, 24.0], [-40.0, -24.0]],
            smooth: false,
        },
    ] {
        let mut project = lidded_pair();
        project.plate.outline = outline;
        project.plate.rim = 0.5;
        let reaches = |project: &Project| {
            let laid = Laid::out(project);
            let plate = laid.plate;
            let on_plate = |centre: [f64; 2]| {
                let grown = [3.0, 10.0].map(|side| side + 2.0 * (FOOT_MARGIN - 0.6));
                let foot = rectangle(centre, grown);
                let corners = foot.exterior().points();
                { corners }.all(|corner| plate.contains([corner.x(), corner.y()].into()))
            };
            [-55.0, -3.0, 3.0, 55.0].map(|x| on_plate([x, 0.0]))
        };
        assert_eq!(reaches(&project), [true; 4], "{:?}", project.plate);
        project.parts.lids = None;
        project.ties.clear();
        assert_ne!(reaches(&project), [true; 4], "{:?}", project.plate);
    }
}

#[test]
fn a_lug_seen_from_the_side_is_a_bar_with_a_half_circle_about_its_pivot() {
    let laid = Laid::out(&lidded_pair());
    let [left, right] = laid.eyes[0].lugs.unwrap();
    assert_eq!([left.centre.x, right.centre.x], [-55.0, -3.0]);
    assert_abs_diff_eq!(left.inner_face(), -53.5, epsilon = EXACT);
    assert_abs_diff_eq!(right.inner_face(), -4.5, epsilon = EXACT);
    // 10 mm wide, 4 mm up to the pivot, half a disc of 5 mm on top.
    let profile = right.profile();
    let expected = 10.0 * 4.0 + std::f64::consts::PI * 25.0 / 2.0;
    assert_abs_diff_eq!(profile.area(), expected, epsilon = EXACT);
    let [low, high] = profile.bounds().unwrap();
    assert_abs_diff_eq!(low.y, 0.0, epsilon = EXACT);
    assert_abs_diff_eq!(high.y, 9.0, epsilon = EXACT);
    let ends = profile.segments.iter().map(|piece| piece.end());
    let starts = profile.segments.iter().map(|piece| piece.start());
    for (end, next) in ends.zip(starts.cycle().skip(1)) {
        assert_abs_diff_eq!((next - end).norm(), 0.0, epsilon = EXACT);
    }
    let foot: geo::LineString = right
        .foot()
        .iter()
        .map(|p| geo::coord! { x: p.x, y: p.y })
        .collect();
    let foot = geo::Polygon::new(foot, Vec::new());
    assert_abs_diff_eq!(foot.signed_area(), 30.0, epsilon = EXACT);
}

#[test]
fn the_two_places_of_a_lidded_project_s_margins_are_as_far_apart_as_they_say() {
    let mut random = Random::new(104);
    let mut rules = std::collections::HashSet::new();
    for _ in 0..100 {
        let report = evaluate(&random_project(&mut random));
        for found in &report.findings {
            let (Some(value), [from, to]) = (found.value, &found.place[..]) else {
                continue;
            };
            let apart = (Point3::from(*to) - Point3::from(*from)).norm();
            assert_abs_diff_eq!(apart, value.abs(), epsilon = 1e-9);
            rules.insert(found.id);
        }
    }
    for rule in [
        Rule::LidGap,
        Rule::LugGap,
        Rule::LugWall,
        Rule::LidWall,
        Rule::LugLidGap,
        Rule::BossPlate,
        Rule::PivotPlate,
        Rule::PivotLug,
        Rule::LidPlate,
        Rule::BareBall,
        Rule::LidBall,
        Rule::GuardWall,
        Rule::GuardClearance,
        Rule::GuardEdge,
        Rule::HandRoom,
    ] {
        let id = rule.info().id;
        assert!(rules.contains(id), "{id} has no two places");
    }
}
