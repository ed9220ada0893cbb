//! What is said of a plate at its best place.

use approx::assert_abs_diff_eq;
use layout::limits::State;
use layout::shelf::{Drilled, Placed, REACH, ShelfPlate, Work, fit, taken, work};
use layout::{Laid, Project};

use super::demo::{CHARACTERS, character};
use crate::common::{lidded_pair, pair};

fn rectangle(x: f64, y: f64) -> Vec<[f64; 2]> {
    vec![[-x, -y], [x, -y], [x, y], [-x, y]]
}

/// The pair in a rectangular head.
fn boxed(x: f64, y: f64) -> Project {
    let mut project = pair();
    project.head.outline = rectangle(x, y);
    project.head.smooth = false;
    project
}

/// A plate at its best place in the head, and what is to be done to it there.
fn placed(project: &Project, plate: &ShelfPlate) -> (Placed, Work) {
    let placed = fit(project, plate).placed.expect("it has a place");
    let work = work(project, plate, &placed);
    (placed, work)
}

#[test]
fn a_plate_too_wide_is_filed_on_both_sides_down_to_the_wanted_clearance() {
    let plate = ShelfPlate {
        outline: Some(rectangle(51.0, 20.0)),
        ..ShelfPlate::of(&pair())
    };
    let project = boxed(50.0, 50.0);
    let fit = fit(&project, &plate);
    let placed = fit.placed.as_ref().expect("it has a place");
    let work = work(&project, &plate, placed);
    assert_eq!(placed.state, State::Fouls);
    assert_abs_diff_eq!(placed.margin, -1.0, epsilon = 0.02);
    let [right, left] = &work.filing[..] else {
        panic!("two sides must be filed: {:?}", work.filing);
    };
    // 1 mm too wide on each side, and 2 mm are wanted; along the sides and 3 mm round their corners.
    for (side, x) in [(right, 51.0), (left, -51.0)] {
        assert_abs_diff_eq!(side.depth, 3.0, epsilon = 0.02);
        assert_abs_diff_eq!(side.at[0], x, epsilon = 0.02);
        assert_abs_diff_eq!(side.length, 40.0 + 2.0 * 3.0, epsilon = 0.5);
        // The plate goes where its eyes are: its own frame is the head's here, but for the search's step.
        assert_abs_diff_eq!(side.at_on_plate[0], x, epsilon = 0.02);
        let corners = side.line.iter();
        let on_side = corners.filter(|at| (at[0] - x).abs() < 0.02).count();
        assert!(on_side >= 2 && side.line.len() >= 4, "{:?}", side.line);
    }
    assert_eq!(
        fit.sentence(None),
        "The plate takes the parts, but must be filed to fit the head."
    );
    // Its slots, 62 mm off the middle, and more lie beside it.
    assert_eq!(
        fit.sentence(Some(&work)),
        format!(
            "The plate must be filed to fit the head, and {} things foul with it. {} things that foul now foul with \
             it, too.",
            work.fouls(),
            work.fails_anyway.len()
        )
    );
}

#[test]
fn a_plate_with_room_is_not_filed() {
    let plate = ShelfPlate {
        outline: Some(rectangle(80.0, 45.0)),
        ..ShelfPlate::of(&pair())
    };
    let (placed, work) = placed(&boxed(90.0, 90.0), &plate);
    assert_eq!((placed.state, work.filing.len()), (State::Clear, 0));
    assert_abs_diff_eq!(placed.margin, 10.0, epsilon = 0.02);
    let [spacing] = placed.spacings[..] else {
        panic!("a pair has one spacing");
    };
    assert_eq!(spacing.eyes, [0, 1]);
    assert_abs_diff_eq!(spacing.distance, 58.0, epsilon = 1e-9);
}

#[test]
fn each_slot_has_its_nearest_anchor_hole() {
    for name in CHARACTERS {
        let project = character(name);
        let plate = ShelfPlate::of(&project);
        let placed = fit(&project, &plate).placed.expect("it has a place");
        assert_eq!(placed.slots.len(), plate.slots.len());
        for (slot, reach) in plate.slots.iter().zip(&placed.slots) {
            let reach = reach.expect("the head has anchor holes");
            let at = placed.placement.place(slot.at);
            let to = |hole: [f64; 2]| (hole[0] - at[0]).hypot(hole[1] - at[1]);
            let holes = project.head.anchor_holes.iter().map(|hole| to(hole.at));
            let least = holes.fold(f64::INFINITY, f64::min);
            assert_abs_diff_eq!(reach.distance, least, epsilon = 1e-9);
            assert_abs_diff_eq!(to(project.head.anchor_holes[reach.anchor].at), least);
            assert_eq!(reach.within, least <= REACH);
        }
    }
}

