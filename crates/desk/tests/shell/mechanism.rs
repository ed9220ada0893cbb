//! Lids, drives and the hand in the window.

use desk::window::START_SIZE;
use layout::drive::{Drive, End, Moves, Turn};
use layout::hand::GuardAxis;
use layout::lid::{Lids, Which};
use layout::seat::Seat;

use super::*;

fn go_to(window: &mut Window, key: Key) {
    press(window, CTRL, key);
}

fn lids(window: &Window) -> Option<Lids> {
    project(window).parts.lids
}

#[test]
fn lids_are_taken_away_and_added_again_as_one_step_each() {
    let mut window = window();
    go_to(&mut window, Key::Num4);
    assert!(lids(&window).is_some());
    click(&mut window, "Take the lids away");
    assert_eq!(lids(&window), None);
    assert!(window.query_by_label("lids").is_none(), "nothing to work");
    click(&mut window, "Add lids");
    let own = lids(&window).expect("it has lids again");
    assert_eq!(own, Lids::around(20.0));
    press(&mut window, CTRL, Key::Z);
    press(&mut window, CTRL, Key::Z);
    assert!(lids(&window).is_some_and(|old| old.upper.is_some()));
}

#[test]
fn one_lid_is_switched_off_and_comes_back_as_the_other_one_s_mirror_image() {
    let mut window = window();
    go_to(&mut window, Key::Num4);
    enter(&mut window, "Upper lid: Open at", "28");
    click(&mut window, "Lower lid");
    assert_eq!(lids(&window).unwrap().lower, None);
    assert!(window.query_by_label("Lower lid: Open at").is_none());
    click(&mut window, "Lower lid");
    let own = lids(&window).unwrap();
    assert_eq!(own.lower, own.upper);
    assert_eq!(own.upper.unwrap().open.0, 28.0);
}

#[test]
fn all_places_of_a_drive_are_in_sight_in_the_cut_until_the_view_is_moved() {
    for size in [START_SIZE, [1920.0, 1080.0]] {
        let mut window = window_on(desk::samples::DEFAULT.project(), size);
        go_to(&mut window, Key::Num5);
        window.run();
        let drives = project(&window).drives.clone();
        let own = drives.iter().filter(|drive| drive.moves.eye() == 0);
        let mut seen = 0;
        for drive in own {
            for place in ["lever tip", "sheath stop", "exit"] {
                let name = format!("{}, {place}, in the cut", drive.name);
                let at = window.get_by_label(&name).rect().center();
                let sliders = window.get_by_label("side").rect();
                assert!(
                    at.y < sliders.top() && at.x > sliders.left() - 80.0,
                    "{name}"
                );
                assert!(at.y > 0.0 && at.x < size[0], "{name}");
                seen += 1;
            }
        }
        assert_eq!(seen, 9);
    }
}

#[test]
fn a_drive_is_added_changed_and_removed() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    let before = project(&window).drives.clone();
    click(&mut window, "Add a drive");
    let added = before.len();
    assert_eq!(project(&window).drives.len(), added + 1);
    assert_eq!(window.state().desk().chosen_drive, added);
    enter(&mut window, "Name", "brow");
    assert_eq!(project(&window).drives[added].name, "brow");
    enter(&mut window, "brow: Stop stands off by", "3");
    assert_eq!(project(&window).drives[added].standoff, 3.0);
    click(&mut window, "Add a route point");
    assert_eq!(project(&window).drives[added].via.len(), 1);
    enter(&mut window, "Route point 1: Height", "-40");
    assert_eq!(project(&window).drives[added].via[0][1], -40.0);
    click(&mut window, "Remove point 1");
    click(&mut window, "brow: Moves");
    click(&mut window, "lower lid");
    let turned = &project(&window).drives[added];
    assert!(matches!(
        turned.moves,
        Moves::Lid {
            which: Which::Lower,
            ..
        }
    ));
    assert_eq!(turned.near, End::Closed);
    click(&mut window, "Remove this drive");
    assert_eq!(project(&window).drives, before);
}

#[test]
fn what_no_cable_moves_is_offered_and_comes_and_goes_in_pairs() {
    let mut window = window_on_sample("wimple");
    go_to(&mut window, Key::Num5);
    let lacking = layout::laid_drive::undriven(project(&window));
    let [first, ..] = lacking[..] else {
        panic!("something of it lacks a cable");
    };
    let eye = project(&window).eye_name(first.eye());
    let before = project(&window).drives.clone();
    let text = format!("Add a drive for {eye}, {}", first.noun());
    click(&mut window, &text);
    assert!(window.query_by_label(&text).is_none());
    let drives = &project(&window).drives;
    assert_eq!(drives.len(), before.len() + 2);
    assert_eq!(drives[before.len()].moves, first);
    // A number of one goes for both.
    let name = drives[before.len()].name.clone();
    enter(&mut window, &format!("{name}: Stop stands off by"), "2.5");
    let standoffs = { project(&window).drives[before.len()..].iter() }.map(|drive| drive.standoff);
    assert_eq!(standoffs.collect::<Vec<_>>(), [2.5, 2.5]);
    click(&mut window, "Remove this drive and its partner");
    assert_eq!(project(&window).drives, before);
}

