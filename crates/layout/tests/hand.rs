//! Room for the hand, how thick hands are, and what the head weighs upon it.

use std::f64::consts::TAU;

use approx::assert_abs_diff_eq;
use geo::{Contains, Distance, Euclidean};
use layout::hand::{GuardAxis, HAND_THICKNESS, Percentile};
use layout::limits::{Rule, State};
use layout::{Project, evaluate};

use crate::common::{Random, finding, pair, star};

#[test]
fn the_hand_has_what_plate_and_guard_leave_of_the_cavity() {
    let mut project = pair();
    let report = evaluate(&project);
    // 95 mm of cavity, 3 mm of plate, the guard 18 + 24 mm deep, a hand of 38 mm.
    assert_eq!(report.figures.hand.hand_room_mm, Some(50.0));
    let found = finding(&report, Rule::HandRoom, "hand");
    assert_eq!((found.value, found.state), (Some(12.0), State::Clear));
    for (thickness, state) in [
        (45.0, State::Clear),
        (45.1, State::Tight),
        (50.0, State::Tight),
        (50.1, State::Fouls),
    ] {
        project.hand.thickness_mm = thickness;
        let report = evaluate(&project);
        assert_eq!(finding(&report, Rule::HandRoom, "hand").state, state);
    }
}

/// The guard of 40 × 60 mm about the origin in a head that is 100 mm wide and reaches from −60 to 80 mm.
fn guard_in_a_box(axis: GuardAxis) -> Project {
    let mut project = pair();
    project.head.smooth = false;
    project.head.outline = vec![[50.0, 80.0], [-50.0, 80.0], [-50.0, -60.0], [50.0, -60.0]];
    project.hand.guard_axis = axis;
    (project.hand.guard_chord, project.hand.guard_bow) = (40.0, 8.0);
    project.hand.guard_length = 60.0;
    project
}

#[test]
fn the_guard_fits_inside_the_head_whichever_way_its_axis_lies() {
    // Along y it is 40 mm wide and 60 mm high, along x the other way round.
    for (axis, room) in [(GuardAxis::Y, 30.0), (GuardAxis::X, 20.0)] {
        let report = evaluate(&guard_in_a_box(axis));
        let found = finding(&report, Rule::GuardWall, "guard");
        assert_abs_diff_eq!(found.value.unwrap(), room, epsilon = 1e-9);
        assert_eq!(found.sentence, "The guard fits inside the head.");
    }
    for (length, state, sentence) in [
        (116.0, State::Clear, "The guard fits inside the head."),
        (
            116.1,
            State::Tight,
            "The guard comes near the head's wall. Make it narrower or shorter.",
        ),
        (
            120.1,
            State::Fouls,
            "The guard is too large for the head and runs into its wall. Make it narrower or shorter.",
        ),
    ] {
        let mut project = guard_in_a_box(GuardAxis::Y);
        project.hand.guard_length = length;
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardWall, "guard");
        assert_eq!((found.state, found.sentence.as_str()), (state, sentence));
        assert_abs_diff_eq!(found.value.unwrap(), 60.0 - length / 2.0, epsilon = 1e-4);
    }
}

#[test]
fn the_guard_keeps_from_any_wall_what_places_along_its_edge_do() {
    /// Distance between places that are looked at, mm.
    const STEP: f64 = 0.05;
    let mut random = Random::new(123);
    let (mut fits, mut fouls) = (0, 0);
    for _ in 0..100 {
        let mut project = guard_in_a_box(random.pick(&[GuardAxis::X, GuardAxis::Y]));
        let points = 5 + random.below(12);
        project.head.outline = star(&mut random, points, 40.0, 90.0);
        project.hand.guard_chord = random.between(20.0, 130.0);
        project.hand.guard_length = random.between(20.0, 130.0);
        let ring: geo::LineString = project.head.outline.iter().map(|&[x, y]| (x, y)).collect();
        let wall = geo::Polygon::new(ring, Vec::new());
        let hand = &project.hand;
        let (x, y) = match hand.guard_axis {
            GuardAxis::X => (hand.guard_length / 2.0, hand.guard_chord / 2.0),
            GuardAxis::Y => (hand.guard_chord / 2.0, hand.guard_length / 2.0),
        };
        let mut least = f64::INFINITY;
        let mut look = |x: f64, y: f64| {
            let place = geo::Point::new(x, y);
            let distance = Euclidean.distance(&place, wall.exterior());
            least = least.min(if wall.contains(&place) {
                distance
            } else {
                -distance
            });
        };
        for side in [-1.0, 1.0] {
            let mut at = -1.0;
            while at <= 1.0 {
                look(side * x, at * y);
                look(at * x, side * y);
                at += STEP / x.max(y);
            }
        }
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardWall, "guard").value.unwrap();
        assert_abs_diff_eq!(found, least, epsilon = STEP);
        assert!(found <= least + 1e-3, "{found} {least}");
        fits += u32::from(found > 0.0);
        fouls += u32::from(found < 0.0);
    }
    assert!(fits > 15 && fouls > 15, "{fits} {fouls}");
}

