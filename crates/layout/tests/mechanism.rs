//! Edits of lids, drives and the hand.

use layout::drive::{Drive, Moves, Turn};
use layout::edit::Edit;
use layout::field::{DriveField, Field, HandField, LidsField, PartsOf, Unit};
use layout::handle::{Handle, Place};
use layout::lid::{Lids, Which};
use layout::{Project, State, evaluate};

use crate::common::pair;

fn applied(project: &Project, edit: &Edit) -> Project {
    edit.apply(project)
        .unwrap_or_else(|problem| panic!("{edit:?}: {problem}"))
}

fn with_lids() -> Project {
    let lids = Some(Lids::around(20.0));
    applied(&pair(), &Edit::Lids(PartsOf::Shared, lids))
}

#[test]
fn every_number_of_lids_drives_and_hand_is_read_where_it_was_written() {
    let project = with_lids();
    let lids = [
        LidsField::Gap,
        LidsField::Shell,
        LidsField::PivotSpacing,
        LidsField::PivotHole,
        LidsField::LugThickness,
        LidsField::LugWidth,
        LidsField::LeverWidth,
        LidsField::Open(Which::Upper),
        LidsField::Closed(Which::Lower),
        LidsField::Extent(Which::Lower),
    ];
    let drives = [
        DriveField::Tip(0),
        DriveField::Tip(2),
        DriveField::Standoff,
        DriveField::Lead,
        DriveField::Exit(1),
        // A wire must be thinner than its sheath.
        DriveField::Sheath,
        DriveField::Wire,
        DriveField::Modulus,
        DriveField::Friction,
        DriveField::LeastBend,
        DriveField::Torque,
    ];
    let hand = [
        HandField::GuardChord,
        HandField::GuardBow,
        HandField::GuardEdge,
        HandField::GuardLength,
        HandField::Thickness,
        HandField::HeadMass,
        HandField::MassCentre(1),
    ];
    let lids = lids.map(|field| Field::Lids(PartsOf::Shared, field));
    let drives = drives.map(|field| Field::Drive(0, field));
    let all = lids.into_iter().chain(drives).chain(hand.map(Field::Hand));
    for (index, field) in all.enumerate() {
        let value = match field {
            Field::Drive(_, DriveField::Wire) => 0.125 * index as f64,
            _ => 3.0 + 0.125 * index as f64,
        };
        let next = applied(&project, &Edit::Set(field, value));
        assert_eq!(field.get(&next), Some(value), "{field:?}");
        assert!(!field.label().is_empty());
    }
    assert_eq!(Field::Drive(0, DriveField::Torque).unit(), Unit::Torque);
    assert_eq!(Field::Drive(0, DriveField::Stop(0)).get(&project), None);
    assert_eq!(Field::Drive(9, DriveField::Lead).get(&project), None);
}

#[test]
fn lids_to_start_with_can_be_made_and_open_without_a_foul() {
    for diameter in [24.0, 30.0, 40.0, 50.0, 60.0] {
        let mut project = pair();
        let scale = diameter / project.parts.ball_diameter;
        project.parts.ball_diameter = diameter;
        project.parts.ring.depth *= scale;
        project.parts.ring.outer_diameter *= scale;
        project.eyes[0].centre[0] = -2.0 * diameter;
        project.eyes[1].centre[0] = 2.0 * diameter;
        project.parts.lids = Some(Lids::around(diameter / 2.0));
        let report = evaluate(&project);
        let own = [
            "lid_shape",
            "lid_meeting",
            "lug_lid_gap",
            "lid_gap",
            "lug_gap",
        ];
        let found: Vec<_> = { report.findings.iter() }
            .filter(|finding| own.contains(&finding.id))
            .collect();
        assert!(found.len() >= 4, "{diameter}");
        for finding in found {
            assert_ne!(finding.state, State::Fouls, "{diameter}: {finding:?}");
        }
    }
}

fn drive(eye: usize, tip: [f64; 3], exit: [f64; 3]) -> Drive {
    let first = pair().drives[0].clone();
    let turn = Turn::Side;
    Drive {
        name: format!("drive of eye {eye}"),
        moves: Moves::Gaze { eye, turn },
        tip,
        exit,
        via: vec![[exit[0], -20.0, -30.0]],
        ..first
    }
}

#[test]
fn a_place_of_a_drive_moves_in_the_plane_and_takes_its_mirror_image_along() {
    let mut project = pair();
    project.drives = vec![
        drive(0, [-4.0, 2.0, -30.0], [-20.0, -70.0, -34.0]),
        drive(1, [4.0, 2.0, -30.0], [20.0, -70.0, -34.0]),
    ];
    for place in [Place::Tip, Place::Via(0), Place::Exit] {
        let handle = Handle::Drive(0, place);
        let partner = Handle::Drive(1, place);
        assert_eq!(handle.partner(&project), Some(partner));
        let [x, y] = handle.at(&project).unwrap();
        let to = [x - 3.0, y + 2.0];
        let edit = Edit::Move {
            handle,
            to,
            mirrored: true,
        };
        let moved = applied(&project, &edit);
        assert_eq!(handle.at(&moved), Some(to), "{place:?}");
        assert_eq!(partner.at(&moved), Some([-to[0], to[1]]), "{place:?}");
        let z = |project: &Project| place.at(project, 0).unwrap()[2];
        assert_eq!(z(&moved), z(&project), "{place:?}");
    }
    let tip = Handle::Drive(0, Place::Tip);
    let mirrored = false;
    let remove = |handle| Edit::Remove { handle, mirrored }.apply(&project);
    assert!(remove(tip).is_err(), "a drive has its tip");
    let without = remove(Handle::Drive(0, Place::Via(0))).unwrap();
    assert!(without.drives[0].via.is_empty());
}

#[test]
fn a_drive_on_the_centre_line_stays_where_it_is_put() {
    let mut project = pair();
    project.drives = vec![drive(0, [29.0, 0.0, -30.0], [0.0, -70.0, -34.0])];
    let edit = Edit::Move {
        handle: Handle::Drive(0, Place::Exit),
        to: [1.5, -72.0],
        mirrored: true,
    };
    assert_eq!(applied(&project, &edit).drives[0].exit, [1.5, -72.0, -34.0]);
}

#[test]
fn drives_are_added_replaced_and_removed() {
    let project = pair();
    let count = project.drives.len();
    let own = drive(1, [4.0, 2.0, -30.0], [20.0, -70.0, -34.0]);
    let mirrored = false;
    let add = |drive| Edit::AddDrive { drive, mirrored };
    let more = applied(&project, &add(own.clone()));
    assert_eq!(more.drives.len(), count + 1);
    let renamed = Drive {
        name: "other".to_owned(),
        ..own
    };
    let rename = Edit::Drive {
        index: count,
        drive: renamed,
        mirrored,
    };
    let changed = applied(&more, &rename);
    assert_eq!(changed.drives[count].name, "other");
    let index = count;
    let remove = Edit::RemoveDrive { index, mirrored };
    assert_eq!(applied(&changed, &remove), project);
    assert!(remove.apply(&project).is_err());
    let beyond = drive(7, [4.0, 2.0, -30.0], [20.0, -70.0, -34.0]);
    assert!(add(beyond).apply(&project).is_err());
}
