//! The front view and the sliders, worked by accessible name with pointer and keys.

use desk::samples;
use desk::window::state::Desk;
use desk::window::step::Step;
use desk::window::theme;
use desk::window::views::{Camera, front, side};
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, Rect, UiBuilder, Vec2, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use layout::Edit;
use layout::edit::Handle;
use layout::field::{Field, PartsOf};
use layout::geometry::Point;

/// Room for rounding in places that were set in tenths of a millimetre, mm.
const ROUNDING: f64 = 1e-9;

struct Bench {
    desk: Desk,
    camera: Camera,
}

fn bench(step: Step) -> Harness<'static, Bench> {
    let mut desk = Desk::new(samples::DEFAULT.project(), None);
    desk.step = step;
    let bench = Bench {
        desk,
        camera: Camera::default(),
    };
    let mut harness = Harness::builder()
        .with_size(vec2(1000.0, 720.0))
        // As quick as a screen: two clicks a few frames apart are then a double click.
        .with_step_dt(1.0 / 60.0)
        .with_context_setup(theme::install)
        .build_ui_state(
            |ui, bench: &mut Bench| {
                let (desk, camera) = (&mut bench.desk, &mut bench.camera);
                let mut view = |x: [f32; 2], y: [f32; 2], add: &mut dyn FnMut(&mut egui::Ui)| {
                    let rect = Rect::from_x_y_ranges(x[0]..=x[1], y[0]..=y[1]);
                    ui.scope_builder(UiBuilder::new().id_salt(x[0].to_bits() + y[0].to_bits()).max_rect(rect), add);
                };
                view([0.0, 640.0], [0.0, 720.0], &mut |ui| front::show(ui, desk, camera));
                view([660.0, 1000.0], [0.0, 560.0], &mut |ui| side::show(ui, desk, camera));
                view([660.0, 1000.0], [570.0, 720.0], &mut |ui| side::show_pose(ui, desk));
            },
            bench,
        );
    harness.run();
    harness
}

fn place(harness: &Harness<'_, Bench>, handle: Handle) -> [f64; 2] {
    handle.at(harness.state().desk.project()).expect("the project has this handle")
}

fn on_screen(harness: &Harness<'_, Bench>, at: [f64; 2]) -> Pos2 {
    harness.state().camera.to_screen(Point::from(at))
}

