//! Drives of any kind, and lids, drives and hands of any numbers that can be kept.

use layout::drive::{Cable, Drive, End, Moves, Returns, Turn};
use layout::evaluate;
use layout::hand::GuardAxis;
use layout::lid::Which;
use layout::{Degrees, Project};

use super::{assert_finite, number};
use crate::common::{Random, lidded_pair};

/// Drives of any parts, those of eyes that are not there among them, by any numbers.
pub(super) fn hostile(random: &mut Random) -> Vec<Drive> {
    let place = |random: &mut Random| [30.0, -14.0, -25.0].map(|ordinary| number(random, ordinary));
    (0..random.below(4))
        .map(|_| {
            let eye = random.pick(&[0, 1, 2, usize::MAX]);
            let (which, turn) = (
                random.pick(&Which::ALL),
                random.pick(&[Turn::Side, Turn::Lift]),
            );
            Drive {
                name: String::new(),
                moves: random.pick(&[Moves::Lid { eye, which }, Moves::Gaze { eye, turn }]),
                tip: place(random),
                near: random.pick(&[End::Open, End::Closed, End::Low, End::High]),
                standoff: number(random, 2.0),
                stop: random.one_in(3).then(|| place(random)),
                lead: number(random, 15.0),
                cable: Cable {
                    inner_diameter: number(random, 0.3),
                    sheath_diameter: number(random, 3.0),
                    modulus_gpa: number(random, 206.0),
                    friction: number(random, 0.12),
                    least_bend_radius: number(random, 20.0),
                },
                via: (0..random.below(3)).map(|_| place(random)).collect(),
                exit: place(random),
                torque_nmm: number(random, 20.0),
                returns: random.pick(&[None, Some(Returns::Elastic), Some(Returns::Push)]),
                locked: random.one_in(2),
            }
        })
        .collect()
}

#[test]
fn lids_drives_and_hands_that_can_be_kept_have_finite_figures_and_places() {
    // The ends of what a project may hold, and what lies just within.
    let ends = [
        0.0, 1e-9, 0.01, 1.0, 20.0, 52.0, 89.999, 90.0, 180.0, 2_000.0, -90.0, -180.0,
    ];
    let mut random = Random::new(55);
    let mut strange = 0;
    for _ in 0..900 {
        let mut project = lidded_pair();
        project.eyes[0].iris_diameter = random.pick(&[0.01, 18.0, 39.999, 40.0]);
        project.hand.guard_axis = random.pick(&[GuardAxis::X, GuardAxis::Y]);
        project.gaze.lift = Degrees(random.pick(&[0.0, 10.0]));
        for drive in &mut project.drives {
            let [x, y, z] = drive.exit;
            drive.via = vec![[x, y + 30.0, z]];
            drive.stop = random.one_in(3).then_some([x, y + 50.0, z]);
        }
        for _ in 0..4 {
            let mut changed = project.clone();
            *any_number(&mut random, &mut changed) = random.pick(&ends);
            if changed.check().is_ok() {
                project = changed;
                strange += 1;
            }
        }
        let report = evaluate(&project);
        assert_finite(&project, &report);
    }
    assert!(strange > 1_800, "{strange}");
}

/// A number of the lids, the hand, the eyes or a drive.
fn any_number<'a>(random: &mut Random, project: &'a mut Project) -> &'a mut f64 {
    let Project {
        eyes,
        parts,
        hand,
        drives,
        ..
    } = project;
    let drive = random.below(drives.len());
    let drive = &mut drives[drive];
    let lids = parts.lids.as_mut().expect("the pair has lids");
    let both = [&mut lids.upper, &mut lids.lower].into_iter().flatten();
    let angles = both.flat_map(|lid| [&mut lid.open.0, &mut lid.closed.0, &mut lid.extent.0]);
    let places = [&mut drive.tip, &mut drive.exit].into_iter();
    let places = places.chain(drive.stop.as_mut()).chain(&mut drive.via);
    let numbers: Vec<&mut f64> = [
        &mut lids.gap,
        &mut lids.shell,
        &mut lids.pivot_spacing,
        &mut lids.pivot_hole,
        &mut lids.lug_thickness,
        &mut lids.lug_width,
        &mut lids.lever_width,
        &mut hand.guard_chord,
        &mut hand.guard_bow,
        &mut hand.guard_edge,
        &mut hand.guard_length,
        &mut hand.thickness_mm,
        &mut hand.head_mass_g,
        &mut hand.mass_centre[2],
        &mut eyes[0].centre[0],
        &mut drive.standoff,
        &mut drive.lead,
        &mut drive.torque_nmm,
        &mut drive.cable.inner_diameter,
        &mut drive.cable.sheath_diameter,
        &mut drive.cable.modulus_gpa,
        &mut drive.cable.friction,
        &mut drive.cable.least_bend_radius,
    ]
    .into_iter()
    .chain(angles)
    .chain(places.flatten())
    .collect();
    let index = random.below(numbers.len());
    let chosen = numbers.into_iter().nth(index);
    chosen.expect("the index is below their number")
}
