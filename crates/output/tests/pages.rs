//! Which page a sheet gets, and what is said when none holds it.

use layout::head::start_outline;
use output::LengthUnit;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::projects::{Case, UNITS, demo, options};

/// The demo in a head of another size, mm.
fn in_head(width: f64, height: f64) -> Case {
    let mut project = demo("bramble").project;
    project.head.outline = start_outline(width, height, 0.0);
    project.head.anchor_holes.clear();
    project.ties.clear();
    Case::of("other head", project)
}

const A4: [f64; 2] = [210.0, 297.0];
const A3: [f64; 2] = [297.0, 420.0];
const LETTER: [f64; 2] = [215.9, 279.4];

fn page(case: &Case, unit: LengthUnit) -> [f64; 2] {
    let [width, height] = case.drawing(&options(unit)).unwrap().page;
    [width.min(height), width.max(height)]
}

#[test]
fn the_smallest_page_that_fits_is_chosen() {
    let small = in_head(120.0, 140.0);
    assert_eq!(page(&small, LengthUnit::Millimetre), A4);
    let [width, height] = page(&small, LengthUnit::Inch);
    assert!((width - LETTER[0]).abs() < 1e-9 && (height - LETTER[1]).abs() < 1e-9);
    let large = in_head(230.0, 260.0);
    assert_eq!(page(&large, LengthUnit::Millimetre), A3);
    assert_eq!(page(&large, LengthUnit::Inch), A3);
}

#[test]
fn a_chosen_page_is_kept() {
    let small = in_head(120.0, 110.0);
    for (paper, [short, long]) in [
        (PaperChoice::A4, A4),
        (PaperChoice::A3, A3),
        (PaperChoice::Letter, LETTER),
    ] {
        for (orientation, size) in [
            (OrientationChoice::Portrait, [short, long]),
            (OrientationChoice::Landscape, [long, short]),
        ] {
            for unit in UNITS {
                let own = SheetOptions {
                    paper,
                    orientation,
                    ..options(unit)
                };
                let page = small.drawing(&own).unwrap().page;
                assert!((page[0] - size[0]).abs() < 1e-9 && (page[1] - size[1]).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn what_is_too_large_for_the_chosen_page_is_told_which_page_would_do() {
    let own = SheetOptions {
        paper: PaperChoice::A4,
        orientation: OrientationChoice::Portrait,
        ..options(LengthUnit::Millimetre)
    };
    assert_eq!(
        in_head(230.0, 260.0).drawing(&own).unwrap_err(),
        "“Bramble the badger” does not fit on A4 portrait: its view alone is 230.0 × 265.0 mm at 1:1. \
         Use A3 portrait, or let the paper and its orientation be chosen."
    );
}

#[test]
fn what_is_too_large_for_every_page_is_refused_by_name_with_what_it_needs() {
    let case = in_head(300.0, 460.0);
    let refusal = case.drawing(&options(LengthUnit::Millimetre)).unwrap_err();
    assert!(
        refusal.starts_with(
            "“Bramble the badger” does not fit on A4 portrait or A4 landscape or A3 portrait or \
             A3 landscape: its view alone is 300.0 × 465.0 mm at 1:1. It needs a page of about "
        ),
        "{refusal}"
    );
    let inches = case.drawing(&options(LengthUnit::Inch)).unwrap_err();
    assert!(inches.contains("11.811 × 18.307 in at 1:1"), "{inches}");
}

#[test]
fn a_plate_of_which_nothing_is_left_is_refused() {
    let mut project = demo("bramble").project;
    project.plate.outline = layout::plate::PlateOutline::HeadInset {
        bottom: 500.0,
        top: 510.0,
    };
    project.ties.clear();
    assert_eq!(
        Case::of("none", project)
            .drawing(&options(LengthUnit::Millimetre))
            .unwrap_err(),
        "“Bramble the badger” has no plate to draw: nothing of its outline is left. Change the \
         outline's style or range, or the head outline."
    );
}
