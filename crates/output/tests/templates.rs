//! Foam, guard and head template on paper, at 1:1.

use layout::geometry::segment::Segment;
use output::Drawing;
use output::cut::CutPart;
use output::drawing::{Layer, Stroke};
use output::sheet::{PaperChoice, SheetOptions};

use crate::overlap::overlaps;
use crate::projects::{Case, UNITS, demo, demos, options};
use crate::raster::{PER_MM, Raster, pixel};

const TEMPLATES: [CutPart; 3] = [CutPart::Foam, CutPart::Guard, CutPart::Head];

fn of(part: CutPart) -> SheetOptions {
    SheetOptions {
        part,
        ..options(UNITS[0])
    }
}

/// The wide lines of what is cut, the part's edge in front.
fn cut_lines(page: &Drawing) -> Vec<&Stroke> {
    let wide = |own: &&Stroke| own.layer == Layer::Plate && own.width > 0.4;
    page.strokes.iter().filter(wide).collect()
}

#[test]
fn a_template_is_drawn_cleanly_with_its_bar_title_and_cautions() {
    for case in demos() {
        for part in TEMPLATES {
            for unit in UNITS {
                let own = SheetOptions { unit, ..of(part) };
                for page in case.pages(&own).unwrap() {
                    assert_eq!(overlaps(&page), [""; 0], "{}, {part:?}", case.name);
                }
            }
            let pages = case.pages(&of(part)).unwrap();
            let all: Vec<&str> = pages
                .iter()
                .flat_map(|page| &page.texts)
                .map(|text| text.text.as_str())
                .collect();
            assert!(all.contains(&"Check: 100 mm from end to end"));
            let title = match part {
                CutPart::Foam => "Foam, top view",
                CutPart::Guard => "Flat guard, top view",
                _ => "Head template, top view",
            };
            assert!(all.iter().any(|text| text.starts_with(title)), "{all:?}");
            assert!(
                all.join(" ")
                    .contains("Fold in and cover sharp mesh and wire ends.")
            );
            // Only the plate is followed by the side cut.
            assert!(!all.iter().any(|text| text.starts_with("Side cut")));
        }
    }
}

#[test]
fn foam_holes_stand_off_what_the_rings_sweep_as_far_as_is_asked() {
    for (case, clearance) in { demos().into_iter() }.zip([3.0, 1.5, 4.2].into_iter().cycle()) {
        let asked = SheetOptions {
            foam_clearance: clearance,
            ..of(CutPart::Foam)
        };
        let pages = case.pages(&asked).unwrap();
        let said = format!("and {} around it", UNITS[0].format_with_symbol(clearance));
        let texts = pages.iter().flat_map(|page| &page.texts);
        let texts: Vec<&str> = texts.map(|text| text.text.as_str()).collect();
        // The words may stand on two lines.
        assert!(texts.join(" ").contains(&said), "{said}: {texts:?}");
        assert_eq!(pages.len(), 1, "{}", case.name);
        let circles: Vec<_> = cut_lines(&pages[0])
            .into_iter()
            .filter_map(|own| match own.path.as_slice() {
                [Segment::Arc(arc)] => Some(*arc),
                _ => None,
            })
            .collect();
        assert_eq!(circles.len(), case.laid.eyes.len());
        let figures = &case.report.figures.eyes;
        for ((circle, eye), figures) in circles.iter().zip(&case.laid.eyes).zip(figures) {
            let sweep = figures.sweep_reach_mm.unwrap();
            assert!((circle.radius - sweep - clearance).abs() < 1e-9);
            let off = circle.centre - circles[0].centre;
            let own = eye.centre - case.laid.eyes[0].centre;
            assert!((off - own).norm() < 1e-9);
        }
    }
}

#[test]
fn the_flat_guard_measures_right_on_paper_and_names_its_bend_axis() {
    for case in demos() {
        let options = of(CutPart::Guard);
        let page = case.drawing(&options).unwrap();
        let raster = Raster::of(case.pdf(&options));
        let edge = cut_lines(&page)[0].bounds().unwrap().grown(-0.25);
        let flat = case.report.figures.hand.guard_flat_mm.unwrap();
        let width = |share: f64| {
            let y = edge.low.y + share * (edge.high.y - edge.low.y);
            let y = (pixel(y) as f64 + 0.5) / PER_MM;
            let side = |x: f64| {
                let lines = raster.along_row(y, x - 0.7, x + 0.7);
                assert_eq!(lines.len(), 1, "{}: {lines:?}", case.name);
                lines[0].centre
            };
            side(edge.high.x) - side(edge.low.x)
        };
        let widths = [0.1, 0.3, 0.7, 0.9].map(width);
        for width in widths {
            assert!(
                (width - flat).abs() < 0.1,
                "{}: {width} for {flat}",
                case.name
            );
        }
        let length = (edge.high.y - edge.low.y - case.project.hand.guard_length).abs();
        assert!(length < 1e-9);
        let said = page
            .texts
            .iter()
            .filter(|own| own.text == "Bend about this line");
        assert_eq!(said.count(), 1);
    }
}

#[test]
fn a_template_that_is_larger_than_the_paper_takes_several_pages() {
    let mut project = demo("bramble").project;
    project.hand.guard_chord = 380.0;
    let case = Case::of("wide guard", project);
    let own = SheetOptions {
        paper: PaperChoice::A4,
        ..of(CutPart::Guard)
    };
    let pages = case.pages(&own).unwrap();
    assert!(pages.len() > 1);
    for page in &pages {
        assert_eq!(overlaps(page), [""; 0]);
    }
    let joins = pages.iter().flat_map(|page| &page.texts);
    assert!(joins.filter(|own| own.text.ends_with("joins here")).count() >= 2);
}

#[test]
fn a_template_that_cannot_be_cut_is_not_drawn_either() {
    let mut project = demo("bramble").project;
    project.hand.guard_bow = project.hand.guard_chord;
    let refused = Case::of("guard", project).pages(&of(CutPart::Guard));
    assert_eq!(
        refused.unwrap_err(),
        "The guard is bent farther than a half-circle. Use a bow of at most half of the chord."
    );
}
