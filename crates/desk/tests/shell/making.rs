//! Parts for the cutter and the printer in the sheet's step, and what the fit gauge tells.

use std::fs;
use std::time::{Duration, Instant};

use desk::keep::Keep;
use layout::seat::Seat;
use layout::workshop::Workshop;

use super::*;

/// Tall enough to show all of the sheet's step.
const TALL: [f32; 2] = [1280.0, 3000.0];

/// How long the desktop may take to show a folder.
const PATIENCE: Duration = Duration::from_secs(10);

/// A desktop that shows a folder by a mark in it.
fn marking(folder: &Path) -> Result<(), String> {
    fs::write(folder.join("seen"), "").map_err(|error| error.to_string())
}

fn sheet_step(project: Project, folder: &Path) -> Window {
    let around = Surroundings {
        keep: Some(Keep::in_folder(folder.join("keep"))),
        viewer: marking,
        ..Surroundings::none()
    };
    let mut window = window_with(None, project, TALL, around);
    press(&mut window, CTRL, Key::Num7);
    window
}

fn bramble() -> Project {
    desk::samples::DEFAULT.project()
}

/// What is painted in the picture called `name`.
fn painted(window: &Window, name: &str) -> String {
    let rect = window.get_by_label(name).rect().expand(1.0);
    let shapes = window.output().shapes.iter();
    let inside = shapes.filter(|shape| shape.clip_rect.is_positive());
    let inside = inside.filter(|shape| rect.contains_rect(shape.clip_rect));
    inside.map(|shape| format!("{:?}\n", shape.shape)).collect()
}

/// Asks for a file by its button and types its path.
fn save(window: &mut Window, button: &str, path: &Path) {
    click(window, button);
    enter(window, "Path of the file", text_of(path));
}

fn notice(window: &Window) -> String {
    let notice = window.state().desk().notice.as_ref();
    notice.expect("something is said").text.clone()
}

#[test]
fn the_part_that_is_chosen_is_shown_and_saved_in_the_format_that_is_chosen() {
    let folder = folder("making_cut");
    let mut window = sheet_step(bramble(), &folder);
    let plate = painted(&window, "Bramble the badger, plate");
    assert!(!plate.is_empty());
    for (choice, part) in [
        ("foam", "foam"),
        ("guard", "guard"),
        ("head", "head template"),
        ("small head", "smallest head template"),
    ] {
        click(&mut window, &format!("Part: {choice}"));
        let picture = painted(&window, &format!("Bramble the badger, {part}"));
        assert!(!picture.is_empty() && picture != plate, "{part}");
        for (button, ending, start) in [
            ("Save cut file as SVG…", "svg", "<?xml"),
            ("Save cut file as DXF…", "dxf", "0\nSECTION"),
        ] {
            let path = folder.join(choice).with_extension(ending);
            save(&mut window, button, &folder.join(choice));
            let apart = match part {
                "foam" => " The foam falls into 2 pieces: glue each to the plate.",
                _ => "",
            };
            assert_eq!(
                notice(&window),
                format!("The cut file is {}.{apart}", path.display())
            );
            let text = fs::read_to_string(path).unwrap();
            assert!(text.trim_start().starts_with(start), "{part}, {ending}");
        }
    }
}

#[test]
fn the_notice_offers_the_folder_and_opens_it() {
    let folder = folder("making_folder");
    let mut window = sheet_step(bramble(), &folder);
    save(
        &mut window,
        "Save cut file as SVG…",
        &folder.join("plate.svg"),
    );
    click(&mut window, "Open the folder");
    let begun = Instant::now();
    while !folder.join("seen").exists() {
        assert!(begun.elapsed() < PATIENCE, "nothing shows the folder");
        std::thread::yield_now();
        window.run();
    }
    // The sheet's notice does the same.
    press(&mut window, CTRL, Key::E);
    enter(
        &mut window,
        "Path of the file",
        text_of(&folder.join("plate.pdf")),
    );
    assert!(window.query_by_label("Open the folder").is_some());
}