fn spacing(harness: &Harness<'_, Bench>) -> f64 {
    let [a, b] = [0, 1].map(|eye| place(harness, Handle::Eye(eye)));
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Presses on the handle of this name and moves by some points, without letting go.
fn press_and_move(harness: &mut Harness<'_, Bench>, name: &str, by: Vec2) -> Pos2 {
    let from = harness.get_by_label(name).rect().center();
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for share in [0.3, 0.7, 1.0] {
        harness.hover_at(from + by * share);
        harness.run();
    }
    from + by
}

fn click(harness: &mut Harness<'_, Bench>, at: Pos2, button: PointerButton) {
    harness.hover_at(at);
    harness.run();
    for pressed in [true, false] {
        let modifiers = Modifiers::NONE;
        harness.event(Event::PointerButton {
            pos: at,
            button,
            pressed,
            modifiers,
        });
        harness.run();
    }
}

fn assert_place(harness: &Harness<'_, Bench>, handle: Handle, expected: [f64; 2]) {
    let at = place(harness, handle);
    let off = (at[0] - expected[0]).hypot(at[1] - expected[1]);
    assert!(off < ROUNDING, "{handle:?} is at {at:?}, not at {expected:?}");
}

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
    assert!((moved[0] - (left[0] - 15.0 / scale)).abs() <= 0.051, "{moved:?}");
    assert!((moved[1] - (left[1] - 6.0 / scale)).abs() <= 0.051, "{moved:?}");
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
    let names = ["left eye", "right eye", "slot 1", "slot 4", "anchor hole 1", "anchor hole 4"];
    let mut reached = Vec::new();
    for _ in 0..count + 4 {
        harness.key_press(Key::Tab);
        harness.run();
        reached.extend(names.iter().filter(|name| harness.get_by_label(name).is_focused()));
    }
    for name in names {
        assert!(reached.contains(&&name), "{name} is not reached: {reached:?}");
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

#[test]
fn a_click_on_the_outline_adds_a_point_and_delete_takes_it_away() {
    let mut harness = bench(Step::Head);
    harness.state_mut().desk.mirror = false;
    harness.run();
    let before = harness.state().desk.project().head.outline.clone();
    // Half way between the first two points, on the smooth curve.
    let wall = &harness.state().desk.laid().wall;
    let passes = |at: &Point| {
        let [from, to] = [0, 1].map(|index| (at - Point::from(before[index])).norm());
        (from - to).abs()
    };
    let between = wall.iter().min_by(|a, b| passes(a).total_cmp(&passes(b))).copied().expect("a wall");
    let at = on_screen(&harness, between.into());
    click(&mut harness, at, PointerButton::Primary);
    let outline = harness.state().desk.project().head.outline.clone();
    assert_eq!(outline.len(), before.len() + 1);
    assert_eq!([outline[0], outline[2]], [before[0], before[1]], "it lies between them");
    assert!((Point::from(outline[1]) - between).norm() < 0.2);

    harness.get_by_label("outline point 2").focus();
    harness.run();
    harness.key_press(Key::Delete);
    harness.run();
    assert_eq!(harness.state().desk.project().head.outline, before);
}

#[test]
fn in_mirror_editing_a_point_of_the_outline_comes_and_goes_with_its_partner() {
    let mut harness = bench(Step::Head);
    let before = harness.state().desk.project().clone();
    let wall = &harness.state().desk.laid().wall;
    let points = &before.head.outline;
    let room = |at: &Point| points.iter().map(|&point| (at - Point::from(point)).norm()).fold(f64::INFINITY, f64::min);
    let freest = wall.iter().max_by(|a, b| room(a).total_cmp(&room(b))).copied().expect("a wall");
    let at = on_screen(&harness, freest.into());
    click(&mut harness, at, PointerButton::Primary);
    let outline = &harness.state().desk.project().head.outline;
    assert_eq!(outline.len(), points.len() + 2);
    let added: Vec<_> = outline.iter().filter(|point| !points.contains(point)).collect();
    assert!((added[0][0] + added[1][0]).abs() < ROUNDING && (added[0][1] - added[1][1]).abs() < ROUNDING);
    harness.state_mut().desk.undo();
    assert_eq!(harness.state().desk.project(), &before, "both were one step");
}

#[test]
fn a_double_click_takes_an_outline_point_away() {
    let mut harness = bench(Step::Head);
    harness.state_mut().desk.mirror = false;
    let before = harness.state().desk.project().head.outline.len();
    let at = harness.get_by_label("outline point 3").rect().center();
    for _ in 0..2 {
        click(&mut harness, at, PointerButton::Primary);
    }
    assert_eq!(harness.state().desk.project().head.outline.len(), before - 1);
}

#[test]
fn a_refused_move_stays_at_the_last_good_place_and_says_why() {
    let mut harness = bench(Step::Head);
    harness.state_mut().desk.mirror = false;
    // Across the head, out through the other side: the outline would cross itself.
    let from = place(&harness, Handle::OutlinePoint(0));
    let across = on_screen(&harness, [-from[0] * 1.3, from[1]]) - on_screen(&harness, from);
    let at = press_and_move(&mut harness, "outline point 1", across);
    let desk = &harness.state().desk;
    let notice = desk.notice.as_ref().expect("a notice");
    assert!(notice.trouble && notice.text.contains("crosses itself"), "{}", notice.text);
    let stuck = place(&harness, Handle::OutlinePoint(0));
    assert!(stuck[0] > -from[0], "it is not where the pointer is: {stuck:?}");
    assert!(harness.state().desk.project().check().is_ok());
    harness.drop_at(at);
    harness.run();
}

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
    assert_eq!(ties[before + 1].at, [-ties[before].at[0], ties[before].at[1]]);
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
    assert!((degrees(&harness) - most).abs() < 1e-9, "the end of the track is the limit");
    harness.key_press(Key::ArrowLeft);
    harness.run();
    assert!((degrees(&harness) - (most - 1.0)).abs() < 1e-9);
    harness.get_by_label("side").set_value_accesskit(-9.0);
    harness.run();
    assert!((degrees(&harness) + 9.0).abs() < 1e-9);
    assert_eq!(harness.get_by_label("side").value(), Some(format!("−9° of {most}°")));
    harness.get_by_label("side").set_value_accesskit(80.0);
    harness.run();
    assert!((degrees(&harness) - most).abs() < 1e-9, "held to its limit");
    assert_eq!(harness.state().desk.history().undo_label(), None, "looking changes no project");
}

#[test]
fn framing_a_finding_cuts_through_its_eye() {
    let mut harness = bench(Step::Eyes);
    let desk = &mut harness.state_mut().desk;
    let findings = &desk.report().findings;
    let index = findings.iter().position(|finding| finding.part == "right eye").expect("a finding about it");
    desk.framed = Some(index);
    harness.run();
    assert_eq!(harness.state().desk.chosen_eye, 1);
}

#[test]
fn a_ring_that_cannot_be_made_is_said_in_the_cut() {
    let mut harness = bench(Step::Eyes);
    let too_deep = Edit::Set(Field::RingDepth(PartsOf::Shared), 30.0);
    harness.state_mut().desk.apply(&too_deep).expect("kept and reported");
    harness.run();
    let sentence = harness.get_by_label_contains("The ring ends farther back than the ball.");
    assert!(sentence.rect().left() > 660.0, "it stands in the side cut");
}
