//! Which page a sheet gets, and what is said when none holds it.

use layout::head::start_outline;
use output::LengthUnit;
use output::drawing::Layer;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::projects::{Case, UNITS, demo, options, plate_pages};

/// The demo in a head of another size, mm.
fn in_head(width: f64, height: f64) -> Case {
    let mut project = demo("bramble").project;
    project.head.outline = start_outline(width, height, 0.0);
    project.head.anchor_holes.clear();
    project.ties.clear();
    project.parts.lids = None;
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
fn what_is_larger_than_the_chosen_page_takes_several_of_it() {
    let own = SheetOptions {
        paper: PaperChoice::A4,
        orientation: OrientationChoice::Landscape,
        ..options(LengthUnit::Millimetre)
    };
    let pages = in_head(150.0, 190.0).pages(&own).unwrap();
    assert!(plate_pages(&pages) > 1);
    assert!(pages.iter().all(|page| page.page == [297.0, 210.0]));
}

#[test]
fn what_is_larger_than_the_largest_page_takes_several_of_the_usual_paper() {
    let case = in_head(300.0, 460.0);
    for (unit, [short, long]) in [(LengthUnit::Millimetre, A4), (LengthUnit::Inch, LETTER)] {
        let pages = case.pages(&options(unit)).unwrap();
        assert!(plate_pages(&pages) > 1);
        let [width, height] = pages[0].page;
        assert!((width.min(height) - short).abs() < 1e-9);
        assert!((width.max(height) - long).abs() < 1e-9);
    }
}

/// 64 small eyes, eight in a row, `across` and `up` apart, mm, in a head that holds them.
fn eyes_in_rows(across: f64, up: f64) -> Case {
    let mut project = in_head(9.0 * across, 10.0 * up).project;
    let eye = project.eyes[0].clone();
    project.parts.lids = None;
    project.parts.ball_diameter = 14.0;
    project.parts.seat = layout::seat::Seat::Plain {
        opening_diameter: 12.0,
    };
    let place = |index: usize| {
        let (column, row) = (index % 8, index / 8);
        [(column as f64 - 3.5) * across, (row as f64 - 3.5) * up]
    };
    project.eyes = (0..64)
        .map(|index| layout::eye::Eye {
            centre: place(index),
            iris_diameter: 6.0,
            pupil_diameter: 3.0,
            ..eye.clone()
        })
        .collect();
    project.check().unwrap();
    Case::of("rows", project)
}

/// As [`eyes_in_rows`], with a slot beside each eye, every fourth for a tie of width `other`, mm.
fn fullest(across: f64, up: f64, other: f64) -> Case {
    let mut project = eyes_in_rows(across, up).project;
    let slot = demo("bramble").project.ties[0];
    project.ties = project
        .eyes
        .iter()
        .enumerate()
        .map(|(index, eye)| layout::tie::TieSlot {
            at: [eye.centre[0] + 12.0, eye.centre[1]],
            tie: [if index % 4 == 0 { other } else { 2.5 }, 1.0],
            anchor: None,
            ..slot
        })
        .collect();
    project.check().unwrap();
    Case::of("fullest", project)
}

#[test]
fn what_needs_too_many_pages_is_refused_with_what_would_do() {
    let refusal = |across, up, paper| {
        let own = SheetOptions {
            paper,
            ..options(LengthUnit::Millimetre)
        };
        let refused = eyes_in_rows(across, up)
            .pages(&own)
            .map(|pages| pages.len());
        refused.unwrap_err()
    };
    assert_eq!(
        refusal(140.0, 130.0, PaperChoice::A4),
        "“Bramble the badger” needs 43 pages of A4 landscape: at 1:1 its view is \
         1260.25 × 1305.25 mm, and a sheet has at most 40 pages. Use A3 portrait: it takes 21."
    );
    assert_eq!(
        refusal(220.0, 200.0, PaperChoice::Auto),
        "“Bramble the badger” needs 94 pages of A4 portrait: at 1:1 its view is \
         1980.25 × 2005.25 mm, and a sheet has at most 40 pages. Make the head or the plate \
         smaller."
    );
}

#[test]
fn the_fullest_project_is_drawn_cleanly() {
    let case = fullest(24.0, 22.0, 2.5);
    let drawing = case.drawing(&options(LengthUnit::Millimetre)).unwrap();
    assert_eq!(crate::overlap::overlaps(&drawing), [""; 0]);
    for label in (1..=64).flat_map(|index| [format!("E{index}"), format!("S{index}")]) {
        let labels = drawing.texts.iter().filter(|text| text.text == label);
        // Once in the view and once in the table.
        assert_eq!(labels.count(), 2, "{label}");
    }
}

#[test]
fn the_tables_of_the_fullest_project_fit_pages_of_every_paper() {
    let case = fullest(30.0, 26.0, 3.5);
    for paper in [PaperChoice::A4, PaperChoice::Letter] {
        for orientation in [OrientationChoice::Portrait, OrientationChoice::Landscape] {
            let own = SheetOptions {
                paper,
                orientation,
                ..options(LengthUnit::Millimetre)
            };
            let pages = case.pages(&own).unwrap();
            for page in &pages {
                assert_eq!(crate::overlap::overlaps(page), [""; 0]);
            }
            for label in (1..=64).flat_map(|index| [format!("E{index}"), format!("S{index}")]) {
                let texts = pages.iter().flat_map(|page| &page.texts);
                let own: Vec<_> = texts.filter(|text| text.text == label).collect();
                let in_table = own.iter().filter(|text| text.layer == Layer::Sheet);
                assert_eq!(in_table.count(), 1, "{label}");
                assert!(own.len() >= 2, "{label}");
            }
        }
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
    project.parts.lids = None;
    assert_eq!(
        Case::of("none", project)
            .drawing(&options(LengthUnit::Millimetre))
            .unwrap_err(),
        "“Bramble the badger” has no plate to draw: nothing of its outline is left. Change the \
         outline's style or range, or the head outline."
    );
}
