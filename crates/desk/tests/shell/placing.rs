//! Slots that the window proposes.

use super::*;

/// Waits until slots were looked for.
fn wait(window: &mut Window) {
    for _ in 0..1_200 {
        window.run_steps(1);
        if !says(window, "Looking for places") {
            window.run();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    panic!("slots are still being looked for");
}

fn slots(window: &Window) -> Vec<layout::tie::TieSlot> {
    project(window).ties.clone()
}

#[test]
fn slots_are_proposed_beside_a_locked_pair_and_taken_in_one_step() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    window.get_by_label_contains("Slot 1, ").click_accesskit();
    window.run();
    click(&mut window, "Lock this slot");
    let before = slots(&window);
    let locked: Vec<bool> = before.iter().map(|slot| slot.locked).collect();
    assert_eq!(locked, [true, true, false, false], "the pair is locked");
    assert!(says(&window, "Usual tie"));
    enter(&mut window, "Ties in all", "6");
    click(&mut window, "Propose slots");
    wait(&mut window);
    assert!(says(&window, "Longest way to a hole"));
    assert_eq!(slots(&window), before, "nothing is changed yet");
    click(&mut window, "Take these slots");
    let after = slots(&window);
    assert_eq!(after.len(), 6);
    assert_eq!(after[..2], before[..2]);
    let report = window.state().desk().report();
    let about_slots = [
        "slot_edge",
        "slot_opening",
        "slot_gap",
        "hole_slot",
        "hardware",
    ];
    let mut found = report
        .findings
        .iter()
        .filter(|found| about_slots.contains(&found.id));
    assert!(found.all(|found| found.state == layout::State::Clear));
    assert!(!says(&window, "Take these slots"));
    press(&mut window, CTRL, Key::Z);
    assert_eq!(slots(&window), before);
}

#[test]
fn why_no_slots_are_proposed_is_told_with_its_figures() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num3);
    enter(&mut window, "Ties in all", "12");
    enter(&mut window, "Tie width", "40");
    click(&mut window, "Propose slots");
    wait(&mut window);
    assert!(says(
        &window,
        "There is no room for so many slots along the plate."
    ));
    assert!(says(&window, "Slots that have room"));
    // Another wish makes the answer void.
    enter(&mut window, "Ties in all", "2");
    assert!(!says(&window, "Slots that have room"));
    enter(&mut window, "Ties in all", "2.5");
    assert!(says(&window, "There is no part of a tie."));
}
