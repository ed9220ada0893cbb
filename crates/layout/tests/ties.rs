//! Ties: how long they are and how far their slots spread.

mod proposed;

use approx::assert_abs_diff_eq;
use geo::{ConvexHull, Distance, Euclidean, Intersects};
use layout::drive::End;
use layout::limits::{Rule, State};
use layout::ties::length::TieLength;
use layout::{Laid, evaluate_laid};

use crate::common::{Random, eye, finding, lidded_pair, pair};

#[test]
fn a_tie_goes_twice_through_plate_and_wall_and_leaves_head_and_tail() {
    let mut project = pair();
    // Worked by hand: a run of √(11² + 14²) = 17.804 mm, a plate and a wall of 3 mm each:
    // 2 × 23.804 + 35 = 82.609 mm, for which the usual 80 mm are too short.
    let of = |project: &layout::Project| TieLength::of(project, &project.ties[0]).unwrap();
    let length = of(&project);
    assert_abs_diff_eq!(length.run, 17.804, epsilon = 1e-3);
    assert_abs_diff_eq!(length.needed, 82.609, epsilon = 1e-3);
    assert_eq!(length.usual, Some(100.0));
    // A plate of 1.5 mm, and no run at all: 2 × 4.5 + 35 = 44 mm.
    project.plate.thickness = 1.5;
    project.ties[0].at = project.head.anchor_holes[0].at;
    assert_eq!(of(&project).needed, 44.0);
    assert_eq!(of(&project).usual, Some(80.0));
    // No tie is sold that long: 2 × (400 + 4.5) + 35 = 844 mm.
    project.ties[0].at[0] -= 400.0;
    assert_abs_diff_eq!(of(&project).needed, 844.0, epsilon = 1e-9);
    assert_eq!(of(&project).usual, None);
    project.ties[0].anchor = None;
    assert_eq!(TieLength::of(&project, &project.ties[0]), None);
    let report = layout::evaluate(&project);
    assert_eq!(
        report.figures.ties[0],
        layout::report::TieFigures::default()
    );
    // The same run as the first one had, through a plate of 1.5 mm: 79.609 mm.
    assert_eq!(report.figures.ties[1].tie_length_mm, Some(80.0));
}

#[test]
fn the_spread_is_that_of_the_hull_that_geo_finds() {
    let mut random = Random::new(71);
    let mut inside = 0;
    for _ in 0..200 {
        let mut project = pair();
        project.drives.clear();
        let count = 1 + random.below(7);
        let slot = project.ties[0];
        project.ties = (0..count)
            .map(|_| layout::tie::TieSlot {
                at: random.point(80.0).into(),
                ..slot
            })
            .collect();
        project.eyes = (0..1 + random.below(3))
            .map(|_| eye(random.point(40.0).into()))
            .collect();
        // A slot of 3.2 × 1.7 mm with corners of 0.7 mm, its long side upright: a rectangle of 1.8 × 0.3 mm, and
        // 0.7 mm round it.
        let shifts = [[0.15, 0.9], [-0.15, 0.9], [-0.15, -0.9], [0.15, -0.9]];
        let corners = project.ties.iter().flat_map(|slot| {
            let [x, y] = slot.at;
            shifts.map(|[across, up]| geo::coord! { x: x + across, y: y + up })
        });
        let hull = geo::MultiPoint::from(corners.collect::<Vec<_>>()).convex_hull();
        let room = |centre: [f64; 2]| {
            let centre = geo::Point::from(centre);
            let edge = Euclidean.distance(&centre, hull.exterior());
            0.7 + if hull.intersects(&centre) {
                edge
            } else {
                -edge
            }
        };
        let expected = project.eyes.iter().map(|eye| room(eye.centre));
        let expected = expected.fold(f64::INFINITY, f64::min);
        let report = evaluate_laid(&project, &Laid::out(&project));
        let spread = report.figures.plate.tie_spread_mm.unwrap();
        assert_abs_diff_eq!(spread, expected, epsilon = 1e-9);
        inside += usize::from(spread > 0.0);
    }
    assert!((20..180).contains(&inside), "{inside}");
}

#[test]
fn an_eye_beyond_the_slots_is_tight_and_never_fouls() {
    let mut project = pair();
    project.drives.clear();
    let spread = |project: &layout::Project, part: &str| {
        let report = layout::evaluate(project);
        let found = finding(&report, Rule::TieSpread, part);
        let value = found.value.expect("a spread has a figure");
        (found.state, value, found.sentence.clone())
    };
    // The slots, 3.2 mm high, stand at x = ±62, y = 16 and −24, the eyes at (±29, 0): 17.6 mm below the upper edge.
    let (state, value, sentence) = spread(&project, "left eye");
    assert_eq!(state, State::Clear);
    assert_abs_diff_eq!(value, 17.6, epsilon = 1e-9);
    assert_eq!(
        sentence,
        "The slots lie all round eyes and sheath stops; nearest to their edge is the left eye."
    );
    project.eyes[1].centre[1] = 20.0;
    let (state, value, sentence) = spread(&project, "right eye");
    assert_eq!(state, State::Tight);
    assert_abs_diff_eq!(value, -2.4, epsilon = 1e-9);
    assert_eq!(
        sentence,
        "The right eye lies beyond the slots: what pulls there can tip the plate."
    );
    // Both slots on one side hold nothing but what lies between them, from x = 61.15 mm on.
    project.ties = vec![project.ties[0], project.ties[2]];
    let (state, value, _) = spread(&project, "left eye");
    assert_eq!(state, State::Tight);
    assert_abs_diff_eq!(value, -90.15, epsilon = 1e-9);
    project.ties.clear();
    let report = layout::evaluate(&project);
    assert_eq!(report.figures.plate.tie_spread_mm, None);
}

#[test]
fn a_sheath_stop_counts_as_an_eye_does() {
    let mut project = lidded_pair();
    project.drives.remove(0);
    project.drives[0].near = End::Closed;
    project.drives[0].tip = [29.5, -12.0, 0.0];
    let laid = Laid::out(&project);
    let stop = laid.drives[0].pull.as_ref().unwrap().stop;
    let mut moved = project.clone();
    for slot in &mut moved.ties {
        // A slot is 1.7 mm wide.
        slot.at[0] *= (stop.x - 1.5 - 0.85) / 62.0;
    }
    let report = evaluate_laid(&moved, &Laid::out(&moved));
    let found = finding(&report, Rule::TieSpread, "sheath stop of the right lid");
    assert_abs_diff_eq!(found.value.unwrap(), -1.5, epsilon = 1e-9);
    assert_eq!(found.place[0], [stop.x, stop.y, 0.0]);
}
