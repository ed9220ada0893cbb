//! Sheath routes against a point that walks along them.

use std::f64::consts::PI;

use approx::assert_abs_diff_eq;
use layout::geometry::space::{Piece, Place, Way};
use layout::limits::{Rule, State};
use layout::route::{Fault, Route, Start};
use layout::{Laid, evaluate};

use crate::common::{Random, finding, lidded_pair};

fn place(random: &mut Random, half: f64) -> Place {
    let mut along = || random.between(-half, half);
    Place::new(along(), along(), along())
}

fn random_route(random: &mut Random) -> (Start, Vec<Place>, Place, Route) {
    let heading = loop {
        let way = place(random, 1.0).coords;
        if (0.1..1.0).contains(&way.norm()) {
            break way.normalize();
        }
    };
    let start = Start {
        stop: place(random, 50.0),
        heading,
        lead: random.between(0.0, 20.0),
        radius: random.between(5.0, 40.0),
    };
    let via: Vec<Place> = (0..random.below(4)).map(|_| place(random, 120.0)).collect();
    let exit = place(random, 150.0);
    let route = Route::lay(&start, &via, exit);
    (start, via, exit, route)
}

fn direction(piece: &Piece, share: f64) -> Way {
    piece.heading(share).expect("a piece with a length")
}

#[test]
fn a_route_goes_smoothly_from_the_stop_to_the_exit_with_bends_of_its_radius() {
    let mut random = Random::new(151);
    let (mut laid, mut with_corners) = (0, 0);
    for _ in 0..2_000 {
        let (start, via, exit, route) = random_route(&mut random);
        if !route.is_laid() {
            continue;
        }
        let pieces = &route.pieces;
        assert_abs_diff_eq!((pieces[0].at(0.0) - start.stop).norm(), 0.0, epsilon = 1e-9);
        assert_abs_diff_eq!(
            (direction(&pieces[0], 0.0) - start.heading).norm(),
            0.0,
            epsilon = 1e-6
        );
        let last = pieces.last().unwrap();
        assert_abs_diff_eq!((last.at(1.0) - exit).norm(), 0.0, epsilon = 1e-6);
        for pair in pieces.windows(2) {
            assert_abs_diff_eq!(
                (pair[1].at(0.0) - pair[0].at(1.0)).norm(),
                0.0,
                epsilon = 1e-6
            );
            let turn = direction(&pair[1], 0.0) - direction(&pair[0], 1.0);
            assert_abs_diff_eq!(turn.norm(), 0.0, epsilon = 1e-6);
        }
        for bend in route.bends() {
            assert_eq!(bend.radius, start.radius);
            assert_abs_diff_eq!(bend.out.dot(&bend.heading), 0.0, epsilon = 1e-9);
        }
        // The lead is straight.
        let lead_end = start.stop + start.heading * start.lead;
        assert_abs_diff_eq!(
            route.nearest(lead_end).unwrap().distance,
            0.0,
            epsilon = 1e-9
        );
        laid += 1;
        with_corners += u32::from(!via.is_empty());
    }
    assert!(laid > 300 && with_corners > 100, "{laid} {with_corners}");
}

#[test]
fn length_and_bend_are_those_of_a_walk_along_the_route() {
    let mut random = Random::new(152);
    let mut walked = 0;
    while walked < 100 {
        let (.., route) = random_route(&mut random);
        if !route.is_laid() {
            continue;
        }
        let steps = 4_000;
        let places: Vec<Place> = route
            .pieces
            .iter()
            .flat_map(|piece| (0..=steps).map(move |k| piece.at(f64::from(k) / f64::from(steps))))
            .collect();
        let ways: Vec<Way> = places.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let length: f64 = ways.iter().map(Way::norm).sum();
        let moved: Vec<Way> = ways.into_iter().filter(|way| way.norm() > 1e-7).collect();
        let bend: f64 = moved.windows(2).map(|pair| pair[0].angle(&pair[1])).sum();
        assert_abs_diff_eq!(route.length(), length, epsilon = 1e-3);
        assert_abs_diff_eq!(route.total_bend(), bend, epsilon = 2e-2);
        walked += 1;
    }
}

