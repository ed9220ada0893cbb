//! Lids: closed, true to their equations, read again, or refused.

use std::collections::BTreeSet;

use layout::lid::{Lid as LidOf, Lids, Which};
use layout::seat::Seat;
use layout::{Degrees, Laid, Project};
use output::solid::lids;
use output::{Solid, SolidOptions};

use super::Body;
use super::alike::refused;
use super::moving::Lid;
use super::surface::assert_on_sides;
use super::truth::ROUNDING;
use super::volume::assert_volume;
use crate::projects::{Dice, demo, demos};

const WHICH: [Which; 2] = [Which::Upper, Which::Lower];

/// How many random lids are tried.
pub(super) const RANDOM: usize = 100;

/// All that must hold of the lid of a project's first eye.
fn assert_lid(name: &str, project: &Project, solid: &Solid, which: Which, options: &SolidOptions) {
    let body = Body::of(solid);
    body.assert_sound(name);
    let own = project.parts_of(0);
    let truth = Lid::of(own.ball_diameter, &own.lids.unwrap(), which, options);
    assert_volume(name, body.volume(), truth.volume());

    // It stands on its edge and on both bosses, all of them as low as facets let them be.
    let lowest = |within: &dyn Fn(f64) -> bool| {
        let heights = body.vertices.iter().filter(|at| within(at.x));
        heights.map(|at| at.z).fold(f64::INFINITY, f64::min)
    };
    assert_eq!(lowest(&|_| true), 0.0, "{name}");
    let error = options.chord_error + ROUNDING;
    let aside = own.ball_diameter / 4.0;
    for part in [
        lowest(&|x| x < -aside),
        lowest(&|x| x.abs() < aside),
        lowest(&|x| x > aside),
    ] {
        assert!(part < error, "{name}: a part is {part} mm over the bed");
    }
    let axis = truth.axis(&body);
    let over = axis - truth.boss_radius();
    assert!(over.abs() < error, "{name}: {over}");
    assert_on_sides(name, solid, truth.all_sides(), error, |at| {
        truth.place(at, axis, error)
    });
}

/// Ball and lids that a maker might think of, in a seat that needs nothing else.
pub(super) fn random_lids(dice: &mut Dice, both: bool) -> Project {
    let mut project = demo("bramble").project;
    let ball = dice.between(15.0, 60.0);
    project.parts.ball_diameter = ball;
    project.parts.seat = Seat::Plain {
        opening_diameter: 0.9 * ball,
    };
    let mut lid = || {
        let closed = dice.between(-20.0, 20.0);
        Some(LidOf {
            closed: Degrees(closed),
            open: Degrees(closed + dice.between(1.0, 60.0)),
            extent: Degrees(dice.between(10.0, 180.0)),
        })
    };
    let (upper, lower) = (lid(), lid().filter(|_| both));
    project.parts.lids = Some(Lids {
        gap: dice.between(0.0, 2.0),
        shell: dice.between(0.8, 3.0),
        pivot_hole: dice.between(1.0, 4.0),
        lug_thickness: dice.between(1.5, 5.0),
        lug_width: dice.between(6.0, 14.0),
        upper,
        lower,
        ..Lids::around(ball / 2.0)
    });
    project.drives.clear();
    project
}

/// Calls `check` with random lids, with other options each time.
fn each_random_lid(seed: u64, mut check: impl FnMut(&str, &Project, &Solid, Which, &SolidOptions)) {
    let mut dice = Dice(seed);
    let mut made = 0;
    while made < RANDOM {
        let project = random_lids(&mut dice, made % 3 > 0);
        let options = SolidOptions {
            chord_error: [0.02, 0.01, 0.1][made % 3],
            hole_allowance: dice.between(0.0, 0.4),
            ..SolidOptions::default()
        };
        let name = format!("random lid {made} of seed {seed}");
        let solids = lids(&project, &Laid::out(&project), &options);
        let solids = solids.unwrap_or_else(|error| panic!("{name}: {error}"));
        for (solid, which) in solids.iter().zip(WHICH) {
            check(
                &format!("{name}: {}", solid.name()),
                &project,
                solid,
                which,
                &options,
            );
            made += 1;
        }
    }
}

#[test]
fn random_lids_are_sound_and_satisfy_their_equations() {
    each_random_lid(51, assert_lid);
}

#[test]
fn lids_of_every_demo_are_sound_and_satisfy_their_equations() {
    let mut count = 0;
    for case in demos() {
        let options = SolidOptions::default();
        let solids = lids(&case.project, &case.laid, &options).unwrap();
        for solid in &solids {
            // The first eye's are named first.
            let first = !solid.name().contains(" for ") || solid.name().contains("eye 1");
            let first = first || solid.name().contains("left eye");
            let upper = solid.name().starts_with("upper");
            let which = WHICH[usize::from(!upper)];
            // A lid that only another eye has is named after none.
            let own = case
                .project
                .parts
                .lids
                .is_some_and(|lids| lids.lid(which).is_some());
            if first && own {
                let name = format!("{}: {}", case.name, solid.name());
                assert_lid(&name, &case.project, solid, which, &options);
                count += 1;
            }
        }
    }
    assert!(count >= 8, "{count}");
}

