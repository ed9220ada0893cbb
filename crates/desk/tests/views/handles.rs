//! Handles, dragged and nudged.

use crate::{assert_place, bench, click, on_screen, place, press_and_move, spacing};
use desk::window::step::Step;
use egui::{Key, Modifiers, PointerButton, vec2};
use egui_kittest::kittest::Queryable;
use layout::Edit;
use layout::handle::Handle;

#[test]
fn dragging_an_eye_changes_the_spacing_and_takes_its_partner_along() {
    let mut harness = bench(Step::Eyes);
    let [left, right] = [0, 1].map(|eye| place(&harness, Handle::Eye(eye)));
    let before = harness.state().desk.report().clone();
    let scale = harness.state().camera.scale();
    let at = press_and_move(&mut harness, "left eye", vec2(-15.0, 6.0));
    harness.drop_at(at);
    harness.run();
    // Where the pointer took it, to the tenth that dragging snaps to.
    let moved = place(&harness, Handle::Eye(0));
    assert!(
        (moved[0] - (left[0] - 15.0 / scale)).abs() <= 0.051,
        "{moved:?}"
    );
    assert!(
        (moved[1] - (left[1] - 6.0 / scale)).abs() <= 0.051,
        "{moved:?}"
    );
    assert_place(&harness, Handle::Eye(1), [-moved[0], moved[1]]);
    assert!(spacing(&harness) > right[0] - left[0]);
    assert_ne!(harness.state().desk.report(), &before, "the report follows");
}

#[test]
fn a_drag_is_one_step_of_undo() {
    let mut harness = bench(Step::Eyes);
    let before = harness.state().desk.project().clone();
    let at = press_and_move(&mut harness, "left eye", vec2(-12.0, 0.0));
    harness.drop_at(at);
    harness.run();
    let desk = &mut harness.state_mut().desk;
    assert_eq!(desk.history().undo_label(), Some("move eye"));
    desk.undo();
    assert_eq!(desk.project(), &before);
    assert_eq!(desk.history().undo_label(), None);
}

#[test]
fn escape_puts_back_what_was_before_the_drag() {
    let mut harness = bench(Step::Eyes);
    let before = harness.state().desk.project().clone();
    let at = press_and_move(&mut harness, "left eye", vec2(-12.0, 5.0));
    assert_ne!(harness.state().desk.project(), &before);
    harness.key_press(Key::Escape);
    harness.run();
    assert_eq!(harness.state().desk.project(), &before);
    // The pointer still holds nothing, however it moves on.
    harness.hover_at(at + vec2(30.0, 0.0));
    harness.run();
    harness.drop_at(at + vec2(30.0, 0.0));
    harness.run();
    assert_eq!(harness.state().desk.project(), &before);
    assert_eq!(harness.state().desk.history().undo_label(), None);
}

#[test]
fn a_press_without_a_move_changes_nothing_and_selects() {
    let mut harness = bench(Step::Eyes);
    let before = harness.state().desk.project().clone();
    let at = harness.get_by_label("right eye").rect().center();
    click(&mut harness, at, PointerButton::Primary);
    let desk = &harness.state().desk;
    assert_eq!(desk.project(), &before);
    assert_eq!(desk.selected, Some(Handle::Eye(1)));
    assert_eq!(desk.chosen_eye, 1, "the side cut goes through it");
}

#[test]
fn an_eye_moves_alone_when_the_mirror_is_off() {
    let mut harness = bench(Step::Eyes);
    harness.state_mut().desk.mirror = false;
    let right = place(&harness, Handle::Eye(1));
    let left = place(&harness, Handle::Eye(0));
    let at = press_and_move(&mut harness, "left eye", vec2(-12.0, 0.0));
    harness.drop_at(at);
    harness.run();
    assert_place(&harness, Handle::Eye(1), right);
    assert!(place(&harness, Handle::Eye(0))[0] < left[0]);
}

#[test]
fn of_two_handles_close_together_the_nearer_one_is_taken() {
    let mut harness = bench(Step::Plate);
    let slot = place(&harness, Handle::Slot(0));
    let desk = &mut harness.state_mut().desk;
    for (hole, off) in [(0, 1.2), (1, -1.2)] {
        let to = [slot[0] + off, slot[1]];
        let handle = Handle::AnchorHole(hole);
        desk.apply(&Edit::Move {
            handle,
            to,
            mirrored: false,
        })
        .expect("a good place");
    }
    harness.run();
    for handle in [
        Handle::Slot(0),
        Handle::AnchorHole(0),
        Handle::AnchorHole(1),
    ] {
        let at = on_screen(&harness, place(&harness, handle));
        click(&mut harness, at, PointerButton::Primary);
        assert_eq!(harness.state().desk.selected, Some(handle));
    }
}

#[test]
fn arrow_keys_move_by_a_tenth_with_shift_by_one_with_alt_by_a_hundredth() {
    let mut harness = bench(Step::Eyes);
    let [x, y] = place(&harness, Handle::Eye(0));
    harness.get_by_label("left eye").focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert_place(&harness, Handle::Eye(0), [x + 0.1, y]);
    assert_place(&harness, Handle::Eye(1), [-x - 0.1, y]);
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowUp);
    harness.run();
    assert_place(&harness, Handle::Eye(0), [x + 0.1, y + 1.0]);
    harness.key_press_modifiers(Modifiers::ALT, Key::ArrowLeft);
    harness.run();
    assert_place(&harness, Handle::Eye(0), [x + 0.09, y + 1.0]);
    let desk = &mut harness.state_mut().desk;
    for _ in 0..3 {
        desk.undo();
    }
    assert_place(&harness, Handle::Eye(0), [x, y]);
}

#[test]
fn tab_reaches_every_handle_that_is_shown() {
    let mut harness = bench(Step::Plate);
    let count = {
        let project = harness.state().desk.project();
        project.eyes.len() + project.ties.len() + project.head.anchor_holes.len()
    };
    let names = [
        "left eye",
        "right eye",
        "slot 1",
        "slot 4",
        "anchor hole 1",
        "anchor hole 4",
    ];
    let mut reached = Vec::new();
    for _ in 0..count + 4 {
        harness.key_press(Key::Tab);
        harness.run();
        reached.extend(
            names
                .iter()
                .filter(|name| harness.get_by_label(name).is_focused()),
        );
    }
    for name in names {
        assert!(
            reached.contains(&&name),
            "{name} is not reached: {reached:?}"
        );
    }
}

#[test]
fn a_handle_says_where_it_is() {
    let harness = bench(Step::Eyes);
    let value = harness.get_by_label("left eye").value();
    let [x, _] = place(&harness, Handle::Eye(0));
    assert_eq!(value, Some(format!("x −{:.1}, y 0.0 mm", -x)));
}

#[test]
fn handles_belong_to_their_steps() {
    let harness = bench(Step::Eyes);
    assert!(harness.query_by_label("slot 1").is_none());
    assert!(harness.query_by_label("outline point 1").is_none());
    let harness = bench(Step::Head);
    assert!(harness.query_by_label("outline point 1").is_some());
    assert!(harness.query_by_label("anchor hole 1").is_some());
}
