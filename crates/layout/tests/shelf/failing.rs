//! What fails with a plate, and what of it is not the plate's doing.

use layout::limits::{Limit, State};
use layout::shelf::{Fit, Placed, ShelfPlate, Verdict, Work, fit, taken, work};
use layout::{Finding, Project, evaluate};

use super::demo::{CHARACTERS, character, shelf};
use crate::common::pair;

/// The pair without drives, its eyes so far apart, mm.
fn spaced(apart: f64) -> Project {
    let mut project = pair();
    project.drives.clear();
    for (eye, side) in project.eyes.iter_mut().zip([-0.5, 0.5]) {
        eye.centre[0] = side * apart;
    }
    project
}

fn tried(project: &Project, plate: &ShelfPlate) -> (Fit, Work) {
    let found = fit(project, plate);
    let placed: &Placed = found.placed.as_ref().expect("it has a place");
    let work = work(project, plate, placed);
    (found, work)
}

fn ids(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|found| found.id).collect()
}

#[test]
fn what_fails_is_what_the_rules_say_of_the_project_with_the_plate() {
    let plates = shelf().plates;
    let of = |name| {
        let own = ShelfPlate::of(&character(name));
        std::iter::once(own).chain(
            plates
                .iter()
                .filter(|plate| plate.outline.is_some())
                .cloned(),
        )
    };
    let mut failing = 0;
    for name in CHARACTERS {
        let project = character(name);
        let before = evaluate(&project).findings;
        for plate in of(name).take(4) {
            let (found, work) = tried(&project, &plate);
            let placement = found.placed.expect("it has a place").placement;
            let Some(over) = taken(&project, &plate, placement) else {
                continue;
            };
            let mut fouls = evaluate(&over).findings;
            // Wall and edge are told apart: the margin, and what the plate ends too early for.
            let apart = ["plate_wall", "rim", "slot_edge", "hole_edge"];
            fouls.retain(|found| found.state == State::Fouls && !apart.contains(&found.id));
            let said = || work.fails.iter().chain(&work.fails_anyway);
            // So is a hole for a cable that has no room beside something.
            let lacks = work.lacks.iter().filter(|lack| lack.state == State::Fouls);
            let of_drives = lacks.filter(|lack| lack.part.contains("of the drive"));
            let beside = of_drives.filter_map(|lack| lack.beside.as_ref());
            let beside = beside.filter(|own| !own.ends_with("of the plate")).count();
            let told = said().count() + beside;
            assert_eq!(told, fouls.len(), "{name}, {}", plate.name);
            assert!(said().all(|found| fouls.contains(found)), "{name}");
            for anyway in &work.fails_anyway {
                let same = |old: &Finding| old.id == anyway.id && old.part == anyway.part;
                assert!(
                    before
                        .iter()
                        .any(|old| same(old) && old.state == State::Fouls),
                    "{name}: {}",
                    anyway.id
                );
            }
            failing += work.fails.len();
        }
    }
    assert!(failing > 0);
}

#[test]
fn the_plate_is_blamed_for_what_it_changes_alone() {
    // Rings 40 mm wide and more on eyes 40.4 mm apart sweep through each other.
    let narrow = ShelfPlate::of(&spaced(40.4));
    let mut project = spaced(58.0);
    // No ring holds on by so much, whatever the plate.
    project.limits.retention_overlap = Some(Limit::from((50.0, 60.0)));
    let (found, work) = tried(&project, &narrow);
    assert!(ids(&work.fails).contains(&"sweep_gap"), "{:?}", work.fails);
    assert_eq!(ids(&work.fails_anyway), ["retention_overlap"; 2]);
    let many = work.fails.len();
    assert_eq!(work.fouls(), many);
    let said = found.sentence(Some(&work));
    let expected = match many {
        1 => "1 thing fouls with it".to_owned(),
        _ => format!("{many} things foul with it"),
    };
    assert_eq!(
        said,
        format!(
            "The plate has room in the head, but {expected}. 2 things that foul now foul with it, too."
        )
    );
    assert!(!found.serves(Some(&work)));
    assert_eq!(found.verdict(Some(&work)), Some(Verdict::Fouls(many)));
    let short = |found: &Finding| (found.value.unwrap() - found.wanted.unwrap()).abs();
    assert!(
        work.fails
            .windows(2)
            .all(|two| short(&two[0]) >= short(&two[1]))
    );
}

#[test]
fn what_was_bad_is_blamed_on_a_plate_that_makes_it_worse_and_not_on_one_that_leaves_it() {
    let project = spaced(41.0);
    let foul = |id: &str| {
        let findings = evaluate(&project).findings;
        findings
            .iter()
            .any(|own| own.id == id && own.state == State::Fouls)
    };
    assert!(foul("sweep_gap"));
    let (found, same) = tried(&project, &ShelfPlate::of(&project));
    assert_eq!(ids(&same.fails), [""; 0]);
    assert!(ids(&same.fails_anyway).contains(&"sweep_gap"));
    assert!(found.serves(Some(&same)), "{}", found.sentence(Some(&same)));
    let too = match same.fails_anyway.len() {
        1 => "1 thing that fouls now fouls with it, too.".to_owned(),
        many => format!("{many} things that foul now foul with it, too."),
    };
    assert_eq!(
        found.sentence(Some(&same)),
        format!("The plate takes the parts, and fits the head with room to spare. {too}")
    );
    let (_, worse) = tried(&project, &ShelfPlate::of(&spaced(40.4)));
    assert!(ids(&worse.fails).contains(&"sweep_gap"));
    let (_, better) = tried(&project, &ShelfPlate::of(&spaced(41.6)));
    assert!(!ids(&better.fails).contains(&"sweep_gap"));
}

