//! The invented shelf beside the invented characters.

use std::collections::BTreeSet;

use layout::Project;
use layout::shelf::{Fit, Shelf, ShelfParts, Trial, fit, ordered};

/// The characters that a shelf is tried on.
pub(super) const CHARACTERS: [&str; 5] = ["bramble", "dame-sorrel", "nettle", "old-tarn", "wimple"];

/// A character from the demos.
pub(super) fn character(name: &str) -> Project {
    let text = match name {
        "bramble" => include_str!("../../../../demo/bramble.ron"),
        "dame-sorrel" => include_str!("../../../../demo/dame-sorrel.ron"),
        "nettle" => include_str!("../../../../demo/nettle.ron"),
        "old-tarn" => include_str!("../../../../demo/old-tarn.ron"),
        _ => include_str!("../../../../demo/wimple.ron"),
    };
    ron::from_str(text).expect("a demo can be read")
}

/// The demo's shelf.
pub(super) fn shelf() -> Shelf {
    let text = include_str!("../../../../demo/shelf/plates.ron");
    ron::from_str(text).expect("the shelf can be read")
}

/// The plates of a shelf by their index, the best first.
pub(super) fn rank(project: &Project, shelf: &Shelf) -> Vec<(usize, Fit)> {
    let trial = Trial::of(project);
    ordered(shelf.plates.iter().map(|plate| trial.fit(plate)).collect())
}

#[test]
fn the_demo_has_forty_plates_of_three_parts_sets_and_some_to_be_measured() {
    let shelf = shelf();
    assert_eq!(shelf.check(), Ok(()));
    assert!(shelf.plates.len() >= 40);
    let balls = shelf
        .plates
        .iter()
        .filter_map(|plate| plate.parts.ball_diameter);
    let balls: BTreeSet<u64> = balls.map(f64::to_bits).collect();
    assert_eq!(balls.len(), 3);
    let bramble = character("bramble");
    let fits: Vec<_> = shelf
        .plates
        .iter()
        .map(|plate| fit(&bramble, plate))
        .collect();
    assert!(fits.iter().any(|fit| !fit.measure.is_empty()));
    assert!(fits.iter().any(|fit| fit.placed.is_none()));
}

#[test]
fn three_characters_find_a_plate_that_takes_their_parts_and_fits() {
    for name in ["bramble", "dame-sorrel", "old-tarn"] {
        let (project, shelf) = (character(name), shelf());
        let ranked = rank(&project, &shelf);
        let (index, best) = &ranked[0];
        assert!(best.matches() && best.measure.is_empty(), "{name}");
        assert!(best.margin().expect("it has a place") > 0.0, "{name}");
        assert_eq!(
            shelf.plates[*index].parts,
            ShelfParts::of(&project.parts),
            "{name}"
        );
    }
}

#[test]
fn plates_that_match_come_first_each_kind_by_margin() {
    let shelf = shelf();
    let ranked = rank(&character("bramble"), &shelf);
    let all: BTreeSet<usize> = ranked.iter().map(|(index, _)| *index).collect();
    assert_eq!(all.len(), shelf.plates.len());
    for pair in ranked.windows(2) {
        let kind = |index: usize| {
            let fit = &pair[index].1;
            (!fit.matches(), !fit.measure.is_empty())
        };
        assert!(kind(0) <= kind(1));
        if kind(0) == kind(1) {
            let margin = |index: usize| pair[index].1.margin().unwrap_or(f64::NEG_INFINITY);
            assert!(margin(0) >= margin(1));
        }
    }
    let kinds: BTreeSet<_> = ranked.iter().map(|(_, fit)| fit.matches()).collect();
    assert_eq!(kinds.len(), 2);
}

#[test]
fn a_plate_for_other_parts_is_ranked_without_a_place_and_has_one_when_it_is_asked_for() {
    let (project, shelf) = (character("bramble"), shelf());
    for (index, ranked) in rank(&project, &shelf) {
        let alone = fit(&project, &shelf.plates[index]);
        if ranked.matches() {
            assert_eq!(ranked, alone);
        } else {
            assert_eq!(ranked.placed, None);
            assert_eq!(ranked.sentence(None), "The plate is made for other parts.");
            assert_eq!(alone.differences, ranked.differences);
            assert_eq!(
                alone.placed.is_some(),
                shelf.plates[index].outline.is_some()
            );
        }
    }
}
