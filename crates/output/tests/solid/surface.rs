//! Every point of a solid lies on its true surface, and the other way round: a volume forgives a
//! hole that is misplaced, a surface does not.

use std::collections::BTreeSet;

use layout::geometry::segment::Line;
use layout::geometry::{Point, Vector};
use nalgebra::{Point3, Vector3};
use output::solid::{plate, rings};
use output::{Solid, SolidOptions};

use super::truth::{Hole, Plate, ROUNDING, Ring};
use super::{Body, cases};
use crate::projects::{Case, Dice, demo};

/// Points sampled on each solid.
const POINTS: usize = 10_000;

/// Points spread evenly over the surface.
fn sampled(solid: &Solid, dice: &mut Dice) -> Vec<Point3<f64>> {
    let body = Body::of(solid);
    let area = |[a, b, c]: [Point3<f64>; 3]| (b - a).cross(&(c - a)).norm() / 2.0;
    let mut passed = 0.0;
    let areas: Vec<f64> = body
        .facets()
        .map(|facet| {
            passed += area(facet);
            passed
        })
        .collect();
    let facets: Vec<_> = body.facets().collect();
    let mut point = || {
        let at = dice.between(0.0, passed);
        let [a, b, c] = facets[areas
            .partition_point(|&area| area < at)
            .min(facets.len() - 1)];
        // The root spreads the points evenly between a corner and the side across.
        let (across, along) = (dice.between(0.0, 1.0).sqrt(), dice.between(0.0, 1.0));
        a + ((b - a) * (1.0 - along) + (c - a) * along) * across
    };
    (0..POINTS).map(|_| point()).collect()
}

fn assert_on(
    name: &str,
    solid: &Solid,
    all: Vec<String>,
    surfaces: impl Fn(Point3<f64>) -> Vec<String>,
) {
    let mut met = BTreeSet::new();
    for at in sampled(solid, &mut Dice(7)) {
        let found = surfaces(at);
        assert!(!found.is_empty(), "{name}: {at} is on no surface");
        met.extend(found);
    }
    // Corners lie on the surface, too; they also stand on walls too small to be sampled.
    met.extend(solid.mesh().vertices.iter().flat_map(|&at| surfaces(at)));
    assert_eq!(
        met,
        all.into_iter().collect(),
        "{name}: a surface is missing"
    );
}

/// Fails unless points all over a solid lie on the sides that `place` names, and on each of `all`.
pub(super) fn assert_on_sides(
    name: &str,
    solid: &Solid,
    all: Vec<String>,
    error: f64,
    place: impl Fn(Point3<f64>) -> (f64, Vec<String>),
) {
    let mut met = BTreeSet::new();
    let corners = solid.mesh().vertices.iter().copied();
    for at in sampled(solid, &mut Dice(7)).into_iter().chain(corners) {
        let (outside, sides) = place(at);
        assert!(outside.abs() < error, "{name}: {at} is {outside} mm off");
        met.extend(sides);
    }
    let missing: Vec<_> = all.iter().filter(|side| !met.contains(*side)).collect();
    assert!(missing.is_empty(), "{name}: without {missing:?}");
}

pub(super) fn assert_plate(name: &str, solid: &Solid, truth: &Plate, options: &SolidOptions) {
    let error = options.chord_error + ROUNDING;
    assert_on(name, solid, truth.all_surfaces(), |at| {
        truth.surfaces(at, error)
    });
}

fn assert_rings(case: &Case, solids: &[Solid], options: &SolidOptions) {
    let error = options.chord_error + ROUNDING;
    let truths = Ring::all_of(&case.project, options);
    assert_eq!(solids.len(), truths.len(), "{}", case.name);
    for (solid, truth) in solids.iter().zip(truths) {
        let name = format!("{}: {}", case.name, solid.name());
        assert_on(&name, solid, truth.all_surfaces(), |at| {
            truth.surfaces(at, error)
        });
    }
}

