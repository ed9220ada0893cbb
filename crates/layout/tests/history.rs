//! Undo, redo and gestures.

use layout::field::{Field, PartsOf};
use layout::handle::Handle;
use layout::{Edit, History};

use crate::common::{Random, pair};

fn thicker(thickness: f64) -> Edit {
    Edit::Set(Field::PlateThickness, thickness)
}

fn drag(to: [f64; 2]) -> Edit {
    Edit::Move {
        handle: Handle::Eye(0),
        to,
        mirrored: true,
    }
}

#[test]
fn undo_and_redo_give_back_equal_projects_and_name_their_steps() {
    let edits = [
        thicker(3.5),
        drag([-30.0, 1.0]),
        Edit::Rename("another".to_owned()),
        Edit::Together(false),
        Edit::Set(Field::BallDiameter(PartsOf::Shared), 40.2),
    ];
    let mut history = History::new(pair(), true);
    let mut states = vec![history.project().clone()];
    for edit in &edits {
        history.apply(edit).unwrap();
        states.push(history.project().clone());
        assert_eq!(history.undo_label(), Some(edit.label().as_str()));
    }
    for (edit, state) in edits.iter().zip(&states).rev() {
        history.undo();
        assert_eq!(history.project(), state);
        assert_eq!(history.redo_label(), Some(edit.label().as_str()));
    }
    assert_eq!(history.undo_label(), None);
    assert!(history.is_saved());
    for (edit, state) in edits.iter().zip(&states[1..]) {
        history.redo();
        assert_eq!(history.project(), state);
        assert_eq!(history.undo_label(), Some(edit.label().as_str()));
    }
    assert_eq!(history.redo_label(), None);
}

#[test]
fn undo_and_redo_at_the_ends_change_nothing() {
    let mut history = History::new(pair(), true);
    history.undo();
    history.redo();
    assert_eq!(history.project(), &pair());
    assert_eq!(history.revision(), 0);
}

#[test]
fn a_gesture_is_one_step_however_many_moves_it_has() {
    let mut history = History::new(pair(), true);
    history.begin();
    for step in 1..=20 {
        history
            .apply(&drag([-29.0 - f64::from(step) * 0.1, 0.0]))
            .unwrap();
    }
    assert!(history.in_gesture());
    history.finish();
    assert!(!history.in_gesture());
    assert_eq!(history.undo_label(), Some("move eye"));
    history.undo();
    assert_eq!(history.project(), &pair());
    assert_eq!(history.undo_label(), None);
}

#[test]
fn a_gesture_that_ends_where_it_began_is_no_step() {
    let mut history = History::new(pair(), true);
    history.begin();
    history.apply(&drag([-31.0, 0.0])).unwrap();
    history.apply(&drag([-29.0, 0.0])).unwrap();
    history.finish();
    assert_eq!(history.undo_label(), None);
    assert!(history.is_saved());
}

#[test]
fn a_cancelled_gesture_puts_back_what_was_before_it() {
    let mut history = History::new(pair(), true);
    history.apply(&thicker(3.5)).unwrap();
    let before = history.project().clone();
    history.begin();
    history.apply(&drag([-31.0, 2.0])).unwrap();
    history.cancel();
    assert_eq!(history.project(), &before);
    assert_eq!(history.undo_label(), Some("plate thickness"));
    assert!(!history.in_gesture());
}

#[test]
fn a_refused_edit_leaves_project_and_history_as_they_were() {
    let mut history = History::new(pair(), true);
    let refused = [
        thicker(-1.0),
        thicker(f64::NAN),
        drag([f64::INFINITY, 0.0]),
        Edit::Set(Field::BallDiameter(PartsOf::Shared), 1e300),
        Edit::Set(Field::EyeX(7), 1.0),
        Edit::Rename("x".repeat(1_000)),
    ];
    for edit in refused {
        let problem = history.apply(&edit).unwrap_err();
        assert!(!problem.sentence.is_empty());
        assert_eq!(history.project(), &pair());
        assert_eq!((history.undo_label(), history.revision()), (None, 0));
    }
}

#[test]
fn a_new_edit_ends_what_could_be_redone() {
    let mut history = History::new(pair(), true);
    history.apply(&thicker(3.5)).unwrap();
    history.undo();
    history.apply(&thicker(2.5)).unwrap();
    assert_eq!(history.redo_label(), None);
}

#[test]
fn equal_revisions_hold_equal_projects_through_random_work() {
    let mut random = Random::new(21);
    let mut history = History::new(pair(), false);
    let mut seen = std::collections::HashMap::new();
    for _ in 0..2_000 {
        match random.below(8) {
            0 => history.undo(),
            1 => history.redo(),
            2 => history.begin(),
            3 => history.finish(),
            4 => history.cancel(),
            5 => history.mark_saved(),
            _ => {
                let edit = drag([random.between(-40.0, -20.0), 0.0]);
                history.apply(&edit).unwrap();
            }
        }
        let project = history.project().clone();
        let known = seen
            .entry(history.revision())
            .or_insert_with(|| project.clone());
        assert_eq!(*known, project);
    }
    assert!(seen.len() > 200);
}
