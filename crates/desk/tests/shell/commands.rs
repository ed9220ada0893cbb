//! Commands by key.

use super::*;

#[test]
fn undo_and_redo_have_keys() {
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    press(&mut window, CTRL, Key::Z);
    assert_eq!(project(&window).eyes[1].centre[0], 29.0);
    press(&mut window, CTRL | Modifiers::SHIFT, Key::Z);
    assert_eq!(project(&window).eyes[1].centre[0], 30.0);
    press(&mut window, CTRL, Key::Z);
    press(&mut window, CTRL, Key::Y);
    assert_eq!(project(&window).eyes[1].centre[0], 30.0);
}

#[test]
fn undo_in_a_field_belongs_to_the_field() {
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    type_into(&mut window, "Ring depth", "15");
    press(&mut window, CTRL, Key::Z);
    assert_eq!(
        project(&window).eyes[1].centre[0],
        30.0,
        "the project's undo stays out of it"
    );
}

#[test]
fn a_command_commits_the_field_that_is_being_typed_in() {
    let mut window = window();
    type_into(&mut window, "Spacing", "60");
    press(&mut window, CTRL, Key::Num3);
    assert_eq!(project(&window).eyes[1].centre[0], 30.0);
    assert!(window.query_by_label("Plate thickness").is_some());
}

#[test]
fn the_steps_have_keys() {
    let mut window = window();
    for (key, field) in [
        (Key::Num1, "Wall thickness"),
        (Key::Num2, "Spacing"),
        (Key::Num3, "Plate thickness"),
        (Key::Num4, "Shell thickness"),
        (Key::Num5, "Stop stands off by"),
        (Key::Num6, "Hand thickness"),
        (Key::Num7, "Legal owner"),
    ] {
        press(&mut window, CTRL, key);
        assert!(
            window.query_by_label(field).is_some(),
            "{field} is not there"
        );
    }
}

#[test]
fn the_character_is_renamed_by_key_and_by_click() {
    let mut window = window();
    press(&mut window, Modifiers::NONE, Key::F2);
    window.get_by_label("Name").type_text("Pip");
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(project(&window).name, "Pip");
    click(&mut window, "Name: Pip");
    window.get_by_label("Name").type_text("Other");
    window.run();
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(project(&window).name, "Pip");
}