#[test]
fn previews_follow_their_options() {
    let folder = folder("making_options");
    let mut window = sheet_step(bramble(), &folder);
    click(&mut window, "Note what they do");
    let cut = "Bramble the badger, plate";
    let solids = "The solids as they are printed";
    let before = [cut, solids].map(|name| painted(&window, name));
    assert!(before.iter().all(|picture| !picture.is_empty()));
    enter(&mut window, "Kerf of the cutter", "1");
    assert_ne!(painted(&window, cut), before[0]);
    assert_eq!(painted(&window, solids), before[1]);
    enter(&mut window, "Glue between ball and ring", "0.5");
    assert_ne!(painted(&window, solids), before[1]);
    click(&mut window, "Part: foam");
    let foam = "Bramble the badger, foam";
    let before = painted(&window, foam);
    enter(&mut window, "Foam off the sweep by", "6");
    assert_ne!(painted(&window, foam), before);
    let gauge = "The fit gauge as it is printed";
    let before = painted(&window, gauge);
    assert!(!before.is_empty());
    press(&mut window, CTRL, Key::Num2);
    enter(&mut window, "Ball diameter", "30");
    press(&mut window, CTRL, Key::Num7);
    let after = painted(&window, gauge);
    assert!(!after.is_empty() && after != before);
}

#[test]
fn the_solids_are_saved_in_a_folder_and_named() {
    let folder = folder("making_solids");
    let mut window = sheet_step(bramble(), &folder);
    let solids = folder.join("solids");
    save(&mut window, "Save solids as STL and 3MF…", &solids);
    assert_eq!(
        notice(&window),
        format!(
            "In {}: plate.stl, ring.stl, upper-lid.stl, lower-lid.stl, lug.stl, \
             lever-of-left-upper-lid-and-3-more.stl, lever-of-left-gaze.stl, \
             lever-of-right-gaze.stl, parts.3mf.",
            solids.display()
        )
    );
    for (name, start) in [("plate.stl", "Gazewright"), ("parts.3mf", "PK")] {
        let bytes = fs::read(solids.join(name)).unwrap();
        assert!(bytes.starts_with(start.as_bytes()), "{name}");
    }
    assert!(window.query_by_label("Open the folder").is_some());
}

#[test]
fn a_part_larger_than_the_bed_is_named_before_and_after_it_is_saved() {
    let folder = folder("making_bed");
    let mut project = bramble();
    project.workshop = Some(Workshop {
        bed: [100.0, 100.0],
        ..Workshop::unknown(0.4)
    });
    let mut window = sheet_step(project, &folder);
    assert!(says(&window, "It is larger than the printer's bed."));
    let solids = folder.join("solids");
    save(&mut window, "Save solids as STL and 3MF…", &solids);
    assert!(notice(&window).ends_with(" Larger than the printer's bed: plate."));
    save(
        &mut window,
        "Save fit gauge as STL…",
        &folder.join("gauge.stl"),
    );
    assert!(notice(&window).ends_with("gauge.stl. Larger than the printer's bed: fit gauge."));
    assert!(fs::metadata(folder.join("gauge.stl")).unwrap().len() > 84);
    enter(&mut window, "Printer's bed, width", "200");
    enter(&mut window, "Printer's bed, depth", "200");
    assert!(!says(&window, "It is larger than the printer's bed."));
}

#[test]
fn what_the_gauge_told_goes_into_the_project_in_one_step() {
    let folder = folder("making_found");
    let mut window = sheet_step(bramble(), &folder);
    assert_eq!(project(&window).workshop, None);
    let take = "Take what you found";
    assert!(window.query_by_label(take).is_none(), "nothing was found");
    // Seats start at 0.2 mm and holes at 0; each further dot is a tenth more.
    click(&mut window, "Dots of the seat: 4");
    click(&mut window, "Dots of the hole: 3");
    assert_eq!(project(&window).workshop, None);
    click(&mut window, take);
    let found = project(&window).workshop.clone().unwrap();
    assert!((found.running_clearance - 0.5).abs() < 1e-9);
    assert!((found.hole_allowance - 0.2).abs() < 1e-9);
    assert_eq!(
        (found.kerf, found.bed),
        (0.0, Workshop::unknown(0.4).bed),
        "what the gauge does not tell is as it was"
    );
    assert!(window.query_by_label(take).is_none(), "it is taken");
    press(&mut window, CTRL, Key::Z);
    assert_eq!(project(&window).workshop, None);
    assert_eq!(*project(&window), bramble());
}

