//! The menu at a place, and taking things away.

use crate::{bench, click, on_screen};
use desk::window::step::Step;
use egui::{Key, PointerButton};
use egui_kittest::kittest::Queryable;

#[test]
fn the_menu_of_a_place_adds_a_slot_there_and_one_opposite() {
    let mut harness = bench(Step::Plate);
    let before = harness.state().desk.project().ties.len();
    let at = on_screen(&harness, [12.0, 40.0]);
    click(&mut harness, at, PointerButton::Secondary);
    harness.get_by_label("Add slot here").click();
    harness.run();
    let ties = &harness.state().desk.project().ties;
    assert_eq!(ties.len(), before + 2);
    assert!((ties[before].at[0] - 12.0).abs() < 0.5 && (ties[before].at[1] - 40.0).abs() < 0.5);
    assert_eq!(
        ties[before + 1].at,
        [-ties[before].at[0], ties[before].at[1]]
    );
}

#[test]
fn the_menu_of_a_handle_takes_it_away() {
    let mut harness = bench(Step::Plate);
    harness.state_mut().desk.mirror = false;
    let before = harness.state().desk.project().ties.len();
    let at = harness.get_by_label("slot 2").rect().center();
    click(&mut harness, at, PointerButton::Secondary);
    harness.get_by_label("Remove slot 2").click();
    harness.run();
    assert_eq!(harness.state().desk.project().ties.len(), before - 1);
}

#[test]
fn of_two_eyes_one_goes_and_the_last_one_stays() {
    let mut harness = bench(Step::Eyes);
    for (name, left) in [("left eye", 1), ("eye", 1)] {
        harness.get_by_label(name).focus();
        harness.run();
        harness.key_press(Key::Delete);
        harness.run();
        assert_eq!(harness.state().desk.project().eyes.len(), left);
    }
    let notice = harness.state().desk.notice.clone().expect("a notice");
    assert!(notice.text.contains("no eye"), "{}", notice.text);
}
