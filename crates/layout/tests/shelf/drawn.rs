//! The openings of a measured plate, taken from the holes of a drawing.

use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::shelf::{Dimension, Measured, Openings, OutlineKind, SeatKind, ShelfPlate, ShelfSeat};

/// A plate of 140 × 60 mm about the middle of its box.
const CORNERS: [[f64; 2]; 4] = [[-70.0, -30.0], [70.0, -30.0], [70.0, 30.0], [-70.0, 30.0]];

fn hole(x: f64, y: f64, diameter: f64) -> Disc {
    Disc {
        centre: Point::new(x, y),
        radius: diameter / 2.0,
    }
}

fn named(name: &str) -> Measured {
    let mut measured = Measured::default();
    measured.rename(name.to_owned()).expect("a short name");
    measured
}

#[test]
fn two_largest_holes_alike_become_the_openings_with_spacing_place_and_diameter() {
    let mut measured = named("drawn");
    measured.seat = SeatKind::Plain;
    // Out of order, with a cable hole, four for screws, and the narrower back of each seat.
    let holes = [
        hole(31.0, 4.0, 38.0),
        hole(0.0, -20.0, 3.5),
        hole(-27.0, 4.0, 38.1),
        hole(-27.0, 4.0, 36.0),
        hole(31.0, 4.0, 36.0),
        hole(60.0, 20.0, 4.0),
    ];
    assert_eq!(measured.take_drawing(&CORNERS, &holes), Ok(true));
    for (dimension, expected) in [
        (Dimension::Spacing, 58.0),
        (Dimension::Opening, 38.05),
        (Dimension::FromLeft, 72.0),
        (Dimension::FromBelow, 34.0),
    ] {
        let value = measured.get(dimension).unwrap();
        assert!((value - expected).abs() < 1e-9, "{dimension:?}: {value}");
    }
    let plate = measured.plate().unwrap();
    assert_eq!(plate.centres(), Some(vec![[-29.0, 0.0], [29.0, 0.0]]));
    assert_eq!(plate.outline.as_ref().unwrap()[0], [-72.0, -34.0]);
    assert!(matches!(plate.parts.seat, Some(ShelfSeat::Plain { .. })));
    assert_eq!(Measured::of(&plate).plate(), Ok(plate));
    // A spacing that is measured all the same counts.
    measured.set(Dimension::Spacing, Some(57.0)).unwrap();
    let centres = measured.plate().unwrap().centres();
    assert_eq!(centres, Some(vec![[-28.5, 0.0], [28.5, 0.0]]));
}

#[test]
fn a_pair_that_is_drawn_askew_stays_so_and_slots_stay_about_its_middle() {
    let mut measured = Measured::of(&ShelfPlate::unmeasured("old", &[[40.0, 7.0], [100.0, 7.0]]));
    measured.add_slot();
    measured.set(Dimension::SlotAcross(0), Some(62.0)).unwrap();
    let holes = [hole(-30.0, -1.0, 38.0), hole(26.0, 5.0, 38.0)];
    assert_eq!(measured.take_drawing(&CORNERS, &holes), Ok(true));
    assert_eq!(measured.get(Dimension::SlotAcross(0)), Some(62.0));
    measured.remove_slot(0);
    let plate = measured.plate().unwrap();
    assert_eq!(plate.centres(), Some(vec![[42.0, 4.0], [98.0, 10.0]]));
    assert_eq!(plate.outline.unwrap()[0], [2.0, -25.0]);
}

#[test]
fn a_single_opening_is_the_largest_hole() {
    let mut measured = named("one");
    measured.openings = Openings::One;
    let holes = [hole(10.0, 3.0, 38.0), hole(50.0, 0.0, 28.0)];
    assert_eq!(measured.take_drawing(&CORNERS, &holes), Ok(true));
    assert_eq!(measured.get(Dimension::FromLeft), Some(80.0));
    assert_eq!(measured.plate().unwrap().centres(), Some(vec![[0.0; 2]]));
}

#[test]
fn in_doubt_the_outline_alone_is_taken() {
    let eye = |x: f64| hole(x, 0.0, 38.0);
    for holes in [
        vec![],
        vec![eye(0.0)],
        // A third as large, one that might be an opening, and a pair of two sizes.
        vec![eye(-40.0), eye(0.0), eye(40.0)],
        vec![eye(-29.0), eye(29.0), hole(0.0, 20.0, 30.0)],
        vec![eye(-29.0), hole(29.0, 0.0, 37.5)],
        vec![hole(f64::NAN, 0.0, 38.0), hole(29.0, 0.0, f64::NAN)],
        // Drawn twice, it is one.
        vec![eye(29.0), eye(29.0)],
    ] {
        let mut measured = named("in doubt");
        measured.set(Dimension::Spacing, Some(60.0)).unwrap();
        let mut expected = measured.clone();
        expected.take_corners(&CORNERS).unwrap();
        assert_eq!(
            measured.take_drawing(&CORNERS, &holes),
            Ok(false),
            "{holes:?}"
        );
        assert_eq!(measured, expected, "{holes:?}");
        assert_eq!(measured.outline, OutlineKind::Curve);
    }
    let three = ShelfPlate::unmeasured("three", &[[-40.0, 0.0], [0.0, 9.0], [40.0, 0.0]]);
    let mut measured = Measured::of(&three);
    let holes = [eye(-40.0), eye(0.0), eye(40.0)];
    assert_eq!(measured.take_drawing(&CORNERS, &holes), Ok(false));
    assert_eq!(measured.plate().unwrap().eyes, three.eyes);
}

#[test]
fn a_drawing_that_is_no_plate_changes_nothing() {
    let before = named("hostile");
    let mut measured = before.clone();
    for (corners, holes) in [
        (vec![], vec![hole(-29.0, 0.0, 38.0), hole(29.0, 0.0, 38.0)]),
        (
            CORNERS.to_vec(),
            vec![hole(-1e300, 0.0, 38.0), hole(1e300, 0.0, 38.0)],
        ),
        (
            CORNERS.to_vec(),
            vec![hole(f64::NAN, 0.0, 38.0), hole(29.0, 0.0, 38.0)],
        ),
    ] {
        assert!(
            measured.take_drawing(&corners, &holes).is_err(),
            "{holes:?}"
        );
        assert_eq!(measured, before);
    }
}
