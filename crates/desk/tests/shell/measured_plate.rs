//! A plate that exists only as an object: measured in the window, and put on the shelf.

use desk::files::read_shelf;
use layout::shelf::{Shelf, ShelfLids, ShelfPlate, ShelfSeat};

use super::shelf::wait;
use super::*;

/// The window's plate step with the form open.
pub(super) fn measuring() -> Window {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Measure a plate");
    window
}

/// Types a figure of the plate.
pub(super) fn figure(window: &mut Window, label: &str, text: &str) {
    enter(window, &format!("Measured plate: {label}"), text);
}

pub(super) fn figures(window: &mut Window, all: &[(&str, &str)]) {
    for (label, text) in all {
        figure(window, label, text);
    }
}

/// Empties the field of a figure.
pub(super) fn empty(window: &mut Window, label: &str) {
    window
        .get_by_label(&format!("Measured plate: {label}"))
        .focus();
    window.run();
    press(window, Modifiers::NONE, Key::Delete);
    press(window, Modifiers::NONE, Key::Enter);
}

pub(super) fn choose(window: &mut Window, what: &str, option: &str) {
    click(window, &format!("Measured plate, {what}: {option}"));
}

/// Puts the plate on the shelf of a file.
pub(super) fn put(window: &mut Window, path: &Path) {
    click(window, "Put it on the shelf");
    enter(window, "Path of the file", text_of(path));
}

pub(super) fn plates(path: &Path) -> Vec<ShelfPlate> {
    read_shelf(path).expect("a shelf").shelf.plates
}

#[test]
fn a_plate_with_open_dimensions_goes_on_the_shelf_is_asked_about_and_fits_once_they_are_known() {
    let path = folder("measured-open").join("plates.ron");
    let mut window = measuring();
    let before = project(&window).clone();
    enter(&mut window, "Name", "Sorrel the hare, spare plate");
    figures(&mut window, &[("Spacing", "57,5"), ("Ball diameter", "40")]);
    put(&mut window, &path);
    assert!(says(
        &window,
        "“Sorrel the hare, spare plate” is on the shelf in"
    ));
    let mut expected = ShelfPlate::unmeasured(
        "Sorrel the hare, spare plate",
        &[[-28.75, 0.0], [28.75, 0.0]],
    );
    expected.parts.ball_diameter = Some(40.0);
    assert_eq!(plates(&path), [expected]);
    assert!(
        window.query_by_label("Drop it").is_none(),
        "the form is done"
    );
    wait(&mut window);
    for sentence in [
        "to be measured",
        "Nothing can be said before the plate's outline is measured.",
        "Measure the kind of seat of the eyes.",
        "Measure the depth of the ring of the eyes.",
        "Measure the lids of the eyes.",
        "Measure the thickness of the plate.",
    ] {
        assert!(says(&window, sentence), "{sentence}");
    }

    let project_has = before.parts.clone();
    let (ring, lids) = (project_has.ring, project_has.lids.unwrap());
    click(&mut window, "Change its figures");
    assert_eq!(shown(&window, "Measured plate: Spacing"), "57.5 mm");
    choose(&mut window, "seat", "spherical");
    choose(&mut window, "lids", "some");
    choose(&mut window, "outline", "rectangle");
    for (label, value) in [
        ("Plate thickness", before.plate.thickness),
        ("Ball centre above face", 4.0),
        ("Running clearance", 0.4),
        ("Ring depth", ring.depth),
        ("Ring thickness", ring.thickness),
        ("Ring diameter", ring.outer_diameter),
        ("Ring bevel", ring.bevel),
        ("Lugs apart, middle to middle", lids.pivot_spacing),
        ("Pivot hole", lids.pivot_hole),
        ("Gap to the ball", lids.gap),
        ("Shell thickness", lids.shell),
        ("Width", 120.0),
        ("Height", 50.0),
    ] {
        figure(&mut window, label, &value.to_string());
    }
    click(&mut window, "Put it on the shelf");
    assert!(says(
        &window,
        "The figures of “Sorrel the hare, spare plate” are changed in"
    ));
    assert_eq!(plates(&path).len(), 1, "it is saved in place");
    wait(&mut window);
    let open = window.state().desk().shelf.as_ref().unwrap();
    let (_, fit) = open.ranked()[0].clone();
    let plate = plates(&path).remove(0);
    assert!(fit.matches() && fit.measure.is_empty(), "{fit:?}");
    assert!(fit.margin().unwrap() > 0.0);
    let (fit, work) = layout::shelf::Trial::of(&before).work_out(&plate, fit);
    assert!(says(&window, &fit.sentence(work.as_ref())));
    assert!(!says(&window, "Measure the thickness"));
    assert_eq!(
        *project(&window),
        before,
        "the project is none of its business"
    );
}

