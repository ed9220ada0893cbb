//! Planted shapes are found again through every construct of SVG.

use std::f64::consts::PI;

use intake::Format;

use crate::common::{centroid, found, head, in_svg, is_outline, middle, near, size, svg};

/// The head in SVG, y downward, about (0, 0).
pub(crate) const HEAD: &str = "M -60 15 L -60 -20 A 60 60 0 0 1 60 -20 L 60 15 \
    A 35 35 0 0 1 25 50 L -25 50 A 35 35 0 0 1 -60 15 Z";

#[track_caller]
fn is_head(body: &str, scale: f64, at: [f64; 2]) {
    let shape = in_svg(body);
    is_outline(&shape);
    near(
        shape.outline.area(),
        head::area() * scale * scale,
        0.01 * scale * scale,
    );
    let [width, height] = size(&shape);
    near(width, head::SIZE[0] * scale, 1e-3);
    near(height, head::SIZE[1] * scale, 1e-3);
    let [x, y] = middle(&shape);
    near(x, at[0], 1e-3);
    // The head's middle lies 15 mm above its origin, and a page's y runs downward.
    near(y, -at[1] + 15.0 * scale, 1e-3);
    let above = centroid(&shape).y - y;
    near(above, head::centroid_above_middle() * scale, 0.01 * scale);
    assert_eq!(shape.crosses_at, None);
}

#[test]
fn a_path_with_arcs_is_found_where_it_stands() {
    is_head(
        &format!(r#"<path id="head" transform="translate(200 150)" d="{HEAD}"/>"#),
        1.0,
        [200.0, 150.0],
    );
}

#[test]
fn nested_transforms_are_carried_out_from_the_inside_out() {
    let body = format!(
        r#"<g transform="translate(200,150)"><g transform="rotate(90)"><g transform="scale(1.5)">
        <path transform="matrix(0 -1 1 0 0 0)" d="{HEAD}"/></g></g></g>"#
    );
    is_head(&body, 1.5, [200.0, 150.0]);
}

#[test]
fn copies_stand_where_they_are_used() {
    let body = format!(
        r##"<defs><g id="a"><path d="{HEAD}"/></g><g id="b"><use href="#a" x="10"/></g></defs>
        <use xlink:href="#b" x="90" y="150"/>"##
    );
    is_head(&body, 1.0, [100.0, 150.0]);
}

#[test]
fn a_symbol_is_scaled_to_where_it_is_used() {
    let body = format!(
        r##"<symbol id="s" viewBox="-70 -90 140 150"><path d="{HEAD}"/></symbol>
        <use href="#s" x="60" y="30" width="280" height="300"/>"##
    );
    is_head(&body, 2.0, [200.0, 210.0]);
}

#[test]
fn a_view_box_scales_what_it_shows() {
    // 70 × 75 mm show 140 × 150 units: each is half a millimetre.
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="7cm" height="7.5cm" viewBox="-70 -90 140 150">
        <path d="{HEAD}"/></svg>"#
    );
    let found = found(&text, Format::Svg);
    let shape = found.shapes[0].scaled(found.unit.unwrap());
    near(shape.outline.area(), head::area() / 4.0, 0.01);
}

