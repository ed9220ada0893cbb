//! What is kept for the next run, as it stands on the disk.

use std::path::Path;

use desk::keep::{FOLDER_VARIABLE, Keep, LeftCopy, Recovery};
use jiff::Timestamp;

use crate::demo;
use crate::folder::{Folder, run};

/// Writes a copy as a program that then ends.
fn leave(keep: &Keep, name: &str, file: Option<&Path>, taken: Timestamp) {
    let mut recovery = Recovery::of(Some(keep));
    recovery
        .write(&demo(name), file, None, taken)
        .expect("the copy is written");
}

#[test]
fn a_recovery_copy_holds_the_project_its_file_and_its_time() {
    let folder = Folder::new();
    let keep = Keep::in_folder(folder.file("kept"));
    let taken: Timestamp = "2026-03-05T07:09:11Z".parse().unwrap();
    let file = folder.file("a \"quoted\"\nname \\ of two lines.ron");
    leave(&keep, "wimple", Some(&file), taken);
    let left = LeftCopy::all(&keep).remove(0);
    assert_eq!(left.project, Ok(demo("wimple")));
    assert_eq!(left.file, Some(file));
    assert_eq!(left.taken, Some(taken));
}

#[test]
fn copies_are_offered_newest_first() {
    let folder = Folder::new();
    let keep = Keep::in_folder(folder.path());
    for (name, taken) in [
        ("bramble", "2026-03-05T07:09:11Z"),
        ("wimple", "2026-03-07T07:09:11Z"),
        ("nettle", "2026-03-06T07:09:11Z"),
    ] {
        leave(&keep, name, None, taken.parse().unwrap());
    }
    let projects = LeftCopy::all(&keep).into_iter().map(|left| left.project);
    let expected = ["wimple", "nettle", "bramble"].map(|name| Ok(demo(name)));
    assert_eq!(projects.collect::<Vec<_>>(), expected);
}

#[test]
fn a_recovery_copy_is_checked_like_any_project() {
    let folder = Folder::new();
    let keep = Keep::in_folder(folder.path());
    leave(&keep, "nettle", None, Timestamp::UNIX_EPOCH);
    let copy = LeftCopy::all(&keep).remove(0).copy.path().to_owned();
    let copy = copy.to_str().expect("a path in UTF-8");
    let (status, of_copy, errors) = run(folder.path(), &["check", copy, "--json"]);
    let (_, of_sample, _) = run(folder.path(), &["check", "--sample", "nettle", "--json"]);
    assert_eq!((status, errors.as_str()), (1, ""));
    assert_eq!(of_copy, of_sample);
}

#[test]
fn the_help_names_the_variable_that_moves_the_folder() {
    let folder = Folder::new();
    let (_, help, _) = run(folder.path(), &["--help"]);
    assert!(help.contains(FOLDER_VARIABLE), "{help}");
}
