//! The shortest paths of bounded curvature, against closed forms, the crate `dubins_paths` and the
//! paths' own ends.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};

use approx::assert_abs_diff_eq;
use dubins_paths::f64::DubinsPath;
use layout::geometry::Point;
use layout::geometry::space::{Place, Way};
use layout::route::{Route, Start};
use layout::shortest_turn::{Pose, Turned, Word, shortest};

use crate::common::Random;

/// How many random poses are compared.
const POSES: usize = 10_000;

fn pose([x, y, heading]: [f64; 3]) -> Pose {
    Pose {
        at: Point::new(x, y),
        heading,
    }
}

fn path(start: [f64; 3], end: [f64; 3], radius: f64) -> Turned {
    shortest(pose(start), pose(end), radius).expect("a pose can be reached from any other")
}

/// Each part starts where and as the one before ends, and the last ends in the end pose.
fn assert_joins(path: &Turned, end: Pose) {
    let pieces = path.pieces();
    let start = path.start;
    let mut at = Place::new(start.at.x, start.at.y, 0.0);
    let mut heading = Way::new(start.heading.cos(), start.heading.sin(), 0.0);
    for piece in &pieces {
        assert_abs_diff_eq!(piece.at(0.0), at, epsilon = 1e-6);
        if let Some(starts) = piece.heading(0.0).filter(|_| piece.length() > 1e-3) {
            assert_abs_diff_eq!(starts, heading, epsilon = 1e-6);
        }
        at = piece.at(1.0);
        heading = piece
            .heading(1.0)
            .filter(|_| piece.length() > 1e-3)
            .unwrap_or(heading);
    }
    assert_abs_diff_eq!(at, Place::new(end.at.x, end.at.y, 0.0), epsilon = 1e-6);
    let (sin, cos) = end.heading.sin_cos();
    assert_abs_diff_eq!(heading, Way::new(cos, sin, 0.0), epsilon = 1e-6);
    let length: f64 = pieces.iter().map(|piece| piece.length()).sum();
    assert_abs_diff_eq!(length, path.length(), epsilon = 1e-6);
}

/// Closed forms of plane geometry, worked out from circles and tangents; the lengths of the last two
/// were computed with `dubins_paths` 3.3.0 and with a solver of centres and tangents, which agreed to
/// all digits.
#[test]
fn worked_cases_have_the_lengths_of_their_closed_forms() {
    let root = f64::sqrt;
    let cases = [
        ([0.0, 0.0, 0.0], [10.0, 0.0, 0.0], 1.0, 10.0),
        ([0.0, 0.0, 0.0], [0.0, 2.0, PI], 1.0, PI),
        ([0.0, 0.0, 0.0], [4.0, 4.0, PI], 1.0, PI + 2.0 * root(5.0)),
        (
            [0.0, 0.0, 0.0],
            [4.0, 4.0, 0.0],
            1.0,
            4.0 + 2.0 * 0.8_f64.asin(),
        ),
        (
            [0.0, 0.0, 0.0],
            [4.0, 0.0, PI],
            1.0,
            2.0 * root(3.0) + 4.0 * PI / 3.0,
        ),
        ([0.0, 0.0, 0.0], [0.0, 0.0, PI], 1.0, 7.0 * PI / 3.0),
        ([0.0, 0.0, 0.0], [0.0, 1.0, 0.0], 1.0, TAU + 1.0),
        ([0.0, 0.0, 0.0], [-1.0, 0.0, 0.0], 1.0, TAU + 1.0),
        (
            [0.0, 0.0, FRAC_PI_2],
            [100.0, 0.0, FRAC_PI_2],
            25.0,
            50.0 * PI,
        ),
        (
            [0.0, 0.0, 0.0],
            [100.0, 50.0, FRAC_PI_2],
            30.0,
            15.0 * PI + root(5300.0),
        ),
        ([0.0, 0.0, 0.0], [20.0, 20.0, PI], 2.0, TAU + root(656.0)),
        (
            [0.0, 0.0, FRAC_PI_4],
            [100.0, -100.0, 3.0 * FRAC_PI_4],
            11.6,
            185.002_288_715_612,
        ),
        ([0.0, 0.0, 0.0], [1.0, 0.0, PI], 1.0, 7.051_978_856_171),
    ];
    for (start, end, radius, length) in cases {
        let path = path(start, end, radius);
        assert_abs_diff_eq!(path.length(), length, epsilon = 1e-9);
        assert_joins(&path, pose(end));
    }
}

