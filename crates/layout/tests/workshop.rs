//! What the maker found out about their own tools.

use layout::Edit;
use layout::field::Field;
use layout::workshop::Workshop;

use crate::common::pair;

#[test]
fn a_part_lies_on_the_bed_either_way_round() {
    let workshop = Workshop {
        bed: [200.0, 120.0],
        ..Workshop::unknown(0.4)
    };
    assert!(workshop.holds([200.0, 120.0]));
    assert!(workshop.holds([119.0, 199.0]));
    assert!(!workshop.holds([201.0, 60.0]));
    assert!(!workshop.holds([150.0, 121.0]));
}

#[test]
fn a_workshop_is_noted_changed_and_forgotten() {
    let noted = Edit::Workshop(Some(Workshop::unknown(0.35)));
    let project = noted.apply(&pair()).unwrap();
    let project = Edit::Set(Field::Kerf, 0.2).apply(&project).unwrap();
    assert_eq!(Field::Kerf.get(&project), Some(0.2));
    assert_eq!(Field::FoundClearance.get(&project), Some(0.35));
    let forgotten = Edit::Workshop(None).apply(&project).unwrap();
    assert_eq!(forgotten, pair());
    assert_eq!(Field::Kerf.get(&forgotten), None);
    assert!(Edit::Set(Field::Kerf, 0.2).apply(&forgotten).is_err());
}

#[test]
fn a_setting_that_no_tool_has_is_refused_by_its_field() {
    let project = Edit::Workshop(Some(Workshop::unknown(0.4)))
        .apply(&pair())
        .unwrap();
    for (field, value, name) in [
        (Field::Kerf, -0.1, "workshop.kerf"),
        (Field::HoleAllowance, 2.5, "workshop.hole_allowance"),
        (
            Field::FoundClearance,
            f64::NAN,
            "workshop.running_clearance",
        ),
        (Field::BedWidth, 1.0, "workshop.bed"),
    ] {
        let problem = Edit::Set(field, value).apply(&project).unwrap_err();
        assert_eq!(problem.field, name);
    }
}
