//! The closed forms of seat, ring and gaze against a ring that is really turned.
//!
//! The other side of each comparison knows the model's numbers and nothing else of the core: it
//! rotates points of a ring by matrices and looks where they went.

mod cases;
mod turned;

use std::f64::consts::{FRAC_PI_2, PI};

use approx::assert_abs_diff_eq;
use layout::evaluate;
use layout::parts::Parts;
use layout::ring::Ring;
use layout::seat::Seat;
use nalgebra::{Rotation3, Vector3};

use self::cases::{Case, NEAR, SETS, random_cases};
use self::turned::{axis, first_contact, least_depth, over_tilts};
use crate::common::{Random, pair};

/// What a length may differ by, mm, and an angle, degrees.
const LENGTH: f64 = 1e-3;
const ANGLE: f64 = 1e-2;

#[test]
fn random_parts_sets_are_valid_of_both_seats_and_often_near_a_limit() {
    let mut near = 0;
    let mut plain = 0;
    for case in random_cases() {
        let project = case.project();
        assert_eq!(project.check(), Ok(()));
        let ring = case.parts.ring;
        let ball = case.parts.ball_diameter / 2.0;
        assert!((12.0..=80.0).contains(&case.parts.ball_diameter));
        let figures = case.figures();
        let opening = figures.opening_back_mm.unwrap();
        plain += usize::from(matches!(case.parts.seat, Seat::Plain { .. }));
        near += usize::from(
            ring.depth - case.back() < NEAR
                || ball - ring.depth - ring.thickness < NEAR
                || ring.thickness - ring.bevel < NEAR
                || (ring.outer_diameter / 2.0 - opening).abs() < NEAR
                || ball - opening < NEAR,
        );
    }
    assert_eq!(plain, SETS / 2);
    assert!(near >= SETS / 4, "{near}");
}

#[test]
fn opening_radii_are_where_the_plate_faces_cut_the_seat() {
    for case in random_cases() {
        let figures = case.figures();
        let ball = case.parts.ball_diameter / 2.0;
        let (front, back) = match case.parts.seat {
            Seat::Plain { opening_diameter } => (opening_diameter / 2.0, opening_diameter / 2.0),
            Seat::Spherical {
                running_clearance,
                centre_height,
            } => {
                // Walk the seat's sphere from its equator down to each face.
                let radius = ball + running_clearance;
                let at = |depth: f64| {
                    let (mut low, mut high) = (0.0, FRAC_PI_2);
                    for _ in 0..60 {
                        let middle = (low + high) / 2.0;
                        if radius * f64::sin(middle) < depth {
                            low = middle;
                        } else {
                            high = middle;
                        }
                    }
                    radius * f64::cos(low)
                };
                (at(centre_height), at(centre_height + case.thickness))
            }
        };
        assert_abs_diff_eq!(figures.opening_front_mm.unwrap(), front, epsilon = LENGTH);
        assert_abs_diff_eq!(figures.opening_back_mm.unwrap(), back, epsilon = LENGTH);
        let height = case.back() - case.thickness;
        assert_abs_diff_eq!(figures.centre_height_mm.unwrap(), height, epsilon = LENGTH);
    }
}

#[test]
fn play_overlap_and_the_ball_behind_are_what_the_meridian_shows() {
    for case in random_cases() {
        let figures = case.figures();
        let meridian = case.meridian();
        let nearest = meridian.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
        let widest = meridian.iter().map(|p| p[0]).fold(0.0, f64::max);
        let back = case.back();
        assert_abs_diff_eq!(
            figures.ring_play_mm.unwrap(),
            nearest - back,
            epsilon = LENGTH
        );
        assert_abs_diff_eq!(
            figures.retention_overlap_mm.unwrap(),
            widest - figures.opening_back_mm.unwrap(),
            epsilon = LENGTH
        );
        let behind = case.parts.ball_diameter / 2.0 - back;
        assert_abs_diff_eq!(figures.ball_behind_mm.unwrap(), behind, epsilon = LENGTH);
    }
}

