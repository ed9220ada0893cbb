//! Plates that a maker measures: what stays open, what is refused, and what comes of it on the shelf.

use layout::cable_hole::PlateHole;
use layout::shelf::{
    Dimension, LidsKind, Measured, Openings, OutlineKind, SeatKind, Shelf, ShelfLids, ShelfPlate,
    ShelfSeat, fit,
};
use layout::{Degrees, State};

use super::demo::shelf;
use crate::common::pair;

/// A plate with a name and a spacing: the least that a shelf can hold.
fn least() -> Measured {
    let mut measured = Measured::default();
    measured.name = "found in a drawer".to_owned();
    set(&mut measured, &[(Dimension::Spacing, 58.0)]);
    measured
}

fn set(measured: &mut Measured, all: &[(Dimension, f64)]) {
    for &(dimension, value) in all {
        let noted = measured.set(dimension, Some(value));
        noted.expect("a value in range");
    }
}

#[test]
fn a_plate_of_the_shelf_comes_through_unchanged() {
    let mut plates = shelf().plates;
    assert!(plates.len() > 3);
    plates.push(ShelfPlate::of(&pair()));
    plates.push(ShelfPlate::unmeasured("one", &[[0.1, 0.3]]));
    plates.push(ShelfPlate::unmeasured(
        "askew",
        &[[-28.1, 0.7], [29.3, 2.2]],
    ));
    plates.push(ShelfPlate::unmeasured(
        "three",
        &[[-40.0, 0.0], [0.0, 9.0], [40.0, 0.0]],
    ));
    for plate in plates {
        assert_eq!(Measured::of(&plate).plate(), Ok(plate));
    }
}

#[test]
fn what_is_not_measured_stays_open_and_fit_asks_for_it() {
    let plate = least().plate().unwrap();
    let expected = ShelfPlate::unmeasured("found in a drawer", &[[-29.0, 0.0], [29.0, 0.0]]);
    assert_eq!(plate, expected);
    let asked = fit(&pair(), &plate).measure;
    let asked: Vec<_> = asked.iter().map(|one| one.sentence()).collect();
    for sentence in [
        "Measure the ball diameter of the eyes.",
        "Measure the outline of the plate.",
        "Measure the thickness of the plate.",
    ] {
        assert!(asked.iter().any(|own| own == sentence), "{asked:?}");
    }
}

#[test]
fn with_all_its_figures_it_is_the_plate_of_the_project_that_has_them() {
    let project = pair();
    let made = ShelfPlate::of(&project);
    let mut measured = least();
    measured.name = made.name.clone();
    let centres = made.centres().unwrap();
    let spacing = centres[1][0] - centres[0][0];
    set(
        &mut measured,
        &[
            (Dimension::Spacing, spacing),
            (Dimension::Ball, made.parts.ball_diameter.unwrap()),
            (Dimension::RingDepth, made.parts.ring.depth.unwrap()),
            (Dimension::RingThickness, made.parts.ring.thickness.unwrap()),
            (
                Dimension::RingDiameter,
                made.parts.ring.outer_diameter.unwrap(),
            ),
            (Dimension::RingBevel, made.parts.ring.bevel.unwrap()),
            (Dimension::Thickness, made.thickness.unwrap()),
        ],
    );
    match made.parts.seat {
        Some(ShelfSeat::Spherical {
            centre_height: Some(height),
            running_clearance: Some(clearance),
        }) => {
            measured.seat = SeatKind::Spherical;
            set(
                &mut measured,
                &[
                    (Dimension::CentreHeight, height),
                    (Dimension::RunningClearance, clearance),
                ],
            );
        }
        Some(ShelfSeat::Plain {
            opening_diameter: Some(opening),
        }) => {
            measured.seat = SeatKind::Plain;
            set(&mut measured, &[(Dimension::Opening, opening)]);
        }
        other => panic!("{other:?}"),
    }
    match made.parts.lids {
        Some(ShelfLids::Without) => measured.lids = LidsKind::Without,
        Some(ShelfLids::With {
            pivot_spacing: Some(spacing),
            pivot_hole: Some(hole),
            gap: Some(gap),
            shell: Some(shell),
        }) => {
            measured.lids = LidsKind::With;
            set(
                &mut measured,
                &[
                    (Dimension::PivotSpacing, spacing),
                    (Dimension::PivotHole, hole),
                    (Dimension::LidGap, gap),
                    (Dimension::LidShell, shell),
                ],
            );
        }
        other => panic!("{other:?}"),
    }
    measured.take_outline_of(&project).unwrap();
    for (index, slot) in made.slots.iter().enumerate() {
        measured.add_slot();
        let tie = slot.tie.unwrap();
        let values = [slot.at[0], slot.at[1], slot.angle.0, tie[0], tie[1]];
        let all: Vec<_> = Dimension::of_slot(index).into_iter().zip(values).collect();
        set(&mut measured, &all);
    }
    let plate = measured.plate().unwrap();
    assert_eq!(
        plate,
        ShelfPlate {
            cable_holes: Vec::new(),
            ..made
        }
    );
    let fit = fit(&project, &plate);
    assert!(fit.matches() && fit.measure.is_empty());
}

