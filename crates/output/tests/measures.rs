//! The sheet measures right on paper: its pixels at 254 dpi, ten to the millimetre.

use layout::geometry::Point;
use layout::geometry::segment::{Arc, Segment};
use output::Drawing;
use output::drawing::{Bounds, Layer, Stroke};

use crate::projects::{Case, UNITS, demos, options};
use crate::raster::{Raster, Stretch};

/// What may be off, mm: one pixel.
const TOLERANCE: f64 = 0.1;

/// Where to look, from the drawing; what is there, from the pixels.
fn circle(stroke: &Stroke) -> Option<Arc> {
    match stroke.path.as_slice() {
        [Segment::Arc(arc)] if stroke.width > 0.4 => Some(*arc),
        _ => None,
    }
}

/// The centre across of a circle that is drawn about `near`, by the two places where some of its rows
/// meet its line.
fn centre_across(raster: &Raster, near: &Arc) -> f64 {
    let mut centres: Vec<f64> = [-0.45_f64, -0.35, -0.25, 0.25, 0.35, 0.45]
        .into_iter()
        .filter_map(|share| {
            let y = near.centre.y + share * near.radius;
            let half = near.radius * (1.0 - share * share).sqrt();
            let side = |x: f64| {
                let lines = raster.along_row(y, x - 0.7, x + 0.7);
                // A line of half a millimetre and no other within reach.
                match lines.as_slice() {
                    [Stretch { centre, ink }] if (0.4..0.8).contains(ink) => Some(*centre),
                    _ => None,
                }
            };
            Some((side(near.centre.x - half)? + side(near.centre.x + half)?) / 2.0)
        })
        .collect();
    assert!(
        centres.len() >= 3,
        "found too little of the circle at {}",
        near.centre
    );
    centres.sort_by(f64::total_cmp);
    centres[centres.len() / 2]
}

fn assert_spacing(case: &Case, drawing: &Drawing, raster: &Raster) {
    let circles: Vec<Arc> = drawing.strokes.iter().filter_map(circle).collect();
    assert_eq!(circles.len(), case.project.eyes.len());
    let centres: Vec<f64> = circles
        .iter()
        .map(|near| centre_across(raster, near))
        .collect();
    for (index, pair) in centres.windows(2).enumerate() {
        let eyes = &case.project.eyes;
        let across = eyes[index + 1].centre[0] - eyes[index].centre[0];
        assert!(
            (pair[1] - pair[0] - across).abs() < TOLERANCE,
            "{}: {} mm apart on paper, {across} mm in the project",
            case.name,
            pair[1] - pair[0]
        );
    }
}

/// The boxes of the bar, and of the card, which alone of the gauges has arcs.
fn gauges(drawing: &Drawing) -> [Bounds; 2] {
    let bounds = |card: bool| {
        let gauges = drawing
            .strokes
            .iter()
            .filter(|stroke| stroke.layer == Layer::Gauge);
        let own = gauges
            .filter(|stroke| stroke.path.iter().any(|p| matches!(p, Segment::Arc(_))) == card);
        own.filter_map(Stroke::bounds).reduce(Bounds::with).unwrap()
    };
    [bounds(false), bounds(true)]
}

/// Distance from the first to the last line.
fn span(lines: &[Stretch]) -> f64 {
    let (first, last) = (lines.first().unwrap(), lines.last().unwrap());
    last.centre - first.centre
}

#[test]
fn spacing_bar_and_card_measure_right_on_paper() {
    for case in demos() {
        for unit in UNITS {
            let options = options(unit);
            let drawing = case.drawing(&options).unwrap();
            let raster = Raster::of(case.pdf(&options));
            assert_spacing(&case, &drawing, &raster);

            let [bar, card] = gauges(&drawing);
            // Above the marks in between, only the two end marks and the text are met.
            let end_marks = raster.along_row(bar.low.y + 4.0, bar.low.x - 1.0, bar.high.x + 1.0);
            assert!(
                (span(&end_marks) - 100.0).abs() < TOLERANCE,
                "bar: {end_marks:?}"
            );

            // Between its rounded corners and its text.
            let sides = raster.along_row(card.low.y + 3.6, card.low.x - 1.0, card.high.x + 1.0);
            let ends = raster.up_column(card.low.x + 3.6, card.low.y - 1.0, card.high.y + 1.0);
            assert_eq!((sides.len(), ends.len()), (2, 2));
            // ISO/IEC 7810, ID-1: 85.60 × 53.98 mm.
            assert!((span(&sides) - 85.60).abs() < TOLERANCE, "card: {sides:?}");
            assert!((span(&ends) - 53.98).abs() < TOLERANCE, "card: {ends:?}");
        }
    }
}

#[test]
fn the_measure_sees_a_stretched_page() {
    let case = demos().remove(0);
    let options = options(UNITS[0]);
    let mut drawing = case.drawing(&options).unwrap();
    // One part in two hundred: what "fit to page" does at the least.
    for stroke in &mut drawing.strokes {
        for piece in &mut stroke.path {
            if let Segment::Line(line) = piece {
                line.start = Point::from(line.start.coords * 0.995);
                line.end = Point::from(line.end.coords * 0.995);
            }
        }
    }
    let raster = Raster::of(output::pdf::write(std::slice::from_ref(&drawing)));
    let [bar, _] = gauges(&drawing);
    let end_marks = raster.along_row(bar.low.y + 4.0, bar.low.x - 1.0, bar.high.x + 1.0);
    assert!((span(&end_marks) - 100.0).abs() > 0.4);
}

#[test]
fn what_is_written_in_the_card_stays_within_it() {
    for case in demos() {
        for unit in UNITS {
            let drawing = case.drawing(&options(unit)).unwrap();
            let [_, card] = gauges(&drawing);
            let own = drawing.texts.iter().map(output::drawing::Text::bounds);
            let within: Vec<Bounds> = own.filter(|text| text.overlaps(&card)).collect();
            assert!(within.len() >= 4);
            assert!(
                within.iter().all(|text| card.grown(-3.0).holds(text)),
                "{}",
                case.name
            );
        }
    }
}
