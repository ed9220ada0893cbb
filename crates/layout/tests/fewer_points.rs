//! A curve redrawn with few points, measured by places along both that no code of it looks at.

use std::f64::consts::TAU;

use layout::closed_curve::CurveOf;
use layout::fewer_points::fewer_points;
use layout::geometry::{Point, polygon};
use layout::{Edit, head};

use crate::common::{Random, pair};

const WITHIN: f64 = 0.5;

/// The farthest that a place of one curve lies off the other, by places 0.05 mm apart.
fn stray(a: &[Point], b: &[Point]) -> f64 {
    let off = |at: Point| {
        let nearest = polygon::edges(b).map(|edge| {
            let along = edge.end - edge.start;
            let share = (at - edge.start).dot(&along) / along.norm_squared();
            (edge.start + along * share.clamp(0.0, 1.0) - at).norm()
        });
        nearest.fold(f64::INFINITY, f64::min)
    };
    let places = polygon::edges(a).flat_map(|edge| {
        let steps = ((edge.end - edge.start).norm() / 0.05).ceil().max(1.0);
        let shares = std::iter::successors(Some(0.0), move |step| Some(step + 1.0));
        shares
            .take_while(move |&step| step < steps)
            .map(move |step| edge.start + (edge.end - edge.start) * (step / steps))
    });
    places.map(off).fold(0.0, f64::max)
}

fn strays_at_most(old: &[[f64; 2]], smooth: bool, new: &[[f64; 2]]) {
    let (old, new) = (polygon::through(old, smooth), polygon::through(new, true));
    let stray = stray(&old, &new).max(stray(&new, &old));
    // The old curve's places lie within its flattening of it.
    assert!(stray <= WITHIN + polygon::FLATTENING, "{stray}");
}

/// A wavy head of many corners, symmetric or not.
fn wavy(random: &mut Random, symmetric: bool) -> Vec<[f64; 2]> {
    const CORNERS: u32 = 320;
    let waves: Vec<[f64; 3]> = (1..=4)
        .map(|k| {
            [
                f64::from(k),
                random.between(0.0, 7.0 / f64::from(k)),
                random.between(0.0, TAU),
            ]
        })
        .collect();
    let radius = |angle: f64| {
        let wave = |[times, high, at]: &[f64; 3]| {
            let from_top = angle - TAU / 4.0;
            high * (times * from_top + if symmetric { 0.0 } else { *at }).cos()
        };
        90.0 + waves.iter().map(wave).sum::<f64>()
    };
    (0..CORNERS)
        .map(|k| {
            let angle = TAU * (f64::from(k) + 0.5) / f64::from(CORNERS);
            [radius(angle) * angle.cos(), radius(angle) * angle.sin()]
        })
        .collect()
}

#[test]
fn a_circle_of_four_hundred_corners_takes_twenty_points() {
    let circle: Vec<[f64; 2]> = (0..400)
        .map(|k| f64::from(k) * TAU / 400.0)
        .map(|angle| [90.0 * angle.cos(), 90.0 * angle.sin()])
        .collect();
    let new = fewer_points(&circle, false, WITHIN).expect("it takes fewer");
    assert!(new.len() <= 20, "{}", new.len());
    strays_at_most(&circle, false, &new);
}

#[test]
fn random_heads_are_kept_within_and_take_far_fewer_points() {
    let mut random = Random::new(71);
    let mut most = 0;
    for round in 0..200 {
        let old = wavy(&mut random, round % 2 == 0);
        let new = fewer_points(&old, false, WITHIN).expect("it takes fewer");
        strays_at_most(&old, false, &new);
        most = most.max(new.len());
        let edit = Edit::Outline {
            curve: CurveOf::Head,
            points: new,
            smooth: true,
        };
        edit.apply(&pair()).expect("it is an outline still");
    }
    assert!(most <= 48, "{most} of 320");
}

#[test]
fn a_symmetric_outline_stays_symmetric_to_the_last_digit() {
    let squarish = head::start_outline(160.0, 200.0, 0.6);
    let old: Vec<[f64; 2]> = polygon::through(&squarish, true)
        .into_iter()
        .map(Into::into)
        .collect();
    let new = fewer_points(&old, false, WITHIN).expect("it takes fewer");
    assert!(new.len() <= 40, "{}", new.len());
    for [x, y] in &new {
        assert!(new.contains(&[-x, *y]), "({x}, {y})");
    }
    strays_at_most(&old, false, &new);
}

#[test]
fn what_needs_its_points_and_what_is_no_curve_is_left_alone() {
    let square = [[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]];
    assert_eq!(fewer_points(&square, false, WITHIN), None);
    assert_eq!(fewer_points(&[], false, WITHIN), None);
    assert_eq!(fewer_points(&[[1.0, 1.0]; 9], false, WITHIN), None);
    assert_eq!(fewer_points(&square, false, -1.0), None);
}