#[test]
fn a_plate_serves_when_all_of_it_is_known_and_it_reaches_every_hole() {
    let project = spaced(58.0);
    let plate = ShelfPlate::of(&project);
    let (found, done) = tried(&project, &plate);
    assert!(found.serves(Some(&done)));
    assert_eq!(
        found.sentence(Some(&done)),
        "The plate takes the parts, and fits the head with room to spare."
    );
    assert!(!found.serves(None), "nobody looked at what is to be done");
    assert_eq!(found.verdict(None), None);

    let unknown = ShelfPlate {
        parts: layout::shelf::ShelfParts::default(),
        ..plate.clone()
    };
    let (found, known) = tried(&project, &unknown);
    assert!(found.matches() && !found.serves(Some(&known)));
    assert_eq!(found.verdict(Some(&known)), Some(Verdict::ToBeMeasured));

    let mut far = project;
    far.head.anchor_holes[0].at = [75.0, 140.0];
    let (found, beyond) = tried(&far, &plate);
    assert_eq!(beyond.beyond.len(), 1);
    assert_eq!(found.verdict(Some(&beyond)), Some(Verdict::OutOfReach(1)));
    assert_eq!(
        found.sentence(Some(&beyond)),
        "The plate has room in the head, but 1 anchor hole is out of its reach."
    );
}

#[test]
fn a_plate_without_a_slot_serves_nobody_even_where_the_project_has_none_either() {
    let project = spaced(58.0);
    let mut untied = project.clone();
    untied.ties.clear();
    let bare = ShelfPlate::of(&untied);
    for project in [project, untied] {
        let (found, work) = tried(&project, &bare);
        // Laid without slots, it has no room for one.
        assert_eq!(work.beyond.len(), project.ties.len());
        assert_eq!(found.verdict(Some(&work)), Some(Verdict::WithoutSlots));
        assert!(!found.serves(Some(&work)));
        assert_eq!(
            found.sentence(Some(&work)),
            "The plate has room in the head, but it has no slot to be tied on by."
        );
    }
}

#[test]
fn a_plate_that_lacks_a_slot_for_a_tie_or_has_one_too_narrow_does_not_serve_yet() {
    let project = spaced(58.0);
    let plate = ShelfPlate::of(&project);
    let mut fewer = plate.clone();
    fewer.slots.truncate(project.ties.len() - 1);
    let mut narrow = plate;
    narrow.slots[0].tie = Some(project.ties[0].tie.map(|side| side - 0.5));
    for plate in [fewer, narrow] {
        let (found, work) = tried(&project, &plate);
        assert_eq!(work.drilling.len(), 1);
        assert_eq!(found.verdict(Some(&work)), Some(Verdict::ToBeDrilled));
        assert!(!found.serves(Some(&work)));
        assert_eq!(
            found.sentence(Some(&work)),
            "The plate takes the parts, and fits the head with room to spare; slots must be made or widened before \
             it serves."
        );
    }
}

#[test]
fn holes_for_cables_are_no_bar_and_a_plate_to_be_filed_is_one() {
    let bramble = character("bramble");
    let plates = shelf().plates;
    let tansy = plates
        .iter()
        .find(|plate| plate.name == "Aunt Tansy, first plate");
    let (found, work) = tried(&bramble, tansy.expect("it is on the demo's shelf"));
    assert!(!work.drilling.is_empty());
    assert_eq!(found.verdict(Some(&work)), Some(Verdict::Serves));

    let project = spaced(58.0);
    let mut wide = ShelfPlate::of(&project);
    let (found, _) = tried(&project, &wide);
    let more = found.margin().expect("it has a place") + 1.0;
    // Of an edge that runs all round, each corner goes outward by more than there is room.
    for corner in wide.outline.iter_mut().flatten() {
        let long = corner[0].hypot(corner[1]);
        *corner = corner.map(|side| side * (1.0 + more / long));
    }
    let (found, work) = tried(&project, &wide);
    assert_eq!(work.fouls(), 0);
    assert_eq!(found.verdict(Some(&work)), Some(Verdict::ToBeFiled));
    let words = |verdict: Verdict| (verdict.state(), verdict.words());
    assert_eq!(
        [Verdict::Serves, Verdict::ToBeFiled, Verdict::Fouls(2)].map(words),
        [
            (State::Clear, "serves".to_owned()),
            (State::Tight, "to be filed".to_owned()),
            (State::Fouls, "2 foul".to_owned()),
        ]
    );
    assert_eq!(
        words(Verdict::ToBeMeasured),
        (State::NotChecked, "to be measured".to_owned())
    );
}