#[test]
fn what_bends_take_of_their_legs_is_what_a_rolled_circle_takes() {
    // A circle of 30 mm rolled into a corner of α touches both legs 30·tan(α/2) from it; here on
    // legs along x and at α from there, from the lead's end at the origin.
    for degrees in [10.0_f64, 45.0, 90.0, 120.0, 150.0] {
        let alpha = degrees.to_radians();
        let start = Start {
            stop: Place::new(-15.0, 0.0, 0.0),
            heading: Way::x(),
            lead: 15.0,
            radius: 30.0,
        };
        let corner = Place::new(200.0, 0.0, 0.0);
        let exit = corner + Way::new(alpha.cos(), alpha.sin(), 0.0) * 400.0;
        let route = Route::lay(&start, &[corner], exit);
        assert!(route.is_laid(), "{degrees}");
        let trim = 30.0 * (alpha / 2.0).tan();
        let expected = 15.0 + 200.0 - trim + 30.0 * alpha + 400.0 - trim;
        assert_abs_diff_eq!(route.length(), expected, epsilon = 1e-6);
        assert_abs_diff_eq!(route.total_bend(), alpha, epsilon = 1e-9);
    }
}

#[test]
fn a_point_inside_the_first_bend_and_a_leg_without_room_are_named() {
    let start = Start {
        stop: Place::origin(),
        heading: -Way::z(),
        lead: 15.0,
        radius: 30.0,
    };
    // The first bend's centre is 30 mm aside of the lead's end.
    let inside = Place::new(25.0, 0.0, -20.0);
    let route = Route::lay(&start, &[], inside);
    assert!(
        matches!(route.faults[..], [Fault::TooNear { at, lacks }] if at == inside && lacks > 0.0)
    );
    let via = [Place::new(100.0, 0.0, -40.0), Place::new(100.0, 8.0, -40.0)];
    let route = Route::lay(&start, &via, Place::new(100.0, 8.0, -140.0));
    assert!(
        matches!(route.faults[..], [Fault::LegTooShort { leg: 1, .. }]),
        "{:?}",
        route.faults
    );
    // What cannot be laid is drawn from point to point.
    assert_eq!(route.pieces.len(), route.points.len() - 1);
    let mut project = lidded_pair();
    // Five millimetres aside of the lead's end.
    let lead_end = Laid::out(&project).drives[0].route.as_ref().unwrap().points[1];
    project.drives[0].exit = [lead_end.x, lead_end.y - 5.0, lead_end.z];
    let report = evaluate(&project);
    let found = finding(&report, Rule::RouteShape, "left gaze");
    assert_eq!(found.state, State::Fouls);
    assert!(!found.place.is_empty());
    assert_eq!(report.figures.drives[0].sheath_mm, None);
}

#[test]
fn a_route_straight_ahead_has_no_bend_and_one_straight_back_turns_round() {
    let start = Start {
        stop: Place::origin(),
        heading: -Way::z(),
        lead: 10.0,
        radius: 20.0,
    };
    let ahead = Route::lay(&start, &[], Place::new(0.0, 0.0, -100.0));
    assert_eq!((ahead.length(), ahead.total_bend()), (100.0, 0.0));
    assert_eq!(ahead.least_radius(), None);
    let back = Route::lay(&start, &[], Place::new(0.0, 0.0, 100.0));
    assert!(back.is_laid() && back.total_bend() > PI);
    let end = back.pieces.last().unwrap().at(1.0);
    assert_abs_diff_eq!(
        (end - Place::new(0.0, 0.0, 100.0)).norm(),
        0.0,
        epsilon = 1e-9
    );
}

#[test]
fn a_route_nearly_straight_ahead_bends_nearly_not_at_all() {
    let start = Start {
        stop: Place::origin(),
        heading: Way::x(),
        lead: 15.0,
        radius: 30.0,
    };
    for beside in [1e-12, 1e-9, 3e-8, 1e-7, 1e-6, 1e-5, 1e-3] {
        let route = Route::lay(&start, &[], Place::new(55.0, beside, 0.0));
        // Over 40 mm the way turns by about twice the angle to its end.
        assert!(
            route.total_bend() <= 2.0 * beside,
            "{beside}: {}",
            route.total_bend()
        );
        assert_abs_diff_eq!(route.length(), 55.0, epsilon = 1e-6);
    }
}
