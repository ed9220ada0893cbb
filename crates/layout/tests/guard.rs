//! The guard against points that are swept in small steps, and a published arc.

use std::f64::consts::{PI, TAU};

use approx::assert_abs_diff_eq;
use layout::drive::Moves;
use layout::guard::Guard;
use layout::hand::FOAM_CLEARANCE;
use layout::hand::{GuardAxis, Hand};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::{Degrees, Laid, Project, evaluate};
use nalgebra::{Point2, Point3, Rotation3, Unit, Vector3};

use crate::common::{Random, finding, pair, rod, rodded_pair, side_of};

/// What a clearance that was sampled may differ by, mm.
const SAMPLED: f64 = 1e-3;

pub(crate) fn hand(random: &mut Random) -> Hand {
    let chord = random.between(50.0, 140.0);
    Hand {
        guard_chord: chord,
        guard_bow: match random.below(5) {
            0 => 0.0,
            1 => chord / 2.0,
            _ => random.between(0.5, chord / 2.0),
        },
        guard_edge: random.between(0.0, 30.0),
        guard_length: 70.0,
        guard_axis: random.pick(&[GuardAxis::X, GuardAxis::Y]),
        ..pair().hand
    }
}

/// The circle through the guard's two edges and its middle, or none of a flat one; x across.
pub(crate) struct Section {
    pub(crate) edge: Point2<f64>,
    circle: Option<(Point2<f64>, f64)>,
}

impl Section {
    pub(crate) fn of(hand: &Hand, thickness: f64) -> Self {
        let edge = Point2::new(hand.guard_chord / 2.0, -thickness - hand.guard_edge);
        let circle = (hand.guard_bow > 0.0).then(|| {
            // The centre is as far from the middle, (0, deepest), as from the edge.
            let deepest = edge.y - hand.guard_bow;
            let z = (edge.x * edge.x + edge.y * edge.y - deepest * deepest)
                / (2.0 * (edge.y - deepest));
            (Point2::new(0.0, z), z - deepest)
        });
        Self { edge, circle }
    }

    /// The gap that the rule means: to the arc within the rays from its centre to its edges,
    /// else to the nearer edge.
    pub(crate) fn gap(&self, point: Point2<f64>) -> f64 {
        let point = Point2::new(point.x.abs(), point.y);
        let beside = (point - self.edge).norm();
        match self.circle {
            None if point.x <= self.edge.x => point.y - self.edge.y,
            None => beside,
            Some((centre, radius)) => {
                let (out, ray) = (point - centre, self.edge - centre);
                // Both lie right of the axis; the point is within if it is not left of the ray.
                if ray.perp(&out) <= 0.0 {
                    radius - out.norm()
                } else {
                    beside
                }
            }
        }
    }
}

pub(crate) fn across(axis: GuardAxis, point: Point3<f64>) -> Point2<f64> {
    match axis {
        GuardAxis::Y => Point2::new(point.x, point.z),
        GuardAxis::X => Point2::new(point.y, point.z),
    }
}

/// The ring's meridian of the ordinary pair, (radius, depth).
fn meridian(project: &Project) -> Vec<[f64; 2]> {
    let (ball, ring) = (project.parts.ball_diameter / 2.0, &project.parts.ring);
    let outer = ring.outer_diameter / 2.0;
    let (front, back) = (ring.depth, ring.depth + ring.thickness);
    let bore = |depth: f64| (ball * ball - depth * depth).sqrt();
    vec![
        [bore(front), front],
        [outer - ring.bevel, front],
        [outer, front + ring.bevel],
        [outer, back],
        [bore(back), back],
    ]
}

fn random_project(random: &mut Random) -> Project {
    let mut project = pair();
    project.drives.clear();
    project.hand = hand(random);
    project.eyes.truncate(1);
    project.eyes[0].centre = random.point(60.0).into();
    project.gaze.side = Degrees(random.between(0.0, 35.0));
    project
}