#[test]
fn what_a_shelf_cannot_hold_is_refused_by_the_name_of_its_field() {
    let refused = |measured: &Measured| measured.plate().unwrap_err().to_string();
    let mut measured = Measured::default();
    assert_eq!(
        refused(&measured),
        "“Name” is empty. Type one, to know the plate again."
    );
    measured.rename("  ".to_owned()).unwrap();
    assert!(refused(&measured).starts_with("“Name”"));
    measured.rename("one".to_owned()).unwrap();
    assert_eq!(measured.plate().unwrap().eyes.len(), 2);
    measured.openings = Openings::One;
    assert_eq!(measured.plate().unwrap().centres(), Some(vec![[0.0; 2]]));
    let mut measured = least();
    measured.outline = OutlineKind::Rectangle;
    set(&mut measured, &[(Dimension::Width, 120.0)]);
    assert_eq!(
        refused(&measured),
        "“Height” of the plate is not measured. Measure it, or leave the outline not known."
    );
    measured.outline = OutlineKind::Curve;
    assert!(refused(&measured).starts_with("“Outline” is to be a curve"));
    measured.outline = OutlineKind::NotKnown;
    measured.add_slot();
    measured.add_slot();
    set(
        &mut measured,
        &[
            (Dimension::SlotAcross(0), 50.0),
            (Dimension::SlotHeight(0), 10.0),
            (Dimension::SlotAngle(0), 90.0),
            (Dimension::TieWidth(0), 2.5),
        ],
    );
    assert_eq!(
        refused(&measured),
        "“Tie thickness” of slot 1 is not measured. Measure both sides of the tie, or leave both open."
    );
    measured.set(Dimension::TieWidth(0), None).unwrap();
    assert_eq!(
        refused(&measured),
        "“Across” of slot 2 is not measured. Measure it, or remove the slot."
    );
    measured.remove_slot(1);
    assert_eq!(measured.plate().unwrap().slots[0].tie, None);
}

#[test]
fn a_value_out_of_range_is_refused_and_the_old_one_stays() {
    let mut measured = least();
    measured.add_slot();
    measured.lids = LidsKind::With;
    measured.seat = SeatKind::Plain;
    measured.outline = OutlineKind::Rectangle;
    set(&mut measured, &[(Dimension::Height, 50.0)]);
    let before = measured.clone();
    for dimension in [
        Dimension::Spacing,
        Dimension::Ball,
        Dimension::Opening,
        Dimension::RingBevel,
        Dimension::PivotHole,
        Dimension::Thickness,
        Dimension::Width,
        Dimension::FromLeft,
        Dimension::SlotHeight(0),
        Dimension::SlotAngle(0),
        Dimension::TieWidth(0),
    ] {
        for value in [f64::NAN, f64::INFINITY, -1e300, 9_999.0] {
            let problem = measured.set(dimension, Some(value)).unwrap_err();
            let label = dimension.label();
            assert_eq!(problem.field, label);
            assert!(
                problem.sentence.starts_with(&format!("“{label}” is ")),
                "{problem}"
            );
            assert_eq!(measured, before);
        }
    }
    assert!(measured.rename("x".repeat(81)).is_err());
    assert!(measured.take_corners(&[[0.0, 0.0], [1e300, 0.0]]).is_err());
    assert!(measured.take_corners(&[]).is_err());
    assert_eq!(measured, before);
    // A slot that is not there has nothing to note.
    measured.set(Dimension::TieWidth(7), Some(2.5)).unwrap();
    measured.mirror_slot(7);
    measured.remove_slot(7);
    assert_eq!(measured, before);
}