#[test]
fn a_plate_without_slots_gets_one_for_each_tie_inside_its_edge() {
    let project = pair();
    let plate = ShelfPlate {
        slots: Vec::new(),
        ..ShelfPlate::of(&project)
    };
    let (placed, work) = placed(&project, &plate);
    let anchors: Vec<usize> = work
        .drilling
        .iter()
        .filter_map(|drilling| match drilling.hole {
            Drilled::Slot { anchor } => Some(anchor),
            _ => None,
        })
        .collect();
    assert_eq!(anchors, [0, 1, 2, 3]);
    assert_eq!(work.beyond, []);
    let outline = plate.outline.expect("it has one");
    let edge = outline
        .into_iter()
        .map(|at| placed.placement.place(at).into());
    let edge: Vec<_> = edge.collect();
    for drilling in &work.drilling {
        let Drilled::Slot { anchor } = drilling.hole else {
            continue;
        };
        let room = layout::geometry::polygon::room_around(&edge, drilling.at.into());
        // The thickness, 3 mm, is wanted to the edge, and half of the diagonal of 3.2 × 1.7 mm.
        let wanted = 3.0 + 3.2_f64.hypot(1.7) / 2.0;
        let room = room.expect("there is an edge").distance;
        assert_abs_diff_eq!(room, wanted, epsilon = 0.05);
        let hole = project.head.anchor_holes[anchor].at;
        assert!((hole[0] - drilling.at[0]).hypot(hole[1] - drilling.at[1]) <= REACH);
        assert_eq!(drilling.size, [3.2, 1.7]);
        assert_eq!(
            drilling.sentence(&project),
            format!(
                "Make a slot here for the tie to anchor hole {}.",
                anchor + 1
            )
        );
    }
}

#[test]
fn slots_for_smaller_ties_are_widened_and_far_anchor_holes_named() {
    let mut project = pair();
    let plate = ShelfPlate::of(&project);
    project
        .ties
        .iter_mut()
        .for_each(|slot| slot.tie = [3.6, 1.3]);
    project.head.anchor_holes[0].at = [75.0, 140.0];
    let (_, work) = placed(&project, &plate);
    let [beyond] = work.beyond[..] else {
        panic!("one hole is out of reach: {:?}", work.beyond);
    };
    assert_eq!(beyond.anchor, 0);
    assert!(beyond.distance.expect("the plate is wide enough") > REACH);
    assert_eq!(
        beyond.sentence(),
        "Anchor hole 1 is too far from any slot that the plate has room for."
    );
    let wider: Vec<_> = work
        .drilling
        .iter()
        .filter(|drilling| matches!(drilling.hole, Drilled::WiderSlot { .. }))
        .collect();
    assert_eq!(wider.len(), 4);
    assert_abs_diff_eq!(wider[0].size[0], 4.3, epsilon = 1e-9);
    assert_abs_diff_eq!(wider[0].size[1], 2.0, epsilon = 1e-9);
    assert_eq!(
        wider[1].sentence(&project),
        "Widen slot 2 for the ties of this head."
    );
}

#[test]
fn cable_holes_that_the_drives_need_are_drilled_unless_the_plate_has_them() {
    let mut drilled = 0;
    for name in CHARACTERS {
        let project = character(name);
        let mut plate = ShelfPlate::of(&project);
        plate.cable_holes.clear();
        let (placed, work) = placed(&project, &plate);
        let over = taken(&project, &plate, placed.placement).expect("it can be taken over");
        let needed = Laid::out(&over).cable_holes().count();
        let of_cables = |work: &Work| {
            let holes = work.drilling.iter();
            holes
                .filter(|drilling| matches!(drilling.hole, Drilled::CableHole { .. }))
                .count()
        };
        // Some of an invented character come too near to each other, or to an opening.
        let lacks = work.lacks.iter();
        let no_room = lacks
            .filter(|lack| lack.part.starts_with("cable hole"))
            .count();
        assert_eq!(of_cables(&work) + no_room, needed, "{name}");
        drilled += of_cables(&work);
        // The plate with these holes needs none any more.
        let with_holes = ShelfPlate::of(&over);
        let (again, work_again) = self::placed(&over, &with_holes);
        let apart = (again.placement.shift[0] - placed.placement.shift[0]).abs();
        if apart < 1e-9 && again.placement.turn == placed.placement.turn {
            assert_eq!(of_cables(&work_again), 0, "{name}");
        }
    }
    assert!(drilled > 0);
}

#[test]
fn a_plate_that_ends_too_near_to_slots_and_lugs_lacks_material() {
    let project = lidded_pair();
    let whole = ShelfPlate::of(&project);
    let (_, work) = placed(&project, &whole);
    assert_eq!(work.lacks, []);
    // Slots stand 62 mm off the middle, the outer lugs 29 + 26 mm.
    let cut = ShelfPlate {
        outline: Some(rectangle(56.0, 40.0)),
        ..whole
    };
    let (_, work) = placed(&project, &cut);
    let parts: Vec<&str> = work.lacks.iter().map(|lack| lack.part.as_str()).collect();
    assert_eq!(
        parts,
        [
            "slot 1",
            "slot 2",
            "slot 3",
            "slot 4",
            "left lug of the left eye",
            "right lug of the right eye",
        ]
    );
    // A lug of 3 mm with a foot of 2 mm round it: 55 + 1.5 + 2 − 56.
    assert_abs_diff_eq!(work.lacks[4].by, 2.5, epsilon = 0.05);
    assert_eq!(
        work.lacks[4].sentence(),
        "The plate ends too near to the left lug of the left eye."
    );
}

