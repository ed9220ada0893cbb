//! Points of the head outline, added, removed and refused.

use crate::{ROUNDING, bench, click, on_screen, place, press_and_move};
use desk::window::step::Step;
use egui::{Key, PointerButton};
use egui_kittest::kittest::Queryable;
use layout::closed_curve::CurveOf;
use layout::geometry::Point;
use layout::handle::Handle;

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
    let between = wall
        .iter()
        .min_by(|a, b| passes(a).total_cmp(&passes(b)))
        .copied()
        .expect("a wall");
    let at = on_screen(&harness, between.into());
    click(&mut harness, at, PointerButton::Primary);
    let outline = harness.state().desk.project().head.outline.clone();
    assert_eq!(outline.len(), before.len() + 1);
    assert_eq!(
        [outline[0], outline[2]],
        [before[0], before[1]],
        "it lies between them"
    );
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
    let room = |at: &Point| {
        points
            .iter()
            .map(|&point| (at - Point::from(point)).norm())
            .fold(f64::INFINITY, f64::min)
    };
    let freest = wall
        .iter()
        .max_by(|a, b| room(a).total_cmp(&room(b)))
        .copied()
        .expect("a wall");
    let at = on_screen(&harness, freest.into());
    click(&mut harness, at, PointerButton::Primary);
    let outline = &harness.state().desk.project().head.outline;
    assert_eq!(outline.len(), points.len() + 2);
    let added: Vec<_> = outline
        .iter()
        .filter(|point| !points.contains(point))
        .collect();
    assert!(
        (added[0][0] + added[1][0]).abs() < ROUNDING
            && (added[0][1] - added[1][1]).abs() < ROUNDING
    );
    harness.state_mut().desk.undo();
    assert_eq!(
        harness.state().desk.project(),
        &before,
        "both were one step"
    );
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
    assert_eq!(
        harness.state().desk.project().head.outline.len(),
        before - 1
    );
}

#[test]
fn a_refused_move_stays_at_the_last_good_place_and_says_why() {
    let mut harness = bench(Step::Head);
    harness.state_mut().desk.mirror = false;
    // Across the head, out through the other side: the outline would cross itself.
    let from = place(&harness, Handle::OutlinePoint(CurveOf::Head, 0));
    let across = on_screen(&harness, [-from[0] * 1.3, from[1]]) - on_screen(&harness, from);
    let at = press_and_move(&mut harness, "outline point 1", across);
    let desk = &harness.state().desk;
    let notice = desk.notice.as_ref().expect("a notice");
    assert!(
        notice.trouble && notice.text.contains("crosses itself"),
        "{}",
        notice.text
    );
    let stuck = place(&harness, Handle::OutlinePoint(CurveOf::Head, 0));
    assert!(
        stuck[0] > -from[0],
        "it is not where the pointer is: {stuck:?}"
    );
    assert!(harness.state().desk.project().check().is_ok());
    harness.drop_at(at);
    harness.run();
}
