//! What cannot be cut says why, and what would help.

use layout::plate::PlateOutline;
use output::SolidOptions;
use output::cut::{CutOptions, CutPart};
use output::solid::solids;

use crate::contours::{cut, with_kerf};
use crate::projects::{Case, NOT_TO_BE_MADE, UNITS, demo, options};

/// The whole of what is said.
fn said(case: &Case, part: CutPart, options: &CutOptions) -> String {
    let error = cut(case, part, options).unwrap_err();
    format!("{error} {}", error.remedy())
}

#[test]
fn options_out_of_range_are_refused_by_name() {
    let case = demo("bramble");
    let all = CutOptions::default();
    let refused = [
        (
            CutOptions { kerf: -0.1, ..all },
            "`kerf` is -0.1 mm. Use a number from 0 to 10 mm.",
        ),
        (
            CutOptions {
                kerf: f64::NAN,
                ..all
            },
            "`kerf` is NaN mm. Use a number from 0 to 10 mm.",
        ),
        (
            CutOptions {
                hole_allowance: 2.5,
                ..all
            },
            "`hole_allowance` is 2.5 mm. Use a number from 0 to 2 mm.",
        ),
        (
            CutOptions {
                foam_clearance: f64::INFINITY,
                ..all
            },
            "`foam_clearance` is inf mm. Use a number from 0 to 50 mm.",
        ),
    ];
    for (options, sentence) in refused {
        for part in CutPart::ALL {
            assert_eq!(said(&case, part, &options), sentence);
        }
    }
}

#[test]
fn a_hole_that_the_kerf_takes_is_named() {
    let mut case = demo("bramble");
    // Slots are 1.7 mm wide.
    assert_eq!(
        said(&case, CutPart::Plate, &with_kerf(1.8)),
        "Nothing of slot 1 is left to cut along: the kerf, 1.8 mm, is as wide as the hole. \
         Use a tool with a smaller kerf, or a wider hole."
    );
    let wider = CutOptions {
        hole_allowance: 0.2,
        ..with_kerf(1.8)
    };
    assert!(cut(&case, CutPart::Plate, &wider).is_ok());
    case.project.parts.ball_diameter = 6.0;
    case.project.parts.seat = layout::seat::Seat::Plain {
        opening_diameter: 5.0,
    };
    case.project.ties.clear();
    let small = Case::of("small", case.project);
    assert_eq!(
        said(&small, CutPart::Plate, &with_kerf(6.0)),
        "Nothing of the opening of the left eye is left to cut along: the kerf, 6 mm, is as wide as \
         the hole. Use a tool with a smaller kerf, or a wider hole."
    );
}

#[test]
fn a_cable_hole_that_the_kerf_takes_is_named_after_its_drive() {
    let with_hole = |case: &Case| !case.laid.drives[0].holes.is_empty();
    let mut case = crate::projects::demos()
        .into_iter()
        .find(with_hole)
        .unwrap();
    // A hole of 1 mm beside slots of 1.7 mm.
    for drive in &mut case.project.drives {
        drive.cable.sheath_diameter = 0.5;
    }
    let case = Case::of("thin sheaths", case.project);
    assert_eq!(
        said(&case, CutPart::Plate, &with_kerf(1.5)),
        "Nothing of cable hole 1 of the left upper lid is left to cut along: the kerf, 1.5 mm, is as wide \
         as the hole. Use a tool with a smaller kerf, or a wider hole."
    );
}

#[test]
fn a_part_without_an_edge_is_refused() {
    let mut project = demo("bramble").project;
    project.ties.clear();
    project.parts.lids = None;
    project.plate.outline = PlateOutline::HeadInset {
        bottom: 900.0,
        top: 950.0,
    };
    project.plate.trim_to_head = true;
    let case = Case::of("none", project);
    assert_eq!(
        said(&case, CutPart::Plate, &with_kerf(0.0)),
        "“Bramble the badger” has no plate to cut: nothing of the plate's outline is left. \
         Change the outline's style or range, or the head outline."
    );
    assert_eq!(
        said(&case, CutPart::Foam, &with_kerf(0.0)),
        "“Bramble the badger” has no foam to cut: nothing of the plate's outline is left. \
         Change the outline's style or range, or the head outline."
    );
    let mut project = demo("bramble").project;
    project.head.outline = vec![[-50.0, -50.0], [50.0, 50.0], [50.0, -50.0], [-50.0, 50.0]];
    project.head.smooth = false;
    assert_eq!(
        said(
            &Case::of("crossed", project),
            CutPart::Head,
            &with_kerf(0.0)
        ),
        "“Bramble the badger” has no head template to cut: nothing of the head outline is left. \
         Draw a head outline that encloses something and does not cross itself."
    );
}

#[test]
fn a_hole_that_cannot_be_drawn_says_why() {
    let mut project = demo("bramble").project;
    project.parts.ring.depth = project.parts.ball_diameter;
    let case = Case::of("no ring", project);
    assert_eq!(
        said(&case, CutPart::Foam, &with_kerf(0.0)),
        "There is no hole behind the left eye: the ring ends farther back than the ball. \
         Bring the ring nearer to the centre or make it thinner."
    );
    assert!(cut(&case, CutPart::Plate, &with_kerf(0.0)).is_ok());
}

#[test]
fn a_part_that_is_all_holes_is_refused() {
    let case = demo("bramble");
    let options = CutOptions {
        foam_clearance: 50.0,
        ..CutOptions::default()
    };
    let found = cut(&case, CutPart::Foam, &options);
    let error = found.unwrap_err();
    assert_eq!(
        format!("{error} {}", error.remedy()),
        "Nothing of the foam is left between its holes. Use a larger plate, or a smaller clearance."
    );
}

#[test]
fn a_sketch_whose_parts_cannot_be_made_gets_its_sheet_and_is_told_why() {
    let case = demo(NOT_TO_BE_MADE);
    assert!(!case.pages(&options(UNITS[0])).unwrap().is_empty());
    assert_eq!(
        said(&case, CutPart::Guard, &CutOptions::default()),
        "The guard is bent farther than a half-circle. Use a bow of at most half of the chord."
    );
    let error = solids(&case.project, &case.laid, &SolidOptions::default());
    assert_eq!(
        error.map(drop).unwrap_err().to_string(),
        "Cable hole 1 of the left lower lid breaks the edge of the plate."
    );
}
