//! The covered share of an iris, counted point by point and against a published segment.

use approx::assert_abs_diff_eq;
use layout::evaluate;
use layout::iris::{LidPose, Look};
use layout::lid::{Lid, Lids};
use layout::{Degrees, Laid};
use nalgebra::{Point3, Rotation3, Vector3};

use crate::common::{Random, lidded_pair, random_lids};

const BALL: f64 = 20.0;

/// Rows across the iris, and points along each.
const ROWS: u32 = 500;

/// Direction of the rows, radians.
const ROW_TURN: f64 = 0.6;

/// What a share that was counted may differ by: a chord cuts through one point of each row, and half
/// of it is counted at random.
const COUNTED: f64 = 1.5e-3;

/// The share of the iris's points whose angle about the pivot axis lies on the upper or on the lower
/// lid, each counted.
fn counted(lids: &Lids, radius: f64, look: Look, pose: LidPose) -> f64 {
    let turn = Rotation3::from_axis_angle(&Vector3::y_axis(), look.side)
        * Rotation3::from_axis_angle(&-Vector3::x_axis(), look.lift);
    let ahead = (BALL * BALL - radius * radius).sqrt();
    let step = |index: u32| radius * (2.0 * (f64::from(index) + 0.5) / f64::from(ROWS) - 1.0);
    let (mut all, mut covered) = (0_u32, 0_u32);
    for row in 0..ROWS {
        for column in 0..ROWS {
            // Askew, so that no row runs along a lid's edge.
            let (sin, cos) = ROW_TURN.sin_cos();
            let (u, v) = (
                step(column) * cos - step(row) * sin,
                step(column) * sin + step(row) * cos,
            );
            if u.hypot(v) > radius {
                continue;
            }
            let point = turn * Point3::new(u, v, ahead);
            let angle = point.y.atan2(point.z);
            let on = |lid: Option<Lid>, angle: f64, leading: f64| {
                lid.is_some_and(|lid| {
                    let behind = (angle - leading).rem_euclid(std::f64::consts::TAU);
                    behind <= lid.extent.0.to_radians()
                })
            };
            all += 1;
            covered += u32::from(on(lids.upper, angle, pose.upper));
            covered += u32::from(on(lids.lower, -angle, pose.lower));
        }
    }
    (f64::from(covered) / f64::from(all)).min(1.0)
}

#[test]
fn the_cover_at_any_gaze_is_the_share_of_points_on_a_lid() {
    let mut random = Random::new(71);
    let mut partly = 0;
    for _ in 0..40 {
        let mut project = lidded_pair();
        let lids = random_lids(&mut random);
        project.parts.lids = Some(lids);
        let Some(fit) = &Laid::out(&project).eyes[0].lids else {
            continue;
        };
        let radius = random.between(2.0, 16.0);
        // Far turns too, at which the pivot axis passes through the iris.
        let mut turn = || random.between(-85.0_f64, 85.0).to_radians();
        let look = Look {
            side: turn(),
            lift: turn(),
        };
        let pose = LidPose {
            upper: turn() / 2.0,
            lower: turn() / 2.0,
        };
        let found = fit.iris_cover(2.0 * radius, look, pose);
        let expected = counted(&lids, radius, look, pose);
        assert_abs_diff_eq!(found, expected, epsilon = COUNTED);
        partly += u32::from(found > 0.01 && found < 0.99);
    }
    assert!(partly > 10, "{partly}");
}

#[test]
fn the_cover_at_rest_is_that_of_the_open_lids() {
    let mut random = Random::new(72);
    let mut covered = 0;
    for _ in 0..20 {
        let mut project = lidded_pair();
        let lids = random_lids(&mut random);
        project.parts.lids = Some(lids);
        project.eyes[0].iris_diameter = random.between(6.0, 36.0);
        let found = evaluate(&project).figures.eyes[0].iris_cover;
        assert_eq!(found.is_some(), lids.any());
        let Some(found) = found else { continue };
        let open = |lid: Option<Lid>| lid.map_or(0.0, |lid| lid.open.0.to_radians());
        let pose = LidPose {
            upper: open(lids.upper),
            lower: open(lids.lower),
        };
        let radius = project.eyes[0].iris_diameter / 2.0;
        let expected = counted(&lids, radius, Look::default(), pose);
        assert_abs_diff_eq!(found, expected, epsilon = COUNTED);
        covered += u32::from(found > 0.01);
    }
    assert!(covered > 8, "{covered}");
}

#[test]
fn the_cover_is_the_published_area_of_a_segment() {
    // help.matheass.eu, "Circular sections", worked example: chord 21, height 6 give a radius of
    // 12.1875, a distance of 6.1875, a segment of 89.254148 and a circle of 466.63696.
    let (radius, distance) = (12.1875_f64, 6.1875_f64);
    let share = 89.254_148 / 466.636_96;
    let leading = (distance / (BALL * BALL - radius * radius).sqrt()).atan();
    let mut project = lidded_pair();
    for eye in &mut project.eyes {
        eye.iris_diameter = 2.0 * radius;
    }
    let lids = project.parts.lids.as_mut().unwrap();
    lids.lower = None;
    lids.upper = Some(Lid {
        open: Degrees(leading.to_degrees()),
        closed: Degrees(0.0),
        extent: Degrees(90.0),
    });
    let found = evaluate(&project).figures.eyes[0].iris_cover.unwrap();
    assert_abs_diff_eq!(found, share, epsilon = 1e-7);
    // A lid down to straight ahead covers half, one past the lower edge all of it.
    let laid = Laid::out(&project);
    let fit = laid.eyes[0].lids.as_ref().unwrap();
    let cover = |upper| {
        let pose = LidPose { upper, lower: 0.0 };
        fit.iris_cover(2.0 * radius, Look::default(), pose)
    };
    assert_abs_diff_eq!(cover(0.0), 0.5, epsilon = 1e-12);
    assert_abs_diff_eq!(cover(-leading), 1.0 - share, epsilon = 1e-7);
    assert_abs_diff_eq!(cover(-0.7), 1.0, epsilon = 1e-12);
    assert_abs_diff_eq!(cover(1.0), 0.0, epsilon = 1e-12);
}

#[test]
fn an_iris_that_looks_up_goes_under_the_upper_lid_and_one_that_looks_down_comes_out() {
    // Eyes turn up by 27.9° and down by 47.1° on average (Eye, Lond., 2019, doi
    // 10.1038/s41433-019-0376-4).
    let project = lidded_pair();
    let laid = Laid::out(&project);
    let fit = laid.eyes[0].lids.as_ref().unwrap();
    let cover = |lift: f64, which: LidPose| {
        let lift = lift.to_radians();
        fit.iris_cover(18.0, Look { side: 0.0, lift }, which)
    };
    let open = fit.open();
    assert!(cover(27.9, open) > cover(0.0, open) + 0.2);
    assert!(cover(-47.1, open) > cover(0.0, open) + 0.2, "the lower lid");
    let raised = LidPose { lower: 1.5, ..open };
    assert!(cover(-47.1, raised) < 1e-12);
    assert_abs_diff_eq!(cover(0.0, fit.shut()), 1.0, epsilon = 1e-12);
}
