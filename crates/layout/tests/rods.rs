//! Rods in a project: what is refused, and how they are changed.

use layout::Project;
use layout::drive::{Moves, Turn};
use layout::edit::Edit;
use layout::field::{Field, RodField, Unit};
use layout::handle::{self, Handle};
use layout::lid::Which;
use layout::rod::{Rod, RodEnd};

use crate::common::{chained_eyes, pair, rod, rodded_pair, side_of};

fn refused(project: &Project, field: &str) -> String {
    let problem = project.check().expect_err("it can tie nothing");
    assert_eq!(problem.field, field);
    problem.to_string()
}

#[test]
fn rods_that_can_tie_nothing_are_refused_by_their_field() {
    assert_eq!(rodded_pair().check(), Ok(()));
    assert_eq!(chained_eyes().check(), Ok(()));
    let changed = |change: fn(&mut Rod)| {
        let mut project = rodded_pair();
        change(&mut project.rods[0]);
        project
    };
    assert_eq!(
        refused(&changed(|rod| rod.name = " ".to_owned()), "rods[0].name"),
        "`rods[0]` has no name, or one longer than 80 characters. Give it a short one."
    );
    assert_eq!(
        refused(
            &changed(|rod| rod.driver = side_of(7)),
            "rods[0].driver.eye"
        ),
        "`rods[0].driver` is of eye 7, and there is none with that index. Use an index from 0 to 1."
    );
    assert_eq!(
        refused(
            &changed(|rod| rod.follower = side_of(2)),
            "rods[0].follower.eye"
        ),
        "`rods[0].follower` is of eye 2, and there is none with that index. Use an index from 0 to 1."
    );
    assert_eq!(
        refused(
            &changed(|rod| rod.follower = rod.driver),
            "rods[0].follower"
        ),
        "`rods[0]` ties an eye to itself. Let it tie parts of two eyes."
    );
    let turn = Turn::Lift;
    let lift = Moves::Gaze { eye: 1, turn };
    let which = Which::Upper;
    for follower in [lift, Moves::Lid { eye: 1, which }] {
        let mut project = rodded_pair();
        project.rods[0].follower = follower;
        assert_eq!(
            refused(&project, "rods[0].follower"),
            "`rods[0]` ties two parts that turn in different ways. Let it tie two side turns, two lifts or \
             two lids."
        );
    }
    assert_eq!(
        refused(
            &changed(|rod| rod.driver_tip[1] = f64::NAN),
            "rods[0].driver_tip"
        ),
        "`rods[0].driver_tip` is NaN mm. Use a number from -2000 to 2000 mm."
    );
    assert_eq!(
        refused(
            &changed(|rod| rod.follower_tip[2] = -2_001.0),
            "rods[0].follower_tip"
        ),
        "`rods[0].follower_tip` is -2001 mm. Use a number from -2000 to 2000 mm."
    );
    let mut twice = rodded_pair();
    twice.rods.push(twice.rods[0].clone());
    assert_eq!(
        refused(&twice, "rods[1].follower"),
        "`rods[1]` moves what `rods[0]` moves already. Let it move something else, or remove one of the two."
    );
    let mut circle = chained_eyes();
    circle
        .rods
        .push(rod(side_of(3), side_of(0), [0.0, 0.0, -30.0]));
    assert_eq!(
        refused(&circle, "rods[0].driver"),
        "`rods[0]` belongs to a circle of rods: what drives it follows it. Remove one of them, or let \
         something else drive it."
    );
    let mut many = rodded_pair();
    many.rods = vec![many.rods[0].clone(); 65];
    assert_eq!(
        refused(&many, "rods"),
        "`rods` has 65 entries, more than 64. Remove some."
    );
}

fn applied(project: &Project, edit: &Edit) -> Project {
    edit.apply(project)
        .unwrap_or_else(|problem| panic!("{edit:?}: {problem}"))
}

