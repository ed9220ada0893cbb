//! Levers, stops, route points and exits, worked on the front view and in the side cut.

use desk::window::step::Step;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout::handle::Place;

use super::*;

/// Places of a drive in the plate's frame, mm.
fn at(harness: &Harness<'_, Bench>, drive: usize, place: Place) -> [f64; 3] {
    let project = harness.state().desk.project();
    place.at(project, drive).expect("the drive has this place")
}

fn let_go(harness: &mut Harness<'_, Bench>, at: Pos2) {
    harness.drop_at(at);
    harness.run();
}

#[test]
fn a_lever_tip_is_dragged_in_the_cut_as_one_step_and_its_partner_with_it() {
    let mut harness = bench(Step::Drives);
    // The lid is shut: the tip shows where the project gives it.
    harness.state_mut().desk.pose.shut = 1.0;
    harness.run();
    let [x, y, z] = at(&harness, 0, Place::Tip);
    let scale = harness.state().camera.scale();
    let end = press_and_move(
        &mut harness,
        "left upper lid, lever tip, in the cut",
        vec2(12.0, -18.0),
    );
    let_go(&mut harness, end);
    let moved = at(&harness, 0, Place::Tip);
    // To the right is to the hand; to a tenth of a millimetre, as dragging goes.
    assert!((moved[0] - x).abs() < ROUNDING);
    assert!((moved[1] - (y + 18.0 / scale)).abs() < 0.06, "{moved:?}");
    assert!((moved[2] - (z - 12.0 / scale)).abs() < 0.06, "{moved:?}");
    let partner = at(&harness, 1, Place::Tip);
    assert!((partner[0] + moved[0]).abs() < ROUNDING);
    assert!((partner[2] - moved[2]).abs() < ROUNDING);
    harness.state_mut().desk.undo();
    assert_eq!(at(&harness, 0, Place::Tip), [x, y, z]);
}

#[test]
fn a_lever_tip_is_taken_where_its_lever_stands_and_follows_the_pointer_there() {
    let mut harness = bench(Step::Drives);
    harness.state_mut().desk.pose.shut = 0.0;
    harness.run();
    let pull = |harness: &Harness<'_, Bench>| {
        *harness.state().desk.laid().drives[0].pull.as_ref().unwrap()
    };
    let open = |pull: layout::pull::Pull| pull.tip_at(pull.far_pose);
    let before = open(pull(&harness));
    let scale = harness.state().camera.scale();
    let end = press_and_move(
        &mut harness,
        "left upper lid, lever tip, in the cut",
        vec2(10.0, 15.0),
    );
    let_go(&mut harness, end);
    let after = open(pull(&harness));
    assert!((after.x - before.x).abs() < 1e-3);
    assert!(
        (after.y - (before.y - 15.0 / scale)).abs() < 0.06,
        "{after}"
    );
    assert!(
        (after.z - (before.z - 10.0 / scale)).abs() < 0.06,
        "{after}"
    );
}

#[test]
fn the_cut_is_moved_in_depth_alone_and_in_height_with_the_front_view() {
    let mut harness = bench(Step::Drives);
    let place =
        |harness: &Harness<'_, Bench>, name: &str| harness.get_by_label(name).rect().center();
    let (in_cut, in_front) = ("left upper lid, exit, in the cut", "left upper lid, exit");
    let before = [in_cut, in_front].map(|name| place(&harness, name));
    // A place of the cut where no handle is.
    let empty = before[0] + vec2(30.0, -40.0);
    harness.drag_at(empty);
    harness.run();
    harness.hover_at(empty + vec2(17.0, -9.0));
    harness.run();
    let_go(&mut harness, empty + vec2(17.0, -9.0));
    let after = [in_cut, in_front].map(|name| place(&harness, name));
    assert!(
        (after[0] - before[0] - vec2(17.0, -9.0)).length() < 0.5,
        "{after:?}"
    );
    assert!(
        (after[1] - before[1] - vec2(0.0, -9.0)).length() < 0.5,
        "{after:?}"
    );
}

