//! Lines and arcs that meet at their ends are one outline, in whatever order and direction they stand.

use intake::Format;

use crate::common::{PATIENCE, arcs, dxf, found, head, in_dxf, in_svg, is_outline, near, refusal};

/// The head as single lines and arcs, in disorder.
const PIECES: [&str; 6] = [
    "0|LINE|10|-60|20|-15|11|-60|21|20|",
    "0|ARC|10|0|20|20|40|60|50|0|51|180|",
    "0|LINE|10|25|20|-50|11|-25|21|-50|",
    "0|ARC|10|25|20|-15|40|35|50|270|51|360|",
    "0|LINE|10|60|20|20|11|60|21|-15|",
    "0|ARC|10|-25|20|-15|40|35|50|180|51|270|",
];

#[test]
fn pieces_in_disorder_are_joined_to_the_head() {
    let shape = in_dxf("", &PIECES.concat());
    is_outline(&shape);
    near(shape.outline.area(), head::area(), 1e-6);
    assert_eq!(arcs(&shape).len(), 3);
}

#[test]
fn ends_a_few_hundredths_apart_meet() {
    let moved = PIECES
        .concat()
        .replace("10|60|20|20|11|60", "10|60.009|20|20.005|11|60");
    let shape = in_dxf("", &moved);
    is_outline(&shape);
    near(shape.outline.area(), head::area(), 1.0);
}

#[test]
fn lines_left_over_from_drawing_do_not_break_the_outline_open() {
    // A centre-line that ends on a corner, a stub on another, and a line twice.
    let extra =
        "0|LINE|10|60|20|-15|11|0|21|0|0|LINE|10|-25|20|-50|11|-25|21|-80|".to_owned() + PIECES[0];
    let found = found(&dxf("", &(extra + &PIECES.concat())), Format::Dxf);
    assert_eq!(found.shapes.len(), 1);
    near(found.shapes[0].outline.area(), head::area(), 1e-6);
    assert_eq!(found.notes, ["3 open paths were left out."]);
}

#[test]
fn a_gap_is_named_with_its_width_and_its_place() {
    let gap = PIECES
        .concat()
        .replace("10|60|20|20|11|60|21|-15", "10|60|20|16.8|11|60|21|-15");
    let error = refusal(dxf("", &gap).as_bytes(), Format::Dxf);
    assert!(
        [
            "The outline is open: its ends lie 3.20 mm apart, one of them 120.0 mm from the left and \
             66.8 mm from the bottom of all that is drawn.",
            "The outline is open: its ends lie 3.20 mm apart, one of them 120.0 mm from the left and \
             70.0 mm from the bottom of all that is drawn.",
        ]
        .contains(&error.to_string().as_str()),
        "{error}"
    );
    assert_eq!(
        error.remedy(),
        "Close the path in the program that drew it, and save it again."
    );
}

#[test]
fn single_lines_of_an_svg_are_joined_too() {
    let shape = in_svg(
        r#"<g stroke="black"><line x1="10" y1="10" x2="60" y2="10"/><line x1="60" y1="50" x2="60" y2="10"/>
        <path fill="none" d="M60 50H10M10 10V50"/></g>"#,
    );
    is_outline(&shape);
    near(shape.outline.area(), 2000.0, 1e-2);
}

#[test]
fn twenty_thousand_lines_from_one_point_are_told_apart_soon() {
    let mut entities = PIECES.concat();
    for step in 0..20_000 {
        entities += &format!(
            "0|LINE|10|60|20|-15|11|{step}|21|-999|0|LINE|10|{step}|20|-999|11|60|21|-15|"
        );
    }
    let started = std::time::Instant::now();
    let found = found(&dxf("", &entities), Format::Dxf);
    near(found.shapes[0].outline.area(), head::area(), 1e-6);
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}
