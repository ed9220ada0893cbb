//! How long a drag waits: `evaluate` on an ordinary pair whose head has 200 points, straight and
//! smoothed, and a whole frame of a drag. The aim is 60 µs for `evaluate` without drives. A frame of a
//! drag of a lever's tip or a route's point among six drives, or of a rod's end, may take 2 ms.

use std::hint::black_box;

use criterion::Criterion;
use layout::drive::{Moves, Turn};
use layout::edit::Edit;
use layout::handle::{Handle, Place};
use layout::rod::RodEnd;
use layout::{Project, evaluate};

#[path = "common/ordinary.rs"]
mod ordinary;
#[path = "../tests/common/projects.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod projects;
#[path = "../tests/common/random.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod random;

use random::Random;

fn benches(criterion: &mut Criterion) {
    for (name, smooth) in [("straight", false), ("smoothed", true)] {
        let project = ordinary::pair(smooth);
        criterion.bench_function(&format!("evaluate, 200 points {name}"), |bencher| {
            bencher.iter(|| evaluate(black_box(&project)));
        });
        let drag = Edit::Move {
            handle: Handle::Eye(0),
            to: [-30.0, 0.5],
            mirrored: true,
        };
        criterion.bench_function(
            &format!("a frame of a drag, 200 points {name}"),
            |bencher| {
                bencher.iter(|| {
                    black_box(&drag)
                        .apply(&project)
                        .map(|moved| evaluate(&moved))
                });
            },
        );
    }
}

/// Drags among the drives of two characters: one whose six all work, and one that fouls everywhere.
fn drives(criterion: &mut Criterion) {
    for (name, text) in [
        ("clear", include_str!("../../../demo/bramble.ron")),
        ("fouls", include_str!("../../../demo/nettle.ron")),
    ] {
        let mut project: Project = ron::from_str(text).expect("a demo can be read");
        let drive = 0;
        let [from, to] = [Place::Stop, Place::Exit].map(|place| {
            let at = place.at(&project, drive).expect("a drive has its places");
            layout::geometry::space::Place::from(at)
        });
        let half_way = nalgebra::center(&from, &to);
        project.drives[drive].via = vec![half_way.into()];
        for place in [Place::Tip, Place::Via(0), Place::Exit] {
            let [x, y, z] = place.at(&project, drive).expect("a drive has its places");
            let drag = Edit::MovePlace {
                drive,
                place,
                to: [x + 0.5, y - 0.5, z],
                mirrored: true,
            };
            criterion.bench_function(
                &format!("a frame of a drag of the {}, {name}", place.noun()),
                |bencher| {
                    bencher.iter(|| {
                        black_box(&drag)
                            .apply(&project)
                            .map(|moved| evaluate(&moved))
                    });
                },
            );
        }
    }
}

/// Drags an end of one of two rods, which take one eye's side turn and lift to the other.
fn rods(criterion: &mut Criterion) {
    let mut project = projects::rodded_pair();
    project.gaze.lift = layout::Degrees(12.0);
    let [driver, follower] = [0, 1].map(|eye| Moves::Gaze {
        eye,
        turn: Turn::Lift,
    });
    project
        .rods
        .push(projects::rod(driver, follower, [0.0, -18.0, -28.0]));
    assert_eq!(project.check(), Ok(()));
    let drag = Edit::MoveRodEnd {
        rod: 0,
        end: RodEnd::Driver,
        to: [-28.0, 0.5, -26.0],
    };
    criterion.bench_function("a frame of a drag of a rod's end", |bencher| {
        bencher.iter(|| {
            black_box(&drag)
                .apply(&project)
                .map(|moved| evaluate(&moved))
        });
    });
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    benches(&mut criterion);
    drives(&mut criterion);
    rods(&mut criterion);
    criterion.final_summary();
}
