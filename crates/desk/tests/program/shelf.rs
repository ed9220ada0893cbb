//! Plates that the maker has, tried by command.

use std::path::{Path, PathBuf};

use desk::files::{parse_shelf, read_shelf, save_shelf};
use layout::shelf::{Shelf, ShelfParts, ShelfPlate};
use serde_json::Value;

use super::commands::assert_has;
use super::demo;
use crate::folder::{Folder, run};

#[test]
fn fit_ranks_the_plates_of_a_shelf_and_says_what_each_needs() {
    let folder = Folder::new();
    let shelf = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/shelf/plates.ron");
    let arguments = ["fit", "--sample", "bramble", "--shelf", shelf];
    let (status, out, errors) = run(folder.path(), &arguments);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(
        out.contains(
            "\n44 plates, 6 serve: “Quill the porcupine, first plate”, “Aunt Tansy, first plate”, “Moss the vole, \
             spare” and 3 more\n\n1. Quill the porcupine, first plate\n   The plate takes the parts, and fits the \
             head with room to spare; "
        ),
        "{out}"
    );
    assert!(
        out.contains(
            ". Moss the vole, first plate\n   The plate has room in the head, but 2 things foul with it.\n"
        ),
        "{out}"
    );
    assert!(out.contains("\n   9 things are tight with it.\n"), "{out}");
    assert!(
        out.contains("Margin to the wall ") && out.contains("Measure the outline of the plate.")
    );
    // One further down takes the character as it is, so that there is one that serves.
    assert!(
        out.contains("Aunt Tansy, first plate\n   The plate takes the parts, and fits the head with room to spare; "),
        "{out}"
    );
    let out_of_text = out;
    let (_, out, _) = run(folder.path(), &[&arguments[..], &["--json"]].concat());
    let answer: Value = serde_json::from_str(&out).unwrap();
    let plates = answer.as_array().unwrap();
    assert!(plates.len() >= 40);
    let serving = plates.iter().filter(|plate| plate["serves"] == true);
    let serving: Vec<_> = serving.map(|plate| &plate["plate"]).collect();
    assert_eq!(
        serving,
        [
            "Quill the porcupine, first plate",
            "Aunt Tansy, first plate",
            "Moss the vole, spare",
            "Aunt Tansy, spare",
            "Old Mother Sedge, spare",
            "Quill the porcupine, spare",
        ]
    );
    // They come first.
    assert!((0..6).all(|place| plates[place]["serves"] == true));
    assert_has(&plates[0]["fit"], &["differences", "measure", "placed"]);
    assert_has(
        &plates[0]["work"],
        &[
            "filing",
            "drilling",
            "beyond",
            "lacks",
            "fails",
            "fails_anyway",
            "tight",
            "refused",
        ],
    );
    // Each thing that fails stands in the text with its figure, and so does each hole with its place.
    let mut figures = 0;
    for plate in plates.iter().filter(|plate| !plate["work"].is_null()) {
        for failing in plate["work"]["fails"].as_array().unwrap() {
            let sentence = failing["sentence"].as_str().unwrap();
            let line = out_of_text.lines().find(|line| line.contains(sentence));
            let line = line.unwrap_or_else(|| panic!("{sentence} is not told"));
            figures += usize::from(failing["value"].is_null() || line.contains(", wants "));
        }
        for hole in plate["work"]["drilling"].as_array().unwrap() {
            let figure = |of: &str, index: usize| {
                let figure = hole[of][index].as_f64().unwrap();
                output::LengthUnit::Millimetre.format(figure)
            };
            let said = format!(
                "{} × {} mm at ({}, {}), long side at ",
                figure("size", 0),
                figure("size", 1),
                figure("at_on_plate", 0),
                figure("at_on_plate", 1)
            );
            assert!(out_of_text.contains(&said), "{said}");
        }
    }
    assert!(figures > 0);
    assert!(!out_of_text.contains("-0.0,") && !out_of_text.contains("-0.0)"));
    // Those for other parts come last, with what differs and no place.
    let last = plates.last().unwrap();
    assert_eq!(last["sentence"], "The plate is made for other parts.");
    assert!(last["fit"]["placed"].is_null() && last["work"].is_null());
    assert!(!last["fit"]["differences"].as_array().unwrap().is_empty());
    // Of those that serve, the largest margin where they are used comes first.
    let margin = |plate: &Value| plate["fit"]["placed"]["margin"].as_f64().unwrap();
    assert!(plates[..6].is_sorted_by(|a, b| margin(a) >= margin(b)));
    let (status, _, errors) = run(folder.path(), &arguments[..3]);
    assert_eq!(
        (status, errors.as_str()),
        (
            2,
            "No shelf is named.\nAdd `--shelf RON`, such as `--shelf plates.ron`.\n"
        )
    );
    let project = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/bramble.ron");
    let (status, _, errors) = run(folder.path(), &["fit", project, "--shelf", project]);
    assert_eq!(status, 2);
    assert!(
        errors.contains("This is no shelf: it does not start with `Shelf(`."),
        "{errors}"
    );
}

