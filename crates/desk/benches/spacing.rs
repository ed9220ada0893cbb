//! How long a maker waits for a spacing window, on all cores: that of an ordinary pair without drives in a head of 200
//! points, which may take 5 ms, and that of a character with all its drives.

use std::hint::black_box;

use criterion::Criterion;
use desk::spacing_search::window;
use layout::Project;
use layout::spacing::pair;

#[path = "../../layout/benches/common/ordinary.rs"]
mod ordinary;
#[path = "../../layout/tests/common/projects.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod projects;
#[path = "../../layout/tests/common/random.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod random;

use random::Random;

fn main() {
    let with_drives: Project =
        ron::from_str(include_str!("../../../demo/bramble.ron")).expect("a demo can be read");
    let mut criterion = Criterion::default().sample_size(10).configure_from_args();
    for (name, project) in [
        (
            "an ordinary pair, 200 points straight",
            ordinary::pair(false),
        ),
        (
            "an ordinary pair, 200 points smoothed",
            ordinary::pair(true),
        ),
        ("a character with six drives", with_drives),
    ] {
        let eyes = pair(&project).expect("it has two eyes");
        let looks = format!("a spacing window of {name}");
        criterion.bench_function(&looks, |bencher| {
            bencher.iter(|| window(black_box(&project), eyes));
        });
    }
    criterion.final_summary();
}
