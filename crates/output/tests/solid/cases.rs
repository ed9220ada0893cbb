//! The plates that are tried: all demos, and random ones of every style.

use layout::plate::PlateOutline;
use layout::{Laid, Project};
use output::SolidOptions;

use crate::projects::{self, Case, Dice};

/// How many random plates are tried that can be made.
pub(super) const RANDOM: usize = 100;

/// How many can be refused meanwhile; the dice give about two that are for each that is not.
const REFUSED: usize = 600;

/// Calls `check` with every demo, in both seats and every style.
pub(super) fn each_demo(mut check: impl FnMut(&Case, &SolidOptions)) {
    let options = SolidOptions::default();
    for case in projects::demos() {
        for (style, outline) in styles(&case) {
            for (seat, parts) in seats(&case.project) {
                let mut project = case.project.clone();
                project.plate.outline = outline.clone();
                project.parts.seat = parts;
                let varied = Case::of(format!("{}, {style}, {seat}", case.name), project);
                assert_eq!(varied.project.check(), Ok(()), "{}", varied.name);
                check(&varied, &options);
            }
        }
    }
}

/// Calls `check` with random plates until it has accepted [`RANDOM`] of them, with other options each
/// time; it says whether it did.
pub(super) fn each_random(seed: u64, mut check: impl FnMut(&Case, &SolidOptions) -> bool) {
    let mut dice = Dice(seed);
    let (mut accepted, mut refused) = (0, 0);
    while accepted < RANDOM {
        let mut project = projects::random(&mut dice);
        let outline = match dice.below(4) {
            0 => PlateOutline::Waisted {
                bridge: dice.between(8.0, 25.0),
                fillet: dice.between(0.0, 12.0),
            },
            1 => drawn(&project),
            _ => project.plate.outline.clone(),
        };
        project.plate.outline = outline;
        if project.check().is_err() || Laid::out(&project).plate.is_empty() {
            continue;
        }
        let options = SolidOptions {
            chord_error: [0.02, 0.005, 0.1][usize::try_from(dice.below(3)).unwrap()],
            glue_gap: dice.between(0.0, 0.3),
            hole_allowance: [0.0, 0.25][usize::try_from(dice.below(2)).unwrap()],
        };
        let case = Case::of(format!("random plate {accepted} of seed {seed}"), project);
        if check(&case, &options) {
            accepted += 1;
        } else {
            refused += 1;
        }
        assert!(refused < REFUSED, "only {accepted} could be made");
    }
}

fn styles(case: &Case) -> Vec<(&'static str, PlateOutline)> {
    vec![
        ("as it is", case.project.plate.outline.clone()),
        ("band", PlateOutline::Band),
        (
            "waisted",
            PlateOutline::Waisted {
                bridge: 20.0,
                fillet: 8.0,
            },
        ),
        ("drawn", drawn(&case.project)),
    ]
}

fn drawn(project: &Project) -> PlateOutline {
    let laid = Laid::out(project);
    PlateOutline::drawn_after(&laid.plate).unwrap()
}

fn seats(project: &Project) -> [(&'static str, layout::seat::Seat); 2] {
    let ball = project.parts.ball_diameter;
    [
        ("its seat", project.parts.seat),
        (
            "plain",
            layout::seat::Seat::Plain {
                opening_diameter: 0.95 * ball,
            },
        ),
    ]
}