#[test]
fn a_refused_value_is_named_and_all_that_was_typed_stays() {
    let path = folder("measured-refused").join("plates.ron");
    let mut window = measuring();
    figures(&mut window, &[("Spacing", "58"), ("Ring depth", "9999")]);
    assert_eq!(shown(&window, "Measured plate: Ring depth"), "9999");
    assert!(says(
        &window,
        "“Ring depth” is 9999 mm. Use a number from 0.01 to 2000 mm."
    ));
    click(&mut window, "Put it on the shelf");
    assert!(says(&window, "Mend “Ring depth” first, or empty it."));
    empty(&mut window, "Ring depth");
    figure(&mut window, "Ball diameter", "forty");
    click(&mut window, "Put it on the shelf");
    assert!(says(&window, "Mend “Ball diameter” first, or empty it."));
    figure(&mut window, "Ball diameter", "40");
    assert!(!says(&window, "Mend “Ball diameter”"));
    click(&mut window, "Put it on the shelf");
    assert!(says(
        &window,
        "“Name” is empty. Type one, to know the plate again."
    ));
    enter(&mut window, "Name", "nameless no more");
    click(&mut window, "Add a measured slot");
    enter(&mut window, "Measured slot 1: Across", "62");
    click(&mut window, "Put it on the shelf");
    assert!(says(&window, "“Height” of slot 1 is not measured."));
    assert!(!path.exists());
    assert_eq!(shown(&window, "Measured plate: Spacing"), "58.0 mm");
    assert_eq!(shown(&window, "Measured plate: Ball diameter"), "40.0 mm");
    assert_eq!(shown(&window, "Measured plate: Ring depth"), "");
    assert_eq!(shown(&window, "Measured slot 1: Across"), "62.0 mm");
    enter(&mut window, "Measured slot 1: Height", "16");
    enter(&mut window, "Measured slot 1: Slot angle", "90");
    click(&mut window, "Mirror slot 1");
    click(&mut window, "Add a measured cable hole");
    enter(&mut window, "Measured cable hole 1: Across", "40");
    enter(&mut window, "Measured cable hole 1: Height", "-20");
    enter(&mut window, "Measured cable hole 1: Width or diameter", "4");
    click(&mut window, "Mirror cable hole 1");
    put(&mut window, &path);
    let holes = plates(&path).remove(0).cable_holes;
    let at = holes.iter().map(|hole| hole.ends);
    assert!(at.eq([[[40.0, -20.0]; 2], [[-40.0, -20.0]; 2]]));
    let slots = plates(&path).remove(0).slots;
    assert_eq!([slots[0].at, slots[1].at], [[62.0, 16.0], [-62.0, 16.0]]);
    assert_eq!(slots[1].tie, None);
}

#[test]
fn what_cannot_be_written_is_told_and_the_form_stays() {
    let folder = folder("measured-unwritten");
    let mut window = measuring();
    enter(&mut window, "Name", "one");
    figure(&mut window, "Spacing", "58");
    put(&mut window, &folder.join("no-such-folder/plates.ron"));
    let notice = window.state().desk().notice.as_ref().unwrap();
    assert!(notice.trouble, "{}", notice.text);
    assert_eq!(shown(&window, "Measured plate: Spacing"), "58.0 mm");
    put(&mut window, &folder.join("plates.ron"));
    assert_eq!(plates(&folder.join("plates.ron")).len(), 1);
}

