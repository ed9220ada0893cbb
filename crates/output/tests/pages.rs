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
        orientation: OrientationChoice::Landscape,
        ..options(LengthUnit::Millimetre)
    };
    assert_eq!(
        in_head(230.0, 260.0).drawing(&own).unwrap_err(),
        "“Bramble the badger” does not fit on A4 landscape: at 1:1 its view is 230.25 × 265.25 mm, \
         and the title block and notes need room beside it. \
         Use A3 portrait, or let paper and orientation be chosen."
    );
    assert_eq!(
        in_head(150.0, 190.0).drawing(&own).unwrap_err(),
        "“Bramble the badger” does not fit on A4 landscape: at 1:1 its view is 150.25 × 195.25 mm, \
         and the title block and notes need room beside it. \
         Use A4 portrait, or let paper and orientation be chosen."
    );
}

#[test]
fn what_is_too_large_for_every_page_is_refused_by_name_with_what_it_needs() {
    let case = in_head(300.0, 460.0);
    let refusal = case.drawing(&options(LengthUnit::Millimetre)).unwrap_err();
    assert!(
        refusal.starts_with(
            "“Bramble the badger” does not fit on A4 portrait or A4 landscape or A3 portrait or \
             A3 landscape: at 1:1 its view is 300.25 × 465.25 mm, and the title block and notes \
             need room beside it. It needs a page of about "
        ),
        "{refusal}"
    );
    let inches = case.drawing(&options(LengthUnit::Inch)).unwrap_err();
    assert!(
        inches.contains("its view is 11.821 × 18.317 in"),
        "{inches}"
    );
}

#[test]
fn the_fullest_project_is_drawn_cleanly() {
    let mut project = in_head(210.0, 220.0).project;
    let eye = project.eyes[0].clone();
    let slot = demo("bramble").project.ties[0];
    project.parts.lids = None;
    project.parts.ball_diameter = 14.0;
    project.parts.seat = layout::seat::Seat::Plain {
        opening_diameter: 12.0,
    };
    let place = |index: usize| {
        [
            (index % 8) as f64 * 24.0 - 84.0,
            (index / 8) as f64 * 22.0 - 77.0,
        ]
    };
    project.eyes = (0..64)
        .map(|index| layout::eye::Eye {
            centre: place(index),
            iris_diameter: 6.0,
            pupil_diameter: 3.0,
            ..eye.clone()
        })
        .collect();
    let beside = |[x, y]: [f64; 2]| [x + 12.0, y];
    project.ties = (0..64)
        .map(|index| layout::tie::TieSlot {
            at: beside(place(index)),
            anchor: None,
            ..slot
        })
        .collect();
    project.check().unwrap();
    let case = Case::of("fullest", project);
    let drawing = case.drawing(&options(LengthUnit::Millimetre)).unwrap();
    assert_eq!(crate::overlap::overlaps(&drawing), [""; 0]);
    for label in (1..=64).flat_map(|index| [format!("E{index}"), format!("S{index}")]) {
        let labels = drawing.texts.iter().filter(|text| text.text == label);
        // Once in the view and once in the table.
        assert_eq!(labels.count(), 2, "{label}");
    }
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
