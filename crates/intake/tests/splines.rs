//! Splines by control points, rational ones, and curves through fit points.

use std::f64::consts::PI;

use crate::common::{arcs, dxf, in_dxf, is_outline, middle, near, refusal, size};
use intake::Format;

/// A spline of a degree through the codes of its knots, weights and points.
fn spline(degree: usize, knots: &[f64], weights: &[f64], points: &[(f64, f64)]) -> String {
    let mut text = format!("0|SPLINE|8|0|70|0|71|{degree}|");
    for knot in knots {
        text += &format!("40|{knot}|");
    }
    for weight in weights {
        text += &format!("41|{weight}|");
    }
    for (x, y) in points {
        text += &format!("10|{x}|20|{y}|30|0|");
    }
    text
}

/// A circle of radius 60 about (5, 8): nine control points of degree 2 (L. Piegl, W. Tiller: The NURBS
/// Book, section 7.5).
fn circle() -> String {
    let root = 0.5_f64.sqrt();
    let points = [
        (1, 0),
        (1, 1),
        (0, 1),
        (-1, 1),
        (-1, 0),
        (-1, -1),
        (0, -1),
        (1, -1),
        (1, 0),
    ];
    let points = points.map(|(x, y)| (5.0 + 60.0 * f64::from(x), 8.0 + 60.0 * f64::from(y)));
    let weights = [1.0, root, 1.0, root, 1.0, root, 1.0, root, 1.0];
    let knots = [0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0];
    spline(2, &knots, &weights, &points)
}

#[test]
fn a_rational_spline_that_is_a_circle_becomes_one_arc() {
    let shape = in_dxf("", &circle());
    is_outline(&shape);
    assert_eq!(
        shape.outline.segments.len(),
        1,
        "{:?}",
        shape.outline.segments
    );
    let arc = arcs(&shape)[0];
    near(arc.radius, 60.0, 0.01);
    near(arc.centre.x, 5.0, 0.01);
    near(arc.centre.y, 8.0, 0.01);
}

#[test]
fn a_cubic_spline_of_one_stretch_is_its_bezier_curve() {
    // Handles of 120 at either end of 120: 18/30·120² under it, and three quarters as high.
    let points = [(0.0, 0.0), (0.0, 120.0), (120.0, 120.0), (120.0, 0.0)];
    let knots = [0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0];
    let entity = spline(3, &knots, &[], &points) + "0|LINE|10|0|20|0|11|120|21|0|";
    let shape = in_dxf("", &entity);
    near(shape.outline.area(), 0.6 * 120.0 * 120.0, 1.0);
    near(size(&shape)[1], 90.0, 0.01);
}

#[test]
fn a_spline_of_degree_one_is_a_polygon() {
    let points = [
        (0.0, 0.0),
        (50.0, 0.0),
        (50.0, 30.0),
        (0.0, 30.0),
        (0.0, 0.0),
    ];
    let knots = [0.0, 0.0, 1.0, 2.0, 3.0, 4.0, 4.0];
    let shape = in_dxf("", &spline(1, &knots, &[], &points));
    near(shape.outline.area(), 1500.0, 1e-6);
}

#[test]
fn a_closed_curve_through_points_of_a_circle_is_nearly_the_circle() {
    let mut entity = "0|SPLINE|70|11|71|3|74|24|".to_owned();
    for step in 0..24 {
        let angle = 2.0 * PI * f64::from(step) / 24.0;
        entity += &format!("11|{}|21|{}|31|0|", 60.0 * angle.cos(), 60.0 * angle.sin());
    }
    let shape = in_dxf("", &entity);
    is_outline(&shape);
    near(shape.outline.area(), PI * 3600.0, 2.0);
    near(size(&shape)[0], 120.0, 0.05);
    near(middle(&shape)[1], 0.0, 0.05);
}

#[test]
fn an_open_curve_through_points_keeps_its_end_directions() {
    // Through the ends and the top of a parabola, with its slopes at the ends: y = 60 − x²/60.
    let mut entity = "0|SPLINE|70|8|71|3|74|13|12|1|22|2|13|1|23|-2|".to_owned();
    for step in -6..=6 {
        let x = 10.0 * f64::from(step);
        entity += &format!("11|{x}|21|{}|", 60.0 - x * x / 60.0);
    }
    let shape = in_dxf("", &(entity + "0|LINE|10|-60|20|0|11|60|21|0|"));
    near(shape.outline.area(), 2.0 / 3.0 * 120.0 * 60.0, 0.5);
}

#[test]
fn a_spline_whose_knots_do_not_fit_is_refused_with_its_line() {
    let bad = circle().replacen("40|4|", "", 1);
    let error = refusal(dxf("", &bad).as_bytes(), Format::Dxf);
    assert_eq!(
        error.to_string(),
        "The spline on line 25 has knots, weights and control points that do not go together."
    );
}
