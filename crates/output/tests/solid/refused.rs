//! What cannot be made is refused in plain words, and nothing else is.

use layout::geometry::Point;
use layout::problem::Problem;
use layout::seat::Seat;
use layout::{Laid, Project};
use output::solid::{Slab, plate, rings, solids};
use output::{SolidError, SolidOptions};

use super::cases;
use super::truth::{Hole, Plate};
use crate::projects::demo;

/// The least wall that is made, mm.
const THINNEST: f64 = 0.01;

/// How much is left between two holes, or a hole and the edge, at the least, mm; negative where they
/// overlap.
fn least_web(truth: &Plate) -> f64 {
    let rims: Vec<Vec<Point>> = truth.holes.iter().map(Hole::rim).collect();
    let mut least = f64::INFINITY;
    for (index, rim) in rims.iter().enumerate() {
        for &at in rim {
            let room = truth.outline.room_around(at).distance;
            let others = truth
                .holes
                .iter()
                .enumerate()
                .filter(|other| other.0 != index);
            let webs = others.map(|(_, other)| other.outside(at, 0.0));
            least = webs.fold(least.min(room), f64::min);
        }
    }
    least
}

#[test]
fn random_plates_are_refused_when_too_little_is_left_between_holes_and_only_then() {
    let mut refused = 0;
    cases::each_random(47, |case, options| {
        // Holes are sampled at 360 places, which pass over what is left by so much.
        let unsure = 2.0 * options.chord_error + 0.05;
        let left = least_web(&Plate::of(&case.project, &case.laid, options)) - THINNEST;
        let made = plate(&case.project, &case.laid, options);
        if let Err(error) = &made {
            refused += 1;
            assert!(left < unsure, "{}: {error} with {left} mm left", case.name);
        } else {
            assert!(left > -unsure, "{} with {left} mm left", case.name);
        }
        made.is_ok()
    });
    assert!(refused > 20, "{refused}");
}

fn said(error: &SolidError) -> String {
    format!("{error} {}", error.remedy())
}

fn plate_error(change: impl FnOnce(&mut Project)) -> String {
    let mut project = demo("bramble").project;
    change(&mut project);
    assert_eq!(project.check(), Ok(()));
    let laid = Laid::out(&project);
    let made = plate(&project, &laid, &SolidOptions::default());
    said(&made.map(drop).unwrap_err())
}

#[test]
fn openings_and_slots_that_meet_are_named() {
    assert_eq!(
        plate_error(|project| project.eyes[1].centre = [5.0, 0.0]),
        "The opening of the left eye and the opening of the right eye run into each other. \
         Move them apart, or make one of them smaller."
    );
    assert_eq!(
        plate_error(|project| project.ties[0].at = [29.0, 17.0]),
        "The opening of the right eye and slot 1 run into each other. Move them apart, or make one \
         of them smaller."
    );
    assert_eq!(
        plate_error(|project| project.ties[2].at = project.ties[0].at),
        "Slot 1 and slot 3 run into each other. Move them apart, or make one of them smaller."
    );
}

#[test]
fn an_opening_or_slot_that_breaks_the_edge_is_named() {
    let drawn = |points: &[[f64; 2]]| layout::plate::PlateOutline::Drawn {
        outline: points.to_vec(),
        smooth: false,
    };
    let small = [[-60.0, -5.0], [60.0, -5.0], [60.0, 40.0], [-60.0, 40.0]];
    assert_eq!(
        plate_error(|project| project.plate.outline = drawn(&small)),
        "The opening of the left eye breaks the edge of the plate. Move it inward, or let the plate \
         reach farther there."
    );
    assert_eq!(
        plate_error(|project| {
            project.eyes.push(layout::eye::Eye {
                centre: [0.0, 60.0],
                ..project.eyes[0].clone()
            });
            let large = [[-70.0, -40.0], [70.0, -40.0], [70.0, 40.0], [-70.0, 40.0]];
            project.plate.outline = drawn(&large);
        }),
        "The opening of eye 3 breaks the edge of the plate. Move it inward, or let the plate reach \
         farther there."
    );
    assert_eq!(
        plate_error(|project| {
            project.plate.trim_to_head = true;
            project.ties[0].at = [90.0, 16.0];
        }),
        "Slot 1 breaks the edge of the plate. Move it inward, or let the plate reach farther there."
    );
}

