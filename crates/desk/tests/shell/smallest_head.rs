//! The smallest head for a plate, looked at and taken in the window.

use layout::limits::State;
use layout::plate::PlateOutline;
use layout::{Laid, evaluate};

use super::*;

const SWITCH: &str = "Smallest head for this plate";

#[test]
fn the_smallest_head_is_shown_in_words_and_taken_as_one_step() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    assert!(!says(&window, "Take as head outline"));
    click(&mut window, SWITCH);
    let before = project(&window).clone();
    let head = layout::smallest_head::smallest_head(&before, &Laid::out(&before)).unwrap();
    let [width, height] = head.size;
    assert!(says(&window, &format!("{width:.1} × {height:.1} mm")));
    click(&mut window, "Take as head outline");
    assert_eq!(project(&window).head.outline, head.points);
    assert!(says(&window, "The smallest head is the head outline now."));
    let report = evaluate(project(&window));
    let walls = [
        "plate_wall",
        "sweep_wall",
        "lid_wall",
        "lug_wall",
        "guard_wall",
    ];
    let own: Vec<_> = { report.findings.iter() }
        .filter(|finding| walls.contains(&finding.id))
        .collect();
    assert!(own.len() > walls.len());
    assert!(own.iter().all(|finding| finding.state == State::Clear));
    press(&mut window, CTRL, Key::Z);
    assert_eq!(*project(&window), before);
}

#[test]
fn anchor_holes_that_it_leaves_outside_are_told() {
    for (holes, told) in [
        (0, "head outline now."),
        (1, "One anchor hole lies outside it: move it."),
        (2, "Anchor holes lie outside it: move them."),
    ] {
        let mut project = desk::samples::DEFAULT.project();
        project.head.anchor_holes.truncate(2);
        for (index, hole) in project.head.anchor_holes.iter_mut().enumerate() {
            hole.at = if index < holes {
                [0.0, 200.0]
            } else {
                [0.0, 0.0]
            };
        }
        project.ties.clear();
        let mut window = window_on(project, desk::window::START_SIZE);
        press(&mut window, CTRL, Key::Num3);
        click(&mut window, SWITCH);
        click(&mut window, "Take as head outline");
        assert!(says(&window, told), "{told}");
        assert_eq!(says(&window, "outside it"), holes > 0);
    }
}

#[test]
fn it_follows_the_plate_and_says_why_there_is_none() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, SWITCH);
    let size = |window: &Window| {
        let desk = window.state().desk();
        desk.smallest.clone().unwrap().map(|head| head.size)
    };
    let before = size(&window).unwrap();
    enter(&mut window, "Rim", "20");
    let after = size(&window).unwrap();
    assert!(after[1] > before[1] + 5.0, "{before:?} {after:?}");
    // Switched off, nothing is kept.
    click(&mut window, SWITCH);
    assert!(window.state().desk().smallest.is_none());

    let mut project = desk::samples::DEFAULT.project();
    project.plate.outline = PlateOutline::HeadInset {
        bottom: 500.0,
        top: 510.0,
    };
    project.parts.lids = None;
    project.ties.clear();
    project.drives.clear();
    project.rods.clear();
    let mut window = window_on(project, desk::window::START_SIZE);
    press(&mut window, CTRL, Key::Num3);
    click(&mut window, SWITCH);
    assert!(says(&window, "There is no plate to build a head round."));
    assert!(!says(&window, "Take as head outline"));
}
