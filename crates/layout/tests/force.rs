//! Forces on cables against published worked examples.

use std::f64::consts::{PI, TAU};

use approx::{assert_abs_diff_eq, assert_relative_eq};
use layout::drive::Cable;
use layout::force;

/// A wire of a diameter, mm, and a modulus, GPa.
fn wire(inner_diameter: f64, modulus_gpa: f64) -> Cable {
    Cable {
        inner_diameter,
        sheath_diameter: 3.0,
        modulus_gpa,
        friction: 0.12,
        least_bend_radius: 30.0,
    }
}

#[test]
fn friction_over_bends_follows_the_published_rope_examples() {
    // 100 kg lowered over three quarters of a turn, μ 0.2, g 9.81: 382.26 N at the hand
    // (pickedshares.com, engineering mechanics 1, exercise 27).
    let hand = 100.0 * 9.81 / force::pull_gain(0.2, 1.5 * PI);
    assert_abs_diff_eq!(hand, 382.26, epsilon = 0.005);
    // Two bollards of 5π/3 each, μ 0.2, 50 N: 406 N (thestudentroom.co.uk, thread 155631). Bends add up.
    let both = 50.0 * force::pull_gain(0.2, 2.0 * 5.0 * PI / 3.0);
    assert_abs_diff_eq!(both, 406.0, epsilon = 0.5);
    let one = force::pull_gain(0.2, 5.0 * PI / 3.0);
    assert_relative_eq!(both, 50.0 * one * one, max_relative = 1e-12);
    // 1000 N, μ 0.4, over 1, 2 and 4 turns: 81, 6.56 and 0.043 N (coconote.app).
    for (turns, newtons, half_a_digit) in
        [(1.0, 81.0, 0.5), (2.0, 6.56, 0.005), (4.0, 0.043, 0.0005)]
    {
        let held = 1_000.0 * force::tension_share(0.4, turns * TAU);
        assert_abs_diff_eq!(held, newtons, epsilon = half_a_digit);
    }
    // μ 0.3: 6.6 and 43 times over 1 and 2 turns (openknowledgegraph.com).
    assert_abs_diff_eq!(force::pull_gain(0.3, TAU), 6.6, epsilon = 0.05);
    assert_abs_diff_eq!(force::pull_gain(0.3, 2.0 * TAU), 43.0, epsilon = 0.5);
    assert_eq!(force::pull_gain(0.3, 0.0), 1.0);
}

#[test]
fn a_column_buckles_at_the_published_load() {
    // E 210 GPa, I 2450 cm⁴, 5 m, fixed and pinned with K = 0.699: 4157.10 kN
    // (beam-calculator.github.io, effective length factor). A round bar of that I.
    let diameter = (64.0 * 2_450.0e4 / PI).powf(0.25);
    let load = force::buckling_force(&wire(diameter, 210.0), 5_000.0, 0.699);
    assert_abs_diff_eq!(load / 1_000.0, 4_157.10, epsilon = 0.01);
}

#[test]
fn end_conditions_scale_the_load_by_the_square_of_their_factor() {
    // Factors 2 (fixed and free), 1 (pinned), 0.699 (fixed and pinned), 0.5 (fixed):
    // curioustab.com 68546, 68555 and 65208; beam-calculator.github.io.
    let load = |factor| force::buckling_force(&wire(0.8, 206.0), 20.0, factor);
    for factor in [2.0, 0.699, 0.5] {
        assert_relative_eq!(
            load(factor) * factor * factor,
            load(1.0),
            max_relative = 1e-12
        );
    }
    // The exact factor of the fixed and pinned column is π over the least root of tan x = x, which
    // bisection finds; 0.7 is that to a digit or two.
    let (mut low, mut high) = (PI, 1.5 * PI - 1e-9);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if middle.tan() < middle {
            low = middle;
        } else {
            high = middle;
        }
    }
    assert_abs_diff_eq!(force::COLUMN_FACTOR, PI / low, epsilon = 0.001);
}

#[test]
fn the_stiffness_of_a_wire_is_that_of_a_strip_summed_over_its_section() {
    // I = ∫ y² dA over the round section, by strips; modulus 206 GPa and preferred diameters 0.3 to
    // 2.0 mm of EN 10270-1 wire (mollificiomodenese.it glossary).
    for diameter in [0.3, 0.5, 0.8, 1.0, 1.2, 2.0] {
        let (radius, strips) = (diameter / 2.0, 20_000);
        let height = diameter / f64::from(strips);
        let strip = |index: i32| {
            let y = -radius + (f64::from(index) + 0.5) * height;
            2.0 * (radius * radius - y * y).sqrt() * y * y * height
        };
        let second_moment: f64 = (0..strips).map(strip).sum();
        let expected = PI * PI * 206_000.0 * second_moment / (20.0 * 20.0);
        let found = force::buckling_force(&wire(diameter, 206.0), 20.0, 1.0);
        assert_relative_eq!(found, expected, max_relative = 1e-5);
    }
}

#[test]
fn a_lever_needs_no_force_for_nothing_and_no_end_of_it_without_an_arm() {
    assert_eq!(force::lever_force(20.0, 10.0), 2.0);
    assert_eq!(force::lever_force(0.0, 0.0), 0.0);
    assert_eq!(force::lever_force(1.0, 0.0), f64::INFINITY);
}
