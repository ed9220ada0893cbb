//! Whatever cannot be used is refused in one plain sentence, and one that says what would help.

use std::fmt::Write;

use intake::Format;

use crate::common::{PATIENCE, dxf, found, refusal, svg};
use crate::dxf::heavy;

#[track_caller]
fn refused(bytes: impl AsRef<[u8]>, format: Format, sentence: &str, remedy: &str) {
    let error = refusal(bytes.as_ref(), format);
    assert_eq!(error.to_string(), sentence);
    assert_eq!(error.remedy(), remedy);
}

const AGAIN: &str = "Save it again in the program that made it.";
const SIZE: &str = "Give the outline a width and a height, and save it again.";
const DRAW: &str =
    "Draw the outline as a closed path, polygon, ellipse, circle or rectangle, and save it again.";
const CLOSE: &str = "Close the path in the program that drew it, and save it again.";
const FEWER: &str = "Keep the outline alone in the file, with fewer points.";

#[test]
fn an_open_path_is_refused_with_the_width_and_place_of_its_gap() {
    let body = r#"<path fill="none" stroke="black" d="M100 50 H300 V250 H100 V62.5"/>"#;
    refused(
        svg(body),
        Format::Svg,
        "The outline is open: its ends lie 12.50 mm apart, one of them 0.0 mm from the left and 187.5 mm \
         from the bottom of all that is drawn.",
        CLOSE,
    );
    let bare =
        r#"<svg xmlns="http://www.w3.org/2000/svg"><polyline points="0,0 90,0 90,50"/></svg>"#;
    let error = refusal(bare.as_bytes(), Format::Svg);
    assert!(error.to_string().contains("102.96 units apart"), "{error}");
}

#[test]
fn an_open_path_beside_a_closed_one_is_only_said() {
    let body = r#"<path stroke="black" d="M0 0L90 90"/><circle cx="50" cy="50" r="40"/>"#;
    let found = found(&svg(body), Format::Svg);
    assert_eq!(found.shapes.len(), 1);
    assert_eq!(found.notes, ["One open path was left out."]);
}

#[test]
fn a_shape_that_crosses_itself_is_marked_and_others_stay_usable() {
    let body = r#"<path d="M0 0L200 200H0L200 0Z"/><circle cx="300" cy="50" r="40"/>"#;
    let found = found(&svg(body), Format::Svg);
    let crossing = { found.shapes.iter() }.find(|shape| shape.crosses_at.is_some());
    let crossing = crossing.unwrap().scaled(found.unit.unwrap());
    let error = crossing.points(500).unwrap_err();
    assert_eq!(
        error.to_string(),
        "The shape crosses or touches itself, 100.0 mm from the left and 100.0 mm from the bottom of the shape."
    );
    assert_eq!(error.remedy(), "Choose another shape, or redraw it there.");
    let sound = found
        .shapes
        .iter()
        .find(|shape| shape.crosses_at.is_none())
        .unwrap();
    assert!(sound.points(500).is_ok());
}

