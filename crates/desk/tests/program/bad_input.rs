//! Bad input gets one sentence of the cause and one of the mend, exit status 2, and changes nothing.

use std::fs;
use std::io::{Error, ErrorKind};

use desk::files::{self, Backup};

use crate::demo;
use crate::folder::{Folder, run};

/// The text of the ordinary character.
fn bramble() -> String {
    files::to_text(&demo("bramble"))
}

/// That text with one thing changed.
fn with(from: &str, to: &str) -> String {
    let text = bramble();
    assert_eq!(text.matches(from).count(), 1, "`{from}` stands there once");
    text.replace(from, to)
}

fn with_outline(points: &str) -> String {
    let text = bramble();
    let start = text.find("outline: [").expect("there is an outline");
    let end = start + text[start..].find("],").expect("it ends");
    format!("{}outline: [{points}{}", &text[..start], &text[end..])
}

/// Checks a file of these bytes: what the program says of it, and that nothing in its folder changes.
fn assert_refused(bytes: impl AsRef<[u8]>, says: &str) {
    let folder = Folder::new();
    folder.write("plate.ron", bytes);
    assert_run_refused(&folder, &["check", "plate.ron"], says);
}

fn assert_run_refused(folder: &Folder, arguments: &[&str], says: &str) {
    let before = folder.contents();
    let (status, out, errors) = run(folder.path(), arguments);
    assert_eq!(errors, format!("{says}\n"));
    assert_eq!((status, out.as_str()), (2, ""));
    assert_eq!(folder.contents(), before, "{arguments:?} changed something");
}

#[test]
fn a_missing_file_is_named() {
    assert_run_refused(
        &Folder::new(),
        &["check", "plate.ron"],
        "`plate.ron` is not there.\nCheck the name and the folder.",
    );
}

#[test]
fn a_folder_in_place_of_a_file_is_named() {
    let folder = Folder::new();
    fs::create_dir(folder.file("plate.ron")).unwrap();
    assert_run_refused(
        &folder,
        &["check", "plate.ron"],
        "`plate.ron` is a folder, not a file.\nName a project file (`.ron`) in it.",
    );
}

#[test]
fn an_empty_file_points_to_its_backup() {
    assert_refused(
        "",
        "plate.ron: The file is empty.\n\
         Open its backup (the same name with `.bak` behind it), or start anew.",
    );
}

#[test]
fn a_truncated_file_says_where_it_breaks_off() {
    let text = bramble();
    let end = text
        .find("(80.1, 22.5)")
        .expect("the outline has that point");
    let line = text[..end].lines().count();
    let column = text[..end].lines().last().unwrap().chars().count() + 1;
    assert_refused(
        &text[..end],
        &format!(
            "plate.ron, line {line}, column {column}: The file breaks off in `head.outline`.\n\
             Open its backup (the same name with `.bak` behind it), or write the rest."
        ),
    );
}

#[test]
fn wherever_a_file_is_cut_off_it_is_said_to_break_off() {
    let text = bramble();
    let text = text.trim_end();
    for end in "Project(".len()..text.len() {
        let error = files::parse(&text[..end]).unwrap_err();
        let said = error.to_string();
        assert!(said.contains("The file breaks off in "), "at {end}: {said}");
    }
}

#[test]
fn a_wrong_type_is_named_with_the_right_one() {
    assert_refused(
        with("ball_diameter: 40.0", "ball_diameter: \"forty\""),
        "plate.ron, line 24, column 24: `parts.ball_diameter` is `\"forty\"`, and should be a \
         number.\nWrite a number such as 12.5.",
    );
}

#[test]
fn an_unknown_field_is_named_with_those_that_are_known() {
    assert_refused(
        with("ball_plus: 0.6", "ball_plus: 0.6, colour: 3"),
        "plate.ron, line 25, column 25: There is no field `parts.colour`.\n\
         Use one of `name`, `ball_diameter`, `ball_plus`, `seat`, `ring`, `lids`, `eye_mass_g`.",
    );
}

