//! Rods of any kind, and what can be kept of them.

use layout::drive::{Moves, Turn};
use layout::edit::Edit;
use layout::field::{Field, LidsField, PartsOf, RodField};
use layout::lid::Which;
use layout::rod::{Rod, RodEnd};
use layout::{Degrees, evaluate};

use super::{assert_finite, number};
use crate::common::{Random, rodded_pair};

/// Rods between any parts, those of eyes that are not there and circles among them.
pub(super) fn hostile(random: &mut Random) -> Vec<Rod> {
    let part = |random: &mut Random| {
        let eye = random.pick(&[0, 1, 2, usize::MAX]);
        let (which, turn) = (
            random.pick(&Which::ALL),
            random.pick(&[Turn::Side, Turn::Lift]),
        );
        random.pick(&[Moves::Lid { eye, which }, Moves::Gaze { eye, turn }])
    };
    let tip = |random: &mut Random| [3.0, -4.0, -30.0].map(|ordinary| number(random, ordinary));
    (0..random.below(4))
        .map(|_| Rod {
            name: String::new(),
            driver: part(random),
            follower: part(random),
            driver_tip: tip(random),
            follower_tip: tip(random),
            diameter: 1.2,
        })
        .collect()
}

#[test]
fn rods_that_can_be_kept_have_finite_figures_and_places() {
    let numbers = [
        Field::Lids(PartsOf::Shared, LidsField::Open(Which::Upper)),
        Field::Lids(PartsOf::Shared, LidsField::Closed(Which::Lower)),
        Field::Side,
        Field::Lift,
        Field::EyeX(1),
        Field::EyeY(0),
    ];
    let ends = RodEnd::ALL.into_iter();
    let places = ends.flat_map(|end| [0, 1, 2].map(|axis| Field::Rod(0, RodField::Tip(end, axis))));
    let fields: Vec<Field> = places.chain(numbers).collect();
    let values = [
        0.0, 1e-9, 0.01, -0.01, 20.0, -20.001, 58.0, 90.0, -90.0, 2_000.0, -2_000.0,
    ];
    let mut random = Random::new(57);
    let (mut strange, mut worked) = (0, 0);
    for _ in 0..600 {
        let mut project = rodded_pair();
        project.gaze.lift = Degrees(random.between(0.0, 30.0));
        let gazes = |turn| [1, 0].map(|eye| Moves::Gaze { eye, turn });
        let moves = match random.below(3) {
            0 => gazes(Turn::Side),
            1 => gazes(Turn::Lift),
            _ => [0, 1].map(|eye| {
                let which = random.pick(&Which::ALL);
                Moves::Lid { eye, which }
            }),
        };
        [project.rods[0].driver, project.rods[0].follower] = moves;
        for _ in 0..4 {
            let edit = Edit::Set(random.pick(&fields), random.pick(&values));
            if let Ok(changed) = edit.apply(&project) {
                project = changed;
                strange += 1;
            }
        }
        let report = evaluate(&project);
        assert_finite(&project, &report);
        worked += u32::from(report.figures.rods[0].transmission_least_deg.is_some());
    }
    assert!(strange > 1_200 && worked > 60, "{strange} {worked}");
}
