//! A shelf in a file, and what is refused.

use layout::Degrees;
use layout::cable_hole::PlateHole;
use layout::shelf::{
    MOST_CORNERS, MOST_PLATES, Shelf, ShelfEye, ShelfPlate, ShelfSlot, VERSION, fit,
};

use super::demo::shelf;
use crate::common::{around, pair};

#[test]
fn a_shelf_comes_back_as_it_was_written() {
    let mut shelf = shelf();
    shelf.plates.push(ShelfPlate::of(&pair()));
    let text = ron::to_string(&shelf).unwrap();
    assert_eq!(ron::from_str::<Shelf>(&text).unwrap(), shelf);
}

#[test]
fn an_unknown_field_or_a_missing_one_is_refused() {
    let refused = |text: &str| ron::from_str::<Shelf>(text).unwrap_err().to_string();
    assert!(refused("Shelf(version: 1, plates: [], colour: 3)").contains("colour"));
    assert!(refused("Shelf(version: 1)").contains("plates"));
}

fn with(plate: impl FnOnce(&mut ShelfPlate)) -> Shelf {
    let mut shelf = Shelf {
        plates: vec![ShelfPlate::of(&pair())],
        ..Shelf::empty()
    };
    plate(&mut shelf.plates[0]);
    shelf
}

fn hole(width: f64) -> PlateHole {
    PlateHole {
        ends: [[0.0; 2]; 2],
        width,
    }
}

#[test]
fn hostile_shelves_are_refused_by_field() {
    let square = |half: f64| vec![[-half, -half], [half, -half], [half, half], [-half, half]];
    let outline = |corners: Vec<[f64; 2]>| with(|plate| plate.outline = Some(corners));
    let slot = ShelfSlot {
        at: [0.0, 0.0],
        angle: Degrees(f64::NAN),
        tie: None,
    };
    let tie = ShelfSlot {
        angle: Degrees(0.0),
        tie: Some([2.5, -1.0]),
        ..slot
    };
    let eye = |x| ShelfPlate::unmeasured("", &[[x, 0.0]]).eyes;
    let open = ShelfEye {
        centre: None,
        parts: None,
    };
    for (shelf, field) in [
        (with(|plate| plate.name = "x".repeat(81)), "plates[0].name"),
        (
            with(|plate| plate.parts.ball_diameter = Some(f64::NAN)),
            "plates[0].parts.ball_diameter",
        ),
        (
            with(|plate| plate.parts.ring.depth = Some(-1.0)),
            "plates[0].parts.ring.depth",
        ),
        (
            with(|plate| plate.thickness = Some(f64::INFINITY)),
            "plates[0].thickness",
        ),
        (with(|plate| plate.eyes.clear()), "plates[0].eyes"),
        (
            with(|plate| plate.eyes = eye(1e9)),
            "plates[0].eyes[0].centre",
        ),
        (
            with(|plate| plate.eyes = vec![eye(0.0)[0].clone(); 65]),
            "plates[0].eyes",
        ),
        (
            with(|plate| plate.eyes = eye(500.0)),
            "plates[0].eyes[0].centre",
        ),
        (
            with(|plate| plate.eyes = [eye(10.0), eye(-10.0)].concat()),
            "plates[0].eyes[1].centre",
        ),
        (
            with(|plate| plate.eyes[1].centre = None),
            "plates[0].eyes[1]",
        ),
        (
            with(|plate| plate.eyes = vec![open.clone()]),
            "plates[0].eyes[0]",
        ),
        (
            with(|plate| plate.eyes = vec![open.clone(); 3]),
            "plates[0].eyes[0]",
        ),
        (outline(Vec::new()), "plates[0].outline"),
        (outline(vec![[0.0; 2]; 5]), "plates[0].outline[0]"),
        (outline(square(1e300)), "plates[0].outline[0]"),
        (outline(square(f64::NAN)), "plates[0].outline[0]"),
        (
            outline(square(40.0).into_iter().rev().collect()),
            "plates[0].outline",
        ),
        (
            outline(around(MOST_CORNERS + 1, |_| 60.0)),
            "plates[0].outline",
        ),
        (
            with(|plate| plate.slots = vec![slot]),
            "plates[0].slots[0].angle",
        ),
        (
            with(|plate| plate.slots = vec![tie]),
            "plates[0].slots[0].tie",
        ),
        (
            with(|plate| plate.cable_holes = vec![hole(0.0)]),
            "plates[0].cable_holes[0].width",
        ),
    ] {
        let problem = shelf.check().unwrap_err();
        assert_eq!(problem.field, field, "{problem}");
        assert!(!problem.remedy.is_empty());
        // And whoever fits it all the same gets an answer.
        let found = fit(&pair(), &shelf.plates[0]);
        assert_eq!(found.placed, None, "{field}");
    }
}