/// The demo's plates.
fn plates() -> Vec<ShelfPlate> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/shelf/plates.ron");
    read_shelf(Path::new(path)).expect("a shelf").shelf.plates
}

fn called(name: &str) -> ShelfPlate {
    let plate = plates().into_iter().find(|plate| plate.name == name);
    plate.expect("it is on the demo's shelf")
}

fn written(folder: &Folder, plates: Vec<ShelfPlate>) -> PathBuf {
    let path = folder.file("plates.ron");
    let shelf = Shelf {
        plates,
        ..Shelf::empty()
    };
    save_shelf(&path, &shelf).expect("it can be written");
    path
}

fn fit(folder: &Folder, shelf: &Path) -> (i32, String, String) {
    let shelf = shelf.to_str().expect("a path of text");
    run(
        folder.path(),
        &["fit", "--sample", "bramble", "--shelf", shelf],
    )
}

#[test]
fn fit_ends_by_whether_a_plate_serves() {
    let folder = Folder::new();
    for (plate, expected) in [
        (called("Aunt Tansy, first plate"), 0),
        // It has room, and things foul with it.
        (called("Moss the vole, first plate"), 1),
        // Nothing is known of the parts that it takes.
        (
            ShelfPlate {
                parts: ShelfParts::default(),
                ..called("Aunt Tansy, first plate")
            },
            1,
        ),
        // It cannot be tied in.
        (
            ShelfPlate {
                slots: Vec::new(),
                ..called("Aunt Tansy, first plate")
            },
            1,
        ),
    ] {
        let name = plate.name.clone();
        let (status, out, _) = fit(&folder, &written(&folder, vec![plate]));
        assert_eq!(status, expected, "{out}");
        let serves = match expected {
            0 => format!("\n1 plate, 1 serves: “{name}”\n"),
            _ => "\n1 plate, none serves\n".to_owned(),
        };
        assert!(out.contains(&serves), "{out}");
    }
}

#[test]
fn a_plate_for_other_parts_is_told_with_both_lengths() {
    let folder = Folder::new();
    let mut plate = called("Aunt Tansy, first plate");
    plate.parts.ring.depth = Some(14.0);
    plate.slots[0].tie = None;
    let (status, out, _) = fit(&folder, &written(&folder, vec![plate]));
    assert_eq!(status, 1);
    assert!(
        out.contains(
            "   The depth of the ring of the eyes is smaller on the plate. 14.0 mm, wants 15.6 mm\n"
        ),
        "{out}"
    );
    assert!(out.contains("   Try which tie passes slot 1.\n"), "{out}");
}