#[test]
fn worked_cases_have_their_words() {
    let word = |end, radius| path([0.0; 3], end, radius).word;
    assert_eq!(word([4.0, 4.0, PI], 1.0), Word::Lsl);
    assert_eq!(word([4.0, 4.0, 0.0], 1.0), Word::Lsr);
    assert_eq!(word([4.0, -4.0, PI], 1.0), Word::Rsr);
    assert_eq!(word([4.0, -4.0, 0.0], 1.0), Word::Rsl);
    // Seen in a mirror, left and right change places.
    let near = [word([1.0, 0.3, PI], 1.0), word([1.0, -0.3, -PI], 1.0)];
    assert!(near == [Word::Lrl, Word::Rlr] || near == [Word::Rlr, Word::Lrl]);
}

/// A single arc is found as one: `dubins_paths` 3.3.0 gives some quarter arcs a whole turn more,
/// 5π/2, as was measured with its release.
#[test]
fn a_single_arc_of_any_angle_has_its_own_length() {
    assert_abs_diff_eq!(
        path([0.0; 3], [1.0, 1.0, FRAC_PI_2], 1.0).length(),
        FRAC_PI_2,
        epsilon = 1e-12
    );
    let mut random = Random::new(201);
    for case in 0..2_000 {
        let radius = random.between(0.5, 60.0);
        let sweep = if case % 4 == 0 {
            FRAC_PI_2 * (1 + random.below(3)) as f64
        } else {
            random.between(1e-3, TAU - 1e-3)
        };
        let side = random.pick(&[-1.0, 1.0]);
        let heading = random.angle();
        let start = pose([
            random.between(-50.0, 50.0),
            random.between(-50.0, 50.0),
            heading,
        ]);
        let centre =
            |heading: f64| -side * radius * nalgebra::Vector2::new(-heading.sin(), heading.cos());
        let ends = heading + side * sweep;
        let end = Pose {
            at: start.at - centre(heading) + centre(ends),
            heading: ends,
        };
        let path = shortest(start, end, radius).expect("an arc leads there");
        // A long arc need not be the shortest way, but nothing is shorter than a short one.
        assert!(
            path.length() <= radius * sweep + 1e-6,
            "{} {sweep}",
            path.length() / radius
        );
        if sweep <= PI {
            assert_abs_diff_eq!(path.length(), radius * sweep, epsilon = 1e-6);
        }
        assert_joins(&path, end);
    }
}

/// The lengths of the six words over the radius in closed form: the poses `d` radii apart along x, with the
/// headings `a` and `b`. The form is that of A. Shkel and V. Lumelsky (Classification of the Dubins set, Robotics and
/// Autonomous Systems 34, 2001), from memory; a word that is none is infinite.
fn closed_forms(d: f64, a: f64, b: f64) -> [f64; 6] {
    let turn = |angle: f64| angle.rem_euclid(TAU);
    let ((sin_a, cos_a), (sin_b, cos_b)) = (a.sin_cos(), b.sin_cos());
    let between = (a - b).cos();
    let straight = |square: f64, ends: &dyn Fn(f64) -> [f64; 2]| {
        if square < 0.0 {
            return f64::INFINITY;
        }
        let [first, last] = ends(square.sqrt());
        turn(first) + square.sqrt() + turn(last)
    };
    let lsl = straight(
        2.0 + d * d - 2.0 * between + 2.0 * d * (sin_a - sin_b),
        &|_| {
            let along = (cos_b - cos_a).atan2(d + sin_a - sin_b);
            [along - a, b - along]
        },
    );
    let rsr = straight(
        2.0 + d * d - 2.0 * between + 2.0 * d * (sin_b - sin_a),
        &|_| {
            let along = (cos_a - cos_b).atan2(d - sin_a + sin_b);
            [a - along, along - b]
        },
    );
    let lsr = straight(
        d * d - 2.0 + 2.0 * between + 2.0 * d * (sin_a + sin_b),
        &|p| {
            let along = (-cos_a - cos_b).atan2(d + sin_a + sin_b) - (-2.0_f64).atan2(p);
            [along - a, along - b]
        },
    );
    let rsl = straight(
        d * d - 2.0 + 2.0 * between - 2.0 * d * (sin_a + sin_b),
        &|p| {
            let along = (cos_a + cos_b).atan2(d - sin_a - sin_b) - 2.0_f64.atan2(p);
            [a - along, b - along]
        },
    );
    let round = |cos: f64, first: &dyn Fn(f64) -> f64, ends: f64| {
        if cos.abs() > 1.0 {
            return f64::INFINITY;
        }
        let middle = TAU - cos.acos();
        let first = turn(first(middle));
        first + middle + turn(ends - first + middle)
    };
    let rlr = round(
        (6.0 - d * d + 2.0 * between + 2.0 * d * (sin_a - sin_b)) / 8.0,
        &|middle| a - (cos_a - cos_b).atan2(d - sin_a + sin_b) + middle / 2.0,
        a - b,
    );
    let lrl = round(
        (6.0 - d * d + 2.0 * between + 2.0 * d * (sin_b - sin_a)) / 8.0,
        &|middle| -a - (cos_a - cos_b).atan2(d + sin_a - sin_b) + middle / 2.0,
        b - a,
    );
    [lsl, rsr, lsr, rsl, rlr, lrl]
}

