//! Outlines: what they contain, how wide they are, and the smooth curve through points.

use approx::assert_abs_diff_eq;
use geo::Contains;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::polygon::{self, FLATTENING};
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, Vector};
use layout::head;

use crate::common::{Random, star};

fn random_hull(random: &mut Random) -> Outline {
    let discs: Vec<Disc> = (0..1 + random.below(5))
        .map(|_| Disc {
            centre: random.point(40.0),
            radius: random.between(0.0, 20.0),
        })
        .collect();
    Outline::hull(&discs)
}

fn points(places: &[[f64; 2]]) -> Vec<Point> {
    places.iter().map(|&place| place.into()).collect()
}

fn to_geo(points: &[Point]) -> geo::Polygon {
    let ring: geo::LineString = points
        .iter()
        .map(|p| geo::coord! { x: p.x, y: p.y })
        .collect();
    geo::Polygon::new(ring, Vec::new())
}

/// A keyhole: a whole turn but for a mouth, closed by a line; its arc is larger than a half turn.
fn keyhole() -> Outline {
    let arc = Arc {
        centre: Point::origin(),
        radius: 10.0,
        start_angle: 0.5,
        sweep: std::f64::consts::TAU - 1.0,
    };
    let line = Line {
        start: arc.end(),
        end: arc.start(),
    };
    Outline {
        segments: vec![Segment::Arc(arc), Segment::Line(line)],
    }
}

/// A square whose right side is dented by an arc that runs clockwise.
fn dented() -> Outline {
    let corner = |x, y| Point::new(x, y);
    let line = |start, end| Segment::Line(Line { start, end });
    let dent = Arc {
        centre: corner(10.0, 0.0),
        radius: 4.0,
        start_angle: -std::f64::consts::FRAC_PI_2,
        sweep: -std::f64::consts::PI,
    };
    Outline {
        segments: vec![
            line(corner(-10.0, -10.0), corner(10.0, -10.0)),
            line(corner(10.0, -10.0), dent.start()),
            Segment::Arc(dent),
            line(dent.end(), corner(10.0, 10.0)),
            line(corner(10.0, 10.0), corner(-10.0, 10.0)),
            line(corner(-10.0, 10.0), corner(-10.0, -10.0)),
        ],
    }
}

/// Whether a point lies inside a curve, by how often the curve winds around it.
fn winds_around(outline: &Outline, point: Point) -> bool {
    let at = |segment: &Segment, share: f64| match segment {
        Segment::Line(line) => line.start + (line.end - line.start) * share,
        Segment::Arc(arc) => arc.at(arc.start_angle + arc.sweep * share),
    };
    let steps = 2_000;
    let turn: f64 = outline
        .segments
        .iter()
        .flat_map(|segment| {
            (0..steps).map(move |step| {
                let share = |step: u32| f64::from(step) / f64::from(steps);
                let (a, b) = (
                    at(segment, share(step)) - point,
                    at(segment, share(step + 1)) - point,
                );
                a.perp(&b).atan2(a.dot(&b))
            })
        })
        .sum();
    turn.abs() > std::f64::consts::PI
}

/// The distance to a curve below which the winding of its sampled points says nothing, mm.
const AT_THE_CURVE: f64 = 1e-3;

#[test]
fn an_outline_contains_what_its_curve_winds_around() {
    let mut random = Random::new(11);
    let mut outlines = vec![keyhole(), dented()];
    outlines.extend((0..40).map(|_| random_hull(&mut random)));
    for outline in outlines {
        for _ in 0..60 {
            let point = random.point(60.0);
            let nearest = outline.room_around(point).unwrap().distance.abs();
            if nearest > AT_THE_CURVE {
                assert_eq!(
                    outline.contains(point),
                    winds_around(&outline, point),
                    "{outline:?} {point}"
                );
            }
        }
    }
}

#[test]
fn points_on_a_chord_of_an_arc_are_judged_by_the_curve() {
    let mut outlines = vec![keyhole(), dented()];
    let mut random = Random::new(12);
    outlines.extend((0..200).map(|_| random_hull(&mut random)));
    for outline in outlines {
        for segment in &outline.segments {
            let Segment::Arc(arc) = segment else {
                continue;
            };
            let (start, end) = (arc.start(), arc.end());
            for share in [0.125, 0.25, 0.5, 0.75] {
                let point = start + (end - start) * share;
                let room = outline.room_around(point).unwrap();
                if room.distance.abs() > AT_THE_CURVE {
                    assert_eq!(
                        outline.contains(point),
                        winds_around(&outline, point),
                        "{outline:?} {point}"
                    );
                }
            }
        }
    }
}

#[test]
fn points_level_with_corners_are_judged_like_any_other() {
    let square = points(&[
        [0.0, 0.0],
        [10.0, 0.0],
        [10.0, 10.0],
        [5.0, 5.0],
        [0.0, 10.0],
    ]);
    for (x, y, inside) in [
        (1.0, 5.0, true),
        (9.0, 5.0, true),
        (-1.0, 5.0, false),
        (11.0, 5.0, false),
        (-1.0, 0.0, false),
        (-1.0, 10.0, false),
        (5.0, 10.0, false),
    ] {
        assert_eq!(
            polygon::contains(&square, Point::new(x, y)),
            inside,
            "{x} {y}"
        );
        assert_eq!(
            Outline::polygon(&square).contains(Point::new(x, y)),
            inside,
            "{x} {y}"
        );
    }
}