#[test]
fn a_file_without_a_closed_shape_is_refused() {
    refused(
        svg(""),
        Format::Svg,
        "The file holds no closed shape.",
        DRAW,
    );
    refused(
        svg(r#"<text x="9" y="9">Bramble</text>"#),
        Format::Svg,
        "The file holds no closed shape.",
        DRAW,
    );
    refused(
        dxf("", "0|TEXT|10|0|20|0|1|Bramble|0|POINT|10|5|20|5|"),
        Format::Dxf,
        "The file holds no closed shape.",
        DRAW,
    );
}

#[test]
fn what_has_no_size_is_refused() {
    for body in [
        r#"<path d="M50 50z"/>"#,
        r#"<path d="M50 50H90H50z"/>"#,
        r#"<polygon points="1,1 1,1 1,1"/>"#,
        r#"<path d="M10 10L90 90L30 30Z"/>"#,
    ] {
        let error = refusal(svg(body).as_bytes(), Format::Svg);
        let remedy = match error.to_string().as_str() {
            "What the file draws has no area." => SIZE,
            "The file holds no closed shape." => DRAW,
            other => panic!("{body}: {other}"),
        };
        assert_eq!(error.remedy(), remedy);
    }
    refused(
        dxf("", "0|CIRCLE|10|5|20|5|40|0|"),
        Format::Dxf,
        "What the file draws has no area.",
        SIZE,
    );
}

#[test]
fn a_rectangle_a_circle_and_an_ellipse_without_a_size_are_told_so() {
    for body in [
        r#"<rect x="10" y="10" width="0" height="90"/>"#,
        r#"<circle cx="50" cy="50" r="0mm"/>"#,
        r#"<ellipse cx="50" cy="50" rx="40" ry="0.0"/>"#,
    ] {
        let text = svg(body);
        refused(&text, Format::Svg, "What the file draws has no area.", SIZE);
    }
}

#[test]
fn an_svg_whose_page_has_no_size_is_refused() {
    let text = r#"<svg xmlns="http://www.w3.org/2000/svg" width="0" height="10"><rect width="9" height="9"/></svg>"#;
    refused(text, Format::Svg, "What the file draws has no area.", SIZE);
}

#[test]
fn ten_megabytes_of_points_are_refused_soon() {
    let started = std::time::Instant::now();
    let mut path = "M0 0".to_owned();
    let mut step = 0;
    while path.len() < 10_000_000 {
        step += 1;
        write!(path, "L{step} {}", step % 7).unwrap();
    }
    refused(
        svg(&format!(r#"<path d="{path}Z"/>"#)),
        Format::Svg,
        "The file has 10.0 MB, and at most 8 MB are read.",
        FEWER,
    );
    // A little less than that of the one thing that is shortest to write.
    let short = "h1v1".repeat(1_950_000);
    refused(
        svg(&format!(r#"<path d="M0 0{short}Z"/>"#)),
        Format::Svg,
        "The drawing has more than 100000 points, which is the most that is read.",
        FEWER,
    );
    let corners = "10|1|20|2|10|2|20|1|".repeat(380_000);
    refused(
        dxf("", &format!("0|LWPOLYLINE|70|1|{corners}")),
        Format::Dxf,
        "The drawing has more than 100000 points, which is the most that is read.",
        FEWER,
    );
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn a_shape_too_fine_to_be_looked_through_is_refused_soon() {
    // Every edge reaches across the whole shape, so that each could cross each.
    let mut points = String::new();
    for step in 0..45_000 {
        write!(points, "{},{} {},{} ", 0, step, 200, f64::from(step) + 0.5).unwrap();
    }
    let started = std::time::Instant::now();
    refused(
        svg(&format!(r#"<polygon points="{points}"/>"#)),
        Format::Svg,
        "The drawing has more than 10000 points, which is the most that is read.",
        FEWER,
    );
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn shapes_just_fine_enough_are_looked_through_soon() {
    let mut points = String::new();
    for step in 0..4_900 {
        write!(points, "{},{} {},{} ", 0, step, 200, f64::from(step) + 0.5).unwrap();
    }
    let started = std::time::Instant::now();
    let around = "-9,4900 -9,-9";
    let body = format!(r#"<polygon points="{points}{around}"/>"#).repeat(10);
    let found = found(&svg(&body), Format::Svg);
    assert!(found.shapes.iter().all(|shape| shape.crosses_at.is_none()));
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn text_with_another_ending_is_refused() {
    refused(
        "Dear maker,\nhere is the outline.\n",
        Format::Svg,
        "The file is no SVG: it does not begin with “<”.",
        AGAIN,
    );
    refused(
        "Dear maker,\nhere is the outline.\n",
        Format::Dxf,
        "The file is no DXF: it does not begin with a group code.",
        AGAIN,
    );
    refused(
        "0\nCIRCLE\n40\n5\n0\nEOF\n",
        Format::Dxf,
        "The file is no DXF: it does not begin with a section.",
        AGAIN,
    );
    let page = "<html><body><p>An outline</p></body></html>";
    assert!(
        refusal(page.as_bytes(), Format::Svg)
            .to_string()
            .starts_with("The file is no SVG: ")
    );
}

#[test]
fn empty_binary_compressed_and_wide_files_are_refused() {
    refused(" \n", Format::Svg, "The file is empty.", AGAIN);
    refused("", Format::Dxf, "The file is empty.", AGAIN);
    refused(
        b"any sentinel\r\n\x1a\0\0\x02\0".as_slice(),
        Format::Dxf,
        "The file is a binary DXF, and DXF is read as text.",
        "Save it again as ASCII DXF.",
    );
    refused(
        b"\x89PNG\r\n\x1a\n\0\0\0".as_slice(),
        Format::Svg,
        "The file holds no text, so it is no SVG.",
        AGAIN,
    );
    refused(
        b"\x1f\x8b\x08\0\0".as_slice(),
        Format::Svg,
        "The file is compressed, and SVG is read as plain text.",
        "Save it again uncompressed.",
    );
    let wide: Vec<u8> = "\u{feff}<svg/>"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    refused(
        wide,
        Format::Svg,
        "The file is written in UTF-16, and SVG is read in UTF-8.",
        "Save it again in UTF-8.",
    );
}

#[test]
fn one_byte_letters_and_a_byte_order_mark_are_read() {
    let mut latin =
        br#"<?xml version="1.0" encoding="ISO-8859-1"?><svg xmlns="http://www.w3.org/2000/svg">
        <circle id="K"#
            .to_vec();
    latin.extend(b"\xf6pfchen\" r=\"9\"/></svg>");
    let found = intake::read(&latin, Format::Svg).unwrap();
    assert_eq!(found.shapes[0].name.as_deref(), Some("Köpfchen"));
    let marked = format!("\u{feff}{}", svg(r#"<circle r="9"/>"#));
    assert_eq!(
        intake::read(marked.as_bytes(), Format::Svg)
            .unwrap()
            .shapes
            .len(),
        1
    );
}

#[test]
fn a_file_cut_off_anywhere_is_refused_with_its_last_line() {
    let text = svg("<g>\n<circle r=\"9\"/>\n</g>");
    for end in [text.len() - 6, text.len() - 10, text.len() - 14] {
        let error = refusal(&text.as_bytes()[..end], Format::Svg).to_string();
        assert!(
            error.starts_with("The file is cut off after line "),
            "{error}"
        );
    }
    let text = dxf("", &heavy());
    for end in (40..text.len() - 5).step_by(7) {
        let error = refusal(&text.as_bytes()[..end], Format::Dxf).to_string();
        assert!(
            error.starts_with("The file is cut off after line ")
                || error.starts_with("The file is no DXF"),
            "{end}: {error}"
        );
    }
}

#[test]
fn numbers_that_are_none_are_refused_with_their_place() {
    refused(
        svg(r#"<polygon points="0,0 nan,5 9,9"/>"#),
        Format::Svg,
        "A “polygon” of the file holds “nan,5 9,9” in place of a number.",
        AGAIN,
    );
    refused(
        svg(r#"<path d="M0 0 L1e400 5 L9 9Z"/>"#),
        Format::Svg,
        "A “path” of the file holds “L1e400” in place of a number.",
        AGAIN,
    );
    refused(
        svg(r#"<circle r="inf"/>"#),
        Format::Svg,
        "A “circle” of the file holds “inf” in place of a number.",
        AGAIN,
    );
    for (value, shown) in [
        ("nan", "nan"),
        ("1e999", "1e999"),
        ("five", "five"),
        ("", ""),
    ] {
        refused(
            dxf("", &format!("0|CIRCLE|10|0|20|0|40|{value}|")),
            Format::Dxf,
            &format!("Line 32 holds “{shown}” in place of a number."),
            AGAIN,
        );
    }
    refused(
        dxf("", "0|CIRCLE|10|0|20|0|forty|5|"),
        Format::Dxf,
        "Line 31, where a group code should stand, holds “forty” in place of a number.",
        AGAIN,
    );
    refused(
        dxf("", "0|CIRCLE|10|0|20|0|"),
        Format::Dxf,
        "The CIRCLE on line 25 lacks its value 40.",
        AGAIN,
    );
    refused(
        dxf("", "0|CIRCLE|10|0|20|0|40|1e200|"),
        Format::Dxf,
        "The drawing reaches farther than 1e9 units, or to where no number says.",
        "Move the outline near the drawing's origin, and save it again.",
    );
}

#[test]
fn a_shape_of_the_wrong_size_for_a_head_is_refused_with_its_size() {
    let found = found(&dxf("", "0|CIRCLE|10|0|20|0|40|60|"), Format::Dxf);
    let error = found.shapes[0].scaled(1000.0).points(100).unwrap_err();
    assert_eq!(
        error.to_string(),
        "The shape is 120000.00 mm wide and 120000.00 mm high, and must have 0.01 to 2000 mm."
    );
    assert_eq!(error.remedy(), "Choose another unit for the drawing.");
}
