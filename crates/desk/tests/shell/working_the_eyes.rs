//! "Work the eyes" in the window: its sliders, a blink, and a look that wanders.

use desk::window::START_SIZE;
use layout::Degrees;
use layout::drive::Moves;
use layout::lid::Which;
use layout::rod::Rod;

use super::*;

#[test]
fn the_slider_shuts_the_lids_and_changes_no_project() {
    let mut window = window();
    let lid = project(&window).parts.lids.unwrap().upper.unwrap();
    let slider = "lids";
    window
        .get_by_label(slider)
        .set_value_accesskit(lid.closed.0);
    window.run();
    assert!((window.state().desk().pose.shut - 1.0).abs() < 1e-9);
    window.get_by_label(slider).set_value_accesskit(90.0);
    window.run();
    assert!(window.state().desk().pose.shut.abs() < 1e-9);
    assert!(window.state().desk().history().is_saved());
}

/// What a slider tells beside its value.
fn note(window: &Window, slider: &str) -> String {
    let slider = window.get_by_label(slider);
    slider.accesskit_node().description().unwrap_or_default()
}

#[test]
fn the_slider_of_the_lids_marks_the_lid_that_meets_the_plate_first() {
    let mut project = desk::samples::DEFAULT.project();
    assert_eq!(note(&window_on(project.clone(), START_SIZE), "lids"), "");
    let mut told = |upper: f64, lower: f64| {
        let own = project.parts.lids.as_mut().expect("it has lids");
        own.upper.as_mut().expect("an upper one").extent = Degrees(upper);
        own.lower.as_mut().expect("a lower one").extent = Degrees(lower);
        note(&window_on(project.clone(), START_SIZE), "lids")
    };
    // A ball's centre 4 mm over the plate, a lid of 22.4 mm radius: its trailing edge is down at
    // acos(−4/22.4) = 100.29°. The lower lid has turned by 20.29° + 0.5° of its 36.5° then, and the upper one by as
    // much of its 33.5°, from −0.5°.
    let by_lower = "Held up at 18.6°. The lower lid meets the plate.";
    assert_eq!(told(63.0, 80.0), by_lower);
    // The upper one gets as far as 20.29°.
    assert_eq!(told(80.0, 80.0), by_lower);
    assert_eq!(
        told(80.0, 60.0),
        "Held up at 20.3°. The upper lid meets the plate."
    );
    // Already down when it is shut.
    assert_eq!(
        told(63.0, 140.0),
        "Held up at −0.5°. The lower lid meets the plate."
    );
}

#[test]
fn a_lid_that_follows_a_rod_stands_at_the_plate_where_its_slider_says() {
    let mut project = desk::samples::DEFAULT.project();
    let lower = |eye| Moves::Lid {
        eye,
        which: Which::Lower,
    };
    let own = project.parts.lids.as_mut().expect("it has lids");
    own.lower.as_mut().expect("a lower one").extent = Degrees(72.0);
    // Lids on one axis would turn as one.
    project.eyes[1].centre[1] = 12.0;
    project.rods.push(Rod {
        name: "lower lids".to_owned(),
        driver: lower(0),
        follower: lower(1),
        driver_tip: [25.0, 4.0, -14.0],
        follower_tip: [-25.0, 9.0, -17.0],
        diameter: 1.5,
    });
    let mut window = window_on(project, START_SIZE);
    press(&mut window, CTRL, Key::Num4);
    click(&mut window, "Chosen: right eye");
    let told = note(&window, "lids");
    let (at, who) = told.split_once(". ").expect("two sentences");
    assert_eq!(who, "The lower lid meets the plate.");
    let at = at.trim_start_matches("Held up at ").trim_end_matches('°');
    window
        .get_by_label("lids")
        .set_value_accesskit(at.parse().expect("a number"));
    window.run();
    let edge = window.state().desk().edge_of(1, Which::Lower).to_degrees();
    // 100.29° less its extent; the slider tells tenths.
    assert!((edge - 28.29).abs() < 0.1, "{edge}");
    let unguided = 36.0 - 36.5 * window.state().desk().pose.shut;
    assert!(
        (edge - unguided).abs() > 0.5,
        "the rod takes it along unevenly"
    );
}

