//! What each step offers.

use layout::State;
use layout::closed_curve::CurveOf;
use layout::plate::PlateOutline;
use layout::seat::Seat;

use super::*;

fn go_to(window: &mut Window, step: &str) {
    window
        .get_by_label_contains(&format!("{step}, "))
        .click_accesskit();
    window.run();
}

#[test]
fn the_head_starts_again_from_a_plain_shape() {
    let mut window = window();
    go_to(&mut window, "Head");
    enter(&mut window, "Width", "180");
    enter(&mut window, "Head height", "220");
    click(&mut window, "Start again from this shape");
    let outline = &project(&window).head.outline;
    let reach = |axis: usize| outline.iter().map(|point| point[axis]).fold(0.0, f64::max);
    assert!((reach(0) - 90.0).abs() < 1e-9 && (reach(1) - 110.0).abs() < 1e-9);
    enter(&mut window, "Squareness, 0 to 0.9", "2");
    assert!(says(
        &window,
        "“Squareness, 0 to 0.9” is 2. Use a number from 0 to 0.9."
    ));
}

#[test]
fn anchor_holes_are_added_as_a_pair_and_removed() {
    let mut window = window();
    go_to(&mut window, "Head");
    let before = project(&window).head.anchor_holes.len();
    click(&mut window, "Add a pair of holes");
    assert_eq!(project(&window).head.anchor_holes.len(), before + 2);
    enter(&mut window, "Anchor hole 5: Hole diameter", "4,5");
    assert_eq!(project(&window).head.anchor_holes[4].diameter, 4.5);
    click(&mut window, "Remove this hole");
    assert_eq!(project(&window).head.anchor_holes.len(), before);
}

#[test]
fn the_seat_changes_its_kind_and_its_fields() {
    let mut window = window();
    assert!(window.query_by_label("Running clearance").is_some());
    click(&mut window, "Seat: plain");
    assert!(matches!(project(&window).parts.seat, Seat::Plain { .. }));
    assert!(window.query_by_label("Running clearance").is_none());
    assert!(window.query_by_label("Opening diameter").is_some());
    click(&mut window, "Seat: spherical");
    assert!(matches!(
        project(&window).parts.seat,
        Seat::Spherical { .. }
    ));
}

#[test]
fn the_plate_follows_the_head_from_as_low_to_as_high_as_it_was() {
    let mut window = window();
    go_to(&mut window, "Plate");
    click(&mut window, "Style: inset");
    assert!(matches!(
        project(&window).plate.outline,
        PlateOutline::HeadInset { .. }
    ));
    enter(&mut window, "To height", "50");
    assert!(matches!(
        project(&window).plate.outline,
        PlateOutline::HeadInset { top: 50.0, .. }
    ));
    assert!(window.query_by_label("Rim").is_none());
}

#[test]
fn a_slot_is_chosen_changed_and_led_to_a_hole() {
    let mut window = window();
    go_to(&mut window, "Plate");
    window.get_by_label_contains("Slot 1, ").click_accesskit();
    window.run();
    enter(&mut window, "Slot 1: Slot angle", "45");
    assert_eq!(project(&window).ties[0].angle.0, 45.0);
    click(&mut window, "Slot 1: Leads to anchor hole");
    click(&mut window, "none");
    assert_eq!(project(&window).ties[0].anchor, None);
}

#[test]
fn a_limit_is_changed_and_reset() {
    let mut window = window();
    go_to(&mut window, "Plate");
    click(&mut window, "Show the limits");
    enter(&mut window, "plate to wall: Wanted", "3");
    assert_eq!(
        project(&window).limits.plate_wall.map(|limit| limit.wanted),
        Some(3.0)
    );
    click(&mut window, "reset");
    assert_eq!(project(&window).limits.plate_wall, None);
}

#[test]
fn three_eyes_are_chosen_one_by_one() {
    let mut window = window_on_sample("wimple");
    click(&mut window, "Chosen: eye 3");
    assert_eq!(window.state().desk().chosen_eye, 2);
    assert!(window.query_by_label("Eye 3: Height").is_some());
    assert!(window.query_by_label_contains("Spacing to eye").is_some());
}

