//! Circles are told from other shapes, and from those that lie elsewhere.

use std::f64::consts::TAU;

use intake::{Format, Found};

use crate::common::{dxf, found, near, svg};

/// A regular polygon of SVG with its corners 19 mm from (60, 50).
fn polygon(corners: u32) -> String {
    let corner = |index: u32| {
        let turn = 0.1 + TAU * f64::from(index) / f64::from(corners);
        format!("{},{} ", 60.0 + 19.0 * turn.cos(), 50.0 + 19.0 * turn.sin())
    };
    let points: String = (0..corners).map(corner).collect();
    format!(r#"<polygon points="{points}"/>"#)
}

/// A plate of 200 × 100 mm with something in it.
fn in_plate(body: &str) -> Found {
    let plate = r#"<rect x="10" y="5" width="200" height="100"/>"#;
    found(&svg(&format!("{plate}{body}")), Format::Svg)
}

/// Centre and radius of each circle inside the shape that comes first, mm.
fn inside(found: &Found) -> Vec<[f64; 3]> {
    let mm = found.unit.expect("the page says its size");
    let circles = found.circles_inside(found.preferred).into_iter();
    let figures = circles.map(|own| [own.centre.x, own.centre.y, own.radius].map(|own| own * mm));
    figures.collect()
}

#[test]
fn circles_inside_a_shape_are_found_with_centre_and_radius_the_largest_first() {
    let found = in_plate(
        r#"<circle cx="60" cy="50" r="3"/><circle cx="140" cy="55" r="19"/>
        <circle cx="300" cy="50" r="19"/><circle cx="205" cy="50" r="8"/><rect x="20" y="20" width="12" height="12"/>"#,
    );
    let circles = inside(&found);
    assert_eq!(circles.len(), 2, "{circles:?}");
    let expected = [[140.0, -55.0, 19.0], [60.0, -50.0, 3.0]];
    for (figures, expected) in circles.iter().zip(expected) {
        for (figure, expected) in figures.iter().zip(expected) {
            near(*figure, expected, 0.01);
        }
    }
    assert!(found.circles_inside(99).is_empty());
    let small = found.shapes.len() - 1;
    assert!(found.circles_inside(small).is_empty());
}

#[test]
fn a_circle_of_short_edges_is_one_and_a_polygon_of_long_ones_is_none() {
    for corners in [24, 48, 200] {
        let circles = inside(&in_plate(&polygon(corners)));
        assert_eq!(circles.len(), 1, "{corners}");
        let [x, y, radius] = circles[0];
        near(x, 60.0, 0.1);
        near(y, -50.0, 0.1);
        // The edges of a circle of 24 lie 0.16 mm inside it.
        near(radius, 19.0, 0.17);
    }
    for other in [
        polygon(8),
        polygon(16),
        r#"<ellipse cx="60" cy="50" rx="19" ry="18"/>"#.to_owned(),
        r#"<rect x="40" y="30" width="38" height="38" rx="17"/>"#.to_owned(),
        r#"<path d="M 79 50 A 19 19 0 1 1 76 39.3 Z"/>"#.to_owned(),
    ] {
        let circles = inside(&in_plate(&other));
        assert!(circles.is_empty(), "{other}: {circles:?}");
    }
}

#[test]
fn circles_of_dxf_are_found_too() {
    let plate = "0|LWPOLYLINE|8|0|90|4|70|1|10|0|20|0|10|120|20|0|10|120|20|50|10|0|20|50|";
    let circles = "0|CIRCLE|8|0|10|31|20|25|40|19|0|CIRCLE|8|0|10|89|20|25|40|19|";
    let found = found(&dxf("", &format!("{plate}{circles}")), Format::Dxf);
    let circles = inside(&found);
    let mut across: Vec<f64> = circles.iter().map(|[x, ..]| *x).collect();
    across.sort_by(f64::total_cmp);
    assert_eq!(across.len(), 2);
    near(across[0], 31.0, 1e-6);
    near(across[1], 89.0, 1e-6);
    near(circles[0][2], 19.0, 1e-6);
}
