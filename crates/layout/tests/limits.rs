//! The rules and their limits.

use std::collections::HashSet;

use layout::limits::{Limits, Rule, Sense, State, TOLERANCE};

const WEB: &str = "web at least as wide as the sheet is thick, as reported";

/// Starting values as they were agreed on, for a plate of 3 mm: id, least, wanted, source.
const STARTING: &[(&str, f64, f64, &str)] = &[
    ("plate_wall", 0.0, 2.0, "own choice"),
    ("lug_wall", 0.0, 2.0, "own choice"),
    ("lid_wall", 0.0, 2.0, "own choice"),
    ("sweep_wall", 0.0, 2.0, "own choice"),
    (
        "ring_clearance",
        0.0,
        0.4,
        "moving fit of printed parts, as reported",
    ),
    ("retention_overlap", 0.5, 1.0, "own choice"),
    ("ball_gap", 0.0, 1.0, "own choice"),
    ("lid_gap", 0.0, 1.0, "own choice"),
    ("lug_gap", 0.0, 1.0, "own choice"),
    ("sweep_gap", 0.0, 1.0, "own choice"),
    ("opening_ligament", 1.0, 3.0, WEB),
    ("rim", 1.0, 3.0, WEB),
    ("slot_opening", 1.0, 3.0, WEB),
    ("slot_edge", 1.0, 3.0, WEB),
    ("slot_gap", 1.0, 3.0, WEB),
    ("lug_slot", 0.0, 2.0, "own choice"),
    (
        "lug_lid_gap",
        0.0,
        0.4,
        "moving fit of printed parts, as reported",
    ),
    (
        "boss_plate",
        0.0,
        0.4,
        "moving fit of printed parts, as reported",
    ),
    (
        "lever_plate",
        0.0,
        0.4,
        "moving fit of printed parts, as reported",
    ),
    ("lid_plate", 0.0, 1.0, "own choice"),
    ("bracket", f64::INFINITY, 25.0, "own choice"),
    ("hardware", 0.0, 1.0, "own choice"),
    ("tie_spread", f64::NEG_INFINITY, 0.0, "own choice"),
    ("lid_meeting", 0.0, -1.0, "own choice"),
    ("standoff", 10.0, 3.0, "common practice, no source"),
    ("pull_error", 25.0, 12.0, "common practice, no source"),
    ("lead", 10.0, 15.0, "common practice, no source"),
    (
        "bend_radius",
        70.0,
        100.0,
        "a component maker's rule for push-pull wire, as reported",
    ),
    ("push_safety", 1.0, 2.0, "own choice"),
    (
        "hand_force",
        18.0,
        9.0,
        "a military standard on controls, as reported; half is wanted",
    ),
    // Levers that stand beside what shares their axis; a head that rests on both supports; a sweep within the cavity.
    (
        "lever_beside",
        0.0,
        0.4,
        "moving fit of printed parts, as reported",
    ),
    ("hand_balance", 0.0, 0.0, "statics"),
    ("sweep_back", 0.0, 2.0, "own choice"),
    // A drive and a route that can be; turns without a cable; what a sheath keeps from everything
    // along its whole length: least from the plate, whose hole leads it.
    ("drive_shape", 0.0, 0.0, "geometry"),
    ("route_shape", 0.0, 0.0, "geometry"),
    ("undriven", f64::INFINITY, 0.0, "own choice"),
    // How much one turn draws on the other's cable; a rod that works, how far what follows falls out of
    // step, and how square the rod stands to its lever.
    ("crosstalk", 4.0, 1.5, "own choice"),
    ("rod_shape", 0.0, 0.0, "geometry"),
    ("rod_follow", 5.0, 2.0, "own choice"),
    (
        "rod_angle",
        30.0,
        45.0,
        "handbook rule of thumb, from memory",
    ),
    ("rod_clear", 0.0, 1.0, "own choice"),
    ("wire_clear", 0.0, 0.5, "own choice"),
    ("sheath_plate", 0.0, 0.2, "own choice"),
    ("sheath_ball", 0.0, 1.0, "own choice"),
    ("sheath_ring", 0.0, 1.0, "own choice"),
    ("sheath_lid", 0.0, 1.0, "own choice"),
    ("sheath_lever", 0.0, 1.0, "own choice"),
    ("sheath_wall", 0.0, 1.0, "own choice"),
    ("sheath_gap", 0.0, 0.5, "own choice"),
    ("hole_opening", 1.0, 3.0, WEB),
    ("hole_slot", 1.0, 3.0, WEB),
    ("hole_edge", 1.0, 3.0, WEB),
    ("lug_hole", 0.0, 2.0, "own choice"),
    ("hole_gap", 1.0, 3.0, WEB),
    ("guard_clearance", 0.0, 3.0, "own choice"),
    ("hand_room", 0.0, 5.0, "own choice"),
    // A ring that can be made; half of what a ball may be larger by, plus 0.1 mm; a way in that is not exceeded.
    ("ring_shape", 0.0, 0.0, "geometry"),
    // Lids and pivots that can be made; room for the fastener and round it; the ball bare behind a shut
    // lid; a guard bent as far as a half-circle at most, whose edges keep off the sweeps like the rest of it.
    ("lid_shape", 0.0, 0.0, "geometry"),
    ("pivot_plate", 0.0, 1.5, "own choice"),
    ("pivot_lug", 1.0, 3.0, "own choice"),
    ("bare_ball", f64::INFINITY, 1.0, "own choice"),
    ("guard_edge", 0.0, 3.0, "own choice"),
    ("guard_shape", 0.0, 0.0, "geometry"),
    // A guard inside the head like the plate; lids that overlap by what closes them and no more, and clear the
    // largest ball like its seat; nothing for the audience to see.
    ("guard_wall", 0.0, 2.0, "own choice"),
    ("guard_cover", f64::NEG_INFINITY, 0.0, "own choice"),
    ("lid_overlap", f64::INFINITY, 5.0, "own choice"),
    ("lid_ball", 0.0, 0.1, "own choice"),
    ("in_front", f64::INFINITY, 0.0, "own choice"),
    // What keeps an eye seated.
    ("seated", f64::INFINITY, 1.0, "own choice"),
    ("running_clearance", 0.0, 0.1, "own choice"),
    ("access", 0.0, 0.0, "own choice"),
];