#[test]
fn a_plate_of_nothing_and_a_seat_that_closes_are_refused() {
    assert_eq!(
        plate_error(|project| {
            project.plate.outline = layout::plate::PlateOutline::HeadInset {
                bottom: 500.0,
                top: 600.0,
            };
            project.ties.clear();
            project.parts.lids = None;
        }),
        "There is no plate to make: nothing of its outline is left. Change the outline's style or \
         range, or the head outline."
    );
    assert_eq!(
        plate_error(|project| {
            project.parts.seat = Seat::Spherical {
                centre_height: 17.4 - 1e-9,
                running_clearance: 0.4,
            };
        }),
        "The opening of the left eye closes on its way through. Make it wider where it is narrowest, \
         or what it passes thinner."
    );
}

#[test]
fn an_outline_that_crosses_itself_is_refused() {
    let corners = [[0.0, 0.0], [20.0, 20.0], [20.0, 0.0], [0.0, 10.0]];
    let points = corners.map(Point::from);
    let slab = Slab {
        name: "gauge".to_owned(),
        outline: layout::geometry::outline::Outline::polygon(&points),
        thickness: 2.0,
        holes: Vec::new(),
    };
    let error = slab.solid(&SolidOptions::default()).map(drop).unwrap_err();
    let sentence = "The outline of the gauge crosses or touches itself. Draw it apart there.";
    assert_eq!(said(&error), sentence);
    let flat = Slab {
        outline: layout::geometry::outline::Outline::polygon(&points[..3]),
        thickness: 0.0,
        ..slab
    };
    let error = flat.solid(&SolidOptions::default()).map(drop).unwrap_err();
    assert_eq!(
        said(&error),
        "The gauge has no thickness that can be made. Make it thicker."
    );
}

fn ring_error(options: &SolidOptions, change: impl FnOnce(&mut layout::ring::Ring)) -> String {
    let mut project = demo("bramble").project;
    change(&mut project.parts.ring);
    assert_eq!(project.check(), Ok(()));
    let made = rings(&project, &Laid::out(&project), options);
    said(&made.map(drop).unwrap_err())
}

#[test]
fn a_ring_that_cannot_be_made_is_refused() {
    let options = SolidOptions::default();
    assert_eq!(
        ring_error(&options, |ring| ring.thickness = 9.0),
        "There is no ring for left eye to make: The ring ends farther back than the ball. Bring the \
         ring nearer to the centre or make it thinner."
    );
    // At depth 15.6 the bore in a 40 mm ball is 12.515 mm; with glue gap, 12.674 mm.
    assert_eq!(
        ring_error(&options, |ring| ring.outer_diameter =
            2.0 * (12.6 + ring.bevel)),
        "The ring has no front face left between its bore and its bevel. Use a larger outer \
         diameter, a smaller bevel or a smaller glue gap."
    );
    let no_gap = SolidOptions {
        glue_gap: 0.0,
        ..options
    };
    assert_eq!(
        ring_error(&no_gap, |ring| ring.thickness = 20.0 - ring.depth),
        "The bore of the ring closes on its way through. Make it wider where it is narrowest, or \
         what it passes thinner."
    );
}

#[test]
fn options_out_of_range_are_refused_by_name() {
    let case = demo("bramble");
    let refused = |options: SolidOptions| {
        let problem = options.check().unwrap_err();
        let made = solids(&case.project, &case.laid, &options);
        let error = made.map(drop).unwrap_err();
        assert_eq!(error, SolidError::from(problem.clone()));
        let Problem { field, .. } = problem;
        (field, said(&error))
    };
    let usual = SolidOptions::default();
    for (options, field, sentence) in [
        (
            SolidOptions {
                chord_error: 0.0,
                ..usual
            },
            "chord_error",
            "`chord_error` is 0 mm. Use a number from 0.005 to 0.5 mm.",
        ),
        (
            SolidOptions {
                glue_gap: f64::NAN,
                ..usual
            },
            "glue_gap",
            "`glue_gap` is NaN mm. Use a number from 0 to 2 mm.",
        ),
        (
            SolidOptions {
                hole_allowance: -0.1,
                ..usual
            },
            "hole_allowance",
            "`hole_allowance` is -0.1 mm. Use a number from 0 to 2 mm.",
        ),
    ] {
        assert_eq!(refused(options), (field.to_owned(), sentence.to_owned()));
    }
    assert_eq!(usual.check(), Ok(()));
}
