//! Lugs and levers: closed, flat and true to their equations, read again, or refused.

use layout::drive::Drive;
use layout::rod::{Rod, RodEnd};
use layout::{Laid, Project};
use output::solid::{levers, lugs, without_lever};
use output::{Solid, SolidOptions};

use super::Body;
use super::alike::{refused, with_stalk};
use super::lids::{RANDOM, random_lids};
use super::lying::assert_lies_well;
use super::moving::Flat;
use super::surface::assert_on_sides;
use super::truth::ROUNDING;
use super::volume::assert_volume;
use crate::projects::{Case, Dice, demos};

fn assert_flat(name: &str, solid: &Solid, truth: &Flat, options: &SolidOptions) {
    let body = Body::of(solid);
    body.assert_sound(name);
    assert_lies_well(name, solid);
    assert_volume(name, body.volume(), truth.volume());
    let error = options.chord_error + ROUNDING;
    assert_on_sides(name, solid, truth.all_sides(), error, |at| {
        truth.place(at, error)
    });
    super::stl::assert_reads_back(name, solid);
}

#[test]
fn lugs_and_levers_lie_flat_and_satisfy_their_equations() {
    let mut count = 0;
    let mut tried: Vec<Case> = demos();
    tried.push(Case::of("with a stalk", with_stalk()));
    let mut tied = with_stalk();
    tied.rods.extend(Rod::fresh(&tied));
    assert_eq!(tied.rods.len(), 1);
    tied.rods[0].diameter = 1.6;
    tried.push(Case::of("with a rod", tied));
    for case in tried {
        for hole_allowance in [0.0, 0.3] {
            let options = SolidOptions {
                hole_allowance,
                ..SolidOptions::default()
            };
            let made = lugs(&case.project, &case.laid, &options).unwrap();
            let truth = Flat::lug(&case.project, 0, &options);
            assert_flat(
                &format!("{}: {}", case.name, made[0].name()),
                &made[0],
                &truth,
                &options,
            );
            for solid in levers(&case.project, &case.laid, &options).unwrap() {
                let name = solid.name().strip_prefix("lever of ").unwrap();
                let project = with_rods_as_drives(&case.project);
                let named = |drive: &Drive| name.starts_with(&drive.name);
                let drive = project.drives.iter().position(named).unwrap();
                let truth = Flat::lever(&project, drive, &options);
                assert_flat(
                    &format!("{}: {}", case.name, solid.name()),
                    &solid,
                    &truth,
                    &options,
                );
                count += 1;
            }
        }
    }
    assert!(count >= 12, "{count}");
}

/// The same project with a drive for each end of a rod, whose wire is as thick: its lever is the same.
fn with_rods_as_drives(project: &Project) -> Project {
    let mut drives = project.drives.clone();
    for rod in &project.rods {
        for end in RodEnd::ALL {
            let (moves, tip) = rod.end(end);
            let mut drive = Drive::fresh(project, moves);
            drive.name = format!("{}, {}", rod.name, end.noun());
            drive.tip = tip;
            drive.cable.inner_diameter = rod.diameter;
            drives.push(drive);
        }
    }
    Project {
        drives,
        ..project.clone()
    }
}

#[test]
fn random_lugs_satisfy_their_equations() {
    let mut dice = Dice(53);
    for index in 0..RANDOM {
        let project = random_lids(&mut dice, true);
        let options = SolidOptions::default();
        let made = lugs(&project, &Laid::out(&project), &options).unwrap();
        assert_eq!(made.len(), 1);
        let name = format!("random lug {index}");
        assert_flat(&name, &made[0], &Flat::lug(&project, 0, &options), &options);
    }
}

#[test]
fn lugs_and_levers_that_cannot_be_made_are_refused_in_plain_words() {
    let usual = SolidOptions::default();
    assert_eq!(
        refused(lugs, &usual, |project| {
            project.parts.lids.as_mut().unwrap().lug_width = 3.0;
        }),
        "The pivot hole of the lug breaks the edge of the lug. Move it inward, or let the lug reach \
         farther there."
    );
    let lever = |change: fn(&mut Project)| refused(levers, &usual, change);
    assert_eq!(
        lever(|project| project.drives[0].tip = [-29.5, -1.5, 0.0]),
        "The pivot hole of the lever of left lid and the wire hole of the lever of left lid run into \
         each other. Move them apart, or make one of them smaller."
    );
    assert_eq!(
        lever(|project| {
            project.drives[0].cable.sheath_diameter = 6.0;
            project.drives[0].cable.inner_diameter = 5.0;
        }),
        "The wire hole of the lever of left lid breaks the edge of the lever of left lid. Move it \
         inward, or let the lever of left lid reach farther there."
    );
    assert_eq!(
        lever(|project| project.drives[2].tip = [0.0, 0.0, -22.0]),
        "The lever of look has no room for the foot that is glued to the ball. Put its tip farther \
         from the ball, or make the lever narrower."
    );
}

#[test]
fn a_drive_that_cannot_work_has_no_lever_and_keeps_no_other_from_being_made() {
    let mut project = crate::projects::demo("bramble").project;
    project.drives[0].tip = [-29.5, 0.0, 0.0];
    let laid = Laid::out(&project);
    assert_eq!(without_lever(&project, &laid), ["left upper lid"]);
    let made = levers(&project, &laid, &SolidOptions::default()).unwrap();
    let all: usize = made.iter().map(Solid::count).sum();
    assert_eq!(all, project.drives.len() - 1);
    assert!(
        made.iter()
            .all(|lever| !lever.name().contains("left upper lid"))
    );
}