#[test]
fn undo_takes_what_was_refused_out_of_its_field() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    let name = project(&window).drives[0].name.clone();
    let field = format!("{name}: Wire diameter");
    enter(&mut window, &field, "0.4");
    enter(&mut window, &field, "-3");
    let shown = |window: &Window| window.get_by_label(&field).value();
    assert_eq!(shown(&window).as_deref(), Some("-3"));
    press(&mut window, CTRL, Key::Z);
    assert_eq!(shown(&window).as_deref(), Some("0.3 mm"));
}

#[test]
fn a_rod_takes_the_other_eye_along_where_the_sliders_say() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    click(&mut window, "Tie two eyes by a rod");
    assert_eq!(project(&window).rods.len(), 1);
    // The levers are made unlike: the follower turns more than its driver.
    enter(&mut window, "rod, following end: Forward", "-24");
    let [_, _, z] = project(&window).rods[0].follower_tip;
    assert_eq!(z, -24.0);
    window.get_by_label("side").set_value_accesskit(15.0);
    window.run();
    let desk = window.state().desk();
    let [driver, follower] = [0, 1].map(|eye| desk.pose_of(eye).side.to_degrees());
    assert!(follower > driver + 1.0, "{driver} {follower}");
    let difference = desk.report().figures.rods[0].follower_difference_deg;
    assert!(difference.is_some_and(|difference| difference > follower - driver));
    click(&mut window, "Remove this rod");
    assert!(project(&window).rods.is_empty());
    press(&mut window, CTRL, Key::Z);
    assert_eq!(project(&window).rods.len(), 1);
}

#[test]
fn drives_that_are_added_have_names_of_their_own_and_take_no_other_s() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    let first = project(&window).drives.len();
    click(&mut window, "Add a drive");
    click(&mut window, "Add a drive");
    let name = |window: &Window, index: usize| project(window).drives[index].name.clone();
    let wanted = name(&window, first);
    assert_eq!(name(&window, first + 1), format!("{wanted} 2"));
    enter(&mut window, "Name", &wanted);
    assert_eq!(name(&window, first + 1), format!("{wanted} 2"));
    let sentence = format!("Two drives are called “{wanted}”. Give each a name of its own.");
    assert!(window.query_by_label_contains(&sentence).is_some());
}

#[test]
fn a_route_is_proposed_taken_undone_and_locked() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    // A detour that no maker would draw.
    let index = window.state().desk().chosen_drive;
    let name = project(&window).drives[index].name.clone();
    click(&mut window, "Add a route point");
    enter(&mut window, "Route point 1: Height", "-20");
    enter(&mut window, "Route point 1: Forward", "-45");
    let bend = |window: &Window| {
        let drives = &window.state().desk().report().figures.drives;
        drives[index].bend_total_deg
    };
    let before = bend(&window);
    let drawn = project(&window).drives[index].via.clone();
    click(&mut window, "Propose a route");
    for _ in 0..600 {
        if window.state().desk().proposing.is_none() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
        window.run_steps(1);
    }
    window.run();
    let proposal = window.state().desk().proposal_of(index).cloned();
    let proposal = proposal.expect("an answer").expect("a way");
    click(&mut window, "Take this route");
    assert_eq!(project(&window).drives[index].via, proposal.via);
    assert!(window.state().desk().proposal_of(index).is_none());
    let after = bend(&window).expect("it can be laid");
    assert!(
        before.is_none_or(|before| after <= before + 1e-9),
        "{before:?} {after}"
    );
    press(&mut window, CTRL, Key::Z);
    assert_eq!(project(&window).drives[index].via, drawn);
    click(&mut window, "Lock this route");
    assert!(project(&window).drives[index].locked, "{name}");
    assert!(window.query_by_label("Propose a route").is_none());
}

#[test]
fn the_guard_is_turned_and_the_hand_measured() {
    let mut window = window();
    go_to(&mut window, Key::Num6);
    click(&mut window, "Its axis lies: level");
    assert_eq!(project(&window).hand.guard_axis, GuardAxis::X);
    enter(&mut window, "Hand thickness", "32");
    assert_eq!(project(&window).hand.thickness_mm, 32.0);
    enter(&mut window, "Centre of mass: Forward", "-4");
    assert_eq!(project(&window).hand.mass_centre[2], -4.0);
}

