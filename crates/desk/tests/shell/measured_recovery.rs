//! A plate that was being measured when the program ended.

use layout::shelf::{Shelf, ShelfPlate};

use super::measured_plate::{empty, figure, figures, plates, put};
use super::recovery::{Bench, START, clock};
use super::shelf::wait;
use super::*;
use desk::window::COPY_INTERVAL;

/// A window on the sample as it is, with the form open.
fn measuring(bench: &Bench) -> Window {
    let mut window = bench.window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Measure a plate");
    window
}

/// The window of the next run, with the copy of the last one opened.
fn recovered(bench: &Bench) -> Window {
    let mut window = bench.window();
    assert!(says(&window, ", with the plate that was being measured"));
    click(&mut window, "Open the copy of Bramble the badger");
    window
}

#[test]
fn the_form_comes_back_as_it_was_typed() {
    let bench = Bench::new("measured_recovered");
    let mut window = measuring(&bench);
    let before = project(&window).clone();
    clock(&mut window, START + COPY_INTERVAL);
    assert!(bench.copies().is_empty(), "nothing was typed");
    enter(&mut window, "Name", "a \"quoted\" // name");
    figures(&mut window, &[("Spacing", "57.3"), ("Ring depth", "15.6")]);
    click(&mut window, "Add a measured slot");
    enter(&mut window, "Measured slot 1: Across", "62");
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1);
    empty(&mut window, "Spacing");
    figure(&mut window, "Spacing", "58");
    clock(&mut window, START + 3.0 * COPY_INTERVAL);
    drop(window);

    let window = recovered(&bench);
    assert_eq!(*project(&window), before);
    assert_eq!(shown(&window, "Name"), "a \"quoted\" // name");
    for (name, expected) in [
        ("Measured plate: Spacing", "58.0 mm"),
        ("Measured plate: Ring depth", "15.6 mm"),
        ("Measured plate: Ball diameter", ""),
        ("Measured slot 1: Across", "62.0 mm"),
        ("Measured slot 1: Height", ""),
    ] {
        assert_eq!(shown(&window, name), expected, "{name}");
    }
    // Again, before anything is done to it.
    drop(window);
    let mut window = recovered(&bench);
    click(&mut window, "Remove slot 1");
    let shelf = bench.folder.join("plates.ron");
    put(&mut window, &shelf);
    assert_eq!(plates(&shelf).len(), 1);
    save_as(&mut window, &bench.folder.join("bramble.ron"));
    assert!(bench.is_bare(), "there is nothing left to recover");
}

#[test]
fn a_copy_of_the_form_alone_goes_with_it() {
    let bench = Bench::new("measured_given_up");
    let mut window = measuring(&bench);
    figure(&mut window, "Spacing", "58");
    clock(&mut window, START + COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1);
    click(&mut window, "Drop it");
    assert!(bench.is_bare());
    click(&mut window, "Bring it back");
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1);
    figure(&mut window, "Ball diameter", "40");
    let other = bench.folder.join("plates.ron");
    enter(&mut window, "Name", "one");
    put(&mut window, &other);
    assert!(bench.is_bare());
}

#[test]
fn changed_figures_find_their_plate_on_its_shelf_again() {
    let bench = Bench::new("measured_changed");
    let path = bench.folder.join("plates.ron");
    let known = ShelfPlate::unmeasured("known", &[[-28.0, 3.0], [28.0, 3.0]]);
    let shelf = Shelf {
        plates: vec![known.clone(), ShelfPlate::unmeasured("other", &[[0.0; 2]])],
        ..Shelf::empty()
    };
    desk::files::save_shelf(&path, &shelf).unwrap();
    let mut window = bench.window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Open a shelf…");
    enter(&mut window, "Path of the file", text_of(&path));
    wait(&mut window);
    click(&mut window, "known, to be measured");
    click(&mut window, "Change its figures");
    clock(&mut window, START + COPY_INTERVAL);
    assert!(bench.copies().is_empty(), "it is as the shelf has it");
    figure(&mut window, "Plate thickness", "3");
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    drop(window);

    let mut window = recovered(&bench);
    click(&mut window, "Put it on the shelf");
    let changed = ShelfPlate {
        thickness: Some(3.0),
        ..known
    };
    assert_eq!(plates(&path), [changed, shelf.plates[1].clone()]);
}

#[test]
fn a_copy_whose_plate_cannot_be_read_is_offered_without_it() {
    let bench = Bench::new("measured_broken");
    let text = desk::samples::DEFAULT.text;
    let broken = format!("// Measured plate: (plate: (name: \"x\"\n{text}");
    bench.leave("1-1.ron", "None", "2026-03-05T07:09:11Z", &broken);
    let mut window = bench.window();
    assert!(!says(&window, "with the plate that was being measured"));
    click(&mut window, "Open the copy of Bramble the badger");
    assert!(window.state().desk().measuring.is_none());
}