#[test]
fn the_guard_covers_what_the_rings_sweep_or_is_tight() {
    /// Places that are looked at round a sweep.
    const PLACES: u32 = 3600;
    let mut random = Random::new(2_031);
    let (mut covers, mut leaves) = (0, 0);
    for _ in 0..60 {
        let mut project = guard_in_a_box(random.pick(&[GuardAxis::X, GuardAxis::Y]));
        project.hand.guard_chord = random.between(20.0, 220.0);
        project.hand.guard_length = random.between(20.0, 220.0);
        let hand = &project.hand;
        let (across, along) = (hand.guard_chord / 2.0, hand.guard_length / 2.0);
        let half = match hand.guard_axis {
            GuardAxis::X => [along, across],
            GuardAxis::Y => [across, along],
        };
        let report = evaluate(&project);
        for (index, eye) in project.eyes.iter().enumerate() {
            // No lever stands out farther than the rings of this pair.
            let reach = report.figures.eyes[index].sweep_reach_mm.unwrap();
            let left = (0..PLACES).map(|place| {
                let (sin, cos) = (f64::from(place) * TAU / f64::from(PLACES)).sin_cos();
                let at = [eye.centre[0] + reach * cos, eye.centre[1] + reach * sin];
                let beyond = [0, 1].map(|axis| at[axis].abs() - half[axis]);
                let inside = beyond[0].max(beyond[1]);
                if inside <= 0.0 {
                    -inside
                } else {
                    -beyond[0].max(0.0).hypot(beyond[1].max(0.0))
                }
            });
            let least = left.fold(f64::INFINITY, f64::min);
            let found = finding(&report, Rule::GuardCover, &project.eye_name(index));
            assert_abs_diff_eq!(found.value.unwrap(), least, epsilon = 1e-3);
            let state = if least < 0.0 {
                State::Tight
            } else {
                State::Clear
            };
            assert_eq!(found.state, state);
            covers += u32::from(least > 0.0);
            leaves += u32::from(least < 0.0);
        }
    }
    assert!(covers > 10 && leaves > 10, "{covers} {leaves}");
}

#[test]
fn a_hand_s_percentile_is_found_between_those_that_are_known() {
    // ANSUR II (Gordon et al., Natick/TR-15/007, 2014), circumference and breadth of each person
    // taken as a stadium; computed: men 25.4, 31.5, 37.7 and women 21.0, 26.3, 32.4 mm.
    let [men, women] = &HAND_THICKNESS;
    assert_eq!(men.percentiles, [25.4, 31.5, 37.7]);
    assert_eq!(women.percentiles, [21.0, 26.3, 32.4]);
    for group in &HAND_THICKNESS {
        let at = |thickness| group.percentile(thickness);
        for (thickness, share) in group.percentiles.into_iter().zip([5.0, 50.0, 95.0]) {
            assert_eq!(at(thickness), Percentile::About(share));
        }
        assert_eq!(at(group.percentiles[0] - 0.1), Percentile::Below5);
        assert_eq!(at(group.percentiles[2] + 0.1), Percentile::Above95);
        let mut last = 0.0;
        for step in 0..=100 {
            let [low, _, high] = group.percentiles;
            let thickness = low + (high - low) * f64::from(step) / 100.0;
            if let Percentile::About(share) = at(thickness.min(high)) {
                assert!(share > last, "{share} {last}");
                last = share;
            }
        }
    }
    // Means that were measured: men 32.9, women 27.6 mm (Garrett 1970, AMRL-TR-69-42, as
    // reported). The estimate puts both near the middle.
    for (group, mean) in HAND_THICKNESS.iter().zip([32.9, 27.6]) {
        let Percentile::About(share) = group.percentile(mean) else {
            panic!("{mean} lies between the known percentiles");
        };
        assert!((40.0..65.0).contains(&share), "{share}");
    }
}

