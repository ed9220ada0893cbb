//! What keeps an eye seated, against a ball that is really pushed forward.

use std::f64::consts::PI;

use approx::assert_abs_diff_eq;
use layout::drive::{Moves, Returns};
use layout::gaze::SeatedBy;
use layout::lid::{Lid, Lids};
use layout::limits::State;
use layout::{Degrees, Finding, Project, evaluate};

use crate::common::{Random, pair};

fn lids(gap: f64, upper: Option<f64>, lower: Option<f64>) -> Lids {
    let lid = |open| Lid {
        open: Degrees(open),
        closed: Degrees(-0.5),
        extent: Degrees(60.0),
    };
    Lids {
        gap,
        shell: 1.6,
        pivot_spacing: 52.0,
        pivot_hole: 3.2,
        lug_thickness: 3.0,
        lug_width: 10.0,
        lever_width: 5.0,
        upper: upper.map(lid),
        lower: lower.map(lid),
    }
}

/// A pair whose eyes no cable turns.
fn undriven() -> Project {
    let mut project = pair();
    project.drives.clear();
    project
}

fn finding(project: &Project) -> Finding {
    let report = evaluate(project);
    let found = report.findings.into_iter().find(|f| f.id == "seated");
    found.expect("every eye with a ring has a finding")
}

/// The largest step forward, in steps of a hundredth, at which no point of the lids' inner spheres
/// lies inside the ball.
fn pushed(radius: f64, lids: &Lids, most: f64) -> f64 {
    const STEP: f64 = 0.01;
    let inner = radius + lids.gap;
    let lids = [lids.upper, lids.lower].into_iter().flatten();
    let points: Vec<[f64; 2]> = lids
        .flat_map(|lid| {
            let (from, extent) = (lid.open.radians(), lid.extent.radians());
            (0..=2_000).map(move |k| {
                let angle = from + extent * f64::from(k) / 2_000.0;
                [inner * angle.cos(), inner * angle.sin()]
            })
        })
        .collect();
    let free = |forward: f64| {
        points
            .iter()
            .all(|[z, y]| (z - forward).hypot(*y) >= radius - 1e-9)
    };
    let mut forward = 0.0;
    while forward < most && free(forward + STEP) {
        forward += STEP;
    }
    forward.min(most)
}

#[test]
fn the_play_to_a_lid_is_where_a_pushed_ball_meets_it() {
    let mut random = Random::new(61);
    let mut stopped = 0;
    for _ in 0..300 {
        let mut project = undriven();
        project.seated_by = SeatedBy::Lids;
        let open = |random: &mut Random| {
            random
                .one_in(5)
                .then_some(())
                .map_or_else(|| Some(random.between(-20.0, 80.0)), |()| None)
        };
        let (upper, lower) = (open(&mut random), open(&mut random));
        let own = lids(random.between(0.2, 2.0), upper, lower);
        project.parts.lids = Some(own);
        let figures = &evaluate(&project).figures.eyes[0];
        let ring = figures.ring_play_mm.unwrap();
        let left = figures.play_left_mm.unwrap();
        let expected = pushed(20.0, &own, ring);
        assert_abs_diff_eq!(left, expected, epsilon = 0.02);
        stopped += usize::from(left < ring);
    }
    assert!(stopped > 100, "{stopped}");
}

#[test]
fn an_elastic_holds_with_three_times_the_weight_and_no_less() {
    let mut project = undriven();
    project.parts.eye_mass_g = Some(10.0);
    // 3 × 10 g × 9.80665 m/s² (standard gravity, 3rd CGPM, 1901; from memory).
    let needed = 0.294_199_5;
    assert_abs_diff_eq!(
        evaluate(&project).figures.eyes[0].pull_needed_n.unwrap(),
        needed,
        epsilon = 1e-12
    );
    for (pull_n, state) in [(needed + 1e-9, State::Clear), (needed - 1e-9, State::Fouls)] {
        project.seated_by = SeatedBy::Elastic { pull_n };
        assert_eq!(finding(&project).state, state);
    }
}

