//! Lids that lie over each other when shut, and the room for the ball beneath them.

use approx::assert_abs_diff_eq;
use layout::limits::{Rule, State};
use layout::{Degrees, Report, evaluate};

use crate::common::{Random, finding, lidded_pair};

/// The report of lids that reach so far beyond straight ahead when shut, degrees.
fn shut_at(upper: f64, lower: f64) -> Report {
    let mut project = lidded_pair();
    let lids = project.parts.lids.as_mut().expect("the pair has lids");
    lids.upper.as_mut().expect("an upper one").closed = Degrees(upper);
    lids.lower.as_mut().expect("and a lower one").closed = Degrees(lower);
    assert_eq!(project.check(), Ok(()));
    evaluate(&project)
}

#[test]
fn lids_that_run_far_over_each_other_are_tight_and_told_to_shut_less_far() {
    for (upper, lower, state, sentence) in [
        (
            -0.5,
            -0.5,
            State::Clear,
            "The shut lids of the left eye lie over each other by little.",
        ),
        (
            -5.0,
            0.0,
            State::Clear,
            "The shut lids of the left eye lie over each other by little.",
        ),
        (
            -5.1,
            0.0,
            State::Tight,
            "The shut lids of the left eye run far over each other. Let one of them shut less far.",
        ),
        (
            -40.0,
            -40.0,
            State::Tight,
            "The shut lids of the left eye run far over each other. Let one of them shut less far.",
        ),
    ] {
        let report = shut_at(upper, lower);
        let found = finding(&report, Rule::LidOverlap, "left eye");
        assert_eq!((found.state, found.sentence.as_str()), (state, sentence));
        assert_abs_diff_eq!(found.value.unwrap(), -(upper + lower), epsilon = 1e-9);
        let meeting = finding(&report, Rule::LidMeeting, "left eye");
        assert_abs_diff_eq!(meeting.value.unwrap(), upper + lower, epsilon = 1e-9);
    }
}

#[test]
fn lids_that_do_not_reach_each_other_or_stand_alone_overlap_nowhere() {
    let mut alone = lidded_pair();
    alone.parts.lids.as_mut().unwrap().lower = None;
    for report in [shut_at(2.0, 0.0), evaluate(&alone)] {
        let id = Rule::LidOverlap.info().id;
        assert!(report.findings.iter().all(|found| found.id != id));
    }
}

#[test]
fn the_largest_ball_turns_under_its_lids_where_it_leaves_some_of_their_gap() {
    let mut random = Random::new(124);
    let mut states = std::collections::HashSet::new();
    for _ in 0..300 {
        let mut project = lidded_pair();
        let gap = random.between(0.0, 1.0);
        project.parts.lids.as_mut().unwrap().gap = gap;
        project.parts.ball_plus = random.between(0.0, 1.2);
        // The ball's radius grows by half of what its diameter does.
        let largest = (project.parts.ball_diameter + project.parts.ball_plus) / 2.0;
        let left = project.parts.ball_diameter / 2.0 + gap - largest;
        let report = evaluate(&project);
        let found = finding(&report, Rule::LidBall, "right eye");
        assert_abs_diff_eq!(found.value.unwrap(), left, epsilon = 1e-9);
        let (state, sentence) = if left >= 0.1 {
            (
                State::Clear,
                "The largest ball turns freely under the lids of the right eye.",
            )
        } else if left >= 0.0 {
            (
                State::Tight,
                "The largest ball barely turns under the lids of the right eye. \
                 Give the lids a larger gap.",
            )
        } else {
            (
                State::Fouls,
                "The largest ball jams under the lids of the right eye. Give the lids a larger gap.",
            )
        };
        assert_eq!((found.state, found.sentence.as_str()), (state, sentence));
        states.insert(state.word());
    }
    assert_eq!(states.len(), 3);
}
