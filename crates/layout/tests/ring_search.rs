//! Finding a ring, against trying every one.

use layout::parts::Parts;
use layout::ring::Ring;
use layout::ring_search::{
    LEAST_EDGE, LEAST_LAND, LEAST_THICKNESS, NoRing, Wanted, find_ring, in_hundredths,
    largest_overlap,
};
use layout::seat::{Seat, SeatFit};

use crate::common::Random;

/// A random parts set with its plate's thickness, and what is asked of its ring.
fn question(random: &mut Random) -> (Parts, f64, Wanted) {
    let ball = random.between(20.0, 60.0);
    let thickness = random.between(2.0, 5.0);
    let seat = if random.one_in(2) {
        Seat::Plain {
            opening_diameter: ball * random.between(0.90, 0.99),
        }
    } else {
        Seat::Spherical {
            centre_height: ball * random.between(0.05, 0.2),
            running_clearance: random.between(0.2, 0.5),
        }
    };
    let parts = Parts {
        name: String::new(),
        ball_diameter: ball,
        ball_plus: 0.0,
        seat,
        ring: Ring {
            depth: 1.0,
            thickness: 1.0,
            outer_diameter: 1.0,
            bevel: 0.0,
        },
        lids: None,
        eye_mass_g: None,
    };
    let wanted = Wanted {
        tilt: random.between(5.0, 40.0).to_radians(),
        clearance: random.between(0.0, 0.8),
        overlap: random.between(0.5, 1.5),
    };
    (parts, thickness, wanted)
}

/// Seats whose question has an answer, with it.
fn answered(seed: u64) -> impl Iterator<Item = (SeatFit, Ring, Wanted)> {
    let mut random = Random::new(seed);
    let asked = std::iter::repeat_with(move || question(&mut random)).take(600);
    asked.filter_map(|(parts, thickness, wanted)| {
        let seat = parts.seat_fit(thickness).ok()?;
        Some((seat, find_ring(&parts, thickness, &wanted).ok()?, wanted))
    })
}

/// The least play among rings on a grid of depths, diameters and bevels, each checked by the
/// formulas of the meridian written out.
fn tried(parts: &Parts, thickness: f64, wanted: &Wanted) -> Option<f64> {
    let seat = parts.seat_fit(thickness).ok()?;
    let ball = seat.ball_radius;
    let (sin, cos) = wanted.tilt.sin_cos();
    let steps = |from: f64, to: f64, count: i32| {
        (0..=count).map(move |k| from + (to - from) * f64::from(k) / f64::from(count))
    };
    let mut best = None::<f64>;
    for depth in steps(seat.back_depth, ball, 150) {
        let bore = (ball * ball - depth * depth).max(0.0).sqrt();
        for outer in steps(seat.opening_back + wanted.overlap, ball * 1.3, 25) {
            for bevel in steps(0.0, ball - depth - LEAST_EDGE, 40) {
                let made = bevel >= 0.0
                    && outer - bevel - bore >= LEAST_LAND
                    && ball - depth >= LEAST_THICKNESS;
                let clear = [
                    (outer - bevel, depth),
                    (outer, depth + bevel),
                    (bore, depth),
                ]
                .iter()
                .all(|(r, z)| z * cos - r * sin >= seat.back_depth + wanted.clearance);
                let play = depth - seat.back_depth;
                if made && clear && best.is_none_or(|best| play < best) {
                    best = Some(play);
                }
            }
        }
    }
    best
}

#[test]
fn no_ring_on_a_grid_has_less_play_than_the_one_that_is_found() {
    let mut random = Random::new(11);
    let (mut found, mut none) = (0, 0);
    for _ in 0..150 {
        let (parts, thickness, wanted) = question(&mut random);
        if parts.seat_fit(thickness).is_err() {
            continue;
        }
        let tried = tried(&parts, thickness, &wanted);
        match find_ring(&parts, thickness, &wanted) {
            Ok(ring) => {
                found += 1;
                let fit = ring.fit(parts.seat_fit(thickness).unwrap()).unwrap();
                assert!(fit.clearance(wanted.tilt) >= wanted.clearance - 1e-9);
                assert!(fit.retention_overlap() >= wanted.overlap - 1e-9);
                if let Some(tried) = tried {
                    assert!(fit.play() <= tried + 1e-9, "{} > {tried}", fit.play());
                }
            }
            Err(_) => {
                none += 1;
                assert_eq!(tried, None, "{parts:?} {wanted:?}");
            }
        }
    }
    assert!(found > 40 && none > 20, "{found} found, {none} not");
}

#[test]
fn each_change_that_is_named_makes_room_for_a_ring_and_a_smaller_one_does_not() {
    let mut random = Random::new(12);
    let mut named = [0; 3];
    for _ in 0..400 {
        let (parts, thickness, wanted) = question(&mut random);
        if parts.seat_fit(thickness).is_err() {
            continue;
        }
        let Err(NoRing {
            tilt,
            plate_thickness,
            centre_height,
        }) = find_ring(&parts, thickness, &wanted)
        else {
            continue;
        };
        let with_tilt = |tilt| find_ring(&parts, thickness, &Wanted { tilt, ..wanted }).is_ok();
        let with_plate = |thickness| find_ring(&parts, thickness, &wanted).is_ok();
        let with_height = |height| {
            let mut parts = parts.clone();
            if let Seat::Spherical { centre_height, .. } = &mut parts.seat {
                *centre_height = height;
            }
            find_ring(&parts, thickness, &wanted).is_ok()
        };
        type Change<'a> = (Option<f64>, &'a dyn Fn(f64) -> bool);
        let changes: [Change; 3] = [
            (tilt, &with_tilt),
            (plate_thickness, &with_plate),
            (centre_height, &with_height),
        ];
        for (count, (value, works)) in named.iter_mut().zip(changes) {
            if let Some(value) = value {
                *count += 1;
                assert!(works(value));
                assert!(!works(value + 0.01), "{value} is not the least change");
            }
        }
    }
    assert!(named.iter().all(|&count| count > 10), "{named:?}");
}

#[test]
fn a_ring_in_hundredths_does_what_was_wanted_and_has_hardly_more_play() {
    let mut rounded = 0;
    for (seat, ring, wanted) in answered(13) {
        let coarse = in_hundredths(&ring, &seat, &wanted);
        let fit = coarse.fit(seat).unwrap();
        assert!(fit.clearance(wanted.tilt) >= wanted.clearance - 1e-9);
        assert!(fit.retention_overlap() >= wanted.overlap - 1e-9);
        assert!(coarse.depth - ring.depth < 0.07);
        let hundredths = coarse.depth * 100.0;
        rounded += usize::from((hundredths - hundredths.round()).abs() < 1e-6);
    }
    assert!(rounded > 100, "{rounded}");
}

#[test]
fn a_ring_with_the_largest_overlap_just_keeps_the_wanted_clearance() {
    let mut tried = 0;
    for (seat, ring, wanted) in answered(14) {
        let depth = ring.depth + 0.5;
        let overlap = largest_overlap(&seat, ring.bevel, &wanted, depth).unwrap();
        let outer_diameter = 2.0 * (seat.opening_back + overlap);
        let largest = Ring {
            depth,
            outer_diameter,
            ..ring
        };
        if let Ok(fit) = largest.fit(seat) {
            tried += 1;
            approx::assert_abs_diff_eq!(
                fit.clearance(wanted.tilt),
                wanted.clearance,
                epsilon = 1e-9
            );
        }
    }
    assert!(tried > 50, "{tried}");
}
