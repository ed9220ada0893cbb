//! The corners that an outline is drawn with.

use std::f64::consts::{PI, TAU};

use layout::closed_curve::MOST_POINTS;
use layout::geometry::{Point, polygon};

use crate::common::{PATIENCE, head, in_dxf, in_svg, near};
use crate::dxf::heavy;

/// How far the corners of `a` lie from the polygon through those of `b`, at most.
fn farthest(a: &[Point], b: &[Point]) -> f64 {
    let off = |p: &Point| {
        let gaps = polygon::edges(b).map(|edge| (edge.nearest(*p) - p).norm());
        gaps.fold(f64::INFINITY, f64::min)
    };
    a.iter().map(off).fold(0.0, f64::max)
}

fn corners(points: &[[f64; 2]]) -> Vec<Point> {
    points.iter().map(|&p| p.into()).collect()
}

#[test]
fn the_corners_lie_within_a_twentieth_of_a_millimetre_of_the_outline() {
    let shape = in_dxf("", &heavy());
    let points = corners(&shape.points(MOST_POINTS).unwrap());
    assert!(points.len() < 150, "{}", points.len());
    let fine = corners(
        &shape
            .scaled(100.0)
            .outline
            .flattened()
            .iter()
            .map(|p| [p.x / 100.0, p.y / 100.0])
            .collect::<Vec<_>>(),
    );
    assert!(farthest(&points, &fine) <= 0.05);
    assert!(farthest(&fine, &points) <= 0.05);
    assert!(polygon::self_crossing(&points).is_none());
    near(polygon::area(&points), head::area(), 10.0);
}

#[test]
fn corners_of_a_polygon_stay_as_they_are() {
    let shape = in_svg(r#"<polygon points="10,10 10,60 90,60 90,10"/>"#);
    let points = shape.points(100).unwrap();
    assert_eq!(points.len(), 4);
    near(polygon::area(&corners(&points)), 4000.0, 0.01);
}

#[test]
fn fewer_points_are_given_where_fewer_are_wanted() {
    let shape = in_dxf("", &heavy());
    for most in [64, 32, 12, 5, 3, 0] {
        let points = corners(&shape.points(most).unwrap());
        assert!(points.len() <= most.max(3), "{} for {most}", points.len());
        assert!(polygon::self_crossing(&points).is_none());
        assert!(polygon::area(&points) > 0.0);
    }
}

#[test]
fn a_comb_with_narrow_teeth_never_comes_to_cross_itself() {
    // Teeth 0.2 mm thick with round tips, 0.1 mm apart: thinning must not bridge them.
    let mut path = "M0 60".to_owned();
    for tooth in 0..80 {
        let x = f64::from(tooth) * 0.3;
        path += &format!(" L{x} 20 A0.1 0.1 0 0 1 {} 20 L{} 60", x + 0.2, x + 0.2);
    }
    let shape = in_svg(&format!(r#"<path d="{path} L24 70 L0 70 Z"/>"#));
    for most in [2_000, 300, 170, 100, 40, 10] {
        let points = corners(&shape.points(most).unwrap());
        assert!(points.len() <= most);
        assert!(polygon::self_crossing(&points).is_none(), "{most}");
        assert!(polygon::area(&points) > 0.0);
    }
}

#[test]
fn a_wavy_line_of_ten_thousand_corners_is_thinned_soon() {
    let started = std::time::Instant::now();
    let point = |step: u32| {
        let angle = TAU * f64::from(step) / 9_900.0;
        let radius = 70.0 + 3.0 * (40.0 * angle).sin() + 0.4 * (1_500.0 * angle).sin();
        format!(
            "{},{} ",
            150.0 + radius * angle.cos(),
            150.0 + radius * angle.sin()
        )
    };
    let points: String = (0..9_900).map(point).collect();
    let shape = in_svg(&format!(r#"<polygon points="{points}"/>"#));
    assert_eq!(shape.crosses_at, None);
    let thinned = corners(&shape.points(MOST_POINTS).unwrap());
    assert!(thinned.len() <= MOST_POINTS);
    assert!(polygon::self_crossing(&thinned).is_none());
    near(
        polygon::area(&thinned),
        PI * 70.0 * 70.0,
        0.01 * PI * 4900.0,
    );
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn the_same_shape_gives_the_same_corners() {
    let shape = in_dxf("", &heavy());
    assert_eq!(shape.points(40).unwrap(), shape.points(40).unwrap());
}
