//! How much the eye's other turn draws on a cable.

use approx::assert_abs_diff_eq;
use layout::drive::{Moves, Turn};
use layout::limits::{Rule, State};
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::space::{Vector, add, length, less, lifted, scaled, to_side, unit};
use crate::common::{Random, finding, pair, side_of};

/// The pair with one gaze drive, of its right eye.
fn random_project(random: &mut Random) -> Project {
    let mut project = pair();
    project.drives.truncate(1);
    let drive = &mut project.drives[0];
    let turn = random.pick(&[Turn::Side, Turn::Lift]);
    drive.moves = Moves::Gaze { eye: 1, turn };
    drive.tip = [
        random.between(-20.0, 20.0),
        random.between(-20.0, 20.0),
        random.between(-60.0, -22.0),
    ];
    drive.standoff = random.between(0.5, 12.0);
    if random.one_in(3) {
        drive.stop = Some([29.0, 0.0, 4.0].map(|at| at + random.between(-60.0, 60.0)));
    }
    project.gaze.side = Degrees(random.between(2.0, 45.0));
    project.gaze.lift = Degrees(random.between(2.0, 45.0));
    project
}

fn tip(project: &Project, side: f64, lift: f64) -> Vector {
    let tip = project.drives[0].tip;
    add(to_side(lifted(tip, lift), side), [29.0, 0.0, 4.0])
}

/// Where the sheath stops; the pair's drives are near their high end.
fn stop(project: &Project, turn: Turn, most: f64) -> Vector {
    let at = |own| match turn {
        Turn::Side => tip(project, own, 0.0),
        Turn::Lift => tip(project, 0.0, own),
    };
    let (near, far) = (at(most), at(-most));
    let along = unit(less(far, near));
    let on_line = less(near, scaled(along, project.drives[0].standoff));
    project.drives[0].stop.unwrap_or(on_line)
}

#[test]
fn no_pose_draws_more_on_the_wire_than_is_said() {
    let mut random = Random::new(321);
    for _ in 0..80 {
        let project = random_project(&mut random);
        let Moves::Gaze { turn, .. } = project.drives[0].moves else {
            panic!("the drive turns an eye");
        };
        let angles = [project.gaze.side, project.gaze.lift].map(|turn| turn.0.to_radians());
        let [own, other] = match turn {
            Turn::Side => angles,
            Turn::Lift => [angles[1], angles[0]],
        };
        let stop = stop(&project, turn, own);
        let wire = |own, other| {
            let tip = match turn {
                Turn::Side => tip(&project, own, other),
                Turn::Lift => tip(&project, other, own),
            };
            length(less(tip, stop))
        };
        let mut most = 0.0_f64;
        for step in -100..=100 {
            let own = own * f64::from(step) / 100.0;
            for across in -100..=100 {
                let other = other * f64::from(across) / 100.0;
                most = most.max((wire(own, other) - wire(own, 0.0)).abs());
            }
        }
        let found = evaluate(&project).figures.drives[0].crosstalk_mm.unwrap();
        assert!(found >= most - 1e-6, "{found} {most}");
        assert_abs_diff_eq!(found, most, epsilon = 0.01);
    }
}

#[test]
fn turns_that_are_never_combined_draw_on_the_other_cable_at_rest_and_lids_on_none() {
    let mut project = pair();
    project.gaze.lift = Degrees(15.0);
    let figures = evaluate(&project).figures.drives;
    assert!(figures[0].crosstalk_mm.is_some());
    assert_eq!(figures[1].crosstalk_mm, None);
    let most = figures[0].crosstalk_mm.unwrap();
    project.gaze.together = false;
    // The eye looks straight ahead to its side while it lifts by as much as it may.
    let alone = evaluate(&project).figures.drives[0].crosstalk_mm.unwrap();
    let laid = Laid::out(&project);
    let pull = laid.drives[0].pull.as_ref().unwrap();
    let wire = |other: f64| (pull.tip_at(Pose { own: 0.0, other }) - pull.stop).norm();
    let turns = (-1_500..=1_500).map(|turn| (f64::from(turn) / 100.0).to_radians());
    let drawn = turns.map(|turn| (wire(turn) - wire(0.0)).abs());
    assert_abs_diff_eq!(alone, drawn.fold(0.0, f64::max), epsilon = 1e-6);
    assert!(alone > 0.1 && alone <= most, "{alone} {most}");
    project.gaze.together = true;
    project.gaze.lift = Degrees(0.0);
    assert_eq!(evaluate(&project).figures.drives[0].crosstalk_mm, None);
}

#[test]
fn a_cable_that_feels_the_other_turn_is_told_in_words() {
    let mut project = pair();
    project.drives.truncate(1);
    project.drives[0].moves = side_of(0);
    let said = |project: &Project| {
        let report = evaluate(project);
        let found = finding(&report, Rule::Crosstalk, "left gaze");
        (found.state, found.sentence.clone())
    };
    // A stalk straight behind the ball moves across its cable when the eye lifts a little.
    project.gaze.lift = Degrees(2.0);
    assert_eq!(
        said(&project),
        (
            State::Clear,
            "The cable of the left gaze hardly feels the eye's other turn.".to_owned()
        )
    );
    let at = |limit| {
        let mut project = project.clone();
        project.gaze.lift = Degrees(20.0);
        project.limits.crosstalk = Some(limit);
        said(&project)
    };
    let found = evaluate(&project).figures.drives[0].crosstalk_mm.unwrap();
    assert_eq!(
        at((1_000.0, found).into()),
        (
            State::Tight,
            "The eye's other turn draws a little on the cable of the left gaze.".to_owned()
        )
    );
    assert_eq!(
        at((found, found).into()),
        (
            State::Fouls,
            "The eye's other turn draws so much on the cable of the left gaze that it moves what the cable holds."
                .to_owned()
        )
    );
}
