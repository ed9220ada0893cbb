//! How long a maker waits for solids: those of an ordinary pair, and their files. The aim is 10 ms for
//! the plate.

use std::hint::black_box;

use criterion::Criterion;
use layout::Laid;
use output::solid::{plate, rings, solids};
use output::{SolidOptions, stl, threemf};

#[path = "../../layout/tests/common/projects.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod projects;
#[path = "../../layout/tests/common/random.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod random;

use random::Random;

fn benches(criterion: &mut Criterion) {
    let project = projects::pair();
    let laid = Laid::out(&project);
    let options = SolidOptions::default();
    let all = solids(&project, &laid, &options).expect("the pair can be made");
    let facets = all[0].mesh().triangles.len();
    criterion.bench_function(
        &format!("plate of an ordinary pair, {facets} facets"),
        |bencher| {
            bencher.iter(|| plate(black_box(&project), &laid, &options));
        },
    );
    criterion.bench_function("ring of an ordinary pair", |bencher| {
        bencher.iter(|| rings(black_box(&project), &laid, &options));
    });
    criterion.bench_function("plate as STL", |bencher| {
        bencher.iter(|| stl::write(black_box(&all[0])));
    });
    criterion.bench_function("all solids as 3MF", |bencher| {
        bencher.iter(|| threemf::write("pair", black_box(&all)));
    });
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    benches(&mut criterion);
    criterion.final_summary();
}
