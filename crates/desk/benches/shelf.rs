//! How long a maker waits for the shelf: 200 plates ranked on all cores in a head of 200 points, which may take 60 ms
//! on two, where the character has the parts of a third of them, and where it has those of all; then all of them in
//! heads that bend inward. Last, the one plate that is chosen, with what is to be done to it.

use std::hint::black_box;

use criterion::Criterion;
use desk::ranking::rank;
use layout::Project;
use layout::shelf::{Shelf, ShelfParts, ShelfPlate, fit, work};

#[path = "../../layout/benches/common/ordinary.rs"]
mod ordinary;
#[path = "../../layout/tests/common/projects.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod projects;
#[path = "../../layout/tests/common/random.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod random;

use random::Random;

/// Plates of the shelf.
const PLATES: usize = 200;

/// How much larger or smaller each plate is than the one of the demo that it is made of, as a share.
const RESIZED: f64 = 0.08;

/// Takes a point of the ordinary head, (x, y) in mm, elsewhere.
type Reshaped = fn([f64; 2]) -> [f64; 2];

/// Ways in which a head bends inward, and what makes the ordinary head bend so.
const INWARD: [(&str, Reshaped); 4] = [
    ("dents at the temples", |[x, y]| {
        [x * (1.0 - 0.15 * bump((y - 30.0) / 20.0)), y]
    }),
    ("a notch under the brow", |[x, y]| {
        let above = if y > 0.0 { 0.35 } else { 0.0 };
        [x, y * (1.0 - above * bump(x / 16.0))]
    }),
    ("a waist", |[x, y]| [x * (1.0 - 0.25 * bump(y / 55.0)), y]),
    ("a pillar", |[x, y]| {
        let right = if x > 0.0 { 0.4 } else { 0.0 };
        [x * (1.0 - right * bump((y - 10.0) / 8.0)), y]
    }),
];

/// A rise from 0 to 1 and back, about as wide as 1 to either side.
fn bump(off: f64) -> f64 {
    (-off * off).exp()
}

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
    for shelf in [&mixed, &matching] {
        let ranked = rank(&project, shelf);
        let matching = ranked.iter().filter(|(_, fit)| fit.matches()).count();
        let name = format!("ranking {PLATES} plates of which {matching} match");
        criterion.bench_function(&name, |bencher| {
            bencher.iter(|| rank(black_box(&project), black_box(shelf)));
        });
    }
    for (shape, reshaped) in INWARD {
        let mut project = project.clone();
        for point in &mut project.head.outline {
            *point = reshaped(*point);
        }
        assert_eq!(project.check(), Ok(()));
        let name = format!("ranking {PLATES} plates in a head with {shape}");
        criterion.bench_function(&name, |bencher| {
            bencher.iter(|| rank(black_box(&project), black_box(&matching)));
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