#[test]
fn the_title_block_is_filled_in() {
    let mut window = window();
    go_to(&mut window, "Sheet");
    enter(&mut window, "Drawn by", "R. Wren");
    assert_eq!(project(&window).title_block.creator, "R. Wren");
}

#[test]
fn a_waisted_plate_has_a_bridge_and_inner_corners_to_set() {
    let mut window = window();
    go_to(&mut window, "Plate");
    click(&mut window, "Style: waisted");
    let area = |window: &Window| {
        let figures = &window.state().desk().report().figures;
        figures.plate.plate_area_mm2.expect("there is a plate")
    };
    let before = area(&window);
    enter(&mut window, "Bridge height", "30");
    enter(&mut window, "Inner corners, radius", "4");
    let outline = &project(&window).plate.outline;
    let expected = PlateOutline::Waisted {
        bridge: 30.0,
        fillet: 4.0,
    };
    assert_eq!(*outline, expected);
    assert_ne!(area(&window), before);
}

#[test]
fn a_drawn_plate_starts_as_the_plate_that_was_there_and_is_drawn_point_by_point() {
    let mut window = window();
    go_to(&mut window, "Plate");
    let area = |window: &Window| {
        let figures = &window.state().desk().report().figures;
        figures.plate.plate_area_mm2.expect("there is a plate")
    };
    let band = area(&window);
    click(&mut window, "Style: drawn");
    assert!((area(&window) / band - 1.0).abs() < 0.01);
    let count = |window: &Window| match &project(window).plate.outline {
        PlateOutline::Drawn { outline, .. } => outline.len(),
        other => panic!("{other:?}"),
    };
    let before = count(&window);
    window.get_by_label("plate point 13").focus();
    window.run();
    enter(&mut window, "Plate point 13: Across", "-70");
    let (points, _) = CurveOf::Plate.get(project(&window)).expect("it is drawn");
    // Its partner across the centre line went along.
    assert_eq!(points[12][0], -70.0);
    assert_eq!(points[before - 12][0], 70.0);
    click(&mut window, "Remove it");
    assert_eq!(count(&window), before - 2);
}

#[test]
fn what_keeps_the_eyes_seated_is_chosen_and_told() {
    let mut window = window();
    let state = |window: &Window| {
        let report = window.state().desk().report();
        let seated = report.findings.iter().find(|f| f.id == "seated");
        seated.expect("there is a ring").state
    };
    assert_eq!(state(&window), State::Clear);
    enter(&mut window, "Elastic pulls with", "0");
    assert_eq!(state(&window), State::Fouls);
    click(&mut window, "Kept seated by: nothing");
    assert_eq!(state(&window), State::Fouls);
    click(&mut window, "Kept seated by: elastic");
    assert_eq!(state(&window), State::Clear);
    enter(&mut window, "Ball and ring weigh", "90 g");
    assert_eq!(state(&window), State::Fouls);
}

#[test]
fn a_drawn_plate_outline_that_makes_way_is_told_and_comes_back() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, "Style: drawn");
    let drawn = project(&window).plate.outline.clone();
    click(&mut window, "Style: band");
    assert!(says(
        &window,
        "The drawn plate outline made way for this style."
    ));
    click(&mut window, "Bring it back");
    assert_eq!(project(&window).plate.outline, drawn);
}

#[test]
fn what_was_told_of_one_step_is_gone_in_another_and_after_undo() {
    let mut window = window();
    let complain = |window: &mut Window| {
        enter(window, "Turns to the side", "30");
        click(window, "Find a ring");
        assert!(says(window, "No ring both holds"));
    };
    complain(&mut window);
    press(&mut window, CTRL, Key::Num3);
    assert!(!says(&window, "No ring both holds"));
    press(&mut window, CTRL, Key::Num2);
    complain(&mut window);
    click(&mut window, "Undo");
    assert!(!says(&window, "No ring both holds"));
}