/// Every place from `low` to `high`, mm, in steps of what was sampled.
fn steps(low: f64, high: f64, mut each: impl FnMut(f64)) {
    let count = ((high - low) / SAMPLED).ceil().max(1.0);
    let mut step = 0.0;
    while step <= count {
        each(low + (high - low) * step / count);
        step += 1.0;
    }
}

#[test]
fn the_clearance_of_an_eye_is_the_least_of_its_swept_points() {
    let mut random = Random::new(81);
    let (mut fouls, mut tested) = (0, 0);
    for _ in 0..200 {
        let project = random_project(&mut random);
        let Some(found) = evaluate(&project).figures.hand.guard_clearance_mm else {
            continue;
        };
        let section = Section::of(&project.hand, 3.0);
        let centre = project.eyes[0].centre;
        let centre = across(
            project.hand.guard_axis,
            Point3::new(centre[0], centre[1], 4.0),
        );
        let tilt = project.gaze.side.0.to_radians();
        let arcs = meridian(&project).into_iter().map(|[radius, depth]| {
            let angle = radius.atan2(depth);
            (radius.hypot(depth), angle - tilt, angle + tilt)
        });
        let mut least = f64::INFINITY;
        let mut look = |out: f64, deep: f64| {
            let point = Point2::new(centre.x + out, centre.y - deep);
            least = least.min(section.gap(point));
        };
        for (reach, low, high) in arcs.chain([(20.0, 0.0, PI)]) {
            // The back face lies 4 + 3 mm below the centre.
            let (low, high) = (low.max(0.0), high.min((7.0_f64 / reach).min(1.0).acos()));
            if reach <= 7.0 || low > high {
                continue;
            }
            steps(reach * low, reach * high, |arc| {
                let angle = arc / reach;
                look(reach * angle.sin(), reach * angle.cos());
                look(-reach * angle.sin(), reach * angle.cos());
            });
        }
        assert_abs_diff_eq!(found, least, epsilon = SAMPLED);
        assert!(found <= least + 1e-9, "no sampled point is nearer");
        tested += 1;
        fouls += u32::from(found < 0.0);
    }
    assert!(fouls > 20 && tested - fouls > 50, "{fouls} of {tested}");
}

#[test]
fn no_point_of_a_ring_that_is_turned_any_way_comes_nearer_to_the_guard() {
    let mut random = Random::new(82);
    for _ in 0..100 {
        let project = random_project(&mut random);
        let report = evaluate(&project);
        let value = |rule| finding(&report, rule, "eye").value.unwrap();
        // A point can also have passed the guard beside its edge, where no distance says so.
        let edge = value(Rule::GuardEdge);
        let least = value(Rule::GuardClearance).min(if edge < 0.0 { -100.0 } else { edge });
        let section = Section::of(&project.hand, 3.0);
        let [x, y] = project.eyes[0].centre;
        let most = project.gaze.side.0.to_radians();
        for _ in 0..2_000 {
            let direction = random.angle();
            let axis = Vector3::new(direction.cos(), direction.sin(), 0.0);
            let turn = Rotation3::from_axis_angle(
                &Unit::new_normalize(axis),
                random.between(0.0, most.max(1e-9)),
            );
            let [radius, depth] = random.pick(&meridian(&project));
            let about = random.angle();
            let point = turn * Point3::new(radius * about.cos(), radius * about.sin(), -depth);
            let point = point + Vector3::new(x, y, 4.0);
            if point.z > -3.0 {
                continue;
            }
            let gap = section.gap(across(project.hand.guard_axis, point));
            assert!(gap >= least - 1e-9, "{gap} {least} {:?}", project.hand);
        }
    }
}

