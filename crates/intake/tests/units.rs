//! What one unit means: said by the file, or asked.

use approx::assert_relative_eq;
use intake::{Format, Unit};

use crate::common::{dxf, found};

fn svg_unit(root: &str) -> Option<f64> {
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" {root}><rect width="9" height="9"/></svg>"#
    );
    found(&text, Format::Svg).unit
}

#[test]
fn an_svg_with_a_size_in_a_unit_of_length_needs_no_question() {
    // 96 px are an inch: CSS Values and Units Level 3, 5.2 "Absolute lengths".
    for root in [
        r#"width="100mm" height="80mm" viewBox="0 0 100 80""#,
        r#"width="4in" height="3in""#,
        r#"width="210pt" viewBox="0 0 210 297""#,
    ] {
        assert_relative_eq!(svg_unit(root).unwrap(), 25.4 / 96.0);
    }
}

#[test]
fn an_svg_in_bare_pixels_leaves_its_unit_open() {
    for root in [
        "",
        r#"width="100" height="80""#,
        r#"width="100px" height="80px" viewBox="0 0 100 80""#,
        r#"viewBox="0 0 100 80""#,
        r#"width="100%" height="100%" viewBox="0 0 100 80""#,
    ] {
        assert_eq!(svg_unit(root), None, "{root}");
    }
}

#[test]
fn the_header_of_a_dxf_says_its_unit() {
    // Values of $INSUNITS: the DXF reference, "HEADER section group codes".
    let says = [
        ("1", Some(25.4)),
        ("2", Some(12.0 * 25.4)),
        ("4", Some(1.0)),
        ("5", Some(10.0)),
        ("6", Some(1000.0)),
        ("14", Some(100.0)),
        ("0", None),
    ];
    let text = dxf("", "0|CIRCLE|10|0|20|0|40|50|");
    for (value, unit) in says {
        let text = text.replace("$INSUNITS\n70\n4", &format!("$INSUNITS\n70\n{value}"));
        assert_eq!(found(&text, Format::Dxf).unit, unit, "{value}");
    }
    let without = text.replace("9\n$INSUNITS\n70\n4\n", "");
    assert_eq!(found(&without, Format::Dxf).unit, None);
}

#[test]
fn the_units_that_are_offered_are_as_long_as_they_are() {
    let lengths = Unit::ALL.map(Unit::mm);
    assert_eq!(lengths, [1.0, 10.0, 25.4, 25.4 / 96.0]);
}

#[test]
fn a_file_is_known_by_the_end_of_its_name() {
    assert_eq!(Format::of("Bramble.SVG"), Some(Format::Svg));
    assert_eq!(Format::of("a.b.dxf"), Some(Format::Dxf));
    for name in ["svg", "dxf.png", "head.svgz", "", "."] {
        assert_eq!(Format::of(name), None, "{name}");
    }
}