#[test]
fn an_elastic_must_hold_what_the_cables_pull_forward_too() {
    let needed = |project: &Project| {
        let figures = &evaluate(project).figures.eyes[0];
        figures.pull_needed_n.unwrap()
    };
    let mut project = pair();
    let drive = &project.drives[0];
    assert!(matches!(drive.moves, Moves::Gaze { eye: 0, .. }));
    // By turning the tip: r = 30 mm, 22° to both sides, the stop 3 mm before the near end.
    let turn = 22_f64.to_radians();
    let (r, torque) = (30.0, drive.torque_nmm);
    let stop = [r * turn.sin() + 3.0, -r * turn.cos()];
    let mut most = 0.0_f64;
    for step in -2_000..=2_000 {
        let angle = turn * f64::from(step) / 2_000.0;
        let tip = [r * angle.sin(), -r * angle.cos()];
        let wire = [stop[0] - tip[0], stop[1] - tip[1]];
        most = most.max(wire[1] / wire[0].hypot(wire[1]));
    }
    let forward = most * torque / (r * turn.cos());
    let added = needed(&project) - needed(&undriven());
    assert_abs_diff_eq!(added, forward, epsilon = 1e-6);
    for (pull_n, state) in [(0.5, State::Clear), (0.2, State::Fouls)] {
        project.seated_by = SeatedBy::Elastic { pull_n };
        assert_eq!(finding(&project).state, state, "{pull_n} N");
    }
    // A wire that pushes pulls the eye forward on its way back, too.
    project.drives[0].returns = Some(Returns::Push);
    assert!(needed(&project) - needed(&undriven()) >= added);
}

#[test]
fn little_play_is_clear_whatever_holds_the_eye_and_much_is_tight_only_if_the_ring_clears() {
    let mut project = undriven();
    project.seated_by = SeatedBy::Nothing;
    // At rest the ring's play is more than its clearance at any tilt.
    assert_eq!(finding(&project).state, State::Fouls);
    project.gaze.side = Degrees(0.0);
    let found = finding(&project);
    assert_eq!(found.state, State::Tight);
    assert_abs_diff_eq!(found.value.unwrap(), 8.6, epsilon = 1e-9);
    project.parts.ring.depth = 7.9;
    project.parts.ring.outer_diameter = 44.0;
    assert_eq!(finding(&project).state, State::Clear);
}

#[test]
fn an_unweighed_eye_is_a_hollow_ball_and_a_printed_ring() {
    let project = undriven();
    let ring = project.parts.ring_fit(project.plate.thickness).unwrap();
    // The ring's volume as a stack of thin rings.
    let (depth, thickness, slices) = (15.6, 2.4, 20_000);
    let stacked: f64 = (0..slices)
        .map(|slice| {
            let behind = thickness * (f64::from(slice) + 0.5) / f64::from(slices);
            let outer = 20.25 - f64::max(1.8 - behind, 0.0);
            let bore = 400.0 - (depth + behind) * (depth + behind);
            PI * (outer * outer - bore) * thickness / f64::from(slices)
        })
        .sum();
    assert_abs_diff_eq!(ring.volume(), stacked, epsilon = 1e-3);
    // ITTF Laws 2.03.01 and 2.03.02: 40 mm, 2.7 g. PLA, 1.24 g/cm³, from memory.
    assert_abs_diff_eq!(
        project.parts.eye_mass(&ring),
        2.7 + stacked * 1.24e-3,
        epsilon = 1e-5
    );
}

/// What the finding of the left eye says.
fn says(project: &Project) -> String {
    finding(project).sentence
}

#[test]
fn the_sentence_names_what_takes_the_play_up_and_where_the_eye_stops() {
    let mut project = undriven();
    project.seated_by = SeatedBy::Elastic { pull_n: 5.0 };
    assert_eq!(
        says(&project),
        "The elastic holds the left eye in its seat."
    );
    project.seated_by = SeatedBy::Elastic { pull_n: 0.0 };
    assert_eq!(
        says(&project),
        "The elastic pulls too little to hold the left eye: it can move too far forward before the plate stops its ring."
    );
    project.seated_by = SeatedBy::Nothing;
    assert_eq!(
        says(&project),
        "Nothing holds the left eye in its seat: it can move too far forward before the plate stops its ring."
    );
    project.gaze.side = Degrees(0.0);
    assert_eq!(
        says(&project),
        "Nothing holds the left eye in its seat: it can move forward until the plate stops its ring, and its ring still clears the plate when it turns."
    );
}

#[test]
fn with_lids_the_sentence_tells_a_lid_from_the_plate() {
    let mut project = undriven();
    project.seated_by = SeatedBy::Lids;
    project.parts.lids = Some(lids(0.5, Some(30.0), None));
    assert_eq!(says(&project), "The lids keep the left eye seated.");
    project.parts.lids = Some(lids(0.5, Some(76.0), None));
    assert_eq!(
        says(&project),
        "The lids leave the left eye much play: it can move too far forward before a lid stops it."
    );
    project.gaze.side = Degrees(0.0);
    assert_eq!(
        says(&project),
        "The lids leave the left eye much play: it can move forward until a lid stops it, and its ring still clears the plate when it turns."
    );
    project = Project {
        gaze: undriven().gaze,
        ..project
    };
    project.parts.lids = None;
    assert_eq!(
        says(&project),
        "No lid reaches far enough over the left eye to hold it: it can move too far forward before the plate stops its ring."
    );
}