#[test]
fn another_spacing_moves_both_openings_and_nothing_else() {
    let mut plate = ShelfPlate::unmeasured("askew", &[[1.0, 2.0], [31.0, 42.0]]);
    plate.outline = Some(vec![
        [-60.0, -60.0],
        [90.0, -60.0],
        [90.0, 90.0],
        [-60.0, 90.0],
    ]);
    plate.cable_holes = vec![PlateHole {
        ends: [[3.0, 4.0]; 2],
        width: 3.5,
    }];
    let mut measured = Measured::of(&plate);
    assert_eq!(measured.get(Dimension::Spacing), Some(50.0));
    measured.set(Dimension::Spacing, Some(60.0)).unwrap();
    let next = measured.plate().unwrap();
    // The middle is (16, 22), the direction (3, 4)/5.
    let centres = next.centres().unwrap();
    for (centre, expected) in centres.iter().zip([[-2.0, -2.0], [34.0, 46.0]]) {
        for (part, expected) in centre.iter().zip(expected) {
            assert!((part - expected).abs() < 1e-12, "{next:?}");
        }
    }
    let same = ShelfPlate {
        eyes: plate.eyes.clone(),
        ..next
    };
    assert_eq!(same, plate);
}

#[test]
fn a_rectangle_lies_about_the_openings_as_its_edges_were_measured() {
    let mut measured = least();
    measured.outline = OutlineKind::Rectangle;
    assert_eq!(measured.get(Dimension::FromLeft), None);
    set(
        &mut measured,
        &[(Dimension::Width, 120.0), (Dimension::Height, 50.0)],
    );
    assert_eq!(measured.get(Dimension::FromLeft), Some(60.0));
    set(&mut measured, &[(Dimension::FromBelow, 20.0)]);
    // A mended width leaves what was measured from the lower edge.
    set(&mut measured, &[(Dimension::Width, 122.0)]);
    let outline = measured.plate().unwrap().outline.unwrap();
    assert_eq!(
        outline,
        [[-61.0, -20.0], [61.0, -20.0], [61.0, 30.0], [-61.0, 30.0]]
    );
    measured.set(Dimension::FromBelow, None).unwrap();
    assert_eq!(measured.get(Dimension::FromBelow), Some(25.0));
}

#[test]
fn a_curve_from_a_drawing_lies_with_its_box_about_the_openings_until_that_is_measured() {
    let plate = ShelfPlate::unmeasured("off its origin", &[[70.0, 5.0], [130.0, 5.0]]);
    let mut measured = Measured::of(&plate);
    let corners = [
        [10.0, 0.0],
        [130.0, 0.0],
        [130.0, 40.0],
        [40.0, 60.0],
        [10.0, 40.0],
    ];
    measured.take_corners(&corners).unwrap();
    assert_eq!(measured.bounds(), Some([[40.0, -25.0], [160.0, 35.0]]));
    set(&mut measured, &[(Dimension::FromLeft, 58.0)]);
    assert_eq!(measured.bounds(), Some([[42.0, -25.0], [162.0, 35.0]]));
    // What was typed for another outline comes back with it.
    measured.outline = OutlineKind::NotKnown;
    assert_eq!(measured.plate().unwrap().outline, None);
    measured.outline = OutlineKind::Curve;
    assert_eq!(measured.plate().unwrap().outline.unwrap()[0], [42.0, -25.0]);
}

