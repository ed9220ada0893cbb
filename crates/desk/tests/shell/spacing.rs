//! The spacing window, worked by name and by keys.

use super::*;

/// The window on a pair without drives or lids, whose spacing window is found soon, with that shown.
fn shown() -> Window {
    shown_with(|_| {})
}

/// The same, after a change.
fn shown_with(change: impl Fn(&mut Project)) -> Window {
    let mut project = desk::samples::DEFAULT.project();
    project.drives.clear();
    project.parts.lids = None;
    change(&mut project);
    shown_on(project)
}

fn shown_on(project: Project) -> Window {
    let mut window = window_on(project, desk::window::START_SIZE);
    click(&mut window, "Spacing window");
    wait(&mut window);
    window
}

/// Two eyes with lids that share a lug, at pivots and at a spacing of so many mm, whatever else may meet.
fn sharing_a_lug(pivots: f64, spacing: f64) -> Window {
    let mut project = desk::samples::DEFAULT.project();
    project.drives.clear();
    project.ties.clear();
    let lids = project.parts.lids.as_mut();
    lids.expect("the sample has lids").pivot_spacing = pivots;
    project.limits.sweep_gap = Some((-99.0, -99.0).into());
    project.limits.lid_gap = Some((-99.0, -99.0).into());
    let spaced = layout::spacing::spaced(&project, [0, 1], spacing);
    shown_on(spaced.expect("the sample has two eyes"))
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
fn the_marker_takes_the_arrows_after_a_click() {
    let mut window = shown();
    let at = window.get_by_label("Spacing in its window").rect().center();
    window.hover_at(at);
    window.run();
    window.drag_at(at);
    window.run();
    window.drop_at(at);
    window.run();
    let before = spacing(&window);
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert!((spacing(&window) - before - 0.1).abs() < 1e-9, "{before}");
}

#[test]
fn the_maker_s_own_ratio_is_kept_with_the_workshop() {
    let mut window = shown();
    assert_eq!(super::shown(&window, "Own ratio to the face's width"), "");
    enter(&mut window, "Own ratio to the face's width", "0.46");
    let workshop = project(&window).workshop.clone().unwrap();
    assert_eq!(workshop.spacing_ratio, Some(0.46));
    enter(&mut window, "Own ratio to the face's width", "7");
    assert_eq!(project(&window).workshop.as_ref(), Some(&workshop));
    type_into(&mut window, "Own ratio to the face's width", "");
    press(&mut window, CTRL, Key::A);
    press(&mut window, Modifiers::NONE, Key::Delete);
    press(&mut window, Modifiers::NONE, Key::Enter);
    let workshop = project(&window).workshop.clone().unwrap();
    assert_eq!(workshop.spacing_ratio, None);
}

fn marker_says(window: &Window) -> String {
    let marker = window.get_by_label("Spacing in its window");
    marker.accesskit_node().value().unwrap_or_default()
}

#[test]
fn the_marker_says_how_the_whole_project_stands() {
    let fouls_anyway = shown_with(|project| project.limits.hand_room = Some((500.0, 500.0).into()));
    assert_eq!(marker_says(&fouls_anyway), "58.0 mm, fouls");
    let named = "Hand room left over fouls at every spacing.";
    assert!(fouls_anyway.query_by_label_contains(named).is_some());
    let never_clear = shown_with(|project| project.limits.hand_room = Some((0.0, 500.0).into()));
    assert_eq!(marker_says(&never_clear), "58.0 mm, tight");
    // Beside it, nothing turns the eyes.
    let counted = "2 rules are clear at no spacing.";
    assert!(never_clear.query_by_label_contains(counted).is_some());
    let clear = "Clear of all that the spacing can clear: ";
    assert!(never_clear.query_by_label_contains(clear).is_some());
}

#[test]
fn the_middle_of_a_window_as_narrow_as_a_shared_lug_lies_inside() {
    let mut window = sharing_a_lug(52.25, 52.26);
    let now = found(&window).unwrap().now().unwrap();
    assert!((now.high - now.low - 0.1).abs() < 2e-3, "{now:?}");
    click(&mut window, "To the middle");
    assert!((spacing(&window) - 52.25).abs() < 1e-9);
    assert!(window.query_by_label_contains("Fouls here").is_none());
    assert!(found(&window).unwrap().now().is_some());
}

#[test]
fn the_verdict_stands_below_the_chart_and_names_a_contradiction_first() {
    let window = shown_with(|project| {
        project.ties.clear();
        project.head.smooth = false;
        project.head.cavity_depth = 20.0;
        project.head.outline = vec![[45.0, 90.0], [-45.0, 90.0], [-45.0, -90.0], [45.0, -90.0]];
    });
    let verdict = window.get_by_label_contains("these contradict each other: ");
    let said = verdict.accesskit_node().value().unwrap_or_default();
    assert!(said.starts_with("No spacing holds, since"), "{said}");
    let marker = window.get_by_label("Spacing in its window").rect();
    let guide = window
        .get_by_label_contains("convention: face in fifths")
        .rect();
    assert!(guide.top() > marker.center().y && verdict.rect().top() >= guide.bottom());
    let counted = window
        .get_by_label_contains("rules foul at every spacing")
        .rect();
    assert!(counted.top() >= guide.bottom());
    assert!(counted.bottom() <= desk::window::START_SIZE[1]);
}

#[test]
fn other_stretches_are_listed_and_a_guide_beyond_the_scale_is_named_at_its_edge() {
    let window = sharing_a_lug(52.0, 52.0);
    // Eyes that share a lug could also stand apart.
    assert_eq!(found(&window).unwrap().others().len(), 1);
    assert!(
        window
            .query_by_label_contains("Could also be 55.0 to ")
            .is_some()
    );
    let guide = layout::spacing::guides(project(&window), [0, 1])[0];
    let named = format!("convention: face in fifths, {:.2} mm →", guide.spacing);
    let named = window.get_by_label(&named).rect();
    let marker = window.get_by_label("Spacing in its window").rect();
    assert!(
        named.right() > marker.right() - 12.0,
        "{named:?} {marker:?}"
    );
}
