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

#[test]
fn solids_are_written_into_a_folder_and_named() {
    let folder = Folder::new();
    let write = || {
        let arguments = ["solids", "--sample", "bramble", "-o", "solids"];
        let (status, out, errors) = run(folder.path(), &arguments);
        assert_eq!((status, errors.as_str()), (0, ""));
        out
    };
    let named = write();
    assert!(named.contains("plate.stl") && named.contains("plate-and-rings.3mf"));
    let read = || -> Vec<Vec<u8>> {
        let files = named.lines().map(|name| folder.path().join(name));
        files
            .map(|path| fs::read(path).expect("it was written"))
            .collect()
    };
    let first = read();
    write();
    assert_eq!(read(), first);
}

#[test]
fn a_folder_whose_name_a_file_has_is_refused_and_nothing_is_written() {
    let folder = Folder::new();
    folder.write("solids", "a file");
    let arguments = ["solids", "--sample", "bramble", "-o", "solids"];
    let (status, _, errors) = run(folder.path(), &arguments);
    assert_eq!(status, 2);
    assert!(errors.contains("`solids`"), "{errors}");
    assert_eq!(folder.contents().len(), 1);
    let arguments = ["cut", "--sample", "bramble", "-o", "absent/plate.svg"];
    let (status, _, errors) = run(folder.path(), &arguments);
    assert_eq!((status, errors.lines().count()), (2, 2));
}

#[test]
fn parts_larger_than_the_bed_are_named() {
    let folder = Folder::new();
    let text = include_str!("../../../../demo/bramble.ron");
    let end = text.trim_end().strip_suffix(')').expect("a project");
    let workshop = "workshop: (name: \"small\", hole_allowance: 0.2, running_clearance: 0.4, \
                    kerf: 0.1, bed: (100.0, 100.0)),";
    folder.write("a.ron", format!("{end}{workshop})"));
    let (status, _, errors) = run(folder.path(), &["solids", "a.ron", "-o", "solids"]);
    assert_eq!(
        (status, errors.as_str()),
        (0, "Larger than the printer's bed: plate.\n")
    );
}
