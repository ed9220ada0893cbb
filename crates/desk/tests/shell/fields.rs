//! Fields: what they take, what they refuse, and what undo makes of them.

use super::*;

fn spacing(window: &Window) -> f64 {
    let pairs = &window.state().desk().report().figures.pairs;
    pairs[0].spacing_mm.expect("two eyes have a spacing")
}

#[test]
fn a_typed_spacing_changes_the_report_and_undo_takes_it_back() {
    let mut window = window();
    let before = window.state().desk().report().clone();
    enter(&mut window, "Spacing", "60");
    assert_eq!(spacing(&window), 60.0);
    assert_eq!(shown(&window, "Spacing"), "60.0 mm");
    assert_ne!(*window.state().desk().report(), before);
    assert_eq!(
        window.state().desk().history().undo_label(),
        Some("spacing")
    );
    click(&mut window, "Undo");
    assert_eq!(*window.state().desk().report(), before);
    assert_eq!(shown(&window, "Spacing"), "58.0 mm");
}

#[test]
fn a_field_takes_a_comma_a_sum_and_a_fraction_of_an_inch() {
    let mut window = window();
    for (text, expected) in [("58,5", 58.5), ("40-2*3+26", 60.0), ("2 1/2 in", 63.5)] {
        enter(&mut window, "Spacing", text);
        assert!(
            (spacing(&window) - expected).abs() < 1e-9,
            "{text} gave {}",
            spacing(&window)
        );
    }
}

#[test]
fn leaving_by_tab_commits() {
    let mut window = window();
    type_into(&mut window, "Spacing", "61");
    assert_eq!(spacing(&window), 58.0, "a field under way changes nothing");
    press(&mut window, Modifiers::NONE, Key::Tab);
    assert_eq!(spacing(&window), 61.0);
}

#[test]
fn escape_leaves_the_value_as_it_was() {
    let mut window = window();
    type_into(&mut window, "Spacing", "61");
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(spacing(&window), 58.0);
    assert_eq!(shown(&window, "Spacing"), "58.0 mm");
    assert_eq!(window.state().desk().history().undo_label(), None);
}

#[test]
fn a_refused_value_stays_in_its_field_with_the_reason_until_it_is_mended() {
    let mut window = window();
    enter(&mut window, "Ring depth", "9999");
    assert_eq!(shown(&window, "Ring depth"), "9999");
    assert!(says(
        &window,
        "“Ring depth” is 9999 mm. Use a number from 0.01 to 2000 mm."
    ));
    assert_eq!(project(&window).parts.ring.depth, 15.6);
    // It is told once, at the field.
    assert_eq!(window.state().desk().notice, None);

    enter(&mut window, "Ring depth", "15.7");
    assert_eq!(project(&window).parts.ring.depth, 15.7);
    assert!(!says(&window, "Use a number from"));
}

#[test]
fn a_refused_value_goes_when_escape_is_pressed_in_its_field() {
    let mut window = window();
    enter(&mut window, "Spacing", "sixty");
    assert_eq!(shown(&window, "Spacing"), "sixty");
    assert!(says(
        &window,
        "“sixty” is out of place. Type a length such as"
    ));
    window.get_by_label("Spacing").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(shown(&window, "Spacing"), "58.0 mm");
    assert!(!says(&window, "is out of place"));
}

#[test]
fn the_old_value_typed_again_mends_a_field_that_refused_another() {
    let mut window = window();
    enter(&mut window, "Ring depth", "9999");
    assert!(says(&window, "Use a number from"));
    enter(&mut window, "Ring depth", "15.6 mm");
    assert!(!says(&window, "Use a number from"));
    assert_eq!(shown(&window, "Ring depth"), "15.6 mm");
}

#[test]
fn in_inches_fields_show_and_take_inches_and_the_project_keeps_millimetres() {
    let mut window = window();
    click(&mut window, "Unit: in");
    assert_eq!(shown(&window, "Spacing"), "2.283 in");
    enter(&mut window, "Spacing", "2 1/4");
    assert!((spacing(&window) - 57.15).abs() < 1e-9);
    enter(&mut window, "Spacing", "58 mm");
    assert!((spacing(&window) - 58.0).abs() < 1e-9);
    assert!(says(&window, "is / wants, in"));
}

#[test]
fn looking_into_a_field_and_leaving_it_changes_nothing() {
    let mut window = window();
    click(&mut window, "Unit: in");
    let before = project(&window).clone();
    window.get_by_label("Spacing").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(*project(&window), before);
}

#[test]
fn arrow_keys_step_and_one_visit_is_one_undo_step() {
    let mut window = window();
    window.get_by_label("Spacing").focus();
    window.run();
    for (modifiers, key, expected) in [
        (Modifiers::NONE, Key::ArrowUp, 58.1),
        (Modifiers::SHIFT, Key::ArrowUp, 59.1),
        (Modifiers::ALT, Key::ArrowDown, 59.09),
    ] {
        press(&mut window, modifiers, key);
        assert!(
            (spacing(&window) - expected).abs() < 1e-9,
            "{key:?} gave {}",
            spacing(&window)
        );
    }
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!((spacing(&window) - 59.09).abs() < 1e-9);
    click(&mut window, "Undo");
    assert_eq!(spacing(&window), 58.0);
}

#[test]
fn escape_takes_arrow_steps_back() {
    let mut window = window();
    window.get_by_label("Spacing").focus();
    window.run();
    press(&mut window, Modifiers::SHIFT, Key::ArrowUp);
    assert_eq!(spacing(&window), 59.0);
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(spacing(&window), 58.0);
    assert_eq!(window.state().desk().history().undo_label(), None);
}

#[test]
fn a_drag_after_arrow_steps_is_a_change_of_its_own() {
    let mut window = window();
    window.get_by_label("Spacing").focus();
    window.run();
    press(&mut window, Modifiers::SHIFT, Key::ArrowUp);
    let handle = window.get_by_label("left eye").rect().center();
    window.hover_at(handle);
    window.run();
    window.drag_at(handle);
    window.run();
    for step in 1..=4 {
        window.hover_at(handle - egui::vec2(6.0 * step as f32, 0.0));
        window.run();
    }
    window.drop_at(handle - egui::vec2(24.0, 0.0));
    window.run();
    assert!(spacing(&window) > 60.0, "{}", spacing(&window));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(spacing(&window), 59.0);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(spacing(&window), 58.0);
}

#[test]
fn what_was_refused_goes_with_its_project() {
    let mut window = window();
    enter(&mut window, "Ring depth", "9999");
    press(&mut window, CTRL, Key::N);
    assert_eq!(shown(&window, "Ring depth"), "15.6 mm");
}

#[test]
fn a_mirrored_pair_moves_together_and_a_single_eye_alone() {
    let mut window = window();
    enter(&mut window, "Left eye: Height", "4");
    assert_eq!(
        [
            project(&window).eyes[0].centre,
            project(&window).eyes[1].centre
        ],
        [[-29.0, 4.0], [29.0, 4.0]]
    );
    click(&mut window, "Mirror the pair");
    enter(&mut window, "Left eye: Height", "6");
    assert_eq!(
        [
            project(&window).eyes[0].centre,
            project(&window).eyes[1].centre
        ],
        [[-29.0, 6.0], [29.0, 4.0]]
    );
}