#[test]
fn a_shelf_says_what_is_wrong_with_it_and_what_would_be_right() {
    let said = |shelf: &Shelf| shelf.check().unwrap_err().to_string();
    let newer = Shelf {
        version: VERSION + 1,
        ..Shelf::empty()
    };
    assert_eq!(
        said(&newer),
        "The shelf has version 2, and this program reads version 1. Open it with the program that wrote it."
    );
    let many = Shelf {
        plates: vec![ShelfPlate::unmeasured("one", &[[0.0; 2]]); MOST_PLATES + 1],
        ..Shelf::empty()
    };
    assert_eq!(
        said(&many),
        "`plates` has 1001 entries, more than 1000. Remove some."
    );
    assert_eq!(
        said(&with(|plate| plate.eyes.clear())),
        "The plate “pair” has no opening. Add at least one."
    );
    let hole = |x| {
        with(|plate| {
            plate.cable_holes = vec![PlateHole {
                ends: [[x, 0.0]; 2],
                width: 3.0,
            }];
        })
    };
    assert_eq!(
        said(&hole(300.0)),
        "Cable hole 1 of the plate “pair” lies beside the plate. \
         Measure where it lies, and the outline, again."
    );
    assert_eq!(hole(0.0).check(), Ok(()));
    let beside = |x| with(|plate| plate.eyes[1].centre = Some([x, 0.0]));
    assert_eq!(
        said(&beside(500.0)),
        "Opening 2 of the plate “pair” lies beside the plate. \
         Measure where it lies and how wide it is, and the outline, again."
    );
    assert_eq!(
        said(&with(|plate| {
            plate.outline = Some(vec![
                [-60.0, -40.0],
                [45.0, -40.0],
                [45.0, 40.0],
                [-60.0, 40.0],
            ]);
        })),
        "Opening 2 of the plate “pair” reaches over the plate's edge. \
         Measure where it lies and how wide it is, and the outline, again."
    );
    assert_eq!(
        said(&beside(10.0)),
        "Opening 2 of the plate “pair” lies on opening 1. Measure how far they stand apart again."
    );
    assert_eq!(
        said(&with(|plate| plate.eyes[1].centre = None)),
        "Opening 2 of the plate “pair” has no `centre`. \
         Say where it lies; only a pair whose spacing is not measured may leave out both."
    );
    // Where nothing is known of the seats, their centres decide.
    let unknown = |apart: f64| {
        let plate = ShelfPlate::unmeasured("old", &[[0.0; 2], [apart, 0.0]]);
        plate.check("plate").is_ok()
    };
    assert!(unknown(30.0) && !unknown(0.0));
    let crossing = vec![[-40.0, -40.0], [40.0, 40.0], [40.0, -40.0], [-40.0, 40.0]];
    assert_eq!(
        said(&with(|plate| plate.outline = Some(crossing))),
        "The plate outline crosses itself near (0.0, 0.0). Move or remove points there."
    );
}

#[test]
fn an_empty_shelf_and_a_full_one_are_accepted() {
    assert_eq!(Shelf::empty().check(), Ok(()));
    let full = Shelf {
        plates: vec![ShelfPlate::unmeasured("one", &[[0.0; 2]]); MOST_PLATES],
        ..Shelf::empty()
    };
    assert_eq!(full.check(), Ok(()));
}

#[test]
fn plates_of_one_name_are_told_apart_by_a_number() {
    let named = |names: &[&str]| Shelf {
        plates: names
            .iter()
            .map(|&name| ShelfPlate::unmeasured(name, &[[0.0; 2]]))
            .collect(),
        ..Shelf::empty()
    };
    let shelf = named(&["Fox", "Hare", "Fox", "Fox (2)", " Fox ", "", ""]);
    assert_eq!(
        shelf.names_apart(),
        [
            "Fox", "Hare", "Fox (3)", "Fox (2)", "Fox (4)", "Plate 6", "Plate 7"
        ]
    );
    assert_eq!(shelf.same_names(), [(2, 0), (4, 0)]);
    assert_eq!(shelf.check(), Ok(()), "they stay usable");
    assert_eq!(shelf.free_name("Fox"), "Fox (3)");
    assert_eq!(shelf.free_name("Badger"), "Badger");
    let longest = "x".repeat(80);
    let shelf = named(&[&longest]);
    let free = shelf.free_name(&longest);
    assert_eq!(free, format!("{} (2)", "x".repeat(76)));
}