#[test]
fn the_tilt_limit_is_where_a_turned_ring_first_meets_the_plate() {
    let mut random = Random::new(3);
    for case in random_cases() {
        let contact = first_contact(&case.meridian(), axis(&mut random), case.back());
        let limit = case.figures().tilt_limit_deg.unwrap();
        assert_abs_diff_eq!(limit, contact.to_degrees(), epsilon = ANGLE);
    }
}

#[test]
fn the_working_tilt_is_the_turn_of_the_axis_under_both_turns() {
    for case in random_cases() {
        let forward = Vector3::z();
        let tilt = (case.turned() * forward).angle(&forward);
        assert_abs_diff_eq!(
            case.figures().working_tilt_deg.unwrap(),
            tilt.to_degrees(),
            epsilon = ANGLE
        );
    }
}

#[test]
fn a_working_tilt_of_turns_never_combined_is_the_larger_turn() {
    for case in random_cases() {
        let mut project = case.project();
        project.gaze.together = false;
        let tilt = evaluate(&project).figures.eyes[0].working_tilt_deg.unwrap();
        let larger = case.side.max(case.lift).to_degrees();
        assert_abs_diff_eq!(tilt, larger, epsilon = 1e-9);
    }
}

#[test]
fn the_ring_clearance_is_that_of_a_ring_turned_by_side_and_lift() {
    for case in random_cases() {
        let clearance = least_depth(&case.meridian(), &case.turned()) - case.back();
        let figure = case.figures().ring_clearance_mm.unwrap();
        assert_abs_diff_eq!(figure, clearance, epsilon = LENGTH);
    }
}

#[test]
fn the_sweep_reaches_as_deep_and_as_wide_as_a_ring_that_is_turned() {
    let mut random = Random::new(4);
    for case in random_cases() {
        let figures = case.figures();
        let (meridian, axis) = (case.meridian(), axis(&mut random));
        let forward = Vector3::z();
        let most = (case.turned() * forward).angle(&forward);
        let ball = case.parts.ball_diameter / 2.0;
        let depth = over_tilts(&meridian, axis, most, |p| -p.z).max(ball) - case.back();
        let reach = over_tilts(&meridian, axis, most, |p| p.x.hypot(p.y));
        assert_abs_diff_eq!(figures.sweep_depth_mm.unwrap(), depth, epsilon = LENGTH);
        assert_abs_diff_eq!(figures.sweep_reach_mm.unwrap(), reach, epsilon = LENGTH);
    }
}

#[test]
fn the_glued_area_is_that_of_many_thin_cones_around_the_ball() {
    for case in random_cases() {
        let ball = case.parts.ball_diameter / 2.0;
        let angle = |depth: f64| (depth / ball).acos();
        let front = angle(case.parts.ring.depth);
        let back = angle(case.parts.ring.depth + case.parts.ring.thickness);
        let steps = 20_000;
        let width = (front - back) / f64::from(steps);
        let chord = 2.0 * ball * (width / 2.0).sin();
        let area: f64 = (0..steps)
            .map(|step| {
                let (a, b) = (
                    back + width * f64::from(step),
                    back + width * f64::from(step + 1),
                );
                PI * ball * (a.sin() + b.sin()) * chord
            })
            .sum();
        assert_abs_diff_eq!(case.figures().glue_area_mm2.unwrap(), area, epsilon = 1e-3);
    }
}

