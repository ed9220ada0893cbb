//! The list of findings.

use desk::window::step::Step;
use layout::eye::Carrier;
use layout::{Degrees, State};

use super::*;

/// What a finding's row is called.
fn row(window: &Window, index: usize) -> String {
    let finding = &window.state().desk().report().findings[index];
    format!("{}: {}", finding.state.word(), finding.sentence)
}

fn first(window: &Window, state: State) -> usize {
    let mut findings = window.state().desk().report().findings.iter();
    findings
        .position(|finding| finding.state == state)
        .expect("there is one")
}

#[test]
fn a_finding_that_is_clicked_is_framed_and_shows_the_step_that_mends_it() {
    let mut window = window_on_sample("nettle");
    let index = first(&window, State::Fouls);
    let step = Step::of(window.state().desk().report().findings[index].id);
    let name = row(&window, index);
    let rows: Vec<_> = window.get_all_by_label_contains(&name).collect();
    rows[0].click_accesskit();
    drop(rows);
    window.run();
    assert_eq!(window.state().desk().framed, Some(index));
    assert_eq!(window.state().desk().step, step);
}

#[test]
fn a_finding_is_reached_by_key() {
    let mut window = window_on_sample("nettle");
    let index = first(&window, State::Fouls);
    let name = row(&window, index);
    window
        .get_all_by_label_contains(&name)
        .next()
        .expect("a row")
        .focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(window.state().desk().framed, Some(index));
}

#[test]
fn every_finding_is_listed_once_what_is_clear_after_it_is_unfolded() {
    let mut project = Sample::called("nettle").unwrap().project();
    project.eyes[0].carrier = Some(Carrier {
        yaw: Degrees(4.0),
        pitch: Degrees(0.0),
        height: 0.0,
    });
    let mut window = window_on(project, desk::window::START_SIZE);
    let findings = window.state().desk().report().findings.clone();
    let count = |state| {
        findings
            .iter()
            .filter(|finding| finding.state == state)
            .count()
    };
    assert!(count(State::Fouls) > 0 && count(State::Clear) > 0 && count(State::NotChecked) > 0);
    let listed = |window: &Window, state: State| {
        window
            .query_all_by_label_contains(&format!("{}: ", state.word()))
            .count()
    };
    for state in [State::Fouls, State::Tight] {
        assert_eq!(listed(&window, state), count(state), "{state:?}");
    }
    assert_eq!(listed(&window, State::Clear), 0);
    click(&mut window, &format!("{} clear, show", count(State::Clear)));
    click(
        &mut window,
        &format!("{} not checked yet, show", count(State::NotChecked)),
    );
    for state in [State::Clear, State::NotChecked] {
        assert_eq!(listed(&window, state), count(state), "{state:?}");
    }
}

#[test]
fn the_bar_counts_the_worst_state() {
    let window = window_on_sample("nettle");
    let fouls = window
        .state()
        .desk()
        .report()
        .findings
        .iter()
        .filter(|f| f.state == State::Fouls)
        .count();
    assert!(says(
        &window,
        &if fouls == 1 {
            "1 foul".to_owned()
        } else {
            format!("{fouls} fouls")
        }
    ));
}

#[test]
fn a_figure_that_falls_short_by_less_than_is_shown_does_not_look_as_if_it_did_not() {
    let mut project = desk::samples::DEFAULT.project();
    // Its rim is 10 mm wide.
    project.limits.rim = Some((0.0, 10.001).into());
    let mut window = window_on(project, desk::window::START_SIZE);
    press(&mut window, CTRL, Key::Num3);
    assert!(says(&window, "< 10.0 / ≥ 10.0"));
}