fn named(id: &str) -> Rule {
    let named = |rule: &&Rule| rule.info().id == id;
    *Rule::ALL.iter().find(named).expect("the rule exists")
}

#[test]
fn every_rule_has_an_id_of_its_own_a_label_and_a_source() {
    let ids: HashSet<_> = Rule::ALL.iter().map(|rule| rule.info().id).collect();
    assert_eq!(ids.len(), Rule::ALL.len());
    for rule in Rule::ALL {
        let info = rule.info();
        assert!(
            !info.label.is_empty() && !info.source.is_empty(),
            "{}",
            info.id
        );
    }
}

#[test]
fn starting_limits_are_those_of_the_design() {
    let limits = Limits::default();
    for &(id, least, wanted, source) in STARTING {
        let rule = named(id);
        let limit = limits.of(rule, 3.0);
        assert_eq!((limit.least, limit.wanted), (least, wanted), "{id}");
        assert_eq!(rule.info().source, source, "{id}");
    }
    assert_eq!(STARTING.len(), Rule::ALL.len());
}

#[test]
fn webs_are_wanted_as_wide_as_the_plate_is_thick_and_at_least_three_millimetres() {
    let limits = Limits::default();
    for id in [
        "opening_ligament",
        "rim",
        "slot_opening",
        "slot_edge",
        "slot_gap",
        "hole_opening",
        "hole_slot",
        "hole_edge",
        "hole_gap",
    ] {
        assert_eq!(limits.of(named(id), 2.0).wanted, 3.0);
        assert_eq!(limits.of(named(id), 5.0).wanted, 5.0);
    }
}

#[test]
fn a_figure_is_clear_from_the_wanted_value_tight_from_the_least_and_fouls_beyond() {
    for &rule in Rule::ALL {
        let limit = Limits::default().of(rule, 3.0);
        let sense = rule.info().sense;
        // Toward what is worse.
        let worse = match sense {
            Sense::AtLeast => -1.0,
            Sense::AtMost => 1.0,
        };
        let at = |value| limit.state(value, sense);
        let (inside, beyond) = (worse * TOLERANCE * 0.99, worse * TOLERANCE * 1.01);
        assert_eq!(at(limit.wanted), State::Clear);
        assert_eq!(at(limit.wanted + inside), State::Clear);
        assert_ne!(at(limit.wanted + beyond), State::Clear);
        if limit.least.is_finite() {
            assert_ne!(at(limit.least + inside), State::Fouls);
            assert_eq!(at(limit.least + beyond), State::Fouls);
        }
        if (limit.wanted - limit.least).abs() > 2.0 * TOLERANCE && limit.least.is_finite() {
            assert_eq!(at((limit.least + limit.wanted) / 2.0), State::Tight);
            assert_eq!(at(limit.least), State::Tight);
        }
        assert_eq!(at(f64::NAN), State::Fouls);
    }
    assert_eq!(TOLERANCE, 1e-6);
}
