//! The openings of a plate that is measured: their spacing open, or taken from a drawing.

use layout::shelf::ShelfPlate;

use super::measured_plate::{choose, empty, figure, figures, measuring, plates, put};
use super::shelf::{wait, wait_until};
use super::*;

const SPACING: &str =
    "Measure the spacing of the plate: how far the centres of its openings stand apart.";

/// Puts the plate of the window's project on a shelf, and starts to change its figures there.
fn shelved(window: &mut Window, path: &Path) -> ShelfPlate {
    press(window, CTRL, Key::Num3);
    let plate = ShelfPlate::of(project(window));
    let shelf = layout::shelf::Shelf {
        plates: vec![plate.clone()],
        ..layout::shelf::Shelf::empty()
    };
    desk::files::save_shelf(path, &shelf).expect("it can be written");
    click(window, "Open a shelf…");
    enter(window, "Path of the file", text_of(path));
    wait(window);
    let row = format!("{}, ", plate.name);
    window.get_by_label_contains(&row).click_accesskit();
    wait_until(window, |window| says(window, "Take this plate"));
    click(window, "Change its figures");
    plate
}

#[test]
fn a_plate_goes_on_the_shelf_without_its_spacing_which_is_then_asked_for_and_filled_in() {
    let path = folder("measured-unspaced").join("plates.ron");
    let mut window = window();
    let before = project(&window).clone();
    let plate = shelved(&mut window, &path);
    let spacing = shown(&window, "Measured plate: Spacing");
    empty(&mut window, "Spacing");
    click(&mut window, "Put it on the shelf");
    let open = plates(&path).remove(0);
    assert_eq!((open.centres(), open.eyes.len()), (None, 2));
    assert_eq!(open.outline, plate.outline);
    wait(&mut window);
    wait_until(&mut window, |window| says(window, SPACING));
    // Its row in the list.
    wait_until(&mut window, |window| says(window, ", to be measured"));
    assert!(says(&window, "the character cannot be laid out round it"));
    assert!(!says(&window, "Spacing that it gives"));
    assert!(!says(&window, "Take this plate"));
    // The front view leaves its openings out.
    window.run();

    click(&mut window, "Change its figures");
    assert_eq!(shown(&window, "Measured plate: Spacing"), "");
    figure(&mut window, "Spacing", &spacing);
    click(&mut window, "Put it on the shelf");
    assert_eq!(plates(&path), [plate]);
    wait(&mut window);
    wait_until(&mut window, |window| says(window, "Take this plate"));
    assert!(says(&window, "Spacing that it gives") && !says(&window, SPACING));
    click(&mut window, "Take this plate");
    assert_ne!(*project(&window), before);
}

#[test]
fn a_name_alone_is_enough_for_the_shelf() {
    let path = folder("measured-name").join("plates.ron");
    let mut window = measuring();
    enter(&mut window, "Name", "found in a drawer");
    choose(&mut window, "openings", "a pair");
    put(&mut window, &path);
    assert_eq!(plates(&path)[0].centres(), None);
    wait(&mut window);
    assert!(says(&window, "found in a drawer, to be measured"));
    wait_until(&mut window, |window| says(window, SPACING));
    click(&mut window, "Change its figures");
    figures(&mut window, &[("Spacing", "58")]);
    click(&mut window, "Put it on the shelf");
    let centres = plates(&path)[0].centres();
    assert_eq!(centres, Some(vec![[-29.0, 0.0], [29.0, 0.0]]));
}

/// Takes the outline of the measured plate from a drawing of 140 × 60 mm with something in it.
fn from_drawing(window: &mut Window, name: &str, inside: &str) {
    let drawing = folder(name).join("scan.svg");
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">
<rect x="20" y="100" width="140" height="60"/>{inside}</svg>"#
    );
    std::fs::write(&drawing, text).expect("the drawing is written");
    choose(window, "outline", "curve");
    click(window, "Outline from a drawing…");
    enter(window, "Path of the file", text_of(&drawing));
    click(window, "Take it");
}

#[test]
fn the_openings_come_with_the_outline_from_a_drawing_that_shows_them() {
    let path = folder("measured-drawn").join("plates.ron");
    let mut window = measuring();
    enter(&mut window, "Name", "drawn");
    let eyes = r#"<circle cx="63" cy="125" r="19"/><circle cx="121" cy="125" r="19"/><circle cx="92" cy="150" r="2"/>"#;
    from_drawing(&mut window, "measured-drawn-scan", eyes);
    assert!(says(
        &window,
        "Two circles inside the outline are taken as the openings: their spacing, 58.0 mm, their place and their \
         diameter, 38.0 mm. The diameter is that of a plain seat, and kept until you choose one."
    ));
    assert_eq!(shown(&window, "Measured plate: Spacing"), "58.0 mm");
    choose(&mut window, "seat", "plain");
    for (label, expected) in [
        ("Opening diameter", "38.0 mm"),
        ("Left edge to the middle", "72.0 mm"),
        ("Lower edge to the middle", "35.0 mm"),
    ] {
        assert_eq!(
            shown(&window, &format!("Measured plate: {label}")),
            expected
        );
    }
    put(&mut window, &path);
    let plate = plates(&path).remove(0);
    for (centre, x) in plate.centres().unwrap().iter().zip([-29.0, 29.0]) {
        assert!((centre[0] - x).abs() < 0.01 && centre[1].abs() < 0.01);
    }
    let outline = plate.outline.unwrap();
    let low = outline.iter().map(|at| at[1]).fold(f64::INFINITY, f64::min);
    assert!((low + 35.0).abs() < 0.05, "{low}");
}

#[test]
fn a_drawing_that_leaves_the_openings_in_doubt_says_what_it_shows_and_leaves_the_fields() {
    let mut window = measuring();
    figure(&mut window, "Spacing", "57");
    from_drawing(&mut window, "measured-drawn-empty", "");
    assert!(says(
        &window,
        "No circle lies inside the outline: the openings stay as they were."
    ));
    let three = r#"<circle cx="50" cy="130" r="19"/><circle cx="90" cy="130" r="19"/><circle cx="135" cy="130" r="18"/>"#;
    from_drawing(&mut window, "measured-drawn-three", three);
    assert!(says(
        &window,
        "Circles inside the outline: 38.0 mm, 38.0 mm, 36.0 mm. Which of them are openings is not clear, so these \
         stay as they were."
    ));
    assert_eq!(shown(&window, "Measured plate: Spacing"), "57.0 mm");
    click(&mut window, "Outline of this project's plate");
    assert!(!says(&window, "inside the outline"));
    choose(&mut window, "openings", "one");
    let one = r#"<circle cx="90" cy="130" r="20"/>"#;
    from_drawing(&mut window, "measured-drawn-one", one);
    assert!(says(
        &window,
        "A circle inside the outline is taken as the opening: its place and its diameter, 40.0 mm."
    ));
}
