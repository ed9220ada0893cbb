//! How long a maker waits for a proposed route: for a sample's drives, and in random heads of four
//! cables whose way straight to the exit is barred. The aim is 100 ms at most. And for proposed slots in a sample's
//! plate, where a second may do.

use std::hint::black_box;

use criterion::Criterion;
use layout::ties::{self, Wanted};
use layout::{Laid, Project, propose};

#[path = "../tests/common/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the tests use the rest")]
mod common;

use common::{Random, routes};

/// Random heads that are tried.
const HEADS: usize = 6;

fn sample(criterion: &mut Criterion) {
    let text = include_str!("../../../demo/bramble.ron");
    let project: Project = ron::from_str(text).expect("a demo can be read");
    let laid = Laid::out(&project);
    for (index, drive) in project.drives.iter().enumerate() {
        criterion.bench_function(&format!("propose a route, {}", drive.name), |bencher| {
            bencher.iter(|| propose::route(black_box(&project), &laid, index, true));
        });
    }
}

fn random_heads(criterion: &mut Criterion) {
    let mut random = Random::new(219);
    for head in 0..HEADS {
        let (project, _) = routes::planted(&mut random, true);
        let laid = Laid::out(&project);
        criterion.bench_function(&format!("propose a route, random head {head}"), |bencher| {
            bencher.iter(|| propose::route(black_box(&project), &laid, routes::SOUGHT, false));
        });
    }
}

/// Slots for the sample's plate: in mirrored pairs, and one by one.
fn slots(criterion: &mut Criterion) {
    let text = include_str!("../../../demo/bramble.ron");
    let project: Project = ron::from_str(text).expect("a demo can be read");
    for (count, mirrored) in [(4, true), (6, true), (4, false), (6, false)] {
        let wanted = Wanted {
            count,
            tie: layout::tie::USUAL,
            mirrored,
        };
        let how = if mirrored { "in pairs" } else { "one by one" };
        criterion.bench_function(&format!("propose {count} slots, {how}"), |bencher| {
            bencher.iter(|| ties::propose(black_box(&project), &wanted));
        });
    }
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    sample(&mut criterion);
    random_heads(&mut criterion);
    slots(&mut criterion);
    criterion.final_summary();
}