#[test]
fn an_exit_is_dragged_from_the_front_and_keeps_its_depth() {
    let mut harness = bench(Step::Drives);
    let before = at(&harness, 0, Place::Exit);
    let end = press_and_move(&mut harness, "left upper lid, exit", vec2(-20.0, 10.0));
    let_go(&mut harness, end);
    let after = at(&harness, 0, Place::Exit);
    assert!(after[0] < before[0] - 1.0 && after[1] < before[1] - 1.0);
    assert_eq!(after[2], before[2]);
}

#[test]
fn a_stop_that_is_moved_leaves_the_cable_line_and_is_the_drives_own() {
    let mut harness = bench(Step::Drives);
    assert_eq!(harness.state().desk.project().drives[0].stop, None);
    let handle = harness.get_by_label("left upper lid, sheath stop");
    handle.focus();
    harness.run();
    for _ in 0..3 {
        harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
        harness.run();
    }
    let stop = harness.state().desk.project().drives[0].stop;
    assert!(stop.is_some());
    // Three millimetres off the line the pull is no longer true.
    let desk = &harness.state().desk;
    let error = desk.report().figures.drives[0].pull_error_deg.unwrap();
    assert!(error > 10.0, "{error}");
}

#[test]
fn arrows_move_a_place_in_the_cut_to_the_hand_and_up() {
    let mut harness = bench(Step::Drives);
    let before = at(&harness, 0, Place::Exit);
    let handle = harness.get_by_label("left upper lid, exit, in the cut");
    handle.focus();
    harness.run();
    for key in [Key::ArrowRight, Key::ArrowUp] {
        harness.key_press_modifiers(Modifiers::SHIFT, key);
        harness.run();
    }
    let after = at(&harness, 0, Place::Exit);
    assert!((after[2] - (before[2] - 1.0)).abs() < ROUNDING);
    assert!((after[1] - (before[1] + 1.0)).abs() < ROUNDING);
    assert_eq!(after[0], before[0]);
}

#[test]
fn the_cut_has_handles_of_the_chosen_eye_s_drives_only_and_in_their_step_only() {
    let mut harness = bench(Step::Drives);
    let in_cut = |harness: &Harness<'_, Bench>, name: &str| {
        let name = format!("{name}, exit, in the cut");
        harness.query_by_label(&name).is_some()
    };
    assert!(in_cut(&harness, "left gaze") && !in_cut(&harness, "right gaze"));
    harness.state_mut().desk.choose_drive(5);
    harness.run();
    assert!(!in_cut(&harness, "left gaze") && in_cut(&harness, "right gaze"));
    harness.state_mut().desk.step = Step::Lids;
    harness.run();
    assert!(!in_cut(&harness, "right gaze"));
}

#[test]
fn an_end_of_a_rod_is_taken_where_its_eye_has_turned_it() {
    let mut harness = bench(Step::Drives);
    let desk = &mut harness.state_mut().desk;
    let rod = layout::rod::Rod::fresh(desk.project()).expect("two eyes");
    desk.apply(&layout::Edit::AddRod(rod)).unwrap();
    desk.pose.side = 0.3;
    harness.run();
    let shown = |harness: &Harness<'_, Bench>| {
        let desk = &harness.state().desk;
        let driver = desk.project().rods[0].driver;
        let linkage = desk.laid().rods[0].as_ref().unwrap();
        linkage.ends_at(desk.stance_of(driver))[1]
    };
    let before = shown(&harness);
    let scale = harness.state().camera.scale();
    let end = press_and_move(&mut harness, "rod, following end", vec2(9.0, 6.0));
    let_go(&mut harness, end);
    let after = shown(&harness);
    // The rod's length changes with the joint's place, and with it how far its eye turns: the joint
    // comes where the pointer is while the lever keeps its turn, so only nearly there.
    let off = (after - before) - layout::geometry::space::Way::new(9.0 / scale, -6.0 / scale, 0.0);
    assert!(off.norm() < 1.5, "{off}");
    assert!((after.x - before.x).abs() > 1.0);
    assert_eq!(
        harness.state().desk.selected,
        Some(layout::handle::Handle::Rod(
            0,
            layout::rod::RodEnd::Follower
        ))
    );
}
