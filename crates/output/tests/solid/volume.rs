//! Solids enclose what their equations do.

use output::Solid;
use output::solid::{plate, rings};

use super::truth::{Plate, Ring};
use super::{Body, cases};

/// How far a volume may be off, as a share of it: a tenth of what a maker is promised.
const ERROR: f64 = 1e-4;

pub(super) fn assert_volume(name: &str, found: f64, wanted: f64) {
    let share = (found - wanted).abs() / wanted;
    assert!(share < ERROR, "{name}: {found} mm³ for {wanted}");
}

fn assert_rings(name: &str, found: &[Solid], wanted: &[Ring]) {
    assert_eq!(found.len(), wanted.len(), "{name}");
    for (found, wanted) in found.iter().zip(wanted) {
        assert_volume(name, Body::of(found).volume(), wanted.volume());
    }
}

#[test]
fn volumes_of_every_demo_are_those_of_the_closed_forms() {
    cases::each_demo(|case, options| {
        let found = plate(&case.project, &case.laid, options).unwrap();
        let wanted = Plate::of(&case.project, &case.laid, options).volume();
        assert_volume(&case.name, Body::of(&found).volume(), wanted);
        assert_volume(&case.name, found.mesh().volume(), wanted);
        let rings = rings(&case.project, &case.laid, options).unwrap();
        assert_rings(&case.name, &rings, &Ring::all_of(&case.project, options));
    });
}

#[test]
fn random_volumes_are_those_of_the_closed_forms_whatever_the_options() {
    cases::each_random(42, |case, options| {
        if let Ok(rings) = rings(&case.project, &case.laid, options) {
            assert_rings(&case.name, &rings, &Ring::all_of(&case.project, options));
        }
        let Ok(found) = plate(&case.project, &case.laid, options) else {
            return false;
        };
        let wanted = Plate::of(&case.project, &case.laid, options).volume();
        assert_volume(&case.name, Body::of(&found).volume(), wanted);
        true
    });
}