#[test]
fn a_plate_of_unknown_spacing_is_to_be_measured_and_serves_nobody_yet() {
    let folder = Folder::new();
    let mut plate = called("Aunt Tansy, first plate");
    plate.eyes.iter_mut().for_each(|eye| eye.centre = None);
    let path = written(&folder, vec![plate]);
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("eyes: [ShelfEye(), ShelfEye()],"), "{text}");
    let (status, out, errors) = fit(&folder, &path);
    assert_eq!((status, errors.as_str()), (1, ""));
    for line in [
        "   Measure the spacing of the plate: how far the centres of its openings stand apart.\n",
        "   No eye can be put to its opening while the plate's spacing is not known. Measure it first.\n",
        " mm (clear)\n",
    ] {
        assert!(out.contains(line), "{line}: {out}");
    }
    let path = path.to_str().unwrap();
    let arguments = ["fit", "--sample", "bramble", "--shelf", path, "--json"];
    let (_, out, _) = run(folder.path(), &arguments);
    let answer: Value = serde_json::from_str(&out).unwrap();
    let (fit, work) = (&answer[0]["fit"], &answer[0]["work"]);
    assert_eq!(
        fit["measure"],
        serde_json::json!([{ "dimension": "spacing", "part": "plate" }])
    );
    assert_eq!(fit["placed"]["eyes"], serde_json::json!([]));
    assert!(fit["placed"]["margin"].as_f64().unwrap() > 0.0);
    assert!(work["refused"].is_object());
}

#[test]
fn bad_entries_are_told_one_by_one_and_the_rest_is_tried() {
    let folder = Folder::new();
    let good = called("Aunt Tansy, first plate");
    let named = |name: &str| ShelfPlate {
        name: name.to_owned(),
        ..good.clone()
    };
    let mut crossing = named("knotted");
    crossing.outline.as_mut().unwrap().swap(3, 10);
    let mut beside = named("lost opening");
    beside.eyes[1].centre = Some([500.0, 0.0]);
    let odd = named("odd field");
    let path = written(&folder, vec![good.clone(), crossing, good, beside, odd]);
    let text = std::fs::read_to_string(&path).unwrap();
    let text = text.replace("name: \"odd field\",", "name: \"odd field\", colour: 3,");
    std::fs::write(&path, &text).unwrap();
    let line_of = |part: &str| 1 + text.lines().position(|line| line.contains(part)).unwrap();
    let (status, out, errors) = fit(&folder, &path);
    assert_eq!(status, 0, "the rest serves: {errors}");
    assert!(
        out.contains("1. Aunt Tansy, first plate\n")
            && out.contains("2. Aunt Tansy, first plate (2)\n"),
        "{out}"
    );
    assert!(
        !out.contains("knotted") && !out.contains("odd field") && !out.contains("lost opening")
    );
    let lines: Vec<&str> = errors.lines().collect();
    assert_eq!(lines.len(), 8, "a cause and a mend each: {errors}");
    let file = path.display();
    for (line, starts, holds) in [
        (
            0,
            format!("Entry 2 (“knotted”) is left out: {file}, line "),
            "`plates[1].outline`: The plate outline crosses itself near (".to_owned(),
        ),
        (
            2,
            format!("Entry 3 (“Aunt Tansy, first plate”): {file}, line "),
            "`plates[2].name`: Entry 1 has the same name.".to_owned(),
        ),
        (
            4,
            format!("Entry 4 (“lost opening”) is left out: {file}, line "),
            "`plates[3].eyes[1].centre`: Opening 2 of the plate “lost opening” lies beside the plate.".to_owned(),
        ),
        (
            6,
            format!(
                "Entry 5 (“odd field”) is left out: {file}, line {}, column ",
                line_of("colour: 3")
            ),
            "There is no field `plates[4].colour`.".to_owned(),
        ),
    ] {
        assert!(lines[line].starts_with(&starts), "{}", lines[line]);
        assert!(lines[line].contains(&holds), "{}", lines[line]);
    }
    assert!(lines[1].starts_with("Move or remove points there."));
}

