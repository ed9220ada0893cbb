//! The convex hull of discs against the hull that geo finds around points of their edges.

use std::f64::consts::TAU;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use geo::{Area, ConvexHull, MultiPoint};
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;

use crate::common::Random;

const SETS: usize = 1_000;

/// What two lengths of true lines and arcs may differ by, mm.
const EXACT: f64 = 1e-6;

/// Points taken on the edge of each disc.
const POINTS: usize = 720;

fn disc(x: f64, y: f64, radius: f64) -> Disc {
    Disc {
        centre: Point::new(x, y),
        radius,
    }
}

/// Sets of every kind: scattered, equal, nested, touching from inside, in a row, on a grid, twice
/// the same.
fn random_discs(random: &mut Random, index: usize) -> Vec<Disc> {
    let count = 1 + random.below(9);
    let radius = random.between(1.0, 20.0);
    let direction = random.angle();
    (0..count)
        .flat_map(|step| {
            let at = random.point(60.0);
            let along = 12.0 * step as f64;
            match index % 8 {
                0 => vec![disc(at.x, at.y, random.between(0.0, 30.0))],
                1 => vec![disc(at.x, at.y, radius)],
                2 => vec![
                    disc(at.x, at.y, radius),
                    disc(at.x + radius / 3.0, at.y, radius / 2.0),
                ],
                3 => vec![
                    disc(at.x, at.y, radius),
                    disc(at.x, at.y + radius / 2.0, radius / 2.0),
                ],
                4 => vec![disc(
                    along * direction.cos(),
                    along * direction.sin(),
                    radius,
                )],
                5 => vec![disc(along, 0.0, radius), disc(along, 40.0, radius)],
                6 => vec![disc(at.x, at.y, radius); 2],
                _ => vec![disc(at.x, at.y, 0.0), disc(-at.x, at.y, 0.0)],
            }
        })
        .collect()
}

fn sets() -> impl Iterator<Item = Vec<Disc>> {
    let mut random = Random::new(7);
    (0..SETS).map(move |index| random_discs(&mut random, index))
}

/// How far the discs reach in a direction, radians.
fn reach(discs: &[Disc], angle: f64) -> f64 {
    let reach = |d: &Disc| d.centre.x * angle.cos() + d.centre.y * angle.sin() + d.radius;
    discs.iter().map(reach).fold(f64::NEG_INFINITY, f64::max)
}

/// Many points of an outline, evenly spread over each piece.
fn points_on(outline: &Outline) -> Vec<Point> {
    let steps = 90;
    let share = |step: usize| step as f64 / steps as f64;
    let on = |segment: &Segment| -> Vec<Point> {
        match *segment {
            Segment::Line(line) => (0..steps)
                .map(|step| line.start + (line.end - line.start) * share(step))
                .collect(),
            Segment::Arc(arc) => (0..steps)
                .map(|step| arc.at(arc.start_angle + arc.sweep * share(step)))
                .collect(),
        }
    };
    outline.segments.iter().flat_map(on).collect()
}

#[test]
fn a_hull_is_closed_each_piece_starts_where_the_one_before_ends() {
    for discs in sets() {
        let segments = Outline::hull(&discs).segments;
        let before = segments.iter().cycle().skip(segments.len() - 1);
        for (before, after) in before.zip(&segments) {
            assert!((before.end() - after.start()).norm() < 1e-9, "{discs:?}");
        }
    }
}

#[test]
fn a_hull_is_convex_and_goes_round_once() {
    for discs in sets() {
        let hull = Outline::hull(&discs);
        let turn: f64 = hull
            .segments
            .iter()
            .map(|segment| match segment {
                Segment::Arc(arc) => {
                    assert!(arc.sweep >= 0.0, "{discs:?}");
                    arc.sweep
                }
                Segment::Line(_) => 0.0,
            })
            .sum();
        // All turning is done by the arcs: the lines run on straight.
        assert_abs_diff_eq!(turn, TAU, epsilon = 1e-9);
        let points = points_on(&hull);
        for (index, b) in points.iter().enumerate() {
            let a = points[(index + points.len() - 1) % points.len()];
            let c = points[(index + 1) % points.len()];
            assert!((b - a).perp(&(c - b)) > -EXACT, "{discs:?}");
        }
    }
}

#[test]
fn a_hull_reaches_exactly_as_far_as_its_discs_in_every_direction() {
    for discs in sets() {
        let points = points_on(&Outline::hull(&discs));
        for step in 0..90 {
            let angle = TAU * f64::from(step) / 90.0;
            let out = |p: &Point| p.x * angle.cos() + p.y * angle.sin();
            let farthest = points.iter().map(out).fold(f64::NEG_INFINITY, f64::max);
            let wanted = reach(&discs, angle);
            assert!(farthest < wanted + EXACT, "{discs:?} at {angle}");
            // The points taken on an arc may lie half a step off its farthest one.
            assert!(farthest > wanted - 0.02, "{discs:?} at {angle}");
        }
    }
}

#[test]
fn a_hull_contains_every_point_of_its_discs() {
    let mut random = Random::new(8);
    for discs in sets() {
        let hull = Outline::hull(&discs);
        for disc in discs.iter().filter(|disc| disc.radius > 0.0) {
            for _ in 0..8 {
                let (angle, share) = (random.angle(), random.between(0.0, 1.0 - 1e-9));
                let out = nalgebra::Vector2::new(angle.cos(), angle.sin());
                let point = disc.centre + out * (disc.radius * share);
                assert!(hull.contains(point), "{discs:?} {point}");
            }
        }
    }
}

#[test]
fn a_hull_has_the_area_of_the_hull_of_points_on_its_discs() {
    for discs in sets() {
        let edge = |d: &Disc| {
            let Disc { centre, radius } = *d;
            (0..POINTS).map(move |step| {
                let angle = TAU * step as f64 / POINTS as f64;
                geo::Point::new(
                    centre.x + radius * angle.cos(),
                    centre.y + radius * angle.sin(),
                )
            })
        };
        let points: MultiPoint = discs.iter().flat_map(edge).collect::<Vec<_>>().into();
        let sampled = points.convex_hull().unsigned_area();
        let area = Outline::hull(&discs).area();
        // A polygon of n corners on a circle lacks the share 2π²/(3n²) of its area; the points of
        // several discs need not be where their tangents touch, which costs as much again.
        let error = 4.0 * TAU * TAU / (6.0 * (POINTS * POINTS) as f64);
        assert_relative_eq!(area, sampled, max_relative = error, epsilon = 1e-6);
        assert!(area > sampled - 1e-6);
    }
}

#[test]
fn a_hull_has_no_piece_for_a_disc_inside_another() {
    let hull = Outline::hull(&[
        disc(0.0, 0.0, 10.0),
        disc(3.0, 0.0, 5.0),
        disc(5.0, 0.0, 5.0),
    ]);
    assert_eq!(hull.segments.len(), 1);
    assert_abs_diff_eq!(hull.area(), 50.0 * TAU, epsilon = 1e-9);
}

#[test]
fn a_hull_of_no_disc_is_empty() {
    assert!(Outline::hull(&[]).is_empty());
}