#[test]
fn a_number_with_decimals_in_place_of_a_whole_one_is_named() {
    assert_refused(
        with("version: 1", "version: 1.5"),
        "plate.ron, line 2, column 14: `version` is `1.5`, and should be a whole number.\n\
         Write a whole number such as 2.",
    );
}

#[test]
fn a_version_without_a_value_is_named() {
    assert_refused(
        with("version: 1", "version: "),
        "plate.ron, line 2, column 14: `version` has no value, and should be a whole number from 0.\n\
         Write a whole number such as 2.",
    );
}

#[test]
fn a_missing_field_is_named() {
    assert_refused(
        with("ball_plus: 0.6,", ""),
        "plate.ron, line 22, column 12: `parts` has no field `ball_plus`.\n\
         Add `ball_plus: …` to it, as in a file that the program saved.",
    );
}

#[test]
fn an_unknown_kind_is_named_with_those_that_are_known() {
    assert_refused(
        with("Elastic(", "Magnet("),
        "plate.ron, line 45, column 16: `seated_by` is `Magnet(pull_n: 0.5)`, and should be one of \
         `Elastic`, `Lids`, `Nothing`.\nUse one of these.",
    );
}

#[test]
fn numbers_that_are_none_or_endless_or_huge_or_negative_are_named_with_the_range() {
    for (written, read) in [
        ("NaN", "NaN"),
        ("inf", "inf"),
        ("-inf", "-inf"),
        ("1e999", "inf"),
        ("1e300", "1e300"),
        ("-3.0", "-3"),
        ("0.0", "0"),
    ] {
        assert_refused(
            with("depth: 15.6", &format!("depth: {written}")),
            &format!(
                "plate.ron, line 27, column 27: `parts.ring.depth` is {read} mm.\n\
                 Use a number from 0.01 to 2000 mm."
            ),
        );
    }
}

#[test]
fn an_outline_that_crosses_itself_is_refused_with_the_place() {
    assert_refused(
        with_outline("(80.0, -90.0), (80.0, 90.0), (-80.0, -90.0), (-80.0, 90.0)"),
        "plate.ron, line 5, column 18, `head.outline`: The head outline crosses itself near \
         (0.0, 0.0).\nMove or remove points there.",
    );
}

#[test]
fn an_outline_of_two_points_is_refused() {
    assert_refused(
        with_outline("(80.0, -90.0), (80.0, 90.0)"),
        "plate.ron, line 5, column 18, `head.outline`: The head outline has 2 points, and a closed \
         curve needs 3.\nAdd points.",
    );
}

#[test]
fn an_opening_larger_than_the_ball_is_refused() {
    assert_refused(
        with(
            "Spherical(centre_height: 4.0, running_clearance: 0.4)",
            "Plain(opening_diameter: 41.0)",
        ),
        "plate.ron, line 26, column 39, `parts.seat.opening_diameter`: The opening, 41 mm, is not \
         smaller than the ball, 40 mm: the ball falls through.\n\
         Use an opening smaller than 40 mm.",
    );
}

#[test]
fn a_newer_version_is_refused_by_name() {
    assert_refused(
        with("version: 1", "version: 7"),
        "plate.ron, line 2, column 14: The file is version 7 of the file format, and this program \
         reads up to version 1.\nOpen it with a newer Gazewright.",
    );
}

#[test]
fn deep_nesting_is_refused() {
    assert_refused(
        "(".repeat(100_000),
        "plate.ron, line 1, column 33: Brackets are nested more than 32 deep.\n\
         Take the brackets out that do not belong there.",
    );
}

#[test]
fn an_over_large_file_is_refused() {
    assert_refused(
        bramble() + &" ".repeat(4 * 1024 * 1024),
        "`plate.ron` is larger than 4 MiB.\nName a project file (`.ron`): none is that large.",
    );
}