#[test]
fn random_poses_have_the_lengths_of_the_closed_forms_and_of_the_reference_crate() {
    let mut random = Random::new(202);
    let mut words = [0; 6];
    for _ in 0..POSES {
        let radius = random.between(0.5, 40.0);
        // Near poses need three arcs, far ones do not.
        let reach = radius * random.pick(&[1.0, 3.0, 10.0]);
        let mut any = || {
            [
                random.between(-reach, reach),
                random.between(-reach, reach),
                random.angle(),
            ]
        };
        let (start, end) = (any(), any());
        let found = path(start, end, radius);
        let reference = DubinsPath::shortest_from(start.into(), end.into(), radius);
        let reference = reference.expect("the crate finds a path").length();
        assert_abs_diff_eq!(found.length(), reference, epsilon = 1e-7 * radius);
        let (dx, dy) = (end[0] - start[0], end[1] - start[1]);
        let along = dy.atan2(dx);
        let forms = closed_forms(dx.hypot(dy) / radius, start[2] - along, end[2] - along);
        let least = forms.into_iter().fold(f64::INFINITY, f64::min);
        assert_abs_diff_eq!(found.length(), radius * least, epsilon = 1e-7 * radius);
        assert_joins(&found, pose(end));
        words[found.word as usize] += 1;
    }
    assert!(words.iter().all(|&count| count > 50), "{words:?}");
}

/// With no obstacle and no corner, a route bends until it faces its exit. Over all headings in which
/// the exit could be reached, nothing is shorter.
#[test]
fn a_route_without_corners_is_the_shortest_over_all_headings_at_its_exit() {
    /// Headings that are tried.
    const HEADINGS: u32 = 3_600;
    let mut random = Random::new(203);
    let mut tested = 0;
    for _ in 0..200 {
        let radius = random.between(5.0, 40.0);
        let at = random.point(100.0);
        let start = Start {
            stop: Place::origin(),
            heading: Way::x(),
            lead: 0.0,
            radius,
        };
        let route = Route::lay(&start, &[], Place::new(at.x, at.y, 0.0));
        if !route.is_laid() {
            continue;
        }
        let lengths = (0..HEADINGS).map(|step| {
            let heading = TAU * f64::from(step) / f64::from(HEADINGS);
            path([0.0; 3], [at.x, at.y, heading], radius).length()
        });
        let least = lengths.fold(f64::INFINITY, f64::min);
        assert!(route.length() <= least + 1e-9);
        // Near the best heading the length grows by at most the radius times the angle.
        assert!(least <= route.length() + radius * TAU / f64::from(HEADINGS));
        tested += 1;
    }
    assert!(tested > 150, "{tested}");
}

#[test]
fn what_is_no_pose_or_no_radius_has_no_path() {
    let here = pose([0.0; 3]);
    assert_eq!(shortest(here, pose([1.0, f64::NAN, 0.0]), 1.0), None);
    assert_eq!(shortest(here, pose([1.0, 0.0, f64::INFINITY]), 1.0), None);
    assert_eq!(shortest(here, here, 0.0), None);
    let stays = shortest(here, here, 1.0).expect("it is there");
    assert_abs_diff_eq!(stays.length(), 0.0);
}
