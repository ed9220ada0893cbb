//! Where a plate fits best.

use approx::assert_abs_diff_eq;
use layout::shelf::{MOST_TURN, ShelfPlate, fit};
use layout::{Project, evaluate};

use super::demo::{CHARACTERS, character};
use super::grid::Grid;
use super::heads::{random_head, random_plate};
use crate::common::Random;

/// How far below that of a grid a margin may lie, mm.
const SHORT: f64 = 0.02;

#[test]
fn no_grid_finds_a_better_place_in_two_hundred_heads() {
    let mut random = Random::new(4_817);
    let (mut concave, mut without_room) = (0, 0);
    for case in 0..200 {
        let (project, plate) = (random_head(&mut random), random_plate(&mut random));
        let outline = plate.outline.as_ref().expect("a random plate has one");
        let grid = Grid::of(&project.head.wall(), outline);
        let found = fit(&project, &plate).placed.expect("it has a place");
        assert!(found.placement.turn.0.abs() <= MOST_TURN.0 + 1e-9, "{case}");
        let margin = grid.margin(found.placement);
        assert_abs_diff_eq!(found.margin, margin, epsilon = 2e-3);
        let (_, of_grid) = grid.best();
        assert!(margin >= of_grid - SHORT, "{case}: {margin} < {of_grid}");
        assert!(found.at_most >= of_grid - 1e-3, "{case}: {}", found.at_most);
        without_room += usize::from(margin < 0.0);
        concave += usize::from(is_concave(&project.head.outline));
    }
    assert!(
        concave > 50 && without_room > 20,
        "{concave} {without_room}"
    );
}

#[test]
fn nearly_every_place_is_proved_to_be_the_best() {
    let mut random = Random::new(4_817);
    let cases = 100;
    let proved = (0..cases).filter(|_| {
        let (project, plate) = (random_head(&mut random), random_plate(&mut random));
        let found = fit(&project, &plate).placed.expect("it has a place");
        found.at_most - found.margin <= SHORT
    });
    assert!(proved.count() >= cases - 5);
}

#[test]
fn a_plate_fits_the_head_that_it_was_laid_out_for_as_well_or_better() {
    /// How far outside its true edge a corner of the outline may lie, mm: the flattening of arcs, and
    /// as much again for the corners that are left out.
    const FLATTENED: f64 = 0.04;
    for name in CHARACTERS {
        let project = character(name);
        let own = evaluate(&project).figures.plate.plate_wall_mm;
        let own = own.expect("a character has a plate");
        let found = fit(&project, &ShelfPlate::of(&project));
        assert!(found.matches() && found.measure.is_empty(), "{name}");
        let margin = found.margin().expect("it has a place");
        assert!(margin >= own - FLATTENED, "{name}: {margin} < {own}");
    }
}

#[test]
fn a_plate_of_which_all_places_are_as_good_stays_where_the_eyes_are() {
    // Between two parallel walls the plate can go up and down.
    let mut project: Project = crate::common::pair();
    project.head.outline = vec![
        [-70.0, -150.0],
        [70.0, -150.0],
        [70.0, 150.0],
        [-70.0, 150.0],
    ];
    project.head.smooth = false;
    project.eyes.iter_mut().for_each(|eye| eye.centre[1] = 40.0);
    let plate = ShelfPlate {
        outline: Some(vec![
            [-60.0, -30.0],
            [60.0, -30.0],
            [60.0, 30.0],
            [-60.0, 30.0],
        ]),
        ..ShelfPlate::unmeasured("straight", &[[-29.0, 0.0], [29.0, 0.0]])
    };
    let placed = fit(&project, &plate).placed.expect("it has a place");
    assert_abs_diff_eq!(placed.margin, 10.0, epsilon = SHORT);
    assert_eq!(placed.placement.turn.0, 0.0);
    assert_abs_diff_eq!(placed.placement.shift[0], 0.0, epsilon = SHORT);
    assert_abs_diff_eq!(placed.placement.shift[1], 40.0, epsilon = 1e-9);
}

#[test]
fn a_plate_that_fits_only_askew_is_turned() {
    // A slot in the head that is turned by 10 degrees and hardly wider than the plate.
    let mut project = crate::common::pair();
    let (sin, cos) = 10.0_f64.to_radians().sin_cos();
    let turned = |[x, y]: [f64; 2]| [x * cos - y * sin, x * sin + y * cos];
    let corners = |x: f64, y: f64| vec![[-x, -y], [x, -y], [x, y], [-x, y]];
    project.head.outline = corners(80.0, 33.0).into_iter().map(turned).collect();
    project.head.smooth = false;
    let plate = ShelfPlate {
        outline: Some(corners(75.0, 30.0)),
        ..ShelfPlate::unmeasured("long", &[[-29.0, 0.0], [29.0, 0.0]])
    };
    let placed = fit(&project, &plate).placed.expect("it has a place");
    assert_abs_diff_eq!(placed.margin, 3.0, epsilon = SHORT);
    assert_abs_diff_eq!(placed.placement.turn.0, 10.0, epsilon = 0.1);
}

#[test]
fn the_same_plate_gets_the_same_answer_twice() {
    let mut random = Random::new(77);
    for _ in 0..5 {
        let (project, plate) = (random_head(&mut random), random_plate(&mut random));
        assert_eq!(fit(&project, &plate), fit(&project, &plate));
    }
}

fn is_concave(corners: &[[f64; 2]]) -> bool {
    let count = corners.len();
    (0..count).any(|index| {
        let [a, b, c] = [0, 1, 2].map(|step| corners[(index + step) % count]);
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) < 0.0
    })
}
