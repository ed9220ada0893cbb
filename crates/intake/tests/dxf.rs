//! Planted shapes are found again through every entity of DXF.

use std::f64::consts::PI;

use intake::Format;

use crate::common::{arcs, centroid, dxf, found, head, in_dxf, is_outline, middle, near, size};

/// The tangent of a quarter of a quarter turn.
pub(crate) const QUARTER: f64 = 0.414_213_562_373_095_03;

/// The head as a heavy polyline of R12.
pub(crate) fn heavy() -> String {
    let corners = [
        (60.0, -15.0, 0.0),
        (60.0, 20.0, 1.0),
        (-60.0, 20.0, 0.0),
        (-60.0, -15.0, QUARTER),
        (-25.0, -50.0, 0.0),
        (25.0, -50.0, QUARTER),
    ];
    let mut text = "0|POLYLINE|8|outline|66|1|70|1|".to_owned();
    for (x, y, bulge) in corners {
        text += &format!("0|VERTEX|8|outline|10|{x}|20|{y}|30|0|42|{bulge}|");
    }
    text + "0|SEQEND|8|outline|"
}

#[test]
fn a_polyline_of_r12_with_bulges_is_the_head() {
    let text = format!("0|SECTION|2|ENTITIES|{}0|ENDSEC|0|EOF|", heavy()).replace('|', "\r\n");
    let found = found(&text, Format::Dxf);
    assert_eq!(found.unit, None);
    let shape = &found.shapes[0];
    is_outline(shape);
    near(shape.outline.area(), head::area(), 1e-7);
    near(middle(shape)[1], 15.0, 1e-9);
    near(
        centroid(shape).y - 15.0,
        head::centroid_above_middle(),
        0.01,
    );
    assert_eq!(shape.name.as_deref(), Some("layer outline"));
}

#[test]
fn circles_and_ellipses_are_found_with_area_and_centre() {
    let cases = [
        ("0|CIRCLE|10|12|20|-7|40|55.5|", PI * 55.5 * 55.5),
        (
            "0|ELLIPSE|10|12|20|-7|11|30|21|40|40|0.6|41|0|42|6.283185307179586|",
            PI * 2500.0 * 0.6,
        ),
    ];
    for (entity, area) in cases {
        let shape = in_dxf("", entity);
        is_outline(&shape);
        near(shape.outline.area(), area, 1e-4 * area);
        near(middle(&shape)[0], 12.0, 1e-3);
        near(middle(&shape)[1], -7.0, 1e-3);
    }
}

#[test]
fn half_an_ellipse_and_its_chord_close() {
    // The upper half of 60 × 40 about the origin.
    let shape = in_dxf(
        "",
        "0|ELLIPSE|10|0|20|0|11|60|21|0|40|0.6666666666666666|41|0|42|3.141592653589793|\
         0|LINE|10|-60|20|0|11|60|21|0|",
    );
    near(shape.outline.area(), PI * 60.0 * 40.0 / 2.0, 0.5);
    near(middle(&shape)[1], 20.0, 1e-3);
}

#[test]
fn what_is_seen_from_the_back_is_mirrored() {
    let from_back = "210|0|220|0|230|-1|";
    let circle = in_dxf("", &format!("0|CIRCLE|10|30|20|5|40|10|{from_back}"));
    near(middle(&circle)[0], -30.0, 1e-9);
    near(middle(&circle)[1], 5.0, 1e-9);
    // An arc over the upper right, seen from the back: over the upper left.
    let arc = format!("0|ARC|10|0|20|0|40|50|50|0|51|90|{from_back}0|LINE|10|0|20|50|11|-50|21|0|");
    let shape = in_dxf("", &arc);
    near(middle(&shape)[0], -25.0, 1e-9);
    near(arcs(&shape)[0].radius, 50.0, 1e-9);
    // An ellipse stands in the world's coordinates, and only runs the other way.
    let half = format!(
        "0|ELLIPSE|10|0|20|0|11|60|21|0|40|0.5|41|0|42|3.141592653589793|{from_back}\
         0|LINE|10|-60|20|0|11|60|21|0|"
    );
    near(middle(&in_dxf("", &half))[1], -15.0, 1e-3);
}

#[test]
fn what_lies_aslant_is_left_out_and_said() {
    let aslant = "0|CIRCLE|10|0|20|0|40|500|210|0|220|0.7071|230|0.7071|";
    let found = found(
        &dxf("", &format!("{aslant}0|CIRCLE|10|0|20|0|40|50|")),
        Format::Dxf,
    );
    assert_eq!(found.shapes.len(), 1);
    assert_eq!(
        found.notes,
        ["One piece that lies aslant in space was left out."]
    );
}

#[test]
fn frozen_and_switched_off_layers_and_paper_space_are_left_out() {
    let text = dxf(
        "",
        "0|CIRCLE|8|Cold|10|0|20|0|40|90|0|CIRCLE|8|DARK|10|0|20|0|40|80|\
         0|CIRCLE|67|1|10|0|20|0|40|70|0|CIRCLE|60|1|10|0|20|0|40|60|0|CIRCLE|8|seen|10|0|20|0|40|50|",
    );
    let tables =
        "0|SECTION|2|TABLES|0|TABLE|2|LAYER|0|LAYER|2|COLD|70|1|62|7|0|LAYER|2|dark|70|0|62|-3|\
        0|LAYER|2|seen|70|4|62|7|0|ENDTAB|0|ENDSEC|"
            .replace('|', "\n");
    let text = text.replacen(
        "0\nSECTION\n2\nBLOCKS",
        &format!("{tables}0\nSECTION\n2\nBLOCKS"),
        1,
    );
    let found = found(&text, Format::Dxf);
    let names: Vec<_> = found.shapes.iter().map(|s| s.name.as_deref()).collect();
    assert_eq!(names, [Some("layer seen")]);
}

#[test]
fn the_pulling_corners_of_a_smoothed_polyline_are_passed_over() {
    let corner = |x: f64, y: f64, flags: u8| format!("0|VERTEX|10|{x}|20|{y}|70|{flags}|");
    let mut text = "0|POLYLINE|66|1|70|5|".to_owned();
    for (x, y, flags) in [
        (0.0, 0.0, 8),
        (500.0, -500.0, 16),
        (40.0, 0.0, 8),
        (40.0, 30.0, 8),
    ] {
        text += &corner(x, y, flags);
    }
    let shape = in_dxf("", &(text + "0|SEQEND|"));
    near(shape.outline.area(), 600.0, 1e-9);
}

#[test]
fn a_drawing_far_from_its_origin_keeps_its_figures() {
    let shape = in_dxf("", "0|CIRCLE|10|5000000|20|-3000000|40|60|");
    near(arcs(&shape)[0].radius, 60.0, 1e-6);
    let centred = shape.centred();
    near(middle(&centred)[0], 0.0, 1e-9);
    near(size(&centred)[1], 120.0, 1e-6);
}

#[test]
fn the_same_bytes_give_the_same_shapes() {
    let text = dxf(
        "",
        &(heavy() + "0|LINE|10|0|20|0|11|5|21|5|0|CIRCLE|10|9|20|9|40|5|"),
    );
    assert_eq!(found(&text, Format::Dxf), found(&text, Format::Dxf));
}
