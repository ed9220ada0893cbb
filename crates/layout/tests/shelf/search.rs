//! Where a plate fits best.

use layout::shelf::{MOST_TURN, fit};

use super::grid::Grid;
use super::heads::{random_head, random_plate, wall};
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
        let grid = Grid::of(&wall(&project), outline);
        let found = fit(&project, &plate).placed.expect("it has a place");
        assert!(found.placement.turn.0.abs() <= MOST_TURN.0 + 1e-9, "{case}");
        let margin = grid.margin(found.placement);
        assert!(
            (found.margin - margin).abs() < 2e-3,
            "{case}: {} {margin}",
            found.margin
        );
        let (_, of_grid) = grid.best();
        assert!(margin >= of_grid - SHORT, "{case}: {margin} < {of_grid}");
        without_room += usize::from(margin < 0.0);
        concave += usize::from(is_concave(&project.head.outline));
    }
    assert!(
        concave > 50 && without_room > 50,
        "{concave} {without_room}"
    );
}

fn is_concave(corners: &[[f64; 2]]) -> bool {
    let count = corners.len();
    (0..count).any(|index| {
        let [a, b, c] = [0, 1, 2].map(|step| corners[(index + step) % count]);
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) < 0.0
    })
}

#[test]
fn temp_timing() {
    let mut random = Random::new(4_817);
    let (mut a, mut b, mut c) = (0.0, 0.0, 0.0);
    for case in 0..30 {
        let (project, plate) = (random_head(&mut random), random_plate(&mut random));
        let outline = plate.outline.as_ref().expect("a random plate has one");
        let t = std::time::Instant::now();
        let found = fit(&project, &plate).placed.expect("it has a place");
        let t1 = t.elapsed().as_secs_f64();
        let t = std::time::Instant::now();
        let grid = Grid::of(&wall(&project), outline);
        let margin = grid.margin(found.placement);
        let t2 = t.elapsed().as_secs_f64();
        let t = std::time::Instant::now();
        let (_, g) = grid.best();
        let t3 = t.elapsed().as_secs_f64();
        println!("{case} {t1:.4} {t2:.4} {t3:.4} {margin:.4} {:.4} {g:.4} turn {}", found.margin, found.placement.turn.0);
        a += t1; b += t2; c += t3;
    }
    println!("{a} {b} {c}");
}