#[test]
fn points_of_every_demo_satisfy_the_equations_of_plate_and_ring() {
    cases::each_demo(|case, options| {
        let found = plate(&case.project, &case.laid, options).unwrap();
        let truth = Plate::of(&case.project, &case.laid, options);
        assert_plate(&case.name, &found, &truth, options);
        let found = rings(&case.project, &case.laid, options).unwrap();
        assert_rings(case, &found, options);
    });
}

#[test]
fn points_of_random_solids_satisfy_the_equations_whatever_the_options() {
    cases::each_random(43, |case, options| {
        if let Ok(found) = rings(&case.project, &case.laid, options) {
            assert_rings(case, &found, options);
        }
        let Ok(found) = plate(&case.project, &case.laid, options) else {
            return false;
        };
        let truth = Plate::of(&case.project, &case.laid, options);
        assert_plate(&case.name, &found, &truth, options);
        true
    });
}

#[test]
fn a_hole_misplaced_by_a_tenth_of_a_millimetre_is_noticed() {
    let mut case = demo("bramble");
    let options = SolidOptions::default();
    let found = plate(&case.project, &case.laid, &options).unwrap();
    case.project.eyes[0].centre[0] += 0.1;
    let truth = Plate::of(&case.project, &case.laid, &options);
    let error = options.chord_error + ROUNDING;
    let points = sampled(&found, &mut Dice(7));
    let off = points
        .iter()
        .filter(|at| truth.surfaces(**at, error).is_empty());
    assert!(off.count() > 10);
}

/// The distance from a point to a triangle, mm.
fn distance([a, b, c]: [Point3<f64>; 3], at: Point3<f64>) -> f64 {
    let (u, v, w) = (b - a, c - a, at - a);
    let normal = u.cross(&v);
    let square = normal.norm_squared();
    let (s, t) = (
        w.cross(&v).dot(&normal) / square,
        u.cross(&w).dot(&normal) / square,
    );
    if s >= 0.0 && t >= 0.0 && s + t <= 1.0 {
        return w.dot(&normal).abs() / square.sqrt();
    }
    let side = |from: Point3<f64>, along: Vector3<f64>| {
        let share = ((at - from).dot(&along) / along.norm_squared()).clamp(0.0, 1.0);
        (at - (from + along * share)).norm()
    };
    side(a, u).min(side(a, v)).min(side(b, c - b))
}

#[test]
fn points_of_the_true_seats_and_edge_lie_on_the_plate_within_the_chord_error() {
    let case = demo("bramble");
    let thickness = case.project.plate.thickness;
    for chord_error in [0.005, 0.02, 0.2] {
        let options = SolidOptions {
            chord_error,
            ..SolidOptions::default()
        };
        let body = Body::of(&plate(&case.project, &case.laid, &options).unwrap());
        let facets: Vec<_> = body.facets().collect();
        let truth = Plate::of(&case.project, &case.laid, &options);
        let mut dice = Dice(9);
        let mut points = Vec::new();
        for hole in &truth.holes {
            let Hole::Spherical {
                centre,
                radius,
                height,
                ..
            } = hole
            else {
                continue;
            };
            for _ in 0..200 {
                let (turn, depth) = (dice.between(0.0, 7.0), dice.between(0.0, thickness));
                let level = (radius * radius - (height + depth).powi(2)).sqrt();
                let at: Point = centre + Vector::new(turn.cos(), turn.sin()) * level;
                points.push(Point3::new(at.x, at.y, thickness - depth));
            }
        }
        assert_eq!(points.len(), 400);
        for segment in &case.laid.plate.segments {
            let Line { start, end } = segment.chord();
            let middle = nalgebra::center(&start, &end);
            let at = segment.nearest(&segment.chord(), middle);
            points.extend([start, at].map(|at| Point3::new(at.x, at.y, thickness / 2.0)));
        }
        for at in points {
            let nearest = facets.iter().map(|&facet| distance(facet, at));
            let nearest = nearest.fold(f64::INFINITY, f64::min);
            assert!(nearest < chord_error, "{at} is {nearest} mm off");
        }
    }
}