#[test]
fn a_hand_is_compared_in_words() {
    let mut hand = pair().hand;
    assert_eq!(
        hand.thickness_words(),
        "thicker than the hands of more than 95 in 100 men and more than 95 in 100 women, \
         by an estimate"
    );
    hand.thickness_mm = 31.5;
    assert_eq!(
        hand.thickness_words(),
        "thicker than the hands of about 50 in 100 men and about 88 in 100 women, by an estimate"
    );
    hand.thickness_mm = 20.0;
    assert!(hand.thickness_words().contains("fewer than 5 in 100 men"));
}

#[test]
fn the_two_reactions_carry_the_head_and_turn_it_neither_way() {
    let mut random = Random::new(91);
    let mut tipping = 0;
    for _ in 0..200 {
        let mut project = pair();
        project.hand.head_mass_g = random.between(0.0, 2_000.0);
        project.hand.mass_centre[2] = random.between(-120.0, 60.0);
        project.hand.guard_edge = random.between(0.0, 30.0);
        let report = evaluate(&project);
        let figures = &report.figures.hand;
        // Standard gravity, 9.80665 m/s² (3rd CGPM, 1901; from memory).
        let weight = project.hand.head_mass_g / 1e3 * 9.806_65;
        // The balls' fronts stand 4 + 20 mm before the plate; guard and back face behind it.
        let guard = -3.0 - project.hand.guard_edge - 24.0;
        for (front, rear, behind) in [
            (figures.hand_front_n, figures.hand_rear_n, guard),
            (figures.bare_front_n, figures.bare_rear_n, -3.0),
        ] {
            let (front, rear) = (front.unwrap(), rear.unwrap());
            assert_abs_diff_eq!(front + rear, weight, epsilon = 1e-9);
            let about = |place: f64, force: f64| force * (place - project.hand.mass_centre[2]);
            let turning = about(24.0, front) + about(behind, rear);
            assert_abs_diff_eq!(turning, 0.0, epsilon = 1e-9);
        }
        let tips = figures.hand_rear_n.unwrap() < 0.0;
        assert_eq!(figures.hand_rear_kpa.is_none(), tips);
        // A side that the head lifts off fouls: it hangs before the fingers, or behind the pad.
        let mass = project.hand.mass_centre[2];
        for (part, beyond) in [("pad", mass > 24.0), ("fingers", mass < guard)] {
            let found = finding(&report, Rule::HandBalance, part);
            assert_eq!(found.state == State::Fouls, beyond, "{part} at {mass}");
        }
        tipping += u32::from(tips);
    }
    assert!(tipping > 10, "{tipping}");
}

#[test]
fn a_pad_spreads_what_the_plate_s_edge_would_press_with() {
    let figures = evaluate(&pair()).figures.hand;
    let (front, rear) = (figures.hand_front_n.unwrap(), figures.hand_rear_n.unwrap());
    // 420 g, 4 mm behind the fingers and 65 mm before the pad.
    assert_abs_diff_eq!(rear, 0.42 * 9.806_65 * 4.0 / 69.0, epsilon = 1e-9);
    // Four fingertips of 16 mm (Garrett 1970, as reported); a hand 88 mm broad (ANSUR II, computed) on
    // a mesh 70 mm high; and across the edge of a plate of 3 mm.
    assert_abs_diff_eq!(
        figures.hand_front_kpa.unwrap(),
        front / (4.0 * 16.0 * 16.0) * 1e3,
        epsilon = 1e-9
    );
    assert_abs_diff_eq!(
        figures.hand_rear_kpa.unwrap(),
        rear / (88.0 * 70.0) * 1e3,
        epsilon = 1e-9
    );
    assert_abs_diff_eq!(
        figures.bare_rear_kpa.unwrap(),
        figures.bare_rear_n.unwrap() / (88.0 * 3.0) * 1e3,
        epsilon = 1e-9
    );
    assert!(figures.bare_rear_kpa > figures.hand_rear_kpa.map(|pad| 10.0 * pad));
}