#[test]
fn figures_in_inches_are_kept_in_millimetres() {
    let path = folder("measured-inches").join("plates.ron");
    let mut window = measuring();
    click(&mut window, "Unit: in");
    enter(&mut window, "Name", "in inches");
    choose(&mut window, "seat", "plain");
    choose(&mut window, "lids", "none");
    let all = [
        ("Spacing", "2 1/4"),
        ("Ball diameter", "40 mm"),
        ("Opening diameter", "1.5"),
        ("Plate thickness", "1/8"),
    ];
    figures(&mut window, &all);
    assert_eq!(shown(&window, "Measured plate: Spacing"), "2.250 in");
    assert_eq!(shown(&window, "Measured plate: Ball diameter"), "1.575 in");
    put(&mut window, &path);
    let plate = plates(&path).remove(0);
    assert_eq!(plate.eyes[1].centre, Some([28.575, 0.0]));
    assert_eq!(plate.parts.ball_diameter, Some(40.0));
    let Some(ShelfSeat::Plain {
        opening_diameter: Some(opening),
    }) = plate.parts.seat
    else {
        panic!("{plate:?}");
    };
    assert!((opening - 38.1).abs() < 1e-9);
    assert_eq!(plate.parts.lids, Some(ShelfLids::Without));
    assert!((plate.thickness.unwrap() - 3.175).abs() < 1e-9);
}

#[test]
fn an_outline_comes_from_a_drawing_or_from_this_project() {
    let folder = folder("measured-outline");
    let path = folder.join("plates.ron");
    let drawing = folder.join("scan.svg");
    // An ellipse of 126 by 56 mm.
    std::fs::write(
        &drawing,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">
<ellipse cx="100" cy="120" rx="63" ry="28" fill="none" stroke="black"/></svg>"#,
    )
    .unwrap();
    let mut window = measuring();
    let before = project(&window).clone();
    enter(&mut window, "Name", "from a scan");
    figure(&mut window, "Spacing", "58");
    choose(&mut window, "outline", "curve");
    click(&mut window, "Put it on the shelf");
    assert!(says(
        &window,
        "“Outline” is to be a curve, and there is none."
    ));
    click(&mut window, "Outline from a drawing…");
    enter(&mut window, "Path of the file", text_of(&drawing));
    click(&mut window, "Take it");
    assert!(says(
        &window,
        "The outline of the measured plate is now that of"
    ));
    assert_eq!(*project(&window), before);
    let half = shown(&window, "Measured plate: Lower edge to the middle");
    // An outline from a drawing keeps within a few hundredths of it.
    assert!(["28.0 mm", "27.99 mm"].contains(&half.as_str()), "{half}");
    figure(&mut window, "Lower edge to the middle", "30");
    put(&mut window, &path);
    let outline = plates(&path).remove(0).outline.unwrap();
    let low = outline.iter().map(|at| at[1]).fold(f64::INFINITY, f64::min);
    let left = outline.iter().map(|at| at[0]).fold(f64::INFINITY, f64::min);
    assert!(
        (low + 30.0).abs() < 0.05 && (left + 63.0).abs() < 0.05,
        "{low} {left}"
    );

    click(&mut window, "Change its figures");
    click(&mut window, "Outline of this project's plate");
    click(&mut window, "Put it on the shelf");
    let own = ShelfPlate::of(&before).outline;
    assert_eq!(plates(&path).remove(0).outline, own);
}

#[test]
fn a_plate_that_is_given_up_leaves_the_shelf_as_it_was_and_can_be_brought_back() {
    let path = folder("measured-dropped").join("plates.ron");
    let mut window = measuring();
    enter(&mut window, "Name", "one");
    figures(&mut window, &[("Spacing", "58"), ("Ball diameter", "40")]);
    put(&mut window, &path);
    let before = std::fs::read(&path).unwrap();
    wait(&mut window);
    click(&mut window, "Change its figures");
    figures(&mut window, &[("Spacing", "61"), ("Ring depth", "deep")]);
    click(&mut window, "Drop it");
    assert!(window.query_by_label("Measured plate: Spacing").is_none());
    assert_eq!(std::fs::read(&path).unwrap(), before);
    click(&mut window, "Bring it back");
    assert_eq!(shown(&window, "Measured plate: Spacing"), "61.0 mm");
    click(&mut window, "Drop it");
    // Another one starts afresh.
    click(&mut window, "Measure a plate");
    assert_eq!(shown(&window, "Measured plate: Spacing"), "");
    assert_eq!(shown(&window, "Measured plate: Ring depth"), "");
}

