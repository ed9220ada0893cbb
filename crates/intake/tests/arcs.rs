//! What was drawn as an arc is an arc again.

use std::f64::consts::{PI, TAU};

use layout::geometry::segment::Segment;

use crate::common::{arcs, head, in_dxf, in_svg, is_outline, near};
use crate::svg::HEAD;

#[test]
fn the_arcs_of_a_path_keep_centre_radius_and_turn() {
    let shape = in_svg(&format!(
        r#"<path transform="translate(200 150)" d="{HEAD}"/>"#
    ));
    let mut arcs = arcs(&shape);
    arcs.sort_by(|a, b| {
        a.radius
            .total_cmp(&b.radius)
            .then(a.centre.x.total_cmp(&b.centre.x))
    });
    let should = [
        (175.0, -135.0 - 30.0, head::JAW, PI / 2.0),
        (225.0, -135.0 - 30.0, head::JAW, PI / 2.0),
        (200.0, -130.0, head::CROWN, PI),
    ];
    assert_eq!(arcs.len(), should.len());
    assert_eq!(shape.outline.segments.len(), 6);
    for (arc, (x, y, radius, sweep)) in arcs.iter().zip(should) {
        near(arc.centre.x, x, 0.01);
        near(arc.centre.y, y, 0.01);
        near(arc.radius, radius, 0.01);
        near(arc.sweep, sweep, 1e-4);
    }
}

#[test]
fn a_circle_is_one_arc_of_a_whole_turn() {
    let round = r#"<circle cx="150" cy="90" r="62.5"/>"#;
    // Four cubics with the two handles that programs use: the exact one, and one that strays less.
    let cubics = |handle: f64| {
        let h = 62.5 * handle;
        format!(
            r#"<path transform="translate(150 90)" d="M62.5 0 C62.5 {h} {h} 62.5 0 62.5
            C-{h} 62.5 -62.5 {h} -62.5 0 C-62.5 -{h} -{h} -62.5 0 -62.5
            C{h} -62.5 62.5 -{h} 62.5 0"/>"#
        )
    };
    for body in [
        round.to_owned(),
        cubics(0.552_284_749_8),
        cubics(0.551_915_024_5),
    ] {
        let shape = in_svg(&body);
        let [Segment::Arc(arc)] = shape.outline.segments[..] else {
            panic!("{body}\n{:?}", shape.outline.segments);
        };
        near(arc.centre.x, 150.0, 0.01);
        near(arc.centre.y, -90.0, 0.01);
        near(arc.radius, 62.5, 0.01);
        near(arc.sweep, TAU, 0.0);
    }
}

#[test]
fn round_corners_are_arcs_and_stay_apart_from_straight_sides() {
    let shape = in_svg(r#"<rect x="20" y="30" width="120" height="90" rx="12"/>"#);
    assert_eq!(shape.outline.segments.len(), 8);
    for arc in arcs(&shape) {
        near(arc.radius, 12.0, 0.01);
        near(arc.sweep, PI / 2.0, 1e-4);
    }
    assert_eq!(arcs(&shape).len(), 4);
}

#[test]
fn arcs_turned_and_scaled_evenly_stay_arcs_and_stretched_ones_do_not() {
    let even = in_svg(r#"<circle transform="translate(200 200) rotate(20) scale(-3)" r="20"/>"#);
    near(arcs(&even)[0].radius, 60.0, 0.01);
    let stretched = in_svg(r#"<circle transform="translate(200 200) scale(3 2)" r="20"/>"#);
    assert!(arcs(&stretched).is_empty());
    near(
        stretched.outline.area(),
        PI * 60.0 * 40.0,
        5e-4 * PI * 2400.0,
    );
}

#[test]
fn bulges_become_arcs_to_the_last_digit() {
    // Corners and bulges of the head, the tangents of a quarter of each turn.
    let quarter = (PI / 8.0).tan();
    let entity = format!(
        "0|LWPOLYLINE|8|0|90|6|70|1|10|60|20|-15|10|60|20|20|42|1|10|-60|20|20|10|-60|20|-15|42|{quarter}|\
         10|-25|20|-50|10|25|20|-50|42|{quarter}|"
    );
    let shape = in_dxf("", &entity);
    is_outline(&shape);
    assert_eq!(shape.outline.segments.len(), 6);
    near(shape.outline.area(), head::area(), 1e-7);
    for arc in arcs(&shape) {
        let radius = if arc.sweep > 3.0 {
            head::CROWN
        } else {
            head::JAW
        };
        near(arc.radius, radius, 1e-9);
    }
}

#[test]
fn an_arc_of_more_than_a_half_turn_is_one_arc_wherever_its_path_begins() {
    // A keyhole: a disc of radius 50 about (100, 100) whose lowest 80 mm are cut off level.
    for path in [
        "M140 130 A50 50 0 1 0 60 130 Z",
        "M100 50 A50 50 0 0 0 60 130 L140 130 A50 50 0 0 0 100 50 Z",
    ] {
        let shape = in_svg(&format!(r#"<path d="{path}"/>"#));
        is_outline(&shape);
        assert_eq!(
            shape.outline.segments.len(),
            2,
            "{:?}",
            shape.outline.segments
        );
        let arc = arcs(&shape)[0];
        near(arc.radius, 50.0, 0.01);
        near(arc.sweep, TAU - 2.0 * (0.8_f64).asin(), 1e-4);
    }
}
