//! Cable holes are cut through the plate with everything else.

use layout::cable_hole::PlateHole;
use layout::{Laid, Project};
use output::SolidOptions;
use output::solid::plate;

use super::Body;
use super::surface::assert_plate;
use super::truth::Plate;
use super::volume::assert_volume;
use crate::projects::{demo, demos};

#[test]
fn the_cable_holes_of_every_demo_are_cut_wider_by_the_allowance() {
    let mut holes = 0;
    for case in demos() {
        for hole_allowance in [0.0, 0.3] {
            let options = SolidOptions {
                hole_allowance,
                ..SolidOptions::default()
            };
            let found = plate(&case.project, &case.laid, &options).unwrap();
            let truth = Plate::of(&case.project, &case.laid, &options);
            assert_volume(&case.name, Body::of(&found).volume(), truth.volume());
            assert_plate(&case.name, &found, &truth, &options);
        }
        holes += case.laid.cable_holes().count();
    }
    assert!(holes > 1, "{holes}");
}

#[test]
fn a_slot_across_a_cable_hole_is_refused_by_both_names() {
    let with_hole = |case: &crate::projects::Case| !case.laid.drives[0].holes.is_empty();
    let mut case = demos().into_iter().find(with_hole).unwrap();
    case.project.ties.truncate(1);
    case.project.ties[0].at = case.laid.drives[0].holes[0].middle().into();
    let laid = Laid::out(&case.project);
    let error = plate(&case.project, &laid, &SolidOptions::default());
    assert_eq!(
        error.map(drop).unwrap_err().to_string(),
        "Slot 1 and cable hole 1 of the left upper lid run into each other."
    );
}

#[test]
fn a_hole_that_the_plate_has_is_cut_in_place_of_that_which_passes_it() {
    let mut case = demo("bramble");
    let options = SolidOptions::default();
    let volume = |project: &Project, laid: &Laid| {
        Body::of(&plate(project, laid, &options).unwrap()).volume()
    };
    let before = volume(&case.project, &case.laid);
    let needed = case.laid.drives[0].holes[0];
    let there = PlateHole {
        width: 2.0 * needed.radius + 1.0,
        ..PlateHole::from(&needed)
    };
    case.project.plate.cable_holes = vec![there];
    let laid = Laid::out(&case.project);
    let more = (there.shape().area() - needed.area()) * case.project.plate.thickness;
    let lost = before - volume(&case.project, &laid);
    assert!((lost - more).abs() < 0.01 * more, "{lost} {more}");
}
