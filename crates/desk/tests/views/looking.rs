//! Moving the camera, turning the eyes, and what the cut goes through.

use crate::{Bench, bench, click, place, press_and_move};
use desk::window::state::Desk;
use desk::window::step::Step;
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Shape, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use layout::Edit;
use layout::cable_hole::PlateHole;
use layout::field::{Field, PartsOf};
use layout::handle::Handle;
use output::Seen;

#[test]
fn a_wheel_zooms_about_the_pointer_and_a_double_click_on_the_ground_frames_all() {
    let mut harness = bench(Step::Eyes);
    let pointer = pos2(120.0, 640.0);
    harness.hover_at(pointer);
    harness.run();
    let (scale, held) = {
        let camera = &harness.state().camera;
        (camera.scale(), camera.to_plate(pointer))
    };
    harness.event(Event::MouseWheel {
        unit: MouseWheelUnit::Line,
        delta: vec2(0.0, 3.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    });
    // The toolkit smooths a wheel over some frames, though the view does not.
    harness.run_steps(30);
    let camera = &harness.state().camera;
    assert!(camera.scale() > scale * 1.3);
    assert!((camera.to_plate(pointer) - held).norm() < 1e-4);
    for _ in 0..2 {
        click(&mut harness, pointer, PointerButton::Primary);
    }
    harness.run();
    assert!((harness.state().camera.scale() - scale).abs() < 1e-9);
}

#[test]
fn dragging_the_ground_pans() {
    let mut harness = bench(Step::Eyes);
    let from = pos2(60.0, 80.0);
    let held = harness.state().camera.to_plate(from);
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + vec2(40.0, 20.0));
    harness.run();
    harness.hover_at(from + vec2(80.0, 50.0));
    harness.run();
    let moved = harness.state().camera.to_screen(held) - from;
    harness.drop_at(from + vec2(80.0, 50.0));
    harness.run();
    assert!((moved - vec2(80.0, 50.0)).length() < 1.0, "{moved:?}");
    assert_eq!(harness.state().desk.history().undo_label(), None);
}

#[test]
fn the_side_slider_turns_the_eyes_by_pointer_by_key_and_by_value() {
    let mut harness = bench(Step::Eyes);
    let degrees = |harness: &Harness<'_, Bench>| harness.state().desk.pose.side.to_degrees();
    let track = harness.get_by_label("side").rect();
    let at = pos2(track.right() - 8.0, track.center().y);
    click(&mut harness, at, PointerButton::Primary);
    let most = harness.state().desk.project().gaze.side.0;
    assert!(
        (degrees(&harness) - most).abs() < 1e-9,
        "the end of the track is the limit"
    );
    harness.key_press(Key::ArrowLeft);
    harness.run();
    assert!((degrees(&harness) - (most - 1.0)).abs() < 1e-9);
    harness.get_by_label("side").set_value_accesskit(-9.0);
    harness.run();
    assert!((degrees(&harness) + 9.0).abs() < 1e-9);
    assert_eq!(
        harness.get_by_label("side").value(),
        Some(format!("−9° of {most}°"))
    );
    harness.get_by_label("side").set_value_accesskit(80.0);
    harness.run();
    assert!((degrees(&harness) - most).abs() < 1e-9, "held to its limit");
    assert_eq!(
        harness.state().desk.history().undo_label(),
        None,
        "looking changes no project"
    );
}

#[test]
fn framing_a_finding_cuts_through_its_eye() {
    let mut harness = bench(Step::Eyes);
    let desk = &mut harness.state_mut().desk;
    let findings = &desk.report().findings;
    let index = findings
        .iter()
        .position(|finding| finding.part == "right eye")
        .expect("a finding about it");
    desk.framed = Some(index);
    harness.run();
    assert_eq!(harness.state().desk.chosen_eye, 1);
}

#[test]
fn a_ring_that_cannot_be_made_is_said_in_the_cut() {
    let mut harness = bench(Step::Eyes);
    let too_deep = Edit::Set(Field::RingDepth(PartsOf::Shared), 30.0);
    harness
        .state_mut()
        .desk
        .apply(&too_deep)
        .expect("kept and reported");
    harness.run();
    let sentence = harness.get_by_label_contains("The ring ends farther back than the ball.");
    assert!(sentence.rect().left() > 660.0, "it stands in the side cut");
}

#[test]
fn seen_from_the_back_hands_and_keys_move_what_they_seem_to_move() {
    let mut harness = bench(Step::Eyes);
    harness.state_mut().camera.seen = Seen::Back;
    harness.run();
    let left = Handle::Eye(0);
    assert_eq!(place(&harness, left), [-29.0, 0.0]);
    // The audience's left eye is at the right of this view, and keeps its name.
    let at = harness.get_by_label("left eye").rect().center();
    assert!(at.x > harness.get_by_label("right eye").rect().center().x);
    press_and_move(&mut harness, "left eye", vec2(12.0, 0.0));
    harness.drop_at(at + vec2(12.0, 0.0));
    harness.run();
    assert!(place(&harness, left)[0] < -29.5);
    let now = harness.get_by_label("left eye").rect().center();
    assert!((now.x - at.x - 12.0).abs() < 0.5, "{now:?} {at:?}");
    let before = place(&harness, left)[0];
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!((place(&harness, left)[0] - (before - 0.1)).abs() < 1e-9);
}

#[test]
fn cable_holes_that_the_plate_came_with_are_named_in_its_own_step() {
    let mut harness = bench(Step::Plate);
    let desk = &mut harness.state_mut().desk;
    let mut over = desk.project().clone();
    let hole = |x: f64| PlateHole {
        ends: [[x, 30.0]; 2],
        width: 3.0,
    };
    over.plate.cable_holes = vec![hole(50.0), hole(-50.0)];
    assert_eq!(over.check(), Ok(()));
    *desk = Desk::new(over, None);
    let named = |harness: &mut Harness<'_, Bench>, step: Step| {
        harness.state_mut().desk.step = step;
        harness.run();
        let shapes = harness.output().shapes.iter();
        let words = shapes.filter_map(|shape| match &shape.shape {
            Shape::Text(text) => Some(text.galley.text()),
            _ => None,
        });
        let mut names: Vec<_> = words
            .filter(|words| words.starts_with("Hole "))
            .map(ToOwned::to_owned)
            .collect();
        names.sort();
        names
    };
    assert_eq!(named(&mut harness, Step::Plate), ["Hole 1", "Hole 2"]);
    assert!(named(&mut harness, Step::Drives).is_empty());
}
