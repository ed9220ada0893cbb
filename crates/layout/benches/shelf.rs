//! How long a maker waits for the shelf: one plate tried in one head, which may take 20 ms, and the
//! demo's whole shelf, which works out to 2 s for a hundred plates.

use std::hint::black_box;

use criterion::Criterion;
use layout::Project;
use layout::shelf::{Shelf, ShelfPlate, fit, rank};

fn main() {
    let project: Project =
        ron::from_str(include_str!("../../../demo/bramble.ron")).expect("a demo can be read");
    let shelf: Shelf = ron::from_str(include_str!("../../../demo/shelf/plates.ron"))
        .expect("the shelf can be read");
    let own = ShelfPlate::of(&project);
    let mut criterion = Criterion::default().sample_size(10).configure_from_args();
    criterion.bench_function("one plate in a head", |bencher| {
        bencher.iter(|| fit(black_box(&project), black_box(&own)));
    });
    let name = format!("a shelf of {} plates", shelf.plates.len());
    criterion.bench_function(&name, |bencher| {
        bencher.iter(|| rank(black_box(&project), black_box(&shelf)));
    });
    criterion.final_summary();
}