#[test]
fn a_shelf_without_a_plate_that_can_be_used_says_so() {
    let folder = Folder::new();
    let path = written(&folder, Vec::new());
    let (status, _, errors) = fit(&folder, &path);
    let file = path.display();
    assert_eq!(
        (status, errors),
        (
            1,
            format!(
                "{file}: There are no plates on this shelf.\nOpen a project in the window and put its plate there, \
                 or measure a plate that you have.\n"
            )
        )
    );
    let mut closed = ShelfPlate::of(&demo("bramble"));
    closed.eyes.clear();
    let path = written(&folder, vec![closed]);
    let (status, _, errors) = fit(&folder, &path);
    assert_eq!(status, 1);
    assert!(
        errors.contains("has no opening.")
            && errors.contains("No plate on this shelf can be used.")
    );
}

#[test]
fn an_entry_is_read_by_itself_in_its_own_place() {
    let text = |entries: &str| {
        format!("#![enable(implicit_some)]\nShelf(version: 1, plates: [\n{entries}])\n")
    };
    let good = "ShelfPlate(name: \"a\", parts: ShelfParts(ball_diameter: 40.0, seat: None, ring: ShelfRing(depth: \
                None, thickness: None, outer_diameter: None, bevel: None), lids: None), thickness: 3.0, eyes: \
                [ShelfEye(centre: (0.0, 0.0))], outline: None, slots: [], cable_holes: []),\n";
    let read = parse_shelf(&text(good)).expect("a shelf");
    assert_eq!(read.shelf.plates[0].thickness, Some(3.0));
    let read = parse_shelf(&text(&format!(
        "  ShelfPlate(name: \"ü\", thickness: Some(x)),\n{good}"
    )))
    .expect("a shelf");
    assert_eq!((read.shelf.plates.len(), read.troubles.len()), (1, 1));
    let trouble = &read.troubles[0];
    assert_eq!(trouble.name.as_deref(), Some("ü"));
    assert_eq!(trouble.error.field(), Some("plates[0].thickness"));
    // The column of `x`, in characters.
    let place = trouble.error.place().expect("a place");
    assert_eq!((place.line, place.column), (3, 41));
    // Where entries cannot be told from each other, or the shelf is none, nothing is read.
    for bad in [
        text(&format!("{}{good}", good.trim_end().trim_end_matches(','))),
        text(good).replace("version: 1", "version: 2"),
        text(good).replace("plates: [", "plates: ("),
        text(good).replace("])\n", ")\n"),
        "Shelf(version: 1, plates: ())".to_owned(),
        "Shelf(version: 1)".to_owned(),
        "hello".to_owned(),
    ] {
        assert!(parse_shelf(&bad).is_err(), "{bad}");
    }
}

#[test]
fn a_characters_own_plate_serves_it_and_both_margins_are_told() {
    let folder = Folder::new();
    let path = written(&folder, vec![ShelfPlate::of(&demo("bramble"))]);
    let (status, out, errors) = fit(&folder, &path);
    assert_eq!((status, errors.as_str()), (0, ""), "{out}");
    let path = path.to_str().unwrap();
    let arguments = ["fit", "--sample", "bramble", "--shelf", path, "--json"];
    let (_, json, _) = run(folder.path(), &arguments);
    let answer: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(answer[0]["serves"], true);
    let placed = &answer[0]["fit"]["placed"];
    let [margin, most] = ["margin", "most"].map(|field| placed[field].as_f64().unwrap());
    assert!(margin < most, "{margin}, {most}");
    let mm = |length| output::LengthUnit::Millimetre.format(length);
    let told = format!(
        "   Kept where the eyes are: {} mm; {} mm would be the most\n",
        mm(margin),
        mm(most)
    );
    assert!(out.contains(&told), "{told}: {out}");
}
