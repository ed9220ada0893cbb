//! The spacing window, worked by name and by keys.

use super::*;

/// The window on a pair without drives or lids, whose spacing window is found soon, with that shown.
fn shown() -> Window {
    let mut project = desk::samples::DEFAULT.project();
    project.drives.clear();
    project.parts.lids = None;
    let mut window = window_on(project, desk::window::START_SIZE);
    click(&mut window, "Spacing window");
    wait(&mut window);
    window
}

/// Until what is shown was found for the project as it stands.
fn wait(window: &mut Window) {
    for _ in 0..600 {
        window.run_steps(1);
        let desk = window.state().desk();
        let eyes = &desk.project().eyes;
        let now = (eyes[1].at() - eyes[0].at()).norm();
        if found(window).is_some_and(|found| (found.present - now).abs() < 1e-9) {
            window.run();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    panic!("no spacing window was found");
}

fn found(window: &Window) -> Option<layout::spacing::SpacingWindow> {
    window.state().desk().spacing_window().cloned()
}

fn spacing(window: &Window) -> f64 {
    let eyes = &project(window).eyes;
    (eyes[1].at() - eyes[0].at()).norm()
}

#[test]
fn one_click_puts_the_eyes_into_the_middle_of_their_window_as_one_step() {
    let mut window = shown();
    enter(&mut window, "Spacing", "61");
    wait(&mut window);
    let middle = found(&window).unwrap().middle().unwrap();
    click(&mut window, "To the middle");
    assert!((spacing(&window) - middle).abs() <= 0.05 + 1e-9, "{middle}");
    assert_eq!(
        window.state().desk().history().undo_label(),
        Some("spacing")
    );
    press(&mut window, CTRL, Key::Z);
    assert!((spacing(&window) - 61.0).abs() < 1e-9);
}

#[test]
fn the_marker_moves_by_arrows_and_slots_move_with_it() {
    let mut window = shown();
    let before = (spacing(&window), project(&window).ties[0].at[0]);
    window.get_by_label("Spacing in its window").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    press(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    assert!((spacing(&window) - before.0 - 1.1).abs() < 1e-9);
    let slot = project(&window).ties[0].at[0] - before.1;
    assert!((slot.abs() - 0.55).abs() < 1e-9, "{slot}");
    // The window itself is the same, as it was found.
    assert!(window.state().desk().spacing_window().is_some());
}

#[test]
fn the_maker_s_own_ratio_is_kept_with_the_workshop() {
    let mut window = shown();
    enter(&mut window, "Own ratio to the face's width", "0.46");
    let workshop = project(&window).workshop.clone().unwrap();
    assert_eq!(workshop.spacing_ratio, Some(0.46));
    enter(&mut window, "Own ratio to the face's width", "7");
    assert_eq!(project(&window).workshop.as_ref(), Some(&workshop));
}
