//! Solids are closed, face outward and have no degenerate facet.

use output::SolidOptions;
use output::solid::{plate, rings, solids};

use super::{Body, cases};
use crate::projects::demo;

#[test]
fn the_solids_of_every_demo_are_sound() {
    let mut count = 0;
    cases::each_demo(|case, options| {
        for solid in solids(&case.project, &case.laid, options).unwrap() {
            Body::of(&solid).assert_sound(&format!("{}: {}", case.name, solid.name()));
            count += 1;
        }
    });
    assert!(count >= 80, "{count}");
}

#[test]
fn random_solids_are_sound() {
    let mut ring_count = 0;
    cases::each_random(41, |case, options| {
        if let Ok(rings) = rings(&case.project, &case.laid, options) {
            for ring in rings {
                Body::of(&ring).assert_sound(&format!("{}: {}", case.name, ring.name()));
                ring_count += 1;
            }
        }
        let plate = plate(&case.project, &case.laid, options);
        plate.is_ok_and(|plate| {
            Body::of(&plate).assert_sound(&case.name);
            true
        })
    });
    assert!(ring_count > 60, "{ring_count}");
}

#[test]
fn eyes_with_the_same_ring_share_a_solid_and_others_are_named_after_their_eyes() {
    let mut project = demo("bramble").project;
    let options = SolidOptions::default();
    let named = |project: &layout::Project| -> Vec<(String, usize)> {
        let laid = layout::Laid::out(project);
        let plate = plate(project, &laid, &options).unwrap();
        let rings = rings(project, &laid, &options).unwrap();
        [vec![plate], rings]
            .concat()
            .iter()
            .map(|s| (s.name().to_owned(), s.count()))
            .collect()
    };
    let owned = |named: &[(&str, usize)]| -> Vec<(String, usize)> {
        named
            .iter()
            .map(|&(name, count)| (name.to_owned(), count))
            .collect()
    };
    assert_eq!(named(&project), owned(&[("plate", 1), ("ring", 2)]));

    let mut parts = project.parts.clone();
    parts.name = "the same under another name".to_owned();
    project.eyes[1].parts = Some(Box::new(parts.clone()));
    assert_eq!(named(&project), owned(&[("plate", 1), ("ring", 2)]));

    parts.ring.bevel -= 0.5;
    project.eyes[1].parts = Some(Box::new(parts));
    let apart = [
        ("plate", 1),
        ("ring for left eye", 1),
        ("ring for right eye", 1),
    ];
    assert_eq!(named(&project), owned(&apart));

    let three = [
        ("plate", 1),
        ("ring for eye 1 and eye 2", 2),
        ("ring for eye 3", 1),
    ];
    assert_eq!(named(&demo("wimple").project), owned(&three));
}

#[test]
fn the_same_project_and_options_give_the_same_solids() {
    let case = demo("bramble");
    let make = || solids(&case.project, &case.laid, &SolidOptions::default()).unwrap();
    assert_eq!(make(), make());
}
