//! Finding a ring from the fields of the eyes.

use super::*;

#[test]
fn find_a_ring_takes_the_one_with_less_play_that_still_clears_as_one_step() {
    let mut window = window();
    let before = project(&window).parts.ring;
    click(&mut window, "Find a ring");
    let eye = window.state().desk().report().figures.eyes[0].clone();
    assert!(eye.ring_clearance_mm.unwrap() >= 0.4 - 1e-6);
    assert!(eye.retention_overlap_mm.unwrap() >= 1.0 - 1e-6);
    assert!(project(&window).parts.ring.depth < before.depth);
    assert!(says(&window, "This ring leaves "));
    assert_eq!(window.state().desk().history().undo_label(), Some("ring"));
    click(&mut window, "Find a ring");
    assert!(says(&window, "No ring leaves less play than "));
    click(&mut window, "Undo");
    assert_eq!(project(&window).parts.ring, before);
}

#[test]
fn where_no_ring_is_found_the_notice_says_what_would_make_room() {
    let mut window = window();
    enter(&mut window, "Turns to the side", "30");
    let before = project(&window).clone();
    click(&mut window, "Find a ring");
    assert_eq!(*project(&window), before);
    assert!(says(
        &window,
        "No ring both holds this eye and clears the plate at the working tilt. One of these makes \
         room: turn at most 28.0°, or make the plate 1.92 mm thick, or put the ball's centre \
         2.92 mm above the face."
    ));
}

#[test]
fn what_a_found_ring_mends_and_what_it_breaks_is_told() {
    let mut window = window();
    // A ring that turns too little: the found one leaves more play for more turn.
    enter(&mut window, "Ring depth", "10");
    let before = window.state().desk().report().clone();
    click(&mut window, "Find a ring");
    let after = window.state().desk().report();
    let better = |pair: &(&layout::Finding, &layout::Finding)| pair.1.state < pair.0.state;
    let count = { before.findings.iter() }
        .zip(&after.findings)
        .filter(better)
        .count();
    assert!(count > 1, "{count}");
    assert!(says(
        &window,
        &format!("{count} findings are better than before.")
    ));
}
