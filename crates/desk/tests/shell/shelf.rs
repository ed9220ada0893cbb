//! Plates that the maker has, tried and taken from the window.

use super::*;

fn shelf() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/shelf/plates.ron")
}

/// Waits until something is so of the window.
fn wait_until(window: &mut Window, is_so: impl Fn(&Window) -> bool) {
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
    let (_, fit) = window.state().desk().shelf.as_ref().unwrap().ranked()[0].clone();
    assert!(fit.matches() && fit.margin().unwrap() > 0.0);
    let before = project(&window).clone();
    let best = window.get_by_label_contains("Pilchard the seal, first plate");
    best.click_accesskit();
    wait_until(&mut window, |window| says(window, "Take this plate"));
    assert!(says(&window, fit.sentence()));
    click(&mut window, "Take this plate");
    let spacing = project(&window).eyes[1].centre[0] - project(&window).eyes[0].centre[0];
    let placed = fit.placed.as_ref().unwrap();
    assert!((spacing - placed.spacings[0].distance).abs() < 1e-6);
    assert!(matches!(
        project(&window).plate.outline,
        layout::plate::PlateOutline::Drawn { .. }
    ));
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
    let shelf = desk::files::read_shelf(&path).unwrap();
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
