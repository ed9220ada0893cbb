//! A plate from the shelf taken over by a project.

use approx::assert_abs_diff_eq;
use layout::plate::PlateOutline;
use layout::shelf::{Placement, ShelfPlate, fit, taken, work};
use layout::{Degrees, Edit, History, Laid, evaluate};

use super::demo::{CHARACTERS, character};
use crate::common::pair;

#[test]
fn taking_a_plate_over_is_one_step_that_can_be_undone() {
    let project = character("bramble");
    let mut other = pair();
    other.eyes[0].centre = [-31.0, 0.0];
    other.eyes[1].centre = [31.0, 0.0];
    let plate = ShelfPlate::of(&other);
    let placed = fit(&project, &plate).placed.expect("it has a place");
    let edit = Edit::TakePlate {
        plate: Box::new(plate.clone()),
        placement: placed.placement,
    };
    let mut history = History::new(project.clone(), true);
    history.apply(&edit).unwrap();
    let over = history.project().clone();
    assert_eq!(
        Some(over.clone()),
        taken(&project, &plate, placed.placement)
    );
    assert_eq!(history.undo_label(), Some("take plate from shelf"));
    for (eye, at) in over.eyes.iter().zip(&placed.eyes) {
        assert_eq!(&eye.centre, at);
    }
    assert_eq!(over.ties.len(), plate.slots.len());
    history.undo();
    assert_eq!(history.project(), &project);
}

#[test]
fn the_plate_that_is_taken_over_has_the_margin_that_was_promised() {
    for name in CHARACTERS {
        let project = character(name);
        let plate = ShelfPlate::of(&project);
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let over = taken(&project, &plate, placed.placement).expect("it can be taken over");
        assert_eq!(over.check(), Ok(()));
        if work(&project, &plate, &placed).lacks.is_empty() {
            let margin = evaluate(&over).figures.plate.plate_wall_mm;
            let margin = margin.expect("it has a plate");
            // Pads may stand out of the flattened edge by as much as it was flattened.
            assert_abs_diff_eq!(margin, placed.margin, epsilon = 0.1);
        }
    }
}

#[test]
fn a_turned_plate_turns_its_eyes_slots_and_outline() {
    let project = pair();
    let plate = ShelfPlate::of(&project);
    let placement = Placement {
        shift: [3.0, -2.0],
        turn: Degrees(90.0),
    };
    let over = taken(&project, &plate, placement).expect("it can be taken over");
    // The plate's eyes lie 29 mm to both sides of its origin.
    let mut eyes: Vec<_> = over.eyes.iter().map(|eye| eye.centre).collect();
    eyes.sort_by(|a, b| a[1].total_cmp(&b[1]));
    for (eye, y) in eyes.iter().zip([-31.0, 27.0]) {
        assert_abs_diff_eq!(eye[0], 3.0, epsilon = 1e-9);
        assert_abs_diff_eq!(eye[1], y, epsilon = 1e-9);
    }
    assert_eq!(over.ties[0].angle, Degrees(180.0));
    let PlateOutline::Drawn { outline, smooth } = &over.plate.outline else {
        panic!("the outline is drawn");
    };
    assert!(!smooth && !over.plate.trim_to_head);
    let before = plate.outline.expect("it has one");
    for (corner, [x, y]) in outline.iter().zip(before) {
        assert_abs_diff_eq!(corner[0], 3.0 - y, epsilon = 1e-9);
        assert_abs_diff_eq!(corner[1], -2.0 + x, epsilon = 1e-9);
    }
}

#[test]
fn what_lies_by_an_eye_goes_with_it_and_the_way_out_stays() {
    let mut project = pair();
    project.drives[0].stop = Some([-20.0, 1.0, -28.0]);
    project.drives[0].via = vec![[-20.0, -30.0, -30.0]];
    let plate = ShelfPlate::of(&project);
    let placement = Placement {
        shift: [1.0, 4.0],
        turn: Degrees(0.0),
    };
    let over = taken(&project, &plate, placement).expect("it can be taken over");
    let (before, after) = (&project.drives[0], &over.drives[0]);
    assert_eq!(after.exit, before.exit);
    assert_eq!(after.tip, before.tip);
    for (place, to) in after
        .stop
        .iter()
        .chain(&after.via)
        .zip([[-19.0, 5.0], [-19.0, -26.0]])
    {
        assert_abs_diff_eq!(place[0], to[0], epsilon = 1e-9);
        assert_abs_diff_eq!(place[1], to[1], epsilon = 1e-9);
    }
}

#[test]
fn a_plate_goes_onto_the_shelf_alike_from_wherever_it_stood() {
    let project = character("bramble");
    let mut moved = project.clone();
    let by = [7.0, -11.0];
    let shift = |at: &mut [f64; 2]| {
        at[0] += by[0];
        at[1] += by[1];
    };
    moved.head.outline.iter_mut().for_each(shift);
    moved.eyes.iter_mut().for_each(|eye| shift(&mut eye.centre));
    moved.ties.iter_mut().for_each(|slot| shift(&mut slot.at));
    moved.drives.clear();
    let mut still = project;
    still.drives.clear();
    let [a, b] = [&still, &moved].map(ShelfPlate::of);
    let near = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-9;
    let [of_a, of_b] = [&a, &b].map(|plate| plate.centres().expect("its openings have places"));
    assert!(of_a.iter().zip(&of_b).all(|(&a, &b)| near(a, b)));
    assert!(a.slots.iter().zip(&b.slots).all(|(a, b)| near(a.at, b.at)));
    let area = |plate: &ShelfPlate| {
        let corners = plate.outline.iter().flatten().map(|&at| at.into());
        layout::geometry::polygon::area(&corners.collect::<Vec<_>>())
    };
    // Which corners are left out may differ, by less than the flattening along the edge.
    assert_abs_diff_eq!(area(&a), area(&b), epsilon = 5.0);
    let own = Laid::out(&still).plate.area();
    assert!((area(&a) / own - 1.0).abs() < 1e-3, "{} {own}", area(&a));
}

#[test]
fn a_plate_that_is_not_known_or_is_no_plate_is_not_taken() {
    let project = pair();
    let at = Placement {
        shift: [0.0; 2],
        turn: Degrees(0.0),
    };
    let blank = ShelfPlate::unmeasured("blank", &[[-29.0, 0.0], [29.0, 0.0]]);
    assert_eq!(taken(&project, &blank, at), None);
    let nowhere = Placement {
        shift: [f64::NAN, 0.0],
        ..at
    };
    let edit = Edit::TakePlate {
        plate: Box::new(ShelfPlate::of(&project)),
        placement: nowhere,
    };
    assert!(edit.apply(&project).is_err());
}