#[test]
fn the_settings_are_named_and_the_seats_take_the_clearance_when_asked() {
    let folder = folder("making_named");
    let mut window = sheet_step(bramble(), &folder);
    click(&mut window, "Dots of the seat: 5");
    click(&mut window, "Take what you found");
    enter(&mut window, "Workshop", "Attic printer, PLA");
    let found = project(&window).workshop.clone().unwrap();
    assert_eq!(found.name, "Attic printer, PLA");
    let clearance = |window: &Window| match project(window).parts.seat {
        Seat::Spherical {
            running_clearance, ..
        } => running_clearance,
        Seat::Plain { .. } => panic!("the seat is spherical"),
    };
    assert!((clearance(&window) - 0.4).abs() < 1e-9);
    click(&mut window, "Use this running clearance in the seats");
    assert!((clearance(&window) - 0.6).abs() < 1e-9);
    click(&mut window, "Forget them");
    assert_eq!(project(&window).workshop, None);
}

#[test]
fn nothing_takes_the_place_of_the_characters_own_file() {
    let folder = folder("making_own");
    let mut window = sheet_step(bramble(), &folder);
    let own = folder.join("own.ron");
    save_as(&mut window, &own);
    let saved = fs::read(&own).unwrap();
    for (button, what) in [
        ("Save cut file as DXF…", "The cut file"),
        ("Save fit gauge as STL…", "The fit gauge"),
    ] {
        save(&mut window, button, &own);
        click(&mut window, "Replace it");
        let text = "would take the place of the character's own file. Choose another name.";
        assert_eq!(notice(&window), format!("{what} {text}"));
        assert_eq!(fs::read(&own).unwrap(), saved);
    }
}

#[test]
fn what_cannot_be_written_is_told_and_leaves_nothing() {
    let folder = folder("making_unwritable");
    let mut window = sheet_step(bramble(), &folder);
    fs::write(folder.join("taken"), "a file").unwrap();
    save(
        &mut window,
        "Save solids as STL and 3MF…",
        &folder.join("taken"),
    );
    let taken = folder.join("taken");
    assert_eq!(
        notice(&window),
        format!(
            "`{}` is a file, not a folder. Name a folder, or one that can be made.",
            taken.display()
        )
    );
    assert!(window.query_by_label("Open the folder").is_none());
    let gone = folder.join("gone/plate.svg");
    save(&mut window, "Save cut file as SVG…", &gone);
    assert_eq!(
        notice(&window),
        format!(
            "`{}` cannot be written: its folder is not there. Make the folder, or choose another \
             one.",
            gone.display()
        )
    );
    assert_eq!(fs::read(taken).unwrap(), b"a file");
}

#[test]
fn a_part_that_cannot_be_made_says_why_in_its_picture_s_place() {
    let folder = folder("making_refused");
    let mut project = bramble();
    // The eyes stand so near that their openings run into each other.
    project.eyes[0].centre = [-15.0, 0.0];
    project.eyes[1].centre = [15.0, 0.0];
    let window = sheet_step(project, &folder);
    assert!(says(
        &window,
        "The opening of the left eye and the opening of the right eye run into each other."
    ));
    assert!(
        window
            .query_by_label("Save solids as STL and 3MF…")
            .is_none()
    );
    let picture = painted(&window, "Bramble the badger, plate");
    assert!(
        !picture.is_empty(),
        "it can be cut, as one opening for both"
    );
}
