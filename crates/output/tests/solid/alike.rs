//! What holds of lids, lugs and levers together: their names and counts, and that whatever a project
//! says, they are sound or refused.

use layout::drive::{Moves, Turn};
use layout::{Degrees, Laid, Project};
use output::solid::{levers, lids, lugs, solids};
use output::{Solid, SolidError, SolidOptions, stl, threemf};

use super::Body;
use crate::projects::{Dice, demo};

/// A character with a lever on an eye, too.
pub(super) fn with_stalk() -> Project {
    let mut project = demo("bramble").project;
    project.drives.truncate(2);
    for (drive, name) in project.drives.iter_mut().zip(["left lid", "right lid"]) {
        drive.name = name.to_owned();
    }
    let mut stalk = project.drives[0].clone();
    stalk.name = "look".to_owned();
    stalk.moves = Moves::Gaze {
        eye: 0,
        turn: Turn::Side,
    };
    stalk.near = layout::drive::End::High;
    stalk.tip = [3.0, -4.0, -32.0];
    project.drives.push(stalk);
    project
}

/// What makes solids.
type Make = fn(&Project, &Laid, &SolidOptions) -> Result<Vec<Solid>, SolidError>;

/// All that is said of what a change makes impossible.
pub(super) fn refused(
    make: Make,
    options: &SolidOptions,
    change: impl FnOnce(&mut Project),
) -> String {
    let mut project = with_stalk();
    change(&mut project);
    assert_eq!(project.check(), Ok(()));
    let error = make(&project, &Laid::out(&project), options);
    let error = error.map(drop).unwrap_err();
    format!("{error} {}", error.remedy())
}

#[test]
fn parts_that_are_alike_are_counted_and_others_are_named_apart() {
    let named = |project: &Project| -> Vec<(String, usize)> {
        let (laid, options) = (Laid::out(project), SolidOptions::default());
        let made = [lids, lugs, levers].map(|make| make(project, &laid, &options).unwrap());
        let solids = made.iter().flatten();
        solids
            .map(|solid| (solid.name().to_owned(), solid.count()))
            .collect()
    };
    let owned = |named: &[(&str, usize)]| -> Vec<(String, usize)> {
        let pairs = named.iter();
        pairs
            .map(|&(name, count)| (name.to_owned(), count))
            .collect()
    };
    let project = with_stalk();
    let all = solids(&project, &Laid::out(&project), &SolidOptions::default()).unwrap();
    let names: Vec<&str> = all.iter().map(Solid::name).collect();
    assert_eq!(names[..3], ["plate", "ring", "upper lid"]);
    assert_eq!(
        named(&project),
        owned(&[
            ("upper lid", 2),
            ("lower lid", 2),
            ("lug", 4),
            ("lever of left lid and right lid", 2),
            ("lever of look", 1),
        ])
    );

    let mut apart = project.clone();
    let mut parts = apart.parts.clone();
    let mut own = parts.lids.unwrap();
    own.lower = None;
    own.lug_width += 1.0;
    parts.lids = Some(own);
    apart.eyes[1].parts = Some(Box::new(parts));
    apart.drives[1].name = " twin ".to_owned();
    apart.drives[1].tip[1] -= 1.0;
    apart.drives.truncate(2);
    assert_eq!(
        named(&apart),
        owned(&[
            ("upper lid", 2),
            ("lower lid", 1),
            ("lug for left eye", 2),
            ("lug for right eye", 2),
            ("lever of left lid", 1),
            ("lever of twin", 1),
        ])
    );

    // Eyes as far apart as their own lugs share those between them.
    let mut shared = project;
    let spacing = shared.parts.lids.unwrap().pivot_spacing;
    shared.eyes[0].centre = [-spacing / 2.0, 0.0];
    shared.eyes[1].centre = [spacing / 2.0, 0.0];
    assert_eq!(named(&shared)[2], ("lug".to_owned(), 3));

    shared.parts.lids = None;
    shared.drives.clear();
    assert_eq!(named(&shared), owned(&[]));
}

#[test]
fn the_same_project_gives_the_same_bytes_twice() {
    let project = with_stalk();
    let bytes = || {
        let laid = Laid::out(&project);
        let options = SolidOptions::default();
        let made = [lids, lugs, levers].map(|make| make(&project, &laid, &options).unwrap());
        let solids = made.concat();
        let each: Vec<Vec<u8>> = solids.iter().map(stl::write).collect();
        (each, threemf::write("twice", &solids))
    };
    assert_eq!(bytes(), bytes());
}

#[test]
fn no_lid_lug_or_lever_makes_it_panic() {
    let mut dice = Dice(54);
    let (mut made, mut refused) = (0, 0);
    // From what no nozzle lays to what no head holds, each size by itself.
    let size = |dice: &mut Dice| 10.0_f64.powf(dice.between(-2.0, 2.0));
    while made + refused < 300 {
        let mut project = with_stalk();
        let own = project.parts.lids.as_mut().unwrap();
        for side in [
            &mut own.gap,
            &mut own.shell,
            &mut own.pivot_hole,
            &mut own.lug_thickness,
            &mut own.lug_width,
            &mut own.lever_width,
        ] {
            if dice.below(3) == 0 {
                *side = size(&mut dice);
            }
        }
        for lid in [&mut own.upper, &mut own.lower].into_iter().flatten() {
            lid.extent = Degrees(dice.between(0.0, 180.0));
            lid.open = Degrees(dice.between(-100.0, 100.0));
        }
        for drive in &mut project.drives {
            drive.tip = drive.tip.map(|along| along * size(&mut dice));
            drive.cable.inner_diameter = size(&mut dice);
        }
        if project.check().is_err() {
            continue;
        }
        let laid = Laid::out(&project);
        let options = SolidOptions {
            chord_error: 0.1,
            ..SolidOptions::default()
        };
        for make in [lids, lugs, levers] {
            match make(&project, &laid, &options) {
                Ok(solids) => {
                    for solid in &solids {
                        Body::of(solid).assert_sound(solid.name());
                    }
                    made += 1;
                }
                Err(error) => {
                    let said = format!("{error} {}", error.remedy());
                    assert!(said.ends_with('.') && !said.contains("NaN"), "{said}");
                    refused += 1;
                }
            }
        }
    }
    assert!(made > 50 && refused > 50, "{made} {refused}");
}