#[test]
fn the_gap_of_any_point_is_its_distance_from_the_nearest_place_of_the_mesh() {
    let mut random = Random::new(83);
    for _ in 0..100 {
        let hand = Hand {
            guard_axis: GuardAxis::Y,
            ..hand(&mut random)
        };
        let guard = Guard::of(&hand, 3.0).unwrap();
        let section = Section::of(&hand, 3.0);
        for _ in 0..10 {
            let place = random.point(70.0);
            let point = [place.x, 5.0, place.y - 30.0];
            let gap = guard.gap(point);
            let expected = section.gap(Point2::new(point[0], point[2]));
            assert_abs_diff_eq!(gap.distance, expected, epsilon = 1e-6);
            let [from, to] = [gap.from, gap.to].map(Point3::from);
            assert_abs_diff_eq!((to - from).norm(), gap.distance.abs(), epsilon = 1e-6);
            assert_abs_diff_eq!(guard.gap(gap.to).distance, 0.0, epsilon = 1e-6);
        }
    }
}

#[test]
fn the_flat_mesh_is_as_long_as_its_arc_in_small_chords() {
    let mut random = Random::new(84);
    for _ in 0..200 {
        let hand = hand(&mut random);
        let guard = Guard::of(&hand, 3.0).unwrap();
        let section = Section::of(&hand, 3.0);
        let expected = section.circle.map_or(hand.guard_chord, |(centre, radius)| {
            let edge = section.edge - centre;
            let half = edge.x.atan2(-edge.y);
            let chord = 2.0 * radius * (half / 20_000.0).sin();
            20_000.0 * chord
        });
        assert_abs_diff_eq!(guard.flat_length(), expected, epsilon = 1e-6);
    }
}

#[test]
fn a_guard_has_the_published_radius_and_arc_of_its_chord_and_bow() {
    // help.matheass.eu, "Circular sections", worked example: chord 21, height 6 give a radius of
    // 12.1875, an angle of 118.97953° and an arc of 25.308373.
    let hand = Hand {
        guard_chord: 21.0,
        guard_bow: 6.0,
        ..pair().hand
    };
    let guard = Guard::of(&hand, 3.0).unwrap();
    assert_abs_diff_eq!(guard.radius().unwrap(), 12.1875, epsilon = 1e-9);
    let angle = (2.0 * guard.half_angle()).to_degrees();
    assert_abs_diff_eq!(angle, 118.979_53, epsilon = 1e-5);
    assert_abs_diff_eq!(guard.flat_length(), 25.308_373, epsilon = 1e-6);
    // A half-circle is as far as a guard can be bent.
    let half = Hand {
        guard_bow: 10.5,
        ..hand
    };
    let guard = Guard::of(&half, 3.0).unwrap();
    assert_abs_diff_eq!(guard.flat_length(), 21.0 * TAU / 4.0, epsilon = 1e-9);
}

#[test]
fn a_guard_that_is_bent_beyond_a_half_circle_is_a_finding() {
    let mut project = pair();
    project.drives.clear();
    project.hand.guard_bow = 50.1;
    let report = evaluate(&project);
    let found = finding(&report, Rule::GuardShape, "guard");
    assert_eq!(found.state, State::Fouls);
    assert_eq!(
        found.sentence,
        "The guard is bent farther than a half-circle. Use a bow of at most half of the chord."
    );
    let figures = &report.figures.hand;
    assert_eq!(figures.guard_clearance_mm, None);
    assert_eq!(figures.guard_flat_mm, None);
    assert_eq!(figures.hand_room_mm, None);
    assert!(figures.bare_rear_n.is_some());
}

