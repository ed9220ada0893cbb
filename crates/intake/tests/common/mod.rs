//! Shapes whose figures are known, and what is measured of those found.

use std::f64::consts::PI;

use intake::{Format, Found, IntakeError, Shape};
use layout::geometry::segment::{Arc, Segment};
use layout::geometry::{Point, polygon};

/// An invented head: a half disc on a block whose lower corners are round. Its widest place is level
/// with the origin of its drawing, 20 mm above it the centre of the half disc.
pub(crate) mod head {
    use super::PI;

    /// Radius of the crown about (0, 20), mm.
    pub(crate) const CROWN: f64 = 60.0;
    /// Radius of the jaws about (±25, −15), mm.
    pub(crate) const JAW: f64 = 35.0;
    /// From the chin at −50 mm to the top at 80 mm.
    pub(crate) const SIZE: [f64; 2] = [120.0, 130.0];

    /// Half a disc, a block of 120 × 35 mm, one of 50 × 35 mm and two quarter discs, mm².
    pub(crate) fn area() -> f64 {
        PI * CROWN * CROWN / 2.0 + 120.0 * 35.0 + 50.0 * 35.0 + PI * JAW * JAW / 2.0
    }

    /// How high its centroid lies above the middle of the box around it, mm.
    pub(crate) fn centroid_above_middle() -> f64 {
        // The centroid of half a disc lies 4r/3π from its straight side.
        let out = |radius: f64| 4.0 * radius / (3.0 * PI);
        let moments = PI * CROWN * CROWN / 2.0 * (20.0 + out(CROWN))
            + 120.0 * 35.0 * 2.5
            + 50.0 * 35.0 * -32.5
            + PI * JAW * JAW / 2.0 * (-15.0 - out(JAW));
        moments / area() - (80.0 - 50.0) / 2.0
    }
}

/// How long a file may take, s, before its test says that it hangs: two minutes for what takes one or two
/// seconds on an idle machine, as a search that goes wrong would take hours.
pub(crate) const PATIENCE: u64 = 120;

/// What is found in a text.
pub(crate) fn found(text: &str, format: Format) -> Found {
    match intake::read(text.as_bytes(), format) {
        Ok(found) => found,
        Err(error) => panic!("{error}\n{text}"),
    }
}

/// Why nothing is found in a file.
pub(crate) fn refusal(bytes: &[u8], format: Format) -> IntakeError {
    match intake::read(bytes, format) {
        Ok(found) => panic!("{found:?}"),
        Err(error) => error,
    }
}

/// An SVG of 400 × 400 mm whose unit is a millimetre.
pub(crate) fn svg(body: &str) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
        width="400mm" height="400mm" viewBox="0 0 400 400">{body}</svg>"#
    )
}

/// A DXF of R2000 in millimetres with these blocks and entities; codes and values are parted by `|`.
pub(crate) fn dxf(blocks: &str, entities: &str) -> String {
    let text = format!(
        "0|SECTION|2|HEADER|9|$ACADVER|1|AC1015|9|$INSUNITS|70|4|0|ENDSEC|0|SECTION|2|BLOCKS|{blocks}\
         0|ENDSEC|0|SECTION|2|ENTITIES|{entities}0|ENDSEC|0|EOF|"
    );
    text.replace('|', "\n")
}

/// The largest shape of an SVG body, mm.
pub(crate) fn in_svg(body: &str) -> Shape {
    let found = found(&svg(body), Format::Svg);
    let unit = found.unit.expect("the page says its size");
    found.shapes[0].scaled(unit)
}

/// The largest shape of a DXF's blocks and entities, mm.
pub(crate) fn in_dxf(blocks: &str, entities: &str) -> Shape {
    found(&dxf(blocks, entities), Format::Dxf)
        .shapes
        .swap_remove(0)
}

/// Width and height.
pub(crate) fn size(shape: &Shape) -> [f64; 2] {
    let [low, high] = shape.outline.bounds().expect("a shape has pieces");
    [high.x - low.x, high.y - low.y]
}

/// The middle of the box around a shape.
pub(crate) fn middle(shape: &Shape) -> [f64; 2] {
    let [low, high] = shape.outline.bounds().expect("a shape has pieces");
    [(low.x + high.x) / 2.0, (low.y + high.y) / 2.0]
}

/// The centroid of a shape in mm.
pub(crate) fn centroid(shape: &Shape) -> Point {
    let corners = shape.outline.flattened();
    let mut sum = layout::geometry::Vector::zeros();
    for edge in polygon::edges(&corners) {
        let twice = edge.start.coords.perp(&edge.end.coords);
        sum += (edge.start.coords + edge.end.coords) * twice;
    }
    Point::from(sum / (6.0 * polygon::area(&corners)))
}

/// The arcs of a shape.
pub(crate) fn arcs(shape: &Shape) -> Vec<Arc> {
    let segments = shape.outline.segments.iter();
    let arc = |segment: &Segment| match segment {
        Segment::Arc(arc) => Some(*arc),
        Segment::Line(_) => None,
    };
    segments.filter_map(arc).collect()
}

/// Fails unless two figures agree to within `off`.
#[track_caller]
pub(crate) fn near(is: f64, should: f64, off: f64) {
    assert!((is - should).abs() <= off, "{is} is not {should} ± {off}");
}

/// Fails unless each piece starts where the one before ends, and the whole runs counter-clockwise.
#[track_caller]
pub(crate) fn is_outline(shape: &Shape) {
    let segments = &shape.outline.segments;
    let scale = size(shape)[0].max(size(shape)[1]);
    for (index, segment) in segments.iter().enumerate() {
        let next = segments[(index + 1) % segments.len()].start();
        let gap = (next - segment.end()).norm();
        assert!(
            gap < 1e-9 * scale,
            "piece {index} ends {gap} before the next"
        );
    }
    assert!(shape.outline.area() > 0.0);
}
