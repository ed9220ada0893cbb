//! How long a maker waits for the shelf: 200 plates ranked in a head of 200 points, which may take 60 ms on two
//! cores, where the character has the parts of a third of them, and where it has those of all. One core is used.
//! Then the one plate that is chosen, with what is to be done to it.

use std::hint::black_box;

use criterion::Criterion;
use layout::Project;
use layout::shelf::{Shelf, ShelfParts, ShelfPlate, fit, rank, work};

#[path = "common/ordinary.rs"]
mod ordinary;
#[path = "../tests/common/projects.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod projects;
#[path = "../tests/common/random.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod random;

use random::Random;

/// Plates of the shelf.
const PLATES: usize = 200;

/// How much larger or smaller each plate is than the one of the demo that it is made of, as a share.
const RESIZED: f64 = 0.08;

fn main() {
    let bramble: Project =
        ron::from_str(include_str!("../../../demo/bramble.ron")).expect("a demo can be read");
    let mut project = ordinary::pair(true);
    project.parts = bramble.parts.clone();
    let mixed = shelf();
    let mut matching = mixed.clone();
    for plate in &mut matching.plates {
        plate.parts = ShelfParts::of(&project.parts);
    }
    let mut criterion = Criterion::default().sample_size(10).configure_from_args();
    for shelf in [mixed, matching] {
        let ranked = rank(&project, &shelf);
        let matching = ranked.iter().filter(|(_, fit)| fit.matches()).count();
        let name = format!("ranking {PLATES} plates of which {matching} match");
        criterion.bench_function(&name, |bencher| {
            bencher.iter(|| rank(black_box(&project), black_box(&shelf)));
        });
    }
    let own = ShelfPlate::of(&bramble);
    criterion.bench_function("one plate with what is to be done to it", |bencher| {
        bencher.iter(|| {
            let fit = fit(black_box(&bramble), black_box(&own));
            let placed = fit.placed.expect("it has a place");
            work(&bramble, &own, &placed)
        });
    });
    criterion.final_summary();
}

/// The demo's plates over and over, each a little larger or smaller, but for those that are to be measured.
fn shelf() -> Shelf {
    let demo: Shelf = ron::from_str(include_str!("../../../demo/shelf/plates.ron"))
        .expect("the shelf can be read");
    let mut random = Random::new(200);
    let measured = demo.plates.iter().filter(|plate| plate.outline.is_some());
    let mut plates: Vec<ShelfPlate> = measured.cycle().take(PLATES).cloned().collect();
    for plate in &mut plates {
        let by = 1.0 + random.between(-RESIZED, RESIZED);
        let outline = plate.outline.iter_mut().flatten();
        outline.flatten().for_each(|side| *side *= by);
    }
    Shelf {
        plates,
        ..Shelf::empty()
    }
}