#[test]
fn a_polygon_contains_what_geo_says_it_does() {
    let mut random = Random::new(13);
    for _ in 0..200 {
        let corners = points(&star(&mut random, 24, 20.0, 60.0));
        let polygon = to_geo(&corners);
        for _ in 0..50 {
            let point = random.point(60.0);
            let expected = polygon.contains(&geo::Point::new(point.x, point.y));
            assert_eq!(polygon::contains(&corners, point), expected);
        }
    }
}

/// The least width of a convex curve between two parallel lines, from its reach in many
/// directions.
fn sampled_width(discs: &[Disc]) -> f64 {
    let reach = |angle: f64| {
        discs
            .iter()
            .map(|d| d.centre.x * angle.cos() + d.centre.y * angle.sin() + d.radius)
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let steps = 20_000;
    (0..steps)
        .map(|step| {
            let angle = std::f64::consts::PI * f64::from(step) / f64::from(steps);
            reach(angle) + reach(angle + std::f64::consts::PI)
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn the_least_width_is_the_least_of_the_reach_both_ways() {
    let mut random = Random::new(14);
    for _ in 0..200 {
        let discs: Vec<Disc> = (0..1 + random.below(6))
            .map(|_| Disc {
                centre: random.point(50.0),
                radius: random.between(5.0, 25.0),
            })
            .collect();
        let width = Outline::hull(&discs).least_width().unwrap();
        // Both sides of the curve are flattened; the sampled directions miss the least by less.
        assert_abs_diff_eq!(width, sampled_width(&discs), epsilon = 2.5 * FLATTENING);
    }
}

#[test]
fn a_flattened_outline_stays_within_its_tolerance() {
    let mut random = Random::new(15);
    for _ in 0..200 {
        let outline = random_hull(&mut random);
        let flat = outline.flattened();
        for edge in polygon::edges(&flat) {
            let middle = nalgebra::center(&edge.start, &edge.end);
            for point in [edge.start, middle] {
                let off = outline.room_around(point).unwrap().distance.abs();
                assert!(off <= FLATTENING * (1.0 + 1e-9), "{off}");
            }
        }
    }
}

#[test]
fn a_smoothed_outline_passes_through_its_points() {
    let mut random = Random::new(16);
    for _ in 0..200 {
        let count = 5 + random.below(30);
        let corners = points(&star(&mut random, count, 30.0, 80.0));
        let curve = polygon::smoothed(&corners);
        for corner in &corners {
            let nearest = curve
                .iter()
                .map(|p| (p - corner).norm())
                .fold(f64::INFINITY, f64::min);
            assert!(nearest < 1e-9, "{nearest}");
        }
    }
}

/// A point of the piece from `p[1]` to `p[2]` by repeated linear interpolation over knots whose
/// steps are the roots of the chords (P. J. Barry, R. N. Goldman: A recursive evaluation algorithm
/// for a class of Catmull-Rom splines, 1988): another construction than Bézier controls.
fn barry_goldman(p: [Point; 4], share: f64) -> Point {
    let step = |a: usize| (p[a + 1] - p[a]).norm().sqrt();
    let t = [0.0, step(0), step(0) + step(1), step(0) + step(1) + step(2)];
    let at = t[1] + (t[2] - t[1]) * share;
    let mix = |a: Point, b: Point, from: f64, to: f64| a + (b - a) * ((at - from) / (to - from));
    let [a, b, c] = [0, 1, 2].map(|i| mix(p[i], p[i + 1], t[i], t[i + 1]));
    mix(mix(a, b, t[0], t[2]), mix(b, c, t[1], t[3]), t[1], t[2])
}

#[test]
fn a_smoothed_outline_is_the_centripetal_spline_within_the_tolerance() {
    let mut random = Random::new(17);
    for _ in 0..50 {
        let corners = points(&star(&mut random, 12, 30.0, 80.0));
        let curve = polygon::smoothed(&corners);
        for index in 0..corners.len() {
            let p = [11, 0, 1, 2].map(|step| corners[(index + step) % corners.len()]);
            for step in 0..=20 {
                let point = barry_goldman(p, f64::from(step) / 20.0);
                let off = polygon::room_around(&curve, point).unwrap().distance.abs();
                assert!(off <= FLATTENING, "{off}");
            }
        }
    }
}

#[test]
fn a_smoothed_start_outline_is_symmetric() {
    let curve = polygon::smoothed(&points(&head::start_outline(160.0, 200.0, 0.3)));
    for point in &curve {
        let mirrored = Point::new(-point.x, point.y);
        let off = polygon::room_around(&curve, mirrored)
            .unwrap()
            .distance
            .abs();
        assert!(off <= FLATTENING, "{off}");
    }
}

#[test]
fn a_start_outline_has_the_width_and_height_asked_for() {
    for squareness in [0.0, 0.4, 0.9] {
        let outline = points(&head::start_outline(160.0, 200.0, squareness));
        let [low, high] = Outline::polygon(&outline).bounds().unwrap();
        assert_abs_diff_eq!(high - low, Vector::new(160.0, 200.0), epsilon = 1e-9);
        assert!(polygon::area(&outline) > 0.0);
    }
}