#[test]
fn a_mirrored_slot_lies_across_the_middle_of_the_openings() {
    let mut measured = Measured::of(&ShelfPlate::unmeasured("", &[[10.0, 1.0], [70.0, 1.0]]));
    measured.name = "off its origin".to_owned();
    measured.add_slot();
    set(
        &mut measured,
        &[
            (Dimension::SlotAcross(0), 62.0),
            (Dimension::SlotHeight(0), 16.0),
            (Dimension::SlotAngle(0), 80.0),
        ],
    );
    measured.mirror_slot(0);
    let got = Dimension::of_slot(1).map(|dimension| measured.get(dimension));
    assert_eq!(got, [Some(-62.0), Some(16.0), Some(-80.0), None, None]);
    let slots = measured.plate().unwrap().slots;
    assert_eq!(slots[0].at, [102.0, 17.0]);
    assert_eq!(slots[1].at, [-22.0, 17.0]);
    assert_eq!(slots[1].angle, Degrees(-80.0));
}

#[test]
fn a_rectangle_that_was_measured_finds_its_place_in_a_head() {
    let project = pair();
    let mut measured = least();
    measured.outline = OutlineKind::Rectangle;
    set(
        &mut measured,
        &[(Dimension::Width, 90.0), (Dimension::Height, 45.0)],
    );
    let plate = measured.plate().unwrap();
    let shelf = Shelf {
        plates: vec![plate.clone()],
        ..Shelf::empty()
    };
    assert_eq!(shelf.check(), Ok(()));
    let placed = fit(&project, &plate).placed.unwrap();
    assert!(
        placed.state == State::Clear && placed.margin > 0.0,
        "{placed:?}"
    );
    assert!((placed.spacings[0].distance - 58.0).abs() < 1e-9);
}

#[test]
fn a_cable_hole_is_measured_round_or_long_and_asks_for_what_it_lacks() {
    let mut measured = least();
    let said = |measured: &Measured| measured.plate().unwrap_err().to_string();
    measured.add_hole();
    assert!(said(&measured).starts_with("“Across” of cable hole 1 is not measured."));
    let [across, height, width, length, angle] = Dimension::of_hole(0);
    set(&mut measured, &[(across, 20.0), (height, -12.0)]);
    assert_eq!(
        said(&measured),
        "“Width or diameter” of cable hole 1 is not measured. Measure it, or remove the hole."
    );
    set(&mut measured, &[(width, 4.0)]);
    let round = measured.plate().unwrap().cable_holes;
    assert_eq!(
        round,
        [PlateHole {
            ends: [[20.0, -12.0]; 2],
            width: 4.0
        }]
    );
    set(&mut measured, &[(length, 10.0)]);
    assert!(said(&measured).starts_with("“Angle, if not round” of cable hole 1"));
    set(&mut measured, &[(angle, 90.0)]);
    // Its long side upright: 3 mm up and down from the middle to the centres of its ends.
    let [long] = measured.plate().unwrap().cable_holes[..] else {
        panic!("one hole");
    };
    for (end, expected) in long.ends.iter().zip([[20.0, -15.0], [20.0, -9.0]]) {
        for axis in [0, 1] {
            assert!((end[axis] - expected[axis]).abs() < 1e-12, "{long:?}");
        }
    }
    measured.mirror_hole(0);
    let got = Dimension::of_hole(1).map(|dimension| measured.get(dimension));
    assert_eq!(got, [-20.0, -12.0, 4.0, 10.0, 90.0].map(Some));
    measured.remove_hole(0);
    assert_eq!(measured.holes(), 1);
    measured.mirror_hole(7);
    measured.remove_hole(7);
    assert_eq!(measured.holes(), 1);
    // What is not touched stays as it came, to the last digit.
    let mut plate = measured.plate().unwrap();
    plate.cable_holes[0].ends = [[0.1 + 0.2, 1.0 / 3.0], [7.0, 0.7]];
    assert_eq!(Measured::of(&plate).plate().unwrap(), plate);
    assert!(measured.set(Dimension::HoleWidth(0), Some(-1.0)).is_err());
}
