//! Solids lie as they print best.

use output::solid::{plate, solids};
use output::{Solid, SolidOptions};

use super::{Body, cases};

/// Rests on z = 0 with a flat face, and no facet above it looks downward.
pub(super) fn assert_lies_well(name: &str, solid: &Solid) {
    let body = Body::of(solid);
    let lowest = body
        .vertices
        .iter()
        .map(|at| at.z)
        .fold(f64::INFINITY, f64::min);
    assert_eq!(lowest, 0.0, "{name} does not rest on the bed");
    let mut resting = 0.0;
    for [a, b, c] in body.facets() {
        let normal = (b - a).cross(&(c - a));
        if a.z == 0.0 && b.z == 0.0 && c.z == 0.0 {
            resting -= normal.z / 2.0;
        } else {
            let down = normal.z / normal.norm();
            assert!(down > -1e-9, "{name} overhangs at {a} by {down}");
        }
    }
    assert!(resting > 0.0, "{name} stands on an edge");
}

#[test]
fn every_demo_rests_on_the_bed_and_overhangs_nowhere_but_for_its_lids() {
    cases::each_demo(|case, options| {
        let solids = solids(&case.project, &case.laid, options).unwrap();
        // No way to lay a lid overhangs nowhere.
        let is_lid = |name: &str| name.starts_with("upper lid") || name.starts_with("lower lid");
        let flat = |solid: &&Solid| !is_lid(solid.name());
        for solid in solids.iter().filter(flat) {
            assert_lies_well(&format!("{}: {}", case.name, solid.name()), solid);
        }
    });
}

#[test]
fn random_plates_rest_on_the_bed_and_overhang_nowhere() {
    cases::each_random(44, |case, options| {
        let plate = plate(&case.project, &case.laid, options);
        plate.is_ok_and(|plate| {
            assert_lies_well(&case.name, &plate);
            true
        })
    });
}

#[test]
fn a_solid_is_as_large_as_its_part() {
    let case = crate::projects::demo("bramble");
    let options = SolidOptions::default();
    let solids = solids(&case.project, &case.laid, &options).unwrap();
    let size = |solid: &Solid| {
        let [low, high] = solid.mesh().bounds().unwrap();
        high - low
    };
    let figures = &case.report.figures.plate;
    let (plate, ring) = (size(&solids[0]), size(&solids[1]));
    let parts = &case.project.parts.ring;
    for (found, wanted) in [
        (plate.x, figures.plate_width_mm.unwrap()),
        (plate.y, figures.plate_height_mm.unwrap()),
        (plate.z, case.project.plate.thickness),
        (ring.x, parts.outer_diameter),
        (ring.z, parts.thickness),
    ] {
        assert!(
            (found - wanted).abs() < 2.0 * options.chord_error,
            "{found} {wanted}"
        );
    }
}