#[test]
fn random_lids_read_back_from_both_formats() {
    each_random_lid(52, |name, _, solid, _, _| {
        super::stl::assert_reads_back(name, solid);
        super::threemf::assert_reads_back(name, std::slice::from_ref(solid));
    });
}

/// Two lids on one pair of pivots never share a place, and neither meets the ball or a lug.
#[test]
fn the_bosses_of_two_lids_lie_over_each_other_with_room_between() {
    let case = demo("bramble");
    let options = SolidOptions::default();
    let solids = lids(&case.project, &case.laid, &options).unwrap();
    let own = case.project.parts.lids.unwrap();
    let outside = case.project.parts.ball_diameter / 2.0 + own.gap + own.shell;
    let boss = own.pivot_hole / 2.0 + own.shell;
    let near_pivot = |solid: &Solid| -> Vec<f64> {
        let body = Body::of(solid);
        let axis = {
            let which = WHICH[usize::from(solid.name() == "lower lid")];
            Lid::of(case.project.parts.ball_diameter, &own, which, &options).axis(&body)
        };
        let near = body.vertices.iter();
        let near = near.filter(|at| at.y.hypot(at.z - axis) < boss + 0.1);
        near.map(|at| at.coords.xy().norm().hypot(at.z - axis))
            .collect()
    };
    let span = |radii: &[f64]| {
        let low = radii.iter().copied().fold(f64::INFINITY, f64::min);
        let high = radii.iter().copied().fold(0.0, f64::max);
        [low, high]
    };
    let [upper, lower] = [span(&near_pivot(&solids[0])), span(&near_pivot(&solids[1]))];
    let play = own.shell / 8.0;
    assert!(
        (lower[0] - upper[1] - play).abs() < options.chord_error,
        "{upper:?} {lower:?}"
    );
    assert!((upper[1] - outside).abs() < options.chord_error);
    // The lugs are checked for a shell's thickness more than one lid takes.
    assert!(lower[1] < outside + own.shell + options.chord_error);
}

#[test]
fn lids_that_cannot_be_made_are_refused_in_plain_words() {
    let usual = SolidOptions::default();
    let lid_error = |options: &SolidOptions, change: fn(&mut Lids)| {
        refused(lids, options, |project| {
            change(project.parts.lids.as_mut().unwrap());
        })
    };
    let upper = |change: fn(&mut LidOf)| {
        refused(lids, &usual, |project| {
            let own = project.parts.lids.as_mut().unwrap();
            change(own.upper.as_mut().unwrap());
        })
    };
    assert_eq!(
        upper(|lid| lid.open = Degrees(100.0)),
        "There is no upper lid for left eye to make: The upper lid of the left eye turns beyond a quarter turn from \
         straight ahead. Let its leading edge stay on the front half of the ball."
    );
    assert_eq!(
        upper(|lid| lid.extent = Degrees(0.0)),
        "There is no upper lid for left eye to make: The upper lid of the left eye reaches over no angle: there is \
         nothing of it. Give it an extent."
    );
    let tiny = "The upper lid is too small at its pivots to be made. Give it a larger extent, a \
                larger pivot hole or a thicker shell.";
    assert_eq!(upper(|lid| lid.extent = Degrees(0.001)), tiny);
    assert_eq!(
        lid_error(&usual, |lids| lids.pivot_hole = 40.0),
        "The bosses round the pivot holes of the upper lid are as wide as the lid. Use a smaller \
         pivot hole or a thinner shell."
    );
    let wide = SolidOptions {
        hole_allowance: 2.0,
        ..usual
    };
    assert_eq!(
        lid_error(&wide, |lids| lids.shell = 1.0),
        "The pivot holes of the upper lid take its whole bosses. Use a thicker shell or a smaller \
         hole allowance."
    );
    assert_eq!(refused_when_coarse(), 1);
}

/// Lids of foil with coarse facets: inside and outside have as many facets but for few sizes, where
/// they would cross. In how many ways that is said.
fn refused_when_coarse() -> usize {
    let mut said = BTreeSet::new();
    let mut made = 0;
    for step in 0..400 {
        let mut project = demo("bramble").project;
        let own = project.parts.lids.as_mut().unwrap();
        (own.shell, own.gap) = (0.02, f64::from(step) / 100.0);
        let coarse = SolidOptions {
            chord_error: 0.5,
            ..SolidOptions::default()
        };
        own.lower = None;
        match lids(&project, &Laid::out(&project), &coarse) {
            Ok(_) => made += 1,
            Err(error) => {
                said.insert(format!("{error} {}", error.remedy()));
            }
        }
    }
    assert!(made > 300, "{made}");
    let sentence = "The shell of the upper lid is thinner than its facets are true. Use a thicker \
                    shell or a smaller chord error.";
    assert!(said.contains(sentence), "{said:?}");
    said.len()
}
