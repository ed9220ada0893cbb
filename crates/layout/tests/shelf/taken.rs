//! A plate from the shelf taken over by a project.

use approx::assert_abs_diff_eq;
use layout::cable_hole::PlateHole;
use layout::limits::{Rule, State};
use layout::plate::PlateOutline;
use layout::shelf::{Drilled, Placement, ShelfPlate, TakenPlate, fit, taken, work};
use layout::tie::TieSlot;
use layout::{Degrees, Edit, Finding, History, Laid, evaluate};

use super::demo::{CHARACTERS, character, shelf};
use crate::common::{Random, finding, pair};

#[test]
fn taking_a_plate_over_is_one_step_that_can_be_undone() {
    let project = character("bramble");
    let mut other = pair();
    other.eyes[0].centre = [-31.0, 0.0];
    other.eyes[1].centre = [31.0, 0.0];
    let plate = ShelfPlate::of(&other);
    let placed = fit(&project, &plate).placed.expect("it has a place");
    let work = work(&project, &plate, &placed);
    let edit = Edit::TakePlate(Box::new(TakenPlate::new(
        plate.clone(),
        placed.placement,
        &work,
    )));
    let mut history = History::new(project.clone(), true);
    history.apply(&edit).unwrap();
    let over = history.project().clone();
    let as_it_is = taken(&project, &plate, placed.placement).unwrap();
    assert_eq!(work.slots, as_it_is.ties, "none is to be made");
    assert_eq!(over, as_it_is);
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
    let own = ShelfPlate::of(&project);
    let placed = fit(&project, &own).placed.expect("it has a place");
    let done = work(&project, &own, &placed);
    let nowhere = Placement {
        shift: [f64::NAN, 0.0],
        ..at
    };
    let edit = Edit::TakePlate(Box::new(TakenPlate::new(own.clone(), nowhere, &done)));
    assert!(edit.apply(&project).is_err());
}

#[test]
fn slots_that_are_made_for_it_come_along_and_its_ties_reach_as_many_anchor_holes() {
    let mut made = 0;
    for name in CHARACTERS {
        let project = character(name);
        for plate in &shelf().plates {
            let Some(placed) = fit(&project, plate).placed else {
                continue;
            };
            let work = work(&project, plate, &placed);
            if work.refused.is_some() {
                assert!(work.slots.is_empty());
                continue;
            }
            let edit = Edit::TakePlate(Box::new(TakenPlate::new(
                plate.clone(),
                placed.placement,
                &work,
            )));
            let over = edit.apply(&project).unwrap();
            let tied = |anchor: usize| over.ties.iter().any(|slot| slot.anchor == Some(anchor));
            for anchor in project.ties.iter().filter_map(|slot| slot.anchor) {
                let out_of_reach = work.beyond.iter().any(|own| own.anchor == anchor);
                assert!(tied(anchor) || out_of_reach, "{name}, {}", plate.name);
            }
            let findings = evaluate(&over).findings;
            for drilling in &work.drilling {
                let Drilled::Slot { anchor } = drilling.hole else {
                    continue;
                };
                made += 1;
                let is_it = |slot: &TieSlot| slot.at == drilling.at && slot.anchor == Some(anchor);
                let slot = over.ties.iter().position(is_it).expect("it came along");
                assert!(slot >= plate.slots.len());
                assert_eq!(over.ties[slot].size(), drilling.size);
                let own = format!("slot {}", slot + 1);
                for rule in [Rule::SlotEdge, Rule::SlotOpening] {
                    let mut of_rule = findings.iter().filter(|own| own.id == rule.info().id);
                    let found = of_rule.find(|found| found.part.starts_with(&own));
                    let found = found.expect("it is looked at");
                    assert_eq!(found.state, State::Clear, "{found:?}");
                }
            }
        }
    }
    assert!(made > 20, "{made}");
}