#[test]
fn what_is_no_text_is_refused() {
    assert_refused(
        [b"Project(".as_slice(), &[0xff, 0xfe]].concat(),
        "plate.ron, line 1, column 9: This is not text in UTF-8.\n\
         Save the file as UTF-8, or name a project file (`.ron`).",
    );
}

#[test]
fn a_slot_that_runs_to_no_hole_is_refused() {
    assert_refused(
        with("anchor: Some(0)", "anchor: Some(9)"),
        "plate.ron, line 48, column 73, `ties[0].anchor`: `ties[0]` runs to anchor hole 9, and the \
         head has 4.\nUse `None` or an index from 0 to 3.",
    );
}

#[test]
fn a_sheet_for_a_folder_that_is_not_there_or_a_name_that_a_folder_has_is_not_written() {
    let folder = Folder::new();
    fs::create_dir(folder.file("taken.pdf")).unwrap();
    for (to, says) in [
        (
            "taken.pdf",
            "`taken.pdf` is a folder, not a file.\nName a file in it.",
        ),
        (
            "nowhere/plate.pdf",
            "`nowhere/plate.pdf` cannot be written: its folder is not there.\n\
             Make the folder, or choose another one.",
        ),
    ] {
        assert_run_refused(&folder, &["sheet", "--sample", "bramble", "-o", to], says);
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_sheet_is_not_written_to_a_device() {
    assert_run_refused(
        &Folder::new(),
        &["sheet", "--sample", "bramble", "-o", "/dev/full"],
        "`/dev/full` is a device or a pipe, not a file.\nName a file in a folder.",
    );
}

/// The system itself refuses every byte: the shell allows the program files of no length.
#[test]
#[cfg(target_os = "linux")]
fn a_disk_that_takes_no_byte_leaves_the_old_sheet_and_nothing_else() {
    let folder = Folder::new();
    folder.write("plate.pdf", "an older sheet");
    let before = folder.contents();
    let output = std::process::Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 0; exec \"$@\"", "sh"])
        .arg(env!("CARGO_BIN_EXE_gazewright"))
        .args(["sheet", "--sample", "bramble", "-o", "plate.pdf"])
        .current_dir(folder.path())
        .output()
        .expect("there is a shell");
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        String::from_utf8_lossy(&output.stderr),
        "`plate.pdf` cannot be written: File too large (os error 27).\n\
         Choose another place; the old file is as it was.\n"
    );
    assert_eq!(folder.contents(), before);
}

#[test]
fn a_full_or_protected_disk_leaves_the_old_file_and_nothing_else() {
    for (kind, says) in [
        (
            ErrorKind::StorageFull,
            "cannot be written: the disk is full. Make room, or choose another disk; the old file \
             is as it was.",
        ),
        (
            ErrorKind::ReadOnlyFilesystem,
            "cannot be written: its folder is write-protected. Choose another folder.",
        ),
    ] {
        let folder = Folder::new();
        let path = folder.write("plate.ron", bramble());
        let before = folder.contents();
        let error = files::replace(&path, Backup::Keep, |file| {
            file.write_all(b"Project(")?;
            Err(Error::from(kind))
        })
        .unwrap_err();
        let said = format!("{error} {}", error.remedy());
        assert_eq!(said, format!("`{}` {says}", path.display()));
        assert_eq!(folder.contents(), before);
    }
}

#[test]
fn a_write_protected_project_is_not_replaced() {
    let folder = Folder::new();
    let path = folder.write("plate.ron", bramble());
    let mut rights = fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    fs::set_permissions(&path, rights).unwrap();
    let before = folder.contents();
    let error = files::save(&path, &demo("nettle")).unwrap_err();
    let name = path.display();
    assert_eq!(error.to_string(), format!("`{name}` is write-protected."));
    assert_eq!(
        error.remedy(),
        "Take the protection off, or save under another name."
    );
    assert_eq!(folder.contents(), before);
}