#[test]
fn every_basic_shape_is_found_with_its_area() {
    let cases = [
        (
            r#"<rect x="40" y="60" width="120" height="90"/>"#,
            120.0 * 90.0,
        ),
        (
            r#"<rect x="40" y="60" width="120" height="90" rx="20"/>"#,
            120.0 * 90.0 - (4.0 - PI) * 400.0,
        ),
        (r#"<circle cx="100" cy="105" r="60"/>"#, PI * 3600.0),
        (
            r#"<ellipse cx="100" cy="105" rx="60" ry="45"/>"#,
            PI * 2700.0,
        ),
        (
            r#"<polygon points="40,60 160,60 160,150 40,150"/>"#,
            120.0 * 90.0,
        ),
        (
            r#"<polyline points="40,60 160,60 160,150 40,150 40,60"/>"#,
            120.0 * 90.0,
        ),
        (r#"<path d="M40 60h120v90h-120z"/>"#, 120.0 * 90.0),
        // A parabola under its chord of 120 and 90 high at its handle: two thirds of a block 45 high.
        (
            r#"<path d="M40 60q60 90 120 0z"/>"#,
            2.0 / 3.0 * 120.0 * 45.0,
        ),
        // Its height is 360·t·(1 − t) and it moves on by 720·t·(1 − t): 360·720/30 under it.
        (
            r#"<path d="M40 60c0 120 120 120 120 0z"/>"#,
            360.0 * 720.0 / 30.0,
        ),
    ];
    for (body, area) in cases {
        let shape = in_svg(body);
        is_outline(&shape);
        // usvg's round cubics are a quarter thousandth off their radius.
        near(shape.outline.area(), area, 5e-4 * area);
        near(middle(&shape)[0], 100.0, 0.01);
    }
}

#[test]
fn lengths_with_units_are_what_they_say() {
    for (body, area) in [
        (r#"<rect width="30mm" height="2cm"/>"#, 600.0),
        (r#"<rect width="2in" height="72pt"/>"#, 2.0 * 25.4 * 25.4),
        (r#"<rect width="96px" height="6pc"/>"#, 25.4 * 25.4),
    ] {
        let text = format!(r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm">{body}</svg>"#);
        let found = found(&text, Format::Svg);
        let shape = found.shapes[0].scaled(found.unit.unwrap());
        near(shape.outline.area(), area, 1e-3);
    }
}

#[test]
fn an_outline_that_is_not_painted_is_found_where_nothing_is() {
    is_head(
        &format!(
            r#"<path fill="none" style="stroke:none;fill:none" transform="translate(200 150)" d="{HEAD}"/>"#
        ),
        1.0,
        [200.0, 150.0],
    );
}

#[test]
fn what_is_painted_comes_before_what_is_not() {
    let body = format!(
        r#"<rect width="400" height="400" fill="none"/><path transform="translate(200 150)" d="{HEAD}"/>"#
    );
    is_head(&body, 1.0, [200.0, 150.0]);
    let found = found(&svg(&body), Format::Svg);
    assert_eq!(
        found.notes,
        ["One path without fill and stroke was left out."]
    );
}

#[test]
fn what_is_not_displayed_is_not_found() {
    let body = format!(
        r#"<style>.off {{ display: none }}</style><g class="off"><rect width="400" height="400"/></g>
        <rect width="390" height="390" visibility="hidden"/>
        <clipPath id="c"><rect width="380" height="380"/></clipPath>
        <path clip-path="url(#c)" transform="translate(200 150)" d="{HEAD}"/>"#
    );
    is_head(&body, 1.0, [200.0, 150.0]);
}

#[test]
fn shapes_stand_largest_first_with_the_names_that_the_file_gives() {
    let body = r#"<g id="layer"><circle cx="50" cy="50" r="10"/></g><rect id="page" width="300" height="200"/>
        <path id="pair" d="M10 10h40v40h-40zM100 100h20v20h-20z"/>"#;
    let found = found(&svg(body), Format::Svg);
    let names: Vec<_> = found
        .shapes
        .iter()
        .map(|s| s.name.as_deref().unwrap())
        .collect();
    assert_eq!(names, ["page", "pair", "pair", "layer"]);
    let areas: Vec<f64> = found.shapes.iter().map(|s| s.outline.area()).collect();
    assert!(areas.is_sorted_by(|a, b| a >= b), "{areas:?}");
}

#[test]
fn a_clockwise_path_comes_out_counter_clockwise() {
    for path in ["M0 0h50v30h-50z", "M0 0v30h50v-30z"] {
        is_outline(&in_svg(&format!(r#"<path d="{path}"/>"#)));
    }
}

#[test]
fn the_same_bytes_give_the_same_shapes() {
    let text = svg(&format!(
        r#"<path d="{HEAD}"/><circle r="20"/><path d="M0 0L9 9"/>"#
    ));
    assert_eq!(found(&text, Format::Svg), found(&text, Format::Svg));
}

#[test]
fn a_ground_as_large_as_the_page_is_offered_but_not_first() {
    let page = r#"<rect width="210" height="297"/>"#;
    let oval = r#"<ellipse cx="100" cy="120" rx="75" ry="90"/>"#;
    let frame = r#"<rect x="5" y="5" width="200" height="287"/>"#;
    let preferred = |body: &str| {
        let text = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">{body}</svg>"#
        );
        let found = found(&text, Format::Svg);
        (found.shapes.len(), found.preferred)
    };
    assert_eq!(preferred(&[page, oval].concat()), (2, 1));
    assert_eq!(preferred(&[frame, oval].concat()), (2, 0));
    assert_eq!(preferred(page), (1, 0));
}
