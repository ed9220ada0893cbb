//! Files for the cutter and the printer.

use std::fs;

use crate::folder::{Folder, run};

#[test]
fn cut_writes_the_format_that_its_ending_names_with_the_same_bytes_each_time() {
    let folder = Folder::new();
    for (name, start) in [("plate.svg", "<?xml"), ("plate.dxf", "0\n")] {
        let write = || {
            let arguments = ["cut", "--sample", "bramble", "-o", name];
            let (status, out, errors) = run(folder.path(), &arguments);
            assert_eq!((status, out.as_str(), errors.as_str()), (0, "", ""));
            fs::read(folder.file(name)).expect("the file was written")
        };
        let first = write();
        assert!(
            first.trim_ascii_start().starts_with(start.as_bytes()),
            "{name}"
        );
        assert_eq!(write(), first);
    }
    let (status, _, errors) = run(
        folder.path(),
        &["cut", "--sample", "bramble", "-o", "plate.txt"],
    );
    assert_eq!(status, 2);
    assert_eq!(
        errors,
        "`plate.txt` ends neither in `.svg` nor in `.dxf`.\nName a file with one of these endings \
         after `-o`.\n"
    );
}

#[test]
fn kerf_and_part_change_what_is_cut_and_a_wrong_one_is_refused() {
    let folder = Folder::new();
    let cut = |more: &[&str]| {
        let arguments = [&["cut", "--sample", "bramble", "-o", "a.svg"], more].concat();
        let (status, _, errors) = run(folder.path(), &arguments);
        (
            status,
            errors,
            fs::read(folder.file("a.svg")).unwrap_or_default(),
        )
    };
    let plain = cut(&[]).2;
    let kerf = cut(&["--kerf", "0,2"]).2;
    let foam = cut(&["--part", "foam"]).2;
    assert!(plain != kerf && plain != foam);
    let (status, errors, after) = cut(&["--kerf", "wide"]);
    assert_eq!(
        (status, errors.as_str()),
        (
            2,
            "`--kerf` does not take `wide`.\nUse a number of millimetres, such as 0.2.\n"
        )
    );
    assert_eq!(after, foam, "what was written stays");
    let (status, errors, _) = cut(&["--kerf", "500"]);
    assert_eq!(status, 2);
    assert_eq!(errors.lines().count(), 2, "{errors}");
}

/// The files in the folder called `solids`, with their contents.
fn solids_in(folder: &Folder) -> Vec<(String, Vec<u8>)> {
    let entries = fs::read_dir(folder.file("solids")).expect("the folder is there");
    let mut files: Vec<(String, Vec<u8>)> = entries
        .map(|entry| {
            let path = entry.expect("the entry can be read").path();
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let bytes = fs::read(&path).expect("it is a file");
            (name.into_owned(), bytes)
        })
        .collect();
    files.sort();
    files
}

const SOLIDS: [&str; 6] = [
    "solids",
    "--sample",
    "bramble",
    "--fit-gauge",
    "-o",
    "solids",
];

#[test]
fn solids_are_written_into_a_folder_and_named_with_the_same_bytes_each_time() {
    let folder = Folder::new();
    let (status, out, errors) = run(folder.path(), &SOLIDS);
    assert_eq!((status, errors.as_str()), (0, ""));
    let named = [
        "plate.stl",
        "ring.stl",
        "upper-lid.stl",
        "lower-lid.stl",
        "lug.stl",
        "lever-of-left-upper-lid-and-3-more.stl",
        "lever-of-left-gaze.stl",
        "lever-of-right-gaze.stl",
        "fit-gauge.stl",
        "parts.3mf",
    ];
    let paths: Vec<String> = named.iter().map(|name| format!("solids/{name}")).collect();
    assert_eq!(out.lines().collect::<Vec<_>>(), paths);
    let first = solids_in(&folder);
    assert_eq!(first.len(), named.len());
    run(folder.path(), &SOLIDS);
    assert!(solids_in(&folder) == first);
}

#[test]
fn a_place_without_a_name_is_no_place() {
    let folder = Folder::new();
    let (status, out, errors) = run(folder.path(), &["solids", "--sample", "bramble", "-o", ""]);
    assert_eq!(
        (status, out.as_str(), errors.as_str()),
        (
            2,
            "",
            "No place is named for the solids.\nAdd `-o DIR`, such as `-o solids`.\n"
        )
    );
    assert_eq!(folder.contents(), []);
}

#[test]
fn a_folder_whose_name_a_file_has_is_refused_and_nothing_is_written() {
    let folder = Folder::new();
    folder.write("solids", "a file");
    let before = folder.contents();
    let (status, _, errors) = run(folder.path(), &SOLIDS);
    assert_eq!(
        (status, errors.as_str()),
        (
            2,
            "`solids` is a file, not a folder.\nName a folder, or one that can be made.\n"
        )
    );
    let within = ["solids", "--sample", "bramble", "-o", "solids/deeper"];
    let (status, _, errors) = run(folder.path(), &within);
    assert_eq!(
        (status, errors.as_str()),
        (
            2,
            "The folder `solids/deeper` cannot be made: it would lie in a file.\nName another \
             folder.\n"
        )
    );
    assert_eq!(folder.contents(), before);
}