#[test]
fn a_slot_that_is_widened_must_keep_its_webs_as_wide_as_it_becomes() {
    let mut project = pair();
    let mut plate = ShelfPlate::of(&project);
    for slot in &mut plate.slots {
        slot.tie = Some([1.0, 0.5]);
    }
    let mut against = |tie| {
        project.ties.iter_mut().for_each(|slot| slot.tie = tie);
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let work = work(&project, &plate, &placed);
        let wider = work.drilling.iter();
        let wider = wider.filter(|own| matches!(own.hole, Drilled::WiderSlot { .. }));
        assert_eq!(wider.count(), plate.slots.len());
        assert!(work.slots.iter().all(|slot| slot.tie == tie));
        let lacks = work.lacks.iter().map(|lack| &lack.part);
        let parts = lacks.chain(work.fails.iter().map(|found| &found.part));
        parts.filter(|part| part.contains("slot")).count()
    };
    assert_eq!(against([1.5, 0.8]), 0);
    assert!(against([14.0, 6.0]) >= 4);
}

#[test]
fn the_plate_that_is_taken_over_is_the_one_that_exists_without_any_pad() {
    let (mut tried, mut thin) = (0, 0);
    for name in CHARACTERS {
        let project = character(name);
        for plate in &shelf().plates {
            let Some(placed) = fit(&project, plate).placed else {
                continue;
            };
            let Some(over) = taken(&project, plate, placed.placement) else {
                continue;
            };
            let laid = Laid::out(&over);
            let corners = plate.outline.iter().flatten();
            let area: f64 = {
                let corners: Vec<_> = corners.copied().collect();
                let next = corners.iter().cycle().skip(1);
                let twice = corners.iter().zip(next);
                twice.map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
            };
            assert_abs_diff_eq!(laid.plate.area(), area, epsilon = 1e-6);
            // What the shelf says of the edge is what the rules say of it.
            let work = work(&project, plate, &placed);
            let findings = evaluate(&over).findings;
            let slots = findings.iter().filter(|own| own.id == "slot_edge");
            for found in slots.filter(|_| work.filing.is_empty()) {
                let mut lacks = work.lacks.iter();
                let wider = work.drilling.iter();
                let mut wider = wider.filter(|own| matches!(own.hole, Drilled::WiderSlot { .. }));
                let Some(lack) = lacks.find(|lack| lack.part == found.part) else {
                    continue;
                };
                if wider.next().is_none() {
                    assert_abs_diff_eq!(lack.web, found.value.unwrap(), epsilon = 1e-9);
                    thin += 1;
                }
            }
            tried += 1;
        }
    }
    assert!(tried > 40 && thin > 20, "{tried} {thin}");
}

#[test]
fn a_cable_hole_that_breaks_into_an_opening_or_through_the_edge_counts_against_its_plate() {
    let project = pair();
    let mut plate = ShelfPlate::of(&project);
    plate.cable_holes.clear();
    let placed = fit(&project, &plate).placed.expect("it has a place");
    let before = work(&project, &plate, &placed);
    for (at, width) in [([29.0, 12.0], 12.0), ([0.0, 0.0], 1000.0)] {
        plate.cable_holes = vec![PlateHole {
            ends: [at; 2],
            width,
        }];
        assert_eq!(plate.check("plate"), Ok(()));
        let after = work(&project, &plate, &placed);
        let part = "cable hole 1 of the plate";
        let mut own = after.lacks.iter().filter(|lack| lack.part == part);
        assert!(own.any(|lack| lack.state == State::Fouls && lack.web < 0.0));
        assert!(after.fouls() > before.fouls());
        assert!(!fit(&project, &plate).serves(Some(&after)));
    }
}