/// What a chart tells, "what: least to most over ...", from the first figure on.
fn told(window: &Window, what: &str) -> String {
    let start = format!("{what}: ");
    let chart = window.get_by_label_contains(&start);
    let label = chart.accesskit_node().label().expect("it has a name");
    label[start.len()..].to_owned()
}

/// The two ends of "least to most".
fn ends(range: &str) -> [f64; 2] {
    let (least, most) = range.split_once(" to ").expect("two ends");
    [least, most].map(|end| end.parse().expect("a number"))
}

/// The two ends of what a chart shows.
fn shown_by_chart(window: &Window, what: &str) -> [f64; 2] {
    let told = told(window, what);
    let (up, _) = told.split_once(" over ").expect("it says over what");
    ends(up)
}

#[test]
fn charts_of_a_drive_show_its_stroke_its_moment_arm_and_the_pull_along_its_sheath() {
    let mut window = window();
    go_to(&mut window, Key::Num5);
    let check = |window: &Window| {
        let index = window.state().desk().chosen_drive;
        let figures = &window.state().desk().report().figures.drives[index];
        let near = |found: f64, expected: f64| {
            assert!((found - expected).abs() < 0.06, "{found} {expected}");
        };
        let [least, most] = shown_by_chart(window, "wire out of the sheath");
        near(least, 0.0);
        near(most, figures.stroke_mm.unwrap());
        let [least, most] = shown_by_chart(window, "moment arm");
        near(least, 100.0 * figures.arm_share.unwrap());
        assert!(most <= 100.0);
        let [least, most] = shown_by_chart(window, "pull along the sheath");
        near(least, 100.0 / figures.pull_gain.unwrap());
        near(most, 100.0);
    };
    check(&window);
}

#[test]
fn the_chart_of_the_gaze_tells_what_a_finger_pulls_for_all_of_the_turn_and_for_half() {
    let mut gaze_first = project_of_gaze_drives("wimple");
    let drive = gaze_first.drives[0].clone();
    let Moves::Gaze {
        eye,
        turn: Turn::Side,
    } = drive.moves
    else {
        panic!("a side turn comes first");
    };
    assert_eq!(drive.near, End::Low);
    // The lever's tip turned about y by hand: a positive side turn takes what is forward toward +x.
    let Seat::Spherical { centre_height, .. } = gaze_first.parts_of(eye).seat else {
        panic!("a spherical seat");
    };
    let ([x, y, z], [cx, cy]) = (drive.tip, gaze_first.eyes[eye].centre);
    let tip = |side: f64| {
        let (sin, cos) = side.to_radians().sin_cos();
        [
            cx + x * cos + z * sin,
            cy + y,
            centre_height - x * sin + z * cos,
        ]
    };
    let apart = |a: [f64; 3], b: [f64; 3]| {
        let squares = a.iter().zip(b).map(|(a, b)| (a - b).powi(2));
        squares.sum::<f64>().sqrt()
    };
    let most = gaze_first.gaze.side.0;
    let [near, far] = [tip(-most), tip(most)];
    let chord = apart(near, far);
    let on_line = [0, 1, 2].map(|i| near[i] - drive.standoff * (far[i] - near[i]) / chord);
    // Far beside the line, the wire moves by much less at the near end of the turn than at the far one.
    let beside = [on_line[0], on_line[1] - 30.0, on_line[2]];
    for (stop, at) in [(None, on_line), (Some(beside), beside)] {
        gaze_first.drives[0].stop = stop;
        let mut window = window_on(gaze_first.clone(), START_SIZE);
        go_to(&mut window, Key::Num5);
        let told = told(&window, "gaze reached");
        let (_, pulled) = told.split_once(" over ").expect("it says over what");
        let (all, half) = pulled.split_once(", half of it at ").expect("and how far");
        let [start, end] = ends(all);
        let half: f64 = half.parse().expect("a number");
        let near_to = |found: f64, expected: f64| {
            assert!(
                (found - expected).abs() < 0.06,
                "{stop:?}: {found} {expected}"
            );
        };
        let figures = &window.state().desk().report().figures.drives[0];
        near_to(start, 0.0);
        near_to(end, figures.travel_mm.expect("it can be made"));
        near_to(end, apart(far, at) - apart(near, at));
        near_to(half, apart(far, at) - apart(tip(0.0), at));
    }
}

/// A sample without the cables of its lids.
fn project_of_gaze_drives(name: &str) -> Project {
    let sample = desk::samples::Sample::called(name).expect("there is such a sample");
    let mut project = sample.project();
    let gazes = |drive: &Drive| matches!(drive.moves, Moves::Gaze { .. });
    project.drives.retain(gazes);
    project
}