#[test]
fn a_plate_on_its_way_stays_through_undo_another_step_and_another_project() {
    let mut window = measuring();
    figure(&mut window, "Spacing", "58");
    click(&mut window, "Trim to the head");
    press(&mut window, CTRL, Key::Z);
    press(&mut window, CTRL, Key::Num2);
    press(&mut window, CTRL, Key::N);
    press(&mut window, CTRL, Key::Num3);
    assert_eq!(shown(&window, "Measured plate: Spacing"), "58.0 mm");
    assert_eq!(shown(&window, "Measured plate: Plate thickness"), "");
}

#[test]
fn the_window_does_not_close_over_a_plate_on_its_way_unasked() {
    let mut window = measuring();
    let cancelled = |commands: Vec<egui::ViewportCommand>| {
        commands.contains(&egui::ViewportCommand::CancelClose)
    };
    // Nothing was typed yet.
    assert!(!cancelled(files::close(&mut window)));
    figure(&mut window, "Spacing", "58");
    assert!(cancelled(files::close(&mut window)));
    assert!(says(
        &window,
        "The plate that you measure is on no shelf yet"
    ));
    click(&mut window, "Cancel");
    assert_eq!(shown(&window, "Measured plate: Spacing"), "58.0 mm");
    click(&mut window, "Drop it");
    assert!(!cancelled(files::close(&mut window)));
}

#[test]
fn a_plate_that_was_changed_in_its_file_meanwhile_is_kept_beside_the_measured_one() {
    let path = folder("measured-meanwhile").join("plates.ron");
    let mut window = measuring();
    enter(&mut window, "Name", "one");
    figure(&mut window, "Spacing", "58");
    put(&mut window, &path);
    wait(&mut window);
    click(&mut window, "Change its figures");
    figure(&mut window, "Spacing", "60");
    let elsewhere = ShelfPlate::unmeasured("one", &[[-30.5, 0.0], [30.5, 0.0]]);
    let shelf = Shelf {
        plates: vec![elsewhere.clone()],
        ..Shelf::empty()
    };
    desk::files::save_shelf(&path, &shelf).unwrap();
    click(&mut window, "Put it on the shelf");
    assert!(says(&window, "no longer holds “one” as it was"));
    // The name is taken by now.
    let measured = ShelfPlate::unmeasured("one (2)", &[[-30.0, 0.0], [30.0, 0.0]]);
    assert_eq!(plates(&path), [elsewhere, measured]);
}

#[test]
fn a_plate_that_is_not_among_the_best_can_be_reached_to_measure_the_rest() {
    let path = folder("measured-many").join("plates.ron");
    let mut window = measuring();
    let good = ShelfPlate::of(project(&window));
    let shelf = Shelf {
        plates: vec![good; 9],
        ..Shelf::empty()
    };
    desk::files::save_shelf(&path, &shelf).unwrap();
    enter(&mut window, "Name", "barely known");
    figure(&mut window, "Spacing", "58");
    put(&mut window, &path);
    wait(&mut window);
    let row = "barely known, to be measured";
    assert!(
        window.query_by_label(row).is_some(),
        "the chosen one is listed"
    );
    click(&mut window, row);
    assert!(window.query_by_label(row).is_none());
    click(&mut window, "List all plates");
    click(&mut window, row);
    click(&mut window, "Change its figures");
    assert_eq!(shown(&window, "Name"), "barely known");
}

#[test]
fn a_figure_that_was_known_can_be_made_open_again() {
    let path = folder("measured-again").join("plates.ron");
    let mut window = measuring();
    enter(&mut window, "Name", "one");
    figures(&mut window, &[("Spacing", "58"), ("Ball diameter", "40")]);
    put(&mut window, &path);
    wait(&mut window);
    click(&mut window, "Change its figures");
    empty(&mut window, "Ball diameter");
    assert_eq!(shown(&window, "Measured plate: Ball diameter"), "");
    click(&mut window, "Put it on the shelf");
    assert_eq!(plates(&path)[0].parts.ball_diameter, None);
    wait(&mut window);
    assert!(says(&window, "Measure the ball diameter of the eyes."));
}
