//! Drives in mirrored pairs, and drives to start with.

use layout::drive::{Drive, End, Moves, Turn};
use layout::field::DriveField;
use layout::handle::{Handle, Place};
use layout::laid_drive::undriven;
use layout::lid::{Lids, Which};
use layout::rod::Rod;
use layout::{Edit, Project, State, evaluate};

use crate::common::pair;

const UPPER: Moves = Moves::Lid {
    eye: 0,
    which: Which::Upper,
};

/// A pair with lids whose upper ones have a drive each, the second the mirror image of the first.
fn driven_pair() -> Project {
    let mut project = pair();
    project.parts.lids = Some(Lids::around(project.parts.ball_diameter / 2.0));
    project.drives.clear();
    let drive = Drive::fresh(&project, UPPER);
    applied(&project, &add(drive, true))
}

fn applied(project: &Project, edit: &Edit) -> Project {
    edit.apply(project).expect("the change can be made")
}

fn add(drive: Drive, mirrored: bool) -> Edit {
    Edit::AddDrive { drive, mirrored }
}

fn set(index: usize, field: DriveField, value: f64, mirrored: bool) -> Edit {
    Edit::SetDrive {
        index,
        field,
        value,
        mirrored,
    }
}

#[test]
fn a_drive_is_added_with_its_mirror_image_unless_the_part_opposite_has_one() {
    let project = driven_pair();
    let [left, right] = [&project.drives[0], &project.drives[1]];
    assert_eq!(right.moves, UPPER.of_eye(1));
    assert_eq!(right.tip, [-left.tip[0], left.tip[1], left.tip[2]]);
    assert_eq!(right.exit, [-left.exit[0], left.exit[1], left.exit[2]]);
    assert_eq!(left.name, "left eye upper lid");
    assert_eq!(right.name, "right eye upper lid");
    let second = Drive::fresh(&project, UPPER);
    let again = applied(&project, &add(second, true));
    assert_eq!(again.drives.len(), 3, "the right one has its drive");
    assert_eq!(
        [0, 1, 2].map(|drive| again.mirror_drive(drive)),
        [Some(1), Some(0), None]
    );
}

#[test]
fn what_is_typed_of_one_drive_its_partner_takes_over_as_its_mirror_image() {
    let project = driven_pair();
    let tip = applied(&project, &set(1, DriveField::Tip(0), 31.0, true));
    assert_eq!(tip.drives[0].tip[0], -31.0);
    let lead = applied(&project, &set(0, DriveField::Lead, 17.0, true));
    assert_eq!(lead.drives[1].lead, 17.0);
    let alone = applied(&project, &set(0, DriveField::Lead, 17.0, false));
    assert_eq!(alone.drives[1].lead, project.drives[1].lead);
    // What is the partner's own stays, whatever else follows.
    let own = applied(&project, &set(1, DriveField::Exit(1), -20.0, false));
    let moved = applied(&own, &set(0, DriveField::Exit(1), -80.0, true));
    assert_eq!(moved.drives[1].exit[1], -20.0);
    assert_eq!(moved.drives[0].exit[1], -80.0);
    assert_eq!(moved.drives[1].name, project.drives[1].name);
}

#[test]
fn route_points_come_move_and_go_in_pairs() {
    let project = driven_pair();
    let mut drive = project.drives[0].clone();
    drive.via.push([-60.0, -40.0, -20.0]);
    let edit = Edit::Drive {
        index: 0,
        drive,
        mirrored: true,
    };
    let with_point = applied(&project, &edit);
    assert_eq!(with_point.drives[1].via, [[60.0, -40.0, -20.0]]);
    let handle = Handle::Drive(1, Place::Via(0));
    assert_eq!(
        handle.partner(&with_point),
        Some(Handle::Drive(0, Place::Via(0)))
    );
    let mirrored = true;
    let to = [62.0, -38.0];
    let moved = applied(
        &with_point,
        &Edit::Move {
            handle,
            to,
            mirrored,
        },
    );
    assert_eq!(moved.drives[0].via, [[-62.0, -38.0, -20.0]]);
    let without = applied(&moved, &Edit::Remove { handle, mirrored });
    assert!(without.drives.iter().all(|drive| drive.via.is_empty()));
}

