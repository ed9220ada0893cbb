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
    assert!(says(&window, ", not checked"), "its row in the list");
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