#[test]
fn what_is_taken_over_is_the_plate_as_it_will_be() {
    let mut random = Random::new(4_091);
    let (mut filed, mut widened, mut fouled) = (0, 0, 0);
    for name in CHARACTERS {
        let project = character(name);
        let own = ShelfPlate::of(&project);
        let tries = (0..12).map(|_| {
            let mut plate = own.clone();
            for hole in &mut plate.cable_holes {
                let off = [0, 1].map(|_| random.between(-2.5, 2.5));
                hole.ends = hole.ends.map(|end| [end[0] + off[0], end[1] + off[1]]);
            }
            plate
        });
        for plate in tries.chain(shelf().plates) {
            let Some(placed) = fit(&project, &plate).placed else {
                continue;
            };
            let work = work(&project, &plate, &placed);
            let edit = TakenPlate::new(plate.clone(), placed.placement, &work);
            if work.refused.is_some() {
                continue;
            }
            let over = Edit::TakePlate(Box::new(edit)).apply(&project).unwrap();
            let (laid, report) = (Laid::out(&over), evaluate(&over));
            // All holes that it had are there, but those that are filed off, and as wide as they are to be.
            let kept = over.plate.cable_holes.len();
            assert!(kept <= plate.cable_holes.len());
            assert!(kept == plate.cable_holes.len() || !work.filing.is_empty());
            for order in &work.drilling {
                if let Drilled::WiderHole { hole, .. } = order.hole
                    && kept == plate.cable_holes.len()
                {
                    let [long, wide] = laid.plate_holes[hole].size();
                    assert_abs_diff_eq!(long, order.size[0], epsilon = 1e-6);
                    assert_abs_diff_eq!(wide, order.size[1], epsilon = 1e-6);
                    widened += 1;
                }
            }
            // What it gets is what was ordered.
            let ordered = { work.drilling.iter() }
                .filter(|order| matches!(order.hole, Drilled::CableHole { .. }));
            let made = (0..laid.drives.len()).map(|drive| laid.holes_made(drive).count());
            let without = work.lacks.iter();
            let without = without.filter(|lack| lack.part.contains("of the drive"));
            let made: usize = made.sum();
            assert!(made >= ordered.clone().count());
            assert!(
                made <= ordered.count() + without.count(),
                "{name}, {}",
                plate.name
            );
            if work.filed.is_some() {
                let wall = finding(&report, Rule::PlateWall, "plate");
                assert_eq!(wall.state, State::Clear, "{name}, {}: {wall:?}", plate.name);
                filed += 1;
            }
            // A hole of its own that comes too near to something, by more than callipers leave open, was said to.
            let is_own =
                |part: &str| part.starts_with("cable hole") && part.contains("of the plate");
            let breaks = |own: &&Finding| {
                let by = 1.0 - own.value.unwrap_or(1.0);
                is_own(&own.part) && own.state == State::Fouls && by > 0.1
            };
            let found = report.findings.iter().any(|own| breaks(&own));
            let told = work
                .lacks
                .iter()
                .any(|lack| is_own(&lack.part) || lack.beside.is_some());
            let first = || report.findings.iter().find(breaks);
            assert!(told || !found, "{name}, {}: {:?}", plate.name, first());
            fouled += u32::from(found);
        }
    }
    assert!(
        filed > 3 && widened > 5 && fouled > 3,
        "{filed} {widened} {fouled}"
    );
}

#[test]
fn a_hole_that_is_filed_off_goes_with_what_is_filed() {
    let mut gone = 0;
    for name in CHARACTERS {
        let project = character(name);
        for mut plate in shelf().plates {
            let Some(placed) = fit(&project, &plate).placed else {
                continue;
            };
            let before = work(&project, &plate, &placed);
            let deep = before.filing.iter().find(|filing| filing.depth > 2.0);
            let Some(deep) = deep.filter(|_| before.refused.is_none()) else {
                continue;
            };
            plate.cable_holes.push(PlateHole {
                ends: [deep.at_on_plate; 2],
                width: 1.0,
            });
            let after = work(&project, &plate, &placed);
            assert_eq!(after.lacks, before.lacks, "{name}, {}", plate.name);
            assert_eq!(after.cable_holes, before.cable_holes);
            gone += 1;
        }
    }
    assert!(gone > 3, "{gone}");
}
