//! Values that others publish, each with its source.

use lopdf::Document;
use output::LengthUnit;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::projects::{Case, Dice, UNITS, demo, options, random};

/// Width and height of the sheet's page, in points.
fn media_box(case: &Case, options: &SheetOptions) -> [f64; 2] {
    let pdf = Document::load_mem(&case.pdf(options)).unwrap();
    let page = pdf.page_iter().next().unwrap();
    let sides = pdf
        .get_dictionary(page)
        .unwrap()
        .get(b"MediaBox")
        .unwrap()
        .as_array()
        .unwrap();
    let sides: Vec<f64> = sides
        .iter()
        .map(|side| f64::from(side.as_float().unwrap()))
        .collect();
    assert_eq!(sides[..2], [0.0, 0.0]);
    [sides[2], sides[3]]
}

/// A project that fits every paper.
fn small() -> Case {
    let mut dice = Dice(1);
    loop {
        let case = Case::of("small", random(&mut dice));
        let fits = |paper, orientation| {
            let own = SheetOptions {
                paper,
                orientation,
                ..options(LengthUnit::Millimetre)
            };
            case.drawing(&own).is_ok()
        };
        if fits(PaperChoice::Letter, OrientationChoice::Landscape)
            && fits(PaperChoice::Letter, OrientationChoice::Portrait)
            && fits(PaperChoice::A4, OrientationChoice::Landscape)
            && fits(PaperChoice::A4, OrientationChoice::Portrait)
        {
            return case;
        }
    }
}

#[test]
fn pages_have_the_published_sizes_in_points() {
    // PyPI reportlab 5.1.0, reportlab/lib/pagesizes.py: A4, A3, Letter.
    let published = [
        (PaperChoice::A4, [595.2756, 841.8898]),
        (PaperChoice::A3, [841.8898, 1190.5512]),
        (PaperChoice::Letter, [612.0, 792.0]),
    ];
    let case = small();
    for (paper, [width, height]) in published {
        for orientation in [OrientationChoice::Portrait, OrientationChoice::Landscape] {
            let own = SheetOptions {
                paper,
                orientation,
                ..options(LengthUnit::Millimetre)
            };
            let expected = match orientation {
                OrientationChoice::Landscape => [height, width],
                _ => [width, height],
            };
            for (found, expected) in media_box(&case, &own).into_iter().zip(expected) {
                assert!(
                    (found - expected).abs() < 1e-4,
                    "{paper:?}: {found} for {expected}"
                );
            }
        }
    }
}

#[test]
fn the_scale_is_designated_as_published() {
    // ISO 5455:1979, 3 and 5: the word SCALE and the ratio, for full size 1:1.
    for unit in UNITS {
        let drawing = demo("bramble").drawing(&options(unit)).unwrap();
        let scales = drawing.texts.iter().filter(|text| text.text == "SCALE 1:1");
        assert_eq!(scales.count(), 1);
    }
}

#[test]
fn line_widths_are_a_published_pair() {
    // ISO 128-20 / ISO 128-2, series of line widths (from 0.25: Manual of Engineering Drawing, ch. 7);
    // wide to narrow 2 : 1.
    let series = [0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0];
    let drawing = demo("bramble").drawing(&options(UNITS[0])).unwrap();
    let mut widths: Vec<f64> = drawing.strokes.iter().map(|stroke| stroke.width).collect();
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    assert_eq!(widths.len(), 2);
    assert!(
        widths.iter().all(|width| series.contains(width)),
        "{widths:?}"
    );
    assert_eq!(widths[1] / widths[0], 2.0);
}

#[test]
fn letters_have_published_heights() {
    // ISO 3098-0, as tabulated in two independent pages.
    let series = [1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0];
    let drawing = demo("bramble").drawing(&options(UNITS[0])).unwrap();
    assert!(
        drawing
            .texts
            .iter()
            .all(|text| series.contains(&text.cap_height))
    );
}

#[test]
fn dimension_lines_keep_the_published_distances() {
    // BIS/ISO 129:1985 text (scribd 398713789): 10 mm from the outline to the first dimension line, 8 mm
    // between parallel ones.
    let case = demo("bramble");
    let [low, high] = case.laid.plate.bounds().unwrap();
    let origin = {
        let drawing = case.drawing(&options(UNITS[0])).unwrap();
        let plate = drawing.strokes[0].bounds().unwrap();
        let half = drawing.strokes[0].width / 2.0;
        [plate.low.x + half - low.x, plate.low.y + half - low.y]
    };
    let drawing = case.drawing(&options(UNITS[0])).unwrap();
    let mut off: Vec<f64> = drawing
        .fills
        .iter()
        .map(|arrow| arrow.corners[0])
        .filter(|tip| tip.y - origin[1] > high.y)
        .map(|tip| tip.y - origin[1] - high.y)
        .collect();
    off.sort_by(f64::total_cmp);
    assert!(!off.is_empty());
    assert!(off[0] >= 10.0 - 1e-9, "{off:?}");
    assert!(
        off.windows(2)
            .all(|pair| pair[1] - pair[0] < 1e-9 || pair[1] - pair[0] >= 8.0 - 1e-9)
    );
}