#[test]
fn a_blink_shuts_the_lids_and_leaves_them_as_they_were() {
    let mut window = window();
    window.input_mut().time = Some(100.0);
    window.run();
    window.get_by_label("blink").click_accesskit();
    let mut at = |seconds: f64| {
        window.input_mut().time = Some(seconds);
        window.run_steps(1);
        window.state().desk().pose.shut
    };
    at(100.0);
    let half_way = at(100.125);
    assert!(half_way > 0.95, "{half_way}");
    at(100.5);
    window.run();
    assert_eq!(window.state().desk().pose.shut, 0.0);
    assert_eq!(window.state().desk().play, None);
}

#[test]
fn a_wandering_look_stays_within_the_gaze_and_ends_when_a_slider_is_worked() {
    let mut window = window();
    window.get_by_label("look around").click_accesskit();
    window.run_steps(200);
    let pose = window.state().desk().pose;
    let most = project(&window).gaze.side.radians();
    assert!(pose.side != 0.0 && pose.side.abs() <= most);
    window.get_by_label("side").set_value_accesskit(3.0);
    window.run_steps(3);
    assert_eq!(window.state().desk().play, None);
    window.run();
    assert!((window.state().desk().pose.side.to_degrees() - 3.0).abs() < 1e-9);
}

/// Lets a look wander for so many seconds, and gives side and lift at every quarter of one, degrees.
fn wandered(window: &mut Window, seconds: u32) -> Vec<[f64; 2]> {
    window.get_by_label("look around").click_accesskit();
    let mut at = |quarter: u32| {
        window.input_mut().time = Some(100.0 + f64::from(quarter) / 4.0);
        window.run_steps(1);
        let pose = window.state().desk().pose;
        [pose.side, pose.lift].map(f64::to_degrees)
    };
    (0..=4 * seconds).map(&mut at).collect()
}

#[test]
fn a_wandering_look_turns_as_the_character_does() {
    for (name, together, seconds) in [("wimple", false, 14), ("dame-sorrel", true, 9)] {
        let mut window = window_on_sample(name);
        let gaze = project(&window).gaze;
        assert_eq!(gaze.together, together);
        window.get_by_label("side").set_value_accesskit(12.0);
        window.run();
        let looks = wandered(&mut window, seconds);
        assert_eq!(
            looks[0].map(f64::round),
            [12.0, 0.0],
            "it starts where it is"
        );
        let both = { looks.iter() }.any(|[side, lift]| *side != 0.0 && *lift != 0.0);
        assert_eq!(both, together, "{name}");
        for (index, most) in [gaze.side.0, gaze.lift.0].into_iter().enumerate() {
            let turns = || looks.iter().map(|look| look[index]);
            let least = turns().fold(0.0, f64::min);
            let largest = turns().fold(0.0, f64::max);
            assert!(least < -0.9 * most && least >= -most, "{name} {least}");
            assert!(largest > 0.9 * most && largest <= most, "{name} {largest}");
        }
    }
}

#[test]
fn a_slider_lets_the_other_turn_go_where_the_character_never_uses_both() {
    let look = |window: &mut Window, slider: &str, degrees: f64| {
        window.get_by_label(slider).set_value_accesskit(degrees);
        window.run();
        let pose = window.state().desk().pose;
        [pose.side, pose.lift].map(|turn| (turn.to_degrees() * 1e6).round() / 1e6)
    };
    let mut window = window_on_sample("wimple");
    assert_eq!(look(&mut window, "side", 8.0), [8.0, 0.0]);
    assert_eq!(look(&mut window, "lift", 5.0), [0.0, 5.0]);
    assert_eq!(look(&mut window, "side", -3.0), [-3.0, 0.0]);
    let one_at_a_time = "One turn at a time: the other one goes back to 0.";
    for slider in ["side", "lift"] {
        assert_eq!(note(&window, slider), one_at_a_time);
    }
    click(&mut window, "Both turns at once");
    assert_eq!(look(&mut window, "lift", 5.0), [-3.0, 5.0]);
    assert_eq!(look(&mut window, "side", 8.0), [8.0, 5.0]);
    for slider in ["side", "lift"] {
        assert_eq!(note(&window, slider), "");
    }
    // What it looks like at the moment must be something that it does.
    click(&mut window, "Both turns at once");
    let pose = window.state().desk().pose;
    assert_eq!([pose.side.to_degrees().round(), pose.lift], [8.0, 0.0]);
}

#[test]
fn to_reach_a_slider_by_tab_stops_no_wandering_look() {
    let mut window = window();
    wandered(&mut window, 3);
    window.get_by_label("side").focus();
    window.run_steps(3);
    assert!(window.state().desk().play.is_some());
}
