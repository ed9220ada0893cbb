//! Cable holes are cut through the plate with everything else.

use layout::Laid;
use output::SolidOptions;
use output::solid::plate;

use super::Body;
use super::surface::assert_plate;
use super::truth::Plate;
use super::volume::assert_volume;
use crate::projects::demos;

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