#[test]
fn an_opening_too_near_to_the_edge_that_is_left_after_filing_is_named() {
    let mut plate = ShelfPlate::of(&pair());
    plate.slots.clear();
    plate.outline = Some(rectangle(58.0, 40.0));
    // Filed to 52 mm: the openings, 29 mm off the middle, have a radius of about 20 mm and want 3 mm.
    let project = boxed(54.0, 60.0);
    let (_, work) = self::placed(&project, &plate);
    assert_eq!(work.lacks, []);
    let project = boxed(53.0, 60.0);
    let (_, work) = self::placed(&project, &plate);
    let parts: Vec<&str> = work.lacks.iter().map(|lack| lack.part.as_str()).collect();
    assert_eq!(parts, ["left eye", "right eye"]);
}

#[test]
fn a_web_short_of_the_wanted_one_is_tight_and_one_short_of_the_least_fouls() {
    // Front radius of a spherical seat, √((R + clearance)² − c²) with R = 20, 0.4 and c = 4.
    let radius = (20.4_f64.powi(2) - 4.0_f64.powi(2)).sqrt();
    for (web, state, said) in [
        (
            2.88,
            State::Tight,
            "The plate leaves less round the right eye than is wanted.",
        ),
        (
            0.9,
            State::Fouls,
            "The plate ends too near to the right eye.",
        ),
    ] {
        let mut plate = ShelfPlate::of(&pair());
        plate.slots.clear();
        let x = 29.0 + radius + web;
        plate.outline = Some(vec![[-60.0, -40.0], [x, -40.0], [x, 40.0], [-60.0, 40.0]]);
        let (_, work) = placed(&boxed(90.0, 90.0), &plate);
        let [lack] = &work.lacks[..] else {
            panic!("one web is too thin: {:?}", work.lacks);
        };
        assert_eq!((lack.state, lack.sentence().as_str()), (state, said));
        assert_abs_diff_eq!(lack.web, web, epsilon = 1e-3);
        assert_abs_diff_eq!(lack.wanted, 3.0, epsilon = 1e-9);
        assert_abs_diff_eq!(lack.by, 3.0 - web, epsilon = 1e-3);
        assert_abs_diff_eq!(lack.at_on_plate[0], x, epsilon = 1e-6);
        assert_abs_diff_eq!(lack.at_on_plate[1], 0.0, epsilon = 1e-6);
        assert_eq!(work.fouls(), usize::from(state == State::Fouls));
    }
}

#[test]
fn holes_are_placed_on_the_plate_where_they_come_to_lie_in_the_head() {
    let project = character("bramble");
    let mut plate = ShelfPlate::of(&project);
    plate.slots.clear();
    plate.cable_holes.clear();
    // The same plate, drawn askew in its own frame.
    let askew = 0.3_f64;
    let turned = |[x, y]: [f64; 2]| {
        let (sin, cos) = askew.sin_cos();
        [x * cos - y * sin + 5.0, x * sin + y * cos - 3.0]
    };
    for eye in &mut plate.eyes {
        eye.centre = eye.centre.map(turned);
    }
    let corners = plate.outline.iter_mut().flatten();
    corners.for_each(|corner| *corner = turned(*corner));
    let (placed, work) = placed(&project, &plate);
    assert!(!work.drilling.is_empty());
    for hole in &work.drilling {
        let back = placed.placement.place(hole.at_on_plate);
        assert_abs_diff_eq!(back[0], hole.at[0], epsilon = 1e-9);
        assert_abs_diff_eq!(back[1], hole.at[1], epsilon = 1e-9);
        // A long side has no sense: half a turn is none.
        let angle = hole.angle_on_plate.0 + placed.placement.turn.0 - hole.angle.0;
        let rest = (angle + 90.0).rem_euclid(180.0) - 90.0;
        assert_abs_diff_eq!(rest, 0.0, epsilon = 1e-9);
        assert!(-90.0 < hole.angle_on_plate.0 && hole.angle_on_plate.0 <= 90.0);
        let [low, high] = hole.outline().bounds().expect("a hole has an edge");
        assert_abs_diff_eq!(f64::midpoint(low.x, high.x), hole.at[0], epsilon = 1e-6);
        let diagonal = (high - low).norm();
        assert!(diagonal >= hole.size[1] && diagonal <= hole.size[0] * 2.0_f64.sqrt() + 1e-6);
    }
}