#[test]
fn a_cut_file_whose_folder_is_gone_or_whose_name_a_folder_has_is_refused() {
    let folder = Folder::new();
    fs::create_dir(folder.file("taken.dxf")).expect("a folder can be made");
    let before = folder.contents();
    for (to, says) in [
        (
            "absent/plate.svg",
            "`absent/plate.svg` cannot be written: its folder is not there.\nMake the folder, or \
             choose another one.\n",
        ),
        (
            "taken.dxf",
            "`taken.dxf` is a folder, not a file.\nName a file in it.\n",
        ),
    ] {
        let arguments = ["cut", "--sample", "bramble", "-o", to];
        let (status, out, errors) = run(folder.path(), &arguments);
        assert_eq!((status, out.as_str(), errors.as_str()), (2, "", says));
        assert_eq!(folder.contents(), before);
    }
}

#[test]
fn solids_of_which_one_cannot_be_written_leave_all_others_as_they_were() {
    let folder = Folder::new();
    fs::create_dir_all(folder.file("solids/parts.3mf")).expect("a folder can be made");
    folder.write("solids/plate.stl", "an older plate");
    let (status, out, errors) = run(folder.path(), &SOLIDS);
    assert_eq!(
        (status, out.as_str(), errors.as_str()),
        (
            2,
            "",
            "`solids/parts.3mf` is a folder, not a file.\nName a file in it.\n"
        )
    );
    fs::remove_dir(folder.file("solids/parts.3mf")).expect("it is empty");
    let left = [("plate.stl".to_owned(), b"an older plate".to_vec())];
    assert_eq!(solids_in(&folder), left);
}

/// The system itself refuses to write on: the shell allows the program files of `blocks` of 512 bytes.
#[cfg(target_os = "linux")]
fn run_with_room_for(blocks: u32, folder: &Folder, arguments: &[&str]) -> (Option<i32>, String) {
    let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$@\"");
    let output = std::process::Command::new("sh")
        .args(["-c", &script, "sh"])
        .arg(env!("CARGO_BIN_EXE_gazewright"))
        .args(arguments)
        .current_dir(folder.path())
        .output()
        .expect("there is a shell");
    let errors = String::from_utf8_lossy(&output.stderr).into_owned();
    (output.status.code(), errors)
}

#[test]
#[cfg(target_os = "linux")]
fn a_disk_that_fills_up_while_solids_are_written_is_left_as_it_was() {
    let folder = Folder::new();
    // The plate's 137 kB and the ring's fit, the upper lid's 271 kB do not.
    let (status, errors) = run_with_room_for(400, &folder, &SOLIDS);
    assert_eq!(
        (status, errors.as_str()),
        (
            Some(2),
            "`solids/upper-lid.stl` cannot be written: File too large (os error 27).\nChoose \
             another place; the old file is as it was.\n"
        )
    );
    assert_eq!(folder.contents(), [], "the folder that was made is gone");
    run(folder.path(), &SOLIDS);
    let before = solids_in(&folder);
    assert_eq!(run_with_room_for(400, &folder, &SOLIDS).0, Some(2));
    assert!(solids_in(&folder) == before);
}

#[test]
#[cfg(target_os = "linux")]
fn a_disk_that_takes_no_byte_leaves_the_old_cut_file_and_nothing_else() {
    for name in ["plate.svg", "plate.dxf"] {
        let folder = Folder::new();
        folder.write(name, "an older one");
        let before = folder.contents();
        let arguments = ["cut", "--sample", "bramble", "-o", name];
        let (status, errors) = run_with_room_for(0, &folder, &arguments);
        let says = format!("`{name}` cannot be written: File too large (os error 27).\n");
        assert_eq!(status, Some(2));
        assert!(errors.starts_with(&says), "{errors}");
        assert_eq!(folder.contents(), before);
    }
}

#[test]
fn several_files_take_their_places_together_or_not_at_all() {
    let folder = Folder::new();
    let paths = ["a", "b"].map(|name| folder.file(name));
    folder.write("a", "old");
    let files = paths.each_ref().map(|path| (path.clone(), b"new".to_vec()));
    desk::files::replace_all(&files).unwrap();
    let both =
        |content: &str| ["a", "b"].map(|name| (name.to_owned(), Some(content.as_bytes().to_vec())));
    assert_eq!(folder.contents(), both("new"));
    let absent = (folder.file("absent/c"), Vec::new());
    let newer = paths.map(|path| (path, b"newer".to_vec()));
    let files = [&newer[..], &[absent]].concat();
    assert!(desk::files::replace_all(&files).is_err());
    assert_eq!(folder.contents(), both("new"));
}

#[test]
fn parts_larger_than_the_bed_are_named() {
    let folder = Folder::new();
    let text = include_str!("../../../../demo/bramble.ron");
    let end = text.trim_end().strip_suffix(')').expect("a project");
    let workshop = "workshop: (name: \"small\", hole_allowance: 0.2, running_clearance: 0.4, \
                    kerf: 0.1, bed: (100.0, 100.0)),";
    folder.write("a.ron", format!("{end}{workshop})"));
    for (more, named) in [(&[][..], "plate"), (&["--fit-gauge"], "plate, fit gauge")] {
        let arguments = [&["solids", "a.ron", "-o", "solids"], more].concat();
        let (status, _, errors) = run(folder.path(), &arguments);
        assert_eq!(
            (status, errors),
            (0, format!("Larger than the printer's bed: {named}.\n"))
        );
    }
}
