//! No text overlaps another text or a line, checked on the finished drawing alone.

use layout::geometry::Point;
use output::Drawing;
use output::drawing::{Bounds, Stroke, Text};

use crate::projects::{Case, Dice, UNITS, demos, options, plate_pages, random};

/// Whether the straight line from `a` to `b` comes nearer to a box than `reach` along x or y: a test of
/// separating axes (the box's two and the line's normal).
fn line_meets(a: Point, b: Point, own: &Bounds, reach: f64) -> bool {
    let own = own.grown(reach);
    let (low, high) = (a.inf(&b), a.sup(&b));
    if low.x >= own.high.x || high.x <= own.low.x || low.y >= own.high.y || high.y <= own.low.y {
        return false;
    }
    let along = b - a;
    let sides = own.corners().map(|corner| along.perp(&(corner - a)));
    sides.iter().any(|side| *side > 0.0) && sides.iter().any(|side| *side < 0.0)
}

fn stroke_meets(stroke: &Stroke, own: &Bounds) -> bool {
    let points = stroke.flattened();
    let closing = stroke.closed.then(|| (points[points.len() - 1], points[0]));
    let edges = points
        .windows(2)
        .map(|pair| (pair[0], pair[1]))
        .chain(closing);
    let mut edges = edges.into_iter();
    edges.any(|(a, b)| line_meets(a, b, own, stroke.width / 2.0))
}

/// Everything that a text of the drawing overlaps.
pub(crate) fn overlaps(drawing: &Drawing) -> Vec<String> {
    let mut found = Vec::new();
    let boxes: Vec<(&Text, Bounds)> = drawing
        .texts
        .iter()
        .map(|text| (text, text.bounds()))
        .collect();
    for (index, (text, own)) in boxes.iter().enumerate() {
        for (other, theirs) in &boxes[index + 1..] {
            if own.overlaps(theirs) {
                found.push(format!("“{}” overlaps “{}”", text.text, other.text));
            }
        }
        for stroke in drawing
            .strokes
            .iter()
            .filter(|stroke| stroke_meets(stroke, own))
        {
            let (layer, width) = (stroke.layer, stroke.width);
            found.push(format!(
                "“{}” overlaps a {layer:?} line {width} mm wide",
                text.text
            ));
        }
        for fill in drawing
            .fills
            .iter()
            .filter(|fill| fill.bounds().unwrap().overlaps(own))
        {
            found.push(format!(
                "“{}” overlaps an arrowhead at {}",
                text.text, fill.corners[0]
            ));
        }
    }
    found
}

#[test]
fn texts_overlap_nothing_on_any_demo() {
    for case in demos() {
        for unit in UNITS {
            for page in case.pages(&options(unit)).unwrap() {
                assert!(page.texts.len() > 20, "{} has hardly any text", case.name);
                assert_eq!(overlaps(&page), [""; 0], "{} in {unit:?}", case.name);
            }
        }
    }
}

#[test]
fn texts_overlap_nothing_on_200_random_projects() {
    let mut dice = Dice(2);
    let mut alone = 0;
    for index in 0..200 {
        let case = Case::of(format!("random project {index}"), random(&mut dice));
        for unit in UNITS {
            let pages = case.pages(&options(unit)).unwrap();
            alone += usize::from(plate_pages(&pages) == 1);
            for page in pages {
                assert_eq!(overlaps(&page), [""; 0], "{} in {unit:?}", case.name);
            }
        }
    }
    assert!(
        (350..400).contains(&alone),
        "{alone} of 400 plates have one page"
    );
}

#[test]
fn the_check_sees_an_overlap() {
    let case = demos().remove(0);
    let mut drawing = case.drawing(&options(UNITS[0])).unwrap();
    let text = drawing.texts[0].clone();
    drawing.texts.push(text);
    assert!(!overlaps(&drawing).is_empty());

    let mut drawing = case.drawing(&options(UNITS[0])).unwrap();
    let own = drawing.texts[3].bounds();
    drawing.strokes.push(Stroke::line(
        own.low,
        own.high,
        output::drawing::LineType::Continuous,
        0.5,
        output::drawing::Layer::Plate,
    ));
    assert_eq!(overlaps(&drawing).len(), 1);
}