#[test]
fn a_pair_of_drives_goes_together_and_one_alone() {
    let project = driven_pair();
    let remove = |index, mirrored| Edit::RemoveDrive { index, mirrored };
    assert!(applied(&project, &remove(1, true)).drives.is_empty());
    let left = applied(&project, &remove(1, false)).drives;
    assert_eq!(left, project.drives[..1]);
}

#[test]
fn a_mirror_turns_the_ends_of_a_side_turn_round_and_no_other_s() {
    let project = pair();
    for (turn, end) in [(Turn::Side, End::Low), (Turn::Lift, End::High)] {
        let moves = Moves::Gaze { eye: 0, turn };
        let opposite = project.mirror_moves(moves).unwrap();
        let drive = Drive::fresh(&project, moves);
        assert_eq!(drive.near, End::High);
        let mirrored = drive.mirrored(opposite);
        assert_eq!(mirrored.near, end);
        assert_eq!(mirrored.mirrored(moves).near, drive.near);
    }
}

#[test]
fn a_drive_that_moves_another_thing_starts_with_a_lever_that_fits_it() {
    let project = driven_pair();
    let lid = &project.drives[0];
    let gaze = Moves::Gaze {
        eye: 0,
        turn: Turn::Lift,
    };
    let moved = lid.moved_to(&project, gaze);
    assert_eq!(moved.name, "left eye lift");
    assert_eq!(moved.tip[..2], [0.0, 0.0]);
    assert!(moved.tip[2] < -project.parts.ball_diameter / 2.0);
    assert_eq!(moved.exit, lid.exit, "its sheath still leaves there");
    let named = Drive {
        name: "blink".to_owned(),
        ..lid.clone()
    };
    let over = named.moved_to(&project, UPPER.of_eye(1));
    assert_eq!(over.name, "blink");
    assert_eq!(over.tip[0], -lid.tip[0]);
}

#[test]
fn fresh_drives_of_everything_that_lacks_one_can_work_and_nothing_lacks_one_then() {
    let mut project = pair();
    project.parts.lids = Some(Lids::around(project.parts.ball_diameter / 2.0));
    project.drives.clear();
    project.gaze.lift = layout::Degrees(10.0);
    let lacking = undriven(&project).len();
    assert_eq!(lacking, 8);
    for _ in 0..lacking / 2 {
        let moves = undriven(&project)[0];
        project = applied(&project, &add(Drive::fresh(&project, moves), true));
    }
    assert!(undriven(&project).is_empty());
    let report = evaluate(&project);
    let shapes = { report.findings.iter() }.filter(|finding| finding.id == "drive_shape");
    for finding in shapes {
        assert_eq!(finding.state, State::Clear, "{finding:?}");
    }
    let mut names: Vec<_> = project.drives.iter().map(|drive| &drive.name).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), project.drives.len());
}

#[test]
fn a_fresh_rod_lets_two_eyes_turn_alike_until_none_is_left_to_tie() {
    let project = pair();
    let rod = Rod::fresh(&project).expect("two eyes can be tied");
    let tied = applied(&project, &Edit::AddRod(rod));
    assert_eq!(Rod::fresh(&tied), None);
    let figures = &evaluate(&tied).figures.rods[0];
    assert!(
        figures.follower_difference_deg.unwrap() < 1e-9,
        "{figures:?}"
    );
    // What drives one eye now drives both.
    let mut one = tied.clone();
    one.gaze.lift = layout::Degrees(0.0);
    let side = |eye| Moves::Gaze {
        eye,
        turn: Turn::Side,
    };
    one.drives = vec![Drive::fresh(&one, side(0))];
    assert!(!undriven(&one).contains(&side(1)));
    one.rods.clear();
    assert!(undriven(&one).contains(&side(1)));
}