#[test]
fn rods_are_added_changed_moved_and_removed() {
    let project = pair();
    let own = rod(side_of(0), side_of(1), [0.0, 0.0, -30.0]);
    let add = Edit::AddRod(own.clone());
    assert_eq!(add.label(), "add rod");
    let tied = applied(&project, &add);
    assert_eq!(tied.rods, std::slice::from_ref(&own));
    let other = Rod {
        name: "bar".to_owned(),
        ..own
    };
    let changed = applied(&tied, &Edit::Rod(0, other));
    assert_eq!(changed.rods[0].name, "bar");
    assert!(
        Edit::Rod(1, changed.rods[0].clone())
            .apply(&changed)
            .is_err()
    );
    // The right eye stands at (29, 0), its centre 4 mm before the plate.
    let end = RodEnd::Follower;
    let moved = Edit::MoveRodEnd {
        rod: 0,
        end,
        to: [31.0, 3.0, -20.0],
    };
    assert_eq!(moved.label(), "move following end of rod");
    let moved = applied(&changed, &moved);
    assert_eq!(moved.rods[0].follower_tip, [2.0, 3.0, -24.0]);
    assert_eq!(moved.rods[0].driver_tip, [0.0, 0.0, -30.0]);
    assert_eq!(handle::rod_end(&moved, 0, end), Some([31.0, 3.0, -20.0]));
    assert_eq!(applied(&moved, &Edit::RemoveRod(0)), project);
    assert!(Edit::RemoveRod(0).apply(&project).is_err());
}

#[test]
fn an_end_of_a_rod_is_dragged_in_the_plane_and_moves_alone() {
    let project = rodded_pair();
    let handle = Handle::Rod(0, RodEnd::Driver);
    assert_eq!(handle.at(&project), Some([-29.0, 0.0]));
    assert_eq!(handle.partner(&project), None);
    let (to, mirrored) = ([-27.0, 1.0], true);
    let moved = applied(
        &project,
        &Edit::Move {
            handle,
            to,
            mirrored,
        },
    );
    assert_eq!(moved.rods[0].driver_tip, [2.0, 1.0, -30.0]);
    assert_eq!(moved.rods[0].follower_tip, project.rods[0].follower_tip);
    assert!(Edit::Remove { handle, mirrored }.apply(&project).is_err());
}

#[test]
fn every_number_of_a_rod_is_read_where_it_was_written() {
    let project = rodded_pair();
    for end in RodEnd::ALL {
        for axis in 0..3 {
            let field = Field::Rod(0, RodField::Tip(end, axis));
            let next = applied(&project, &Edit::Set(field, -41.5));
            assert_eq!(field.get(&next), Some(-41.5));
            assert_eq!(next.rods[0].end(end).1[axis], -41.5);
            assert_eq!(field.label(), ["Across", "Height", "Forward"][axis]);
            assert_eq!(field.unit(), Unit::Length);
        }
    }
    let diameter = Field::Rod(0, RodField::Diameter);
    let next = applied(&project, &Edit::Set(diameter, 1.6));
    assert_eq!(next.rods[0].diameter, 1.6);
    assert!(Edit::Set(diameter, 0.0).apply(&project).is_err());
    let (end, axis) = (RodEnd::Driver, 0);
    assert_eq!(Field::Rod(1, RodField::Tip(end, axis)).get(&project), None);
}

#[test]
fn an_eye_that_goes_takes_its_rods_along_and_the_others_keep_theirs() {
    let edit = Edit::Remove {
        handle: Handle::Eye(1),
        mirrored: false,
    };
    let left = applied(&chained_eyes(), &edit);
    assert_eq!(left.rods, [rod(side_of(1), side_of(2), [0.0, 0.0, -30.0])]);
}

#[test]
fn a_file_holds_rods_only_where_there_are_some_and_reads_without_them() {
    let written = |project: &Project| ron::to_string(project).unwrap();
    let read = |text: &str| ron::from_str::<Project>(text).unwrap();
    let plain = pair();
    assert!(!written(&plain).contains("rods"));
    assert_eq!(read(&written(&plain)), plain);
    let tied = rodded_pair();
    assert_eq!(read(&written(&tied)), tied);
}
