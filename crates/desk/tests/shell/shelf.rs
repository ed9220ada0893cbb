//! Plates that the maker has, tried and taken from the window.

use desk::files::{read_shelf, save_shelf};
use layout::cable_hole::PlateHole;
use layout::shelf::{Shelf, ShelfPlate};
use output::LengthUnit;

use super::*;

fn shelf() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/shelf/plates.ron")
}

/// Waits until something is so of the window.
pub(super) fn wait_until(window: &mut Window, is_so: impl Fn(&Window) -> bool) {
    for _ in 0..1_200 {
        window.run_steps(1);
        if is_so(window) {
            window.run();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    panic!("the plates were not tried");
}

/// Waits until all plates were tried in the project as it stands.
pub(super) fn wait(window: &mut Window) {
    wait_until(window, |window| {
        let open = window.state().desk().shelf.as_ref().expect("a shelf");
        !open.ranked().is_empty() && !says(window, "Trying each plate")
    });
}

#[test]
fn a_plate_of_the_shelf_is_shown_in_place_and_taken_as_one_step() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Open a shelf…");
    enter(&mut window, "Path of the file", text_of(&shelf()));
    wait(&mut window);
    click(&mut window, "List all plates");
    let name = "Moss the vole, first plate";
    let mut plates = read_shelf(&shelf()).unwrap().shelf.plates;
    let index = plates.iter().position(|plate| plate.name == name).unwrap();
    let plate = plates.remove(index);
    let ranked = window.state().desk().shelf.as_ref().unwrap().ranked();
    let (_, fit) = ranked.iter().find(|(of, _)| *of == index).unwrap().clone();
    assert!(fit.matches() && fit.margin().unwrap() > 0.0);
    let before = project(&window).clone();
    window
        .get_by_label_contains(&format!("{name}, "))
        .click_accesskit();
    wait_until(&mut window, |window| says(window, "Take this plate"));
    let placed = fit.placed.as_ref().unwrap();
    let work = layout::shelf::work(&before, &plate, placed);
    // It has room in the head, and the holes of two cables would come too near to its slots.
    assert!(work.fouls() > 0 && !work.drilling.is_empty());
    assert!(says(&window, &fit.sentence(Some(&work))));
    for finding in &work.fails {
        assert!(says(&window, &finding.sentence), "{}", finding.sentence);
    }
    for lack in &work.lacks {
        assert!(says(&window, &lack.sentence()), "{}", lack.sentence());
        let by = LengthUnit::Millimetre.format_with_symbol(lack.by);
        assert!(says(&window, &format!("{by} short")), "{by}");
    }
    for (index, hole) in work.drilling.iter().enumerate() {
        let sentence = hole.sentence(&before);
        assert!(says(&window, &format!("{}. {sentence}", index + 1)));
        let [length, width] = hole.size.map(|mm| LengthUnit::Millimetre.format(mm));
        let [x, y] = hole.at_on_plate.map(|mm| {
            let text = LengthUnit::Millimetre.format(mm);
            text.replace('-', "−")
        });
        let figures = format!("{length} × {width} mm at ({x}, {y})");
        assert!(says(&window, &figures), "{figures}");
    }
    click(&mut window, "Take this plate");
    let spacing = project(&window).eyes[1].centre[0] - project(&window).eyes[0].centre[0];
    assert!((spacing - placed.spacings[0].distance).abs() < 1e-6);
    assert!(matches!(
        project(&window).plate.outline,
        layout::plate::PlateOutline::Drawn { .. }
    ));
    assert!(!project(&window).plate.padded);
    assert!(plate.cable_holes.is_empty() && project(&window).plate.cable_holes.is_empty());
    if !work.drilling.is_empty() {
        assert!(says(
            &window,
            "The project holds the plate as it will be once it is drilled."
        ));
    }
    press(&mut window, CTRL, Key::Z);
    assert_eq!(*project(&window), before);
}

#[test]
fn a_plate_is_put_on_a_shelf_that_is_not_there_yet_and_on_one_that_is() {
    let folder = std::env::temp_dir().join(format!("gazewright-shelf-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("plates.ron");
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Put this plate on a shelf…");
    enter(&mut window, "Path of the file", text_of(&path));
    assert!(says(&window, "is on the shelf in"));
    click(&mut window, "Put this plate on a shelf…");
    let name = project(&window).name.clone();
    assert!(says(&window, &format!("as “{name} (2)”")));
    let shelf = read_shelf(&path).unwrap().shelf;
    assert_eq!(shelf.plates[1].name, format!("{name} (2)"));
    assert_eq!(shelf.plates.len(), 2);
    assert_eq!(
        shelf.plates[0],
        layout::shelf::ShelfPlate::of(project(&window))
    );
    wait(&mut window);
    // It fits the head that it was made for, with the margin that it has there.
    let (_, fit) = window.state().desk().shelf.as_ref().unwrap().ranked()[0].clone();
    let own = window
        .state()
        .desk()
        .report()
        .figures
        .plate
        .plate_wall_mm
        .unwrap();
    assert!(
        fit.matches() && fit.margin().unwrap() >= own - 0.05,
        "{own}"
    );
    std::fs::remove_dir_all(&folder).unwrap();
}

/// The window with a shelf of these plates open.
fn opened(path: &Path, plates: Vec<ShelfPlate>) -> Window {
    let shelf = Shelf {
        plates,
        ..Shelf::empty()
    };
    save_shelf(path, &shelf).expect("it can be written");
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Open a shelf…");
    enter(&mut window, "Path of the file", text_of(path));
    window
}

#[test]
fn a_bad_entry_is_told_above_the_list_and_the_rest_is_tried() {
    let path = folder("shelf-bad").join("plates.ron");
    let good = ShelfPlate::of(&desk::samples::DEFAULT.project());
    let name = good.name.clone();
    let mut crossing = good.clone();
    crossing.name = "knotted".to_owned();
    crossing.outline.as_mut().unwrap().swap(3, 10);
    let mut window = opened(&path, vec![good.clone(), crossing, good]);
    wait(&mut window);
    assert!(says(&window, "plates.ron: 2 plates, the best first"));
    assert!(says(&window, "Entry 2 (“knotted”) is left out: line "));
    assert!(says(
        &window,
        "`plates[1].outline`: The plate outline crosses itself"
    ));
    assert!(says(&window, "Entry 1 has the same name."));
    assert!(says(&window, &format!("{name} (2)")));
    // What is left out is not lost.
    let before = std::fs::read(&path).unwrap();
    click(&mut window, "Put this plate on a shelf…");
    assert!(says(
        &window,
        "Nothing is put on this shelf: what cannot be read of it would be lost (entry 2 (“knotted”))."
    ));
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_shelf_without_a_plate_says_how_to_get_one() {
    let path = folder("shelf-empty").join("plates.ron");
    let mut window = opened(&path, Vec::new());
    assert!(says(&window, "There are no plates on this shelf."));
    click(&mut window, "Put this plate on a shelf…");
    wait(&mut window);
    assert!(!says(&window, "There are no plates on this shelf."));
}

#[test]
fn the_list_says_which_plate_serves_how_many_things_foul_and_what_is_to_be_measured() {
    let name = "Aunt Tansy, first plate";
    let plates = read_shelf(&shelf()).unwrap().shelf.plates;
    let find = |name: &str| plates.iter().find(|plate| plate.name == name).cloned();
    let serving = find(name).expect("it is on the demo's shelf");
    let mut bare = serving.clone();
    bare.name = "bare".to_owned();
    bare.slots.clear();
    let mut unknown = serving.clone();
    unknown.name = "unknown".to_owned();
    unknown.thickness = None;
    let mut other = serving.clone();
    other.name = "other".to_owned();
    other.parts.ball_diameter = Some(12.0);
    let fouling = find("Moss the vole, first plate").expect("it is on the demo's shelf");
    let path = folder("shelf-verdicts").join("plates.ron");
    let mut window = opened(&path, vec![fouling, bare, unknown, other, serving.clone()]);
    wait_until(&mut window, |window| says(window, " serves: "));
    assert!(says(
        &window,
        &format!("plates.ron: 5 plates, the best first; 1 serves: “{name}”")
    ));
    let fit = layout::shelf::fit(project(&window), &serving);
    let margin = LengthUnit::Millimetre.format_with_symbol(fit.margin().unwrap());
    for row in [
        format!("{name}, {margin}, serves"),
        format!("bare, {margin}, to be drilled"),
        format!("unknown, {margin}, to be measured"),
        "other, other parts".to_owned(),
        "2 foul".to_owned(),
    ] {
        assert!(says(&window, &row), "{row}");
    }
    assert!(!says(&window, "not checked yet"));
}

#[test]
fn a_characters_own_plate_is_kept_where_the_eyes_are_and_taken_there() {
    let path = folder("shelf-own").join("plates.ron");
    let own = desk::samples::DEFAULT.project();
    let mut window = opened(&path, vec![ShelfPlate::of(&own)]);
    wait_until(&mut window, |window| says(window, "1 plate; 1 serves: "));
    window.get_by_label_contains(", serves").click_accesskit();
    wait_until(&mut window, |window| says(window, "Take this plate"));
    assert!(says(&window, "Kept where the eyes are: "));
    assert!(says(&window, " would be the most."));
    click(&mut window, "Take this plate");
    let holes = project(&window).plate.cable_holes.len();
    assert_eq!(holes, layout::Laid::out(&own).cable_holes().count());
    assert!(holes > 0 && says(&window, "Cable holes that it has"));
    click(&mut window, &format!("Forget hole {holes}"));
    assert_eq!(project(&window).plate.cable_holes.len(), holes - 1);
    press(&mut window, CTRL, Key::Z);
    assert_eq!(project(&window).plate.cable_holes.len(), holes);
    for (eye, before) in project(&window).eyes.iter().zip(&own.eyes) {
        for axis in 0..2 {
            assert!((eye.centre[axis] - before.centre[axis]).abs() < 1e-9);
        }
    }
}

#[test]
fn a_hole_of_the_plate_is_widened_with_a_click_for_a_cable_that_passes_beside_it() {
    let mut over = desk::samples::DEFAULT.project();
    let needed = layout::Laid::out(&over).drives[0].holes[0];
    let own = PlateHole::from(&needed);
    over.plate.outline =
        layout::plate::PlateOutline::drawn_after(&layout::Laid::out(&over).plate).unwrap();
    over.plate.cable_holes = vec![PlateHole {
        ends: own.ends.map(|[x, y]| [x, y + 1.2]),
        ..own
    }];
    let mut window = window_on(over, desk::window::START_SIZE);
    press(&mut window, CTRL, Key::Num3);
    // What the rules say of it stands where it can be mended.
    assert!(says(
        &window,
        "The web between cable hole 1 of the plate and "
    ));
    click(&mut window, "Widen hole 1 for what passes beside it");
    let wider = project(&window).plate.cable_holes[0];
    assert!(wider.width < own.width + 0.01 && wider != own);
    let laid = layout::Laid::out(project(&window));
    assert_eq!(laid.holes_made(0).count(), 0);
    assert!(!says(&window, "Widen hole 1"));
}
