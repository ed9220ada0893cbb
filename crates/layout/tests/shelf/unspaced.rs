//! Plates whose openings have no places yet: the spacing is still to be measured.

use layout::Edit;
use layout::cable_hole::PlateHole;
use layout::shelf::{
    Dimension, Measured, Openings, Shelf, ShelfEye, ShelfParts, ShelfPlate, ShelfSlot, TakenPlate,
    fit, matching, taken, work,
};
use layout::{Degrees, Project};

use super::demo::{CHARACTERS, character, rank, shelf};
use crate::common::{lidded_pair, pair};

/// The same plate with a spacing that nobody knows.
fn unspaced(plate: &ShelfPlate) -> ShelfPlate {
    let eye = |eye: &ShelfEye| ShelfEye {
        centre: None,
        ..eye.clone()
    };
    ShelfPlate {
        eyes: plate.eyes.iter().map(eye).collect(),
        ..plate.clone()
    }
}

const SENTENCE: &str =
    "Measure the spacing of the plate: how far the centres of its openings stand apart.";

#[test]
fn all_but_the_openings_is_known_of_it_and_it_asks_for_the_spacing() {
    for project in [pair(), lidded_pair()] {
        let known = ShelfPlate::of(&project);
        let open = unspaced(&known);
        let [of_known, of_open] = [&known, &open].map(|plate| fit(&project, plate));
        assert!(of_open.matches());
        let asked: Vec<_> = of_open.measure.iter().map(|one| one.sentence()).collect();
        assert_eq!(asked, [SENTENCE]);
        let [with, without] = [of_known, of_open.clone()].map(|fit| fit.placed.unwrap());
        assert_eq!(without.placement, with.placement);
        assert_eq!(
            (without.margin, without.at_most),
            (with.margin, with.at_most)
        );
        assert_eq!(without.slots, with.slots);
        assert_eq!((with.eyes.len(), with.spacings.len()), (2, 1));
        assert!(without.eyes.is_empty() && without.spacings.is_empty());

        let done = work(&project, &known, &with);
        let left = work(&project, &open, &without);
        assert_eq!(done.refused, None);
        assert_eq!(left.filing, done.filing);
        assert_eq!((left.lacks.len(), left.fouls()), (0, 0));
        assert_eq!(
            left.refused.as_ref().unwrap().to_string(),
            "No eye can be put to its opening while the plate's spacing is not known. Measure it first."
        );
        assert!(!of_open.serves(Some(&left)));
        assert_eq!(
            of_open.sentence(Some(&left)),
            "The plate has room in the head, but the character cannot be laid out round it. \
             What is not known must be measured."
        );
        assert_eq!(taken(&project, &open, without.placement), None);
        let edit = Edit::TakePlate(Box::new(TakenPlate::new(open, without.placement, &left)));
        assert!(edit.apply(&project).is_err());
    }
}

#[test]
fn whichever_plate_of_a_pair_it_is_it_stands_among_those_to_be_measured() {
    let mut shelf = shelf();
    for plate in &mut shelf.plates {
        if plate.eyes.len() == 2 {
            *plate = unspaced(plate);
        }
    }
    assert_eq!(shelf.check(), Ok(()));
    let text = ron::to_string(&shelf).unwrap();
    assert_eq!(ron::from_str::<Shelf>(&text).unwrap(), shelf);
    for name in CHARACTERS {
        let project: Project = character(name);
        for (index, fit) in rank(&project, &shelf) {
            let plate = &shelf.plates[index];
            if plate.eyes.len() != 2 {
                continue;
            }
            let asked = { fit.measure.iter() }.any(|one| one.sentence() == SENTENCE);
            assert!(asked, "{name}: {}", plate.name);
            let Some(placed) = &fit.placed else {
                continue;
            };
            let work = work(&project, plate, placed);
            assert!(work.refused.is_some() && !fit.serves(Some(&work)));
        }
    }
}

#[test]
fn its_openings_stand_from_left_to_right() {
    let mut project = pair();
    let mut small = project.parts.clone();
    small.ball_diameter -= 2.0;
    let own = Some(Box::new(ShelfParts::of(&small)));
    project.eyes[1].parts = Some(Box::new(small));
    let mut plate = unspaced(&ShelfPlate::of(&project));
    assert_eq!(plate.eyes[1].parts, own);
    assert_eq!(matching(&plate, &project), []);
    plate.eyes.reverse();
    assert!(!matching(&plate, &project).is_empty());
}

#[test]
fn a_file_leaves_the_centres_out_and_one_of_today_is_read_as_it_was() {
    let plate = |eyes: &str| {
        ron::from_str::<ShelfPlate>(&format!(
            "ShelfPlate(name: \"old\", parts: ShelfParts(ball_diameter: None, seat: None, ring: ShelfRing(depth: \
             None, thickness: None, outer_diameter: None, bevel: None), lids: None), thickness: None, eyes: {eyes}, \
             outline: None, slots: [], cable_holes: [])"
        ))
    };
    let known = ShelfPlate::unmeasured("old", &[[-28.0, 3.0], [28.0, 3.0]]);
    let read = plate("[ShelfEye(centre: (-28.0, 3.0)), ShelfEye(centre: (28.0, 3.0))]");
    assert_eq!(read.unwrap(), known);
    let read = plate("[ShelfEye(), ShelfEye()]").unwrap();
    assert_eq!((read.check("plate"), &read), (Ok(()), &unspaced(&known)));
    assert!(plate("[ShelfEye(center: (0.0, 0.0))]").is_err());
}

#[test]
fn a_spacing_that_is_forgotten_leaves_all_the_rest_about_the_middle_and_can_be_filled_in() {
    let mut plate = ShelfPlate::unmeasured("off its origin", &[[40.0, 7.0], [100.0, 7.0]]);
    let square = [[0.0, -30.0], [140.0, -30.0], [140.0, 40.0], [0.0, 40.0]];
    plate.outline = Some(square.to_vec());
    plate.slots = vec![ShelfSlot {
        at: [132.0, 23.0],
        angle: Degrees(90.0),
        tie: None,
    }];
    plate.cable_holes = vec![PlateHole {
        ends: [[70.0, -23.0]; 2],
        width: 3.5,
    }];
    let mut measured = Measured::of(&plate);
    measured.set(Dimension::Spacing, None).unwrap();
    let open = measured.plate().unwrap();
    assert_eq!(open.centres(), None);
    assert_eq!(open.middle(), [0.0; 2]);
    let outline = [[-70.0, -37.0], [70.0, -37.0], [70.0, 33.0], [-70.0, 33.0]];
    assert_eq!(open.outline.as_deref(), Some(&outline[..]));
    assert_eq!(open.slots[0].at, [62.0, 16.0]);
    assert_eq!(open.cable_holes[0].ends, [[0.0, -30.0]; 2]);

    let mut again = Measured::of(&open);
    assert_eq!(again.openings, Openings::Pair);
    for dimension in [
        Dimension::FromLeft,
        Dimension::FromBelow,
        Dimension::SlotAcross(0),
    ] {
        assert_eq!(again.get(dimension), measured.get(dimension));
    }
    assert_eq!(again.get(Dimension::Spacing), None);
    assert_eq!(again.plate(), Ok(open.clone()));
    again.set(Dimension::Spacing, Some(60.0)).unwrap();
    let known = again.plate().unwrap();
    assert_eq!(known.centres(), Some(vec![[-30.0, 0.0], [30.0, 0.0]]));
    assert_eq!(unspaced(&known), open);
}
