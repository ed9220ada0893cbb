//! Where things stand: nothing cut off, nothing on top of something else.

use desk::window::{LEAST_SIZE, START_SIZE};
use egui::Rect;

use super::*;

/// What can always be clicked, whatever is shown.
const ALWAYS: [&str; 10] = [
    "File",
    "Save",
    "Undo",
    "Redo",
    "Unit: mm",
    "Unit: in",
    "Light",
    "Dark",
    "Light or dark as the system",
    "Save sheet as PDF…",
];

fn rects(window: &Window) -> Vec<(String, Rect)> {
    let mut rects: Vec<_> = ALWAYS
        .iter()
        .map(|&name| (name.to_owned(), window.get_by_label(name).rect()))
        .collect();
    for step in [
        "Head, ", "Eyes, ", "Plate, ", "Lids, ", "Drives, ", "Hand, ", "Sheet, ",
    ] {
        rects.push((step.to_owned(), window.get_by_label_contains(step).rect()));
    }
    for text in [
        "Name: ",
        "Findings",
        "is / wants",
        " fouls",
        "From the front",
        "Side cut through",
    ] {
        let first = window.get_all_by_label_contains(text).next().expect(text);
        rects.push((text.to_owned(), first.rect()));
    }
    rects
}

#[test]
fn no_step_makes_the_column_at_the_right_wider_than_the_window_has_room_for() {
    for name in ["bramble", "wimple"] {
        let mut window = window_on_sample(name);
        let width = START_SIZE[0];
        for key in [
            Key::Num1,
            Key::Num2,
            Key::Num3,
            Key::Num4,
            Key::Num5,
            Key::Num6,
            Key::Num7,
        ] {
            press(&mut window, CTRL, key);
            let right = window.get_by_label_contains("is / wants").rect().right();
            assert!(right < width, "{name}, {key:?}: {right}");
        }
    }
}

#[test]
fn nothing_is_cut_off_or_covered_at_the_starting_and_at_the_least_size() {
    for size in [START_SIZE, LEAST_SIZE] {
        let window = window_on(Sample::called("nettle").unwrap().project(), size);
        let whole = Rect::from_min_size(egui::Pos2::ZERO, size.into());
        let rects = rects(&window);
        for (index, (name, rect)) in rects.iter().enumerate() {
            assert!(
                whole.contains_rect(*rect),
                "{name} at {rect:?} is cut off at {size:?}"
            );
            for (other, over) in &rects[index + 1..] {
                let common = rect.intersect(*over);
                let apart = common.width() <= 0.5 || common.height() <= 0.5;
                assert!(
                    apart,
                    "{name} at {rect:?} lies on {other} at {over:?}, {size:?}"
                );
            }
        }
    }
}

#[test]
fn a_long_name_pushes_nothing_away() {
    let mut project = desk::samples::DEFAULT.project();
    project.name = "W".repeat(layout::project::LONGEST_NAME);
    let window = window_on(project, LEAST_SIZE);
    let whole = Rect::from_min_size(egui::Pos2::ZERO, LEAST_SIZE.into());
    for name in ALWAYS {
        let rect = window.get_by_label(name).rect();
        assert!(whole.contains_rect(rect), "{name} at {rect:?} is cut off");
    }
}