#[test]
fn the_foam_has_a_passage_for_a_rod_between_plate_and_guard_and_for_no_other() {
    let mut project = rodded_pair();
    project.gaze.lift = Degrees(0.0);
    let passages = |project: &Project| Laid::out(project).foam_passages(project, 1.0);
    let found = passages(&project);
    assert_eq!(found.len(), 1);
    let (index, passage) = &found[0];
    assert_eq!(*index, 0);
    // Both eyes turn alike, so that the rod keeps its height.
    let around = project.rods[0].diameter / 2.0 + 1.0;
    let swing = 30.0 * project.gaze.side.0.to_radians().sin();
    let [low, high] = passage.bounds().unwrap();
    assert_abs_diff_eq!(low.x, -29.0 - swing - around, epsilon = 1e-9);
    assert_abs_diff_eq!(high.x, 29.0 + swing + around, epsilon = 1e-9);
    assert_abs_diff_eq!(low.y, -around, epsilon = 1e-9);
    assert_abs_diff_eq!(high.y, around, epsilon = 1e-9);
    // Behind the guard there is no foam.
    project.rods = vec![rod(side_of(0), side_of(1), [0.0, 0.0, -60.0])];
    assert_eq!(passages(&project), []);
    // Nor is there in front of the plate, where the upper lids' levers stand.
    let upper = |eye| Moves::Lid {
        eye,
        which: Which::Upper,
    };
    project.rods = vec![rod(upper(0), upper(1), [0.0, 30.0, 20.0])];
    assert!(Laid::out(&project).rods[0].is_ok());
    assert_eq!(passages(&project), []);
}

#[test]
fn the_foam_has_a_hole_for_each_sweep_with_room_round_it() {
    let report = evaluate(&pair());
    let laid = Laid::out(&pair());
    let figures = &report.figures;
    for (hole, eye) in laid.foam_holes(1.0).iter().zip(&figures.eyes) {
        assert_abs_diff_eq!(hole.radius, eye.sweep_reach_mm.unwrap() + 1.0);
    }
    // What is told is what is cut where nobody asks for another hole.
    let usual = laid.foam_holes(FOAM_CLEARANCE);
    for (hole, eye) in usual.iter().zip(&figures.eyes) {
        assert_eq!(eye.foam_hole_mm, Some(hole.radius));
    }
    assert_eq!(laid.foam_holes(1.0).len(), 2);
    assert_eq!(figures.hand.foam_edge_mm, Some(18.0));
    assert_eq!(figures.hand.foam_middle_mm, Some(18.0 + 24.0));
}

#[test]
fn an_edge_of_the_guard_is_as_far_from_a_sweep_as_from_its_nearest_point() {
    let mut random = Random::new(85);
    let (mut inside, mut apart) = (0, 0);
    for _ in 0..60 {
        let project = random_project(&mut random);
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardEdge, "eye").value.unwrap();
        let section = Section::of(&project.hand, 3.0);
        let [x, y] = project.eyes[0].centre;
        let centre = across(project.hand.guard_axis, Point3::new(x, y, 4.0));
        let tilt = project.gaze.side.0.to_radians();
        let (mut least, mut within) = (f64::INFINITY, false);
        let zones = meridian(&project).into_iter().map(|[radius, depth]| {
            let angle = radius.atan2(depth);
            (radius.hypot(depth), angle - tilt, angle + tilt)
        });
        for (reach, low, high) in zones.chain([(20.0, 0.0, PI)]) {
            // All depths that the point takes behind the plate, and at each what it fills.
            let deepest = reach * low.max(0.0).cos();
            let (mut deep, step) = ((reach * high.cos()).max(7.0), 0.02);
            while deep <= deepest {
                let half = (reach * reach - deep * deep).sqrt();
                for side in [-1.0, 1.0] {
                    let edge = Point2::new(side * section.edge.x, section.edge.y);
                    let out = edge.x - centre.x;
                    let place = Point2::new(
                        centre.x + out.signum() * out.abs().min(half),
                        centre.y - deep,
                    );
                    let distance = (edge - place).norm();
                    within |= distance <= step && out.abs() < half - step;
                    least = least.min(distance);
                }
                deep += step;
            }
        }
        if found > 0.03 {
            assert_abs_diff_eq!(found, least, epsilon = 0.03);
            apart += 1;
        } else if found < -0.03 {
            assert!(within, "{found}");
            inside += 1;
        }
    }
    assert!(inside > 2 && apart > 20, "{inside} {apart}");
}