#[test]
fn the_glued_area_of_a_ring_to_the_back_of_its_ball_is_the_published_one_of_a_cap() {
    // mathematical-formula.com, "The formula for the area of a spherical cap", worked example: a sphere's
    // radius of 5 and a height of 4 give 125.66; here ten times as large.
    let (ball, height) = (50.0, 40.0);
    let mut case = random_cases().next().unwrap();
    case.thickness = 3.0;
    case.parts.ball_diameter = 2.0 * ball;
    case.parts.seat = Seat::Spherical {
        centre_height: 2.0,
        running_clearance: 0.1,
    };
    case.parts.ring = Ring {
        depth: ball - height,
        thickness: height,
        outer_diameter: 110.0,
        bevel: 1.0,
    };
    assert_eq!(case.project().check(), Ok(()));
    let found = case.figures().glue_area_mm2.unwrap();
    assert_abs_diff_eq!(found / 100.0, 125.66, epsilon = 0.005);
}

#[test]
fn eyes_turned_in_by_the_toe_in_look_at_their_point() {
    let mut random = Random::new(5);
    for _ in 0..SETS {
        let mut project = pair();
        let (spacing, distance) = (random.between(45.0, 400.0), random.between(100.0, 5_000.0));
        project.eyes[0].centre = [-spacing / 2.0, 0.0];
        project.eyes[1].centre = [spacing / 2.0, 0.0];
        project.gaze.looks_at = distance;
        let pair = &evaluate(&project).figures.pairs[0];
        // Turn the left eye until its axis passes nearest to the point of gaze.
        let (centre, target) = (
            Vector3::new(-spacing / 2.0, 0.0, 0.0),
            Vector3::new(0.0, 0.0, distance),
        );
        let looks = |turn: f64| Rotation3::from_axis_angle(&Vector3::y_axis(), turn) * Vector3::z();
        let miss = |turn: f64| (target - centre).cross(&looks(turn)).norm();
        let (mut low, mut high) = (0.0, FRAC_PI_2);
        for _ in 0..100 {
            let third = (high - low) / 3.0;
            if miss(low + third) < miss(high - third) {
                high -= third;
            } else {
                low += third;
            }
        }
        assert_abs_diff_eq!(pair.toe_in_deg.unwrap(), low.to_degrees(), epsilon = ANGLE);
        let pupil = centre + looks(low) * (project.parts.ball_diameter / 2.0);
        assert_abs_diff_eq!(
            pair.pupil_spacing_mm.unwrap(),
            -2.0 * pupil.x,
            epsilon = LENGTH
        );
        assert_abs_diff_eq!(pair.spacing_mm.unwrap(), spacing, epsilon = 1e-9);
    }
}

/// The worked case was computed apart from this project, by brute force.
#[test]
fn the_worked_case_comes_out_as_it_was_computed_apart() {
    let case = Case {
        parts: Parts {
            name: String::new(),
            ball_diameter: 40.0,
            ball_plus: 0.0,
            seat: Seat::Spherical {
                centre_height: 2.0,
                running_clearance: 0.3,
            },
            ring: Ring {
                depth: 17.0,
                thickness: 2.5,
                outer_diameter: 42.0,
                bevel: 1.5,
            },
            lids: None,
            eye_mass_g: None,
        },
        thickness: 3.0,
        side: 0.0,
        lift: 0.0,
    };
    let figures = case.figures();
    let [front, back, overlap, play, limit] = [
        figures.opening_front_mm,
        figures.opening_back_mm,
        figures.retention_overlap_mm,
        figures.ring_play_mm,
        figures.tilt_limit_deg,
    ]
    .map(Option::unwrap);
    assert_abs_diff_eq!(front, 20.20, epsilon = 0.005);
    assert_abs_diff_eq!(back, 19.67, epsilon = 0.005);
    assert_abs_diff_eq!(overlap, 1.33, epsilon = 0.005);
    assert_abs_diff_eq!(play, 12.0, epsilon = 0.005);
    assert_abs_diff_eq!(limit, 29.94, epsilon = 0.005);
    let contact = first_contact(&case.meridian(), Vector3::x(), case.back());
    assert_abs_diff_eq!(contact.to_degrees(), 29.94, epsilon = 0.005);
}
