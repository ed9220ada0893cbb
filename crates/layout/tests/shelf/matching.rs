//! Which plates take a character's parts.

use layout::Project;
use layout::seat::Seat;
use layout::shelf::{Difference, Held, ShelfLids, ShelfPlate, ShelfSeat, fit, matching, work};

use super::demo::character;
use crate::common::{lidded_pair, pair};

/// The plate of the lidded pair with something changed.
fn changed(change: impl FnOnce(&mut ShelfPlate)) -> ShelfPlate {
    let mut plate = ShelfPlate::of(&lidded_pair());
    change(&mut plate);
    plate
}

fn add(value: &mut Option<f64>, more: f64) {
    *value = value.map(|value| value + more);
}

/// Adds to one of pivot spacing, pivot hole, gap and shell.
fn add_to_lids(plate: &mut ShelfPlate, which: usize, more: f64) {
    if let Some(ShelfLids::With {
        pivot_spacing,
        pivot_hole,
        gap,
        shell,
    }) = &mut plate.parts.lids
    {
        add([pivot_spacing, pivot_hole, gap, shell][which], more);
    }
}

#[test]
fn each_dimension_may_differ_by_its_tolerance_and_no_more() {
    type Change = fn(&mut ShelfPlate, f64);
    // Tolerances: own choice, as the core gives its reasons for them.
    let cases: [(&str, f64, Change); 10] = [
        ("ball diameter", 0.3, |p, d| {
            add(&mut p.parts.ball_diameter, d);
        }),
        ("height of the ball's centre", 0.2, |p, d| {
            if let Some(ShelfSeat::Spherical { centre_height, .. }) = &mut p.parts.seat {
                add(centre_height, d);
            }
        }),
        ("depth of the ring", 0.2, |p, d| {
            add(&mut p.parts.ring.depth, d);
        }),
        ("thickness of the ring", 0.2, |p, d| {
            add(&mut p.parts.ring.thickness, d);
        }),
        ("outer diameter of the ring", 0.2, |p, d| {
            add(&mut p.parts.ring.outer_diameter, d);
        }),
        ("bevel of the ring", 0.2, |p, d| {
            add(&mut p.parts.ring.bevel, d);
        }),
        ("pivot spacing", 0.3, |p, d| add_to_lids(p, 0, d)),
        ("pivot hole", 0.2, |p, d| add_to_lids(p, 1, d)),
        ("gap under the lids", 0.2, |p, d| add_to_lids(p, 2, d)),
        ("shell of the lids", 0.2, |p, d| add_to_lids(p, 3, d)),
    ];
    let project = lidded_pair();
    for (dimension, tolerance, change) in cases {
        for sign in [-1.0, 1.0] {
            let within = changed(|plate| change(plate, sign * (tolerance - 0.01)));
            assert_eq!(matching(&within, &project), [], "{dimension}");
            let beyond = changed(|plate| change(plate, sign * (tolerance + 0.01)));
            let found = matching(&beyond, &project);
            assert_eq!(found.len(), 1, "{dimension}: {found:?}");
            assert_eq!(found[0].dimension, dimension);
            assert!((found[0].tolerance - tolerance).abs() < 1e-12);
            let word = if sign < 0.0 { "smaller" } else { "larger" };
            assert_eq!(
                found[0].sentence(),
                format!("The {dimension} of the eyes is {word} on the plate.")
            );
            assert!(!fit(&project, &beyond).matches());
        }
    }
}

#[test]
fn names_and_spacing_are_never_compared() {
    let project = lidded_pair();
    let other = changed(|plate| {
        plate.name = "something else".to_owned();
        plate.eyes[0].centre = plate.eyes[0].centre.map(|[x, y]| [x - 9.0, y]);
    });
    assert_eq!(matching(&other, &project), []);
    let mut renamed = pair();
    renamed.parts.ball_diameter = 38.0;
    let found = matching(&ShelfPlate::of(&renamed), &pair());
    assert_eq!(found.len(), 1, "the same name does not make it match");
    assert_eq!(found[0].shelf, Held::Length(38.0));
    assert_eq!(found[0].wanted, Held::Length(40.0));
}

#[test]
fn another_kind_of_seat_and_missing_lids_differ_but_spare_lugs_do_not() {
    let mut plain = pair();
    plain.parts.seat = Seat::Plain {
        opening_diameter: 38.0,
    };
    let found = matching(&ShelfPlate::of(&plain), &pair());
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].shelf, Held::Kind("plain"));
    assert_eq!(
        found[0].sentence(),
        "The plate has a plain seat for the eyes, where a spherical one is wanted."
    );
    let found = matching(&ShelfPlate::of(&pair()), &lidded_pair());
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].dimension, found[0].shelf),
        ("lids", Held::Kind("none"))
    );
    assert_eq!(
        found[0].sentence(),
        "The plate carries no lids for the eyes."
    );
    assert_eq!(matching(&ShelfPlate::of(&lidded_pair()), &pair()), []);
}

#[test]
fn a_plate_with_another_number_of_eyes_differs_and_cannot_be_taken_over() {
    let (bramble, wimple) = (character("bramble"), character("wimple"));
    let plate = ShelfPlate::of(&wimple);
    let found = fit(&bramble, &plate);
    assert_eq!(found.differences[0].shelf, Held::Count(3));
    assert_eq!(
        found.differences[0].sentence(),
        "The plate has more openings than the character has eyes."
    );
    let few = fit(&wimple, &ShelfPlate::of(&bramble)).differences;
    assert_eq!(
        few[0].sentence(),
        "The plate has fewer openings than the character has eyes."
    );
    let placed = found.placed.expect("it has a place");
    let refused = work(&bramble, &plate, &placed).refused;
    assert_eq!(
        refused.expect("it is refused").to_string(),
        "The plate has 3 openings, and the character 2 eyes. Choose a plate with one opening for each eye."
    );
}

#[test]
fn each_eye_is_compared_with_its_own_opening_in_whatever_order_they_stand() {
    let wimple: Project = character("wimple");
    let mut plate = ShelfPlate::of(&wimple);
    plate.eyes.rotate_left(1);
    assert_eq!(matching(&plate, &wimple), []);
    // The small opening where a large eye is to go.
    let own = plate.eyes[1].parts.take();
    plate.eyes[0].parts = own;
    assert!(!matching(&plate, &wimple).is_empty());
}

#[test]
fn what_is_unknown_is_to_be_measured_and_no_difference() {
    let project = lidded_pair();
    let plate = ShelfPlate::unmeasured("blank", &[[-29.0, 0.0], [29.0, 0.0]]);
    let found = matching(&plate, &project);
    assert!(found.iter().all(Difference::is_unknown));
    let fit = fit(&project, &plate);
    assert!(fit.matches() && fit.placed.is_none());
    let said: Vec<String> = fit
        .measure
        .iter()
        .map(|measure| measure.sentence())
        .collect();
    assert_eq!(
        said,
        [
            "Measure the ball diameter of the eyes.",
            "Measure the kind of seat of the eyes.",
            "Measure the depth of the ring of the eyes.",
            "Measure the thickness of the ring of the eyes.",
            "Measure the outer diameter of the ring of the eyes.",
            "Measure the bevel of the ring of the eyes.",
            "Measure the lids of the eyes.",
            "Measure the outline of the plate.",
            "Measure the thickness of the plate.",
        ]
    );
    assert_eq!(
        fit.sentence(None),
        "Nothing can be said before the plate's outline is measured."
    );
}
