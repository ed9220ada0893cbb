//! Plates that are kept where the eyes are.

use approx::assert_abs_diff_eq;
use layout::limits::{Limit, State};
use layout::shelf::{ShelfPlate, Trial, Verdict, fit, work};

use super::demo::character;
use crate::common::pair;

#[test]
fn a_characters_own_plate_is_kept_where_its_eyes_are_where_more_margin_would_make_things_foul() {
    let project = character("bramble");
    let plate = ShelfPlate::of(&project);
    let found = fit(&project, &plate);
    let best = found.placed.clone().expect("it has a place");
    assert_eq!(best.most, None);
    assert!(work(&project, &plate, &best).fouls() > 0);
    let (kept, done) = Trial::of(&project).work_out(&plate, found);
    let placed = kept.placed.as_ref().expect("it has a place");
    for (at, eye) in placed.eyes.iter().zip(&project.eyes) {
        assert_abs_diff_eq!(at[0], eye.centre[0], epsilon = 1e-9);
        assert_abs_diff_eq!(at[1], eye.centre[1], epsilon = 1e-9);
    }
    assert_eq!((placed.placement.turn.0, placed.state), (0.0, State::Clear));
    assert_eq!(placed.most, Some(best.margin));
    assert!(placed.margin < best.margin && placed.at_most >= best.margin);
    assert_eq!(kept.verdict(done.as_ref()), Some(Verdict::Serves));
    assert_eq!(done.as_ref(), Some(&work(&project, &plate, placed)));
}

#[test]
fn a_plate_with_which_nothing_fouls_goes_to_the_place_of_the_largest_margin() {
    let project = pair();
    let plate = ShelfPlate::of(&project);
    let found = fit(&project, &plate);
    let placed = found.placed.as_ref().expect("it has a place");
    let at_best = work(&project, &plate, placed);
    assert_eq!(at_best.fouls(), 0);
    let (same, done) = Trial::of(&project).work_out(&plate, found.clone());
    assert_eq!((same, done), (found, Some(at_best)));
}

#[test]
fn a_plate_stays_at_its_best_place_if_the_one_of_the_eyes_has_less_margin_than_is_wanted() {
    let mut project = character("bramble");
    let plate = ShelfPlate::of(&project);
    let (kept, _) = Trial::of(&project).work_out(&plate, fit(&project, &plate));
    let placed = kept.placed.expect("it has a place");
    let most = placed.most.expect("it is kept where the eyes are");
    // Between the margins of the two places.
    let wanted = f64::midpoint(placed.margin, most);
    project.limits.plate_wall = Some(Limit::from((1.0, wanted)));
    let found = fit(&project, &plate);
    let (same, done) = Trial::of(&project).work_out(&plate, found.clone());
    assert_eq!(same, found);
    assert!(done.expect("it has a place").fouls() > 0);
}

#[test]
fn a_plate_without_a_place_is_left_without_one() {
    let project = pair();
    let plate = ShelfPlate {
        outline: None,
        ..ShelfPlate::of(&project)
    };
    let found = fit(&project, &plate);
    let worked_out = Trial::of(&project).work_out(&plate, found.clone());
    assert_eq!(worked_out, (found, None));
}
