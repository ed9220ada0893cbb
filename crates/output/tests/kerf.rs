//! The kerf lies on the waste's side of every line, and holes get their allowance.

use approx::assert_abs_diff_eq;
use geo::Contains;
use layout::geometry::segment::Segment;
use layout::plate::PlateOutline;
use layout::seat::Seat;
use output::cut::{CutOptions, CutPart, Purpose};

use crate::contours::{cut, distance, every_part, material, of_purpose, ring, walked, with_kerf};
use crate::projects::{Case, demo};

/// What may be off, mm: a little more than the chords that stand for arcs.
const FLAT: f64 = 1e-3;

/// A square plate of `side` with one plain opening of `opening`, mm.
fn square(side: f64, opening: f64) -> Case {
    let mut project = demo("bramble").project;
    let half = side / 2.0;
    project.plate.outline = PlateOutline::Drawn {
        outline: vec![[-half, -half], [half, -half], [half, half], [-half, half]],
        smooth: false,
    };
    project.ties.clear();
    project.parts.lids = None;
    project.drives.clear();
    project.eyes.truncate(1);
    project.eyes[0].centre = [0.0, 0.0];
    project.parts.seat = Seat::Plain {
        opening_diameter: opening,
    };
    Case::of("square", project)
}

/// Widths of the part's edge and of its round hole, as they are drawn.
fn widths(case: &Case, options: &CutOptions) -> [f64; 2] {
    let found = cut(case, CutPart::Plate, options).unwrap();
    let [low, high] = of_purpose(&found, Purpose::CutOutside)[0]
        .outline
        .bounds()
        .unwrap();
    let hole = of_purpose(&found, Purpose::CutInside)[0].circle().unwrap();
    assert_abs_diff_eq!(high.y - low.y, high.x - low.x, epsilon = 1e-9);
    [high.x - low.x, 2.0 * hole.radius]
}

#[test]
fn published_examples_come_out_as_published() {
    // help.ponoko.com 4442594, as reported: a 40 mm square and hole at a kerf of 0.2 mm come out as 39.8
    // and 40.2; draw 40.2 and 39.8. The hole is round here.
    let case = square(40.0, 30.0);
    let [side, hole] = widths(&case, &with_kerf(0.2));
    assert_abs_diff_eq!(side, 40.2, epsilon = 1e-9);
    assert_abs_diff_eq!(hole, 29.8, epsilon = 1e-9);
    // snijlab.nl p/495, as reported: to get an opening of 2.0 × 4.0 mm at a kerf of 0.2 mm, draw 1.8 × 3.8.
    let mut project = square(100.0, 30.0).project;
    project.ties = demo("bramble").project.ties;
    project.ties.truncate(1);
    project.ties[0].at = [35.0, 0.0];
    project.ties[0].angle = layout::Degrees(0.0);
    project.ties[0].tie = [4.0, 2.0].map(|side| side - layout::tie::CLEARANCE);
    let found = cut(&Case::of("slot", project), CutPart::Plate, &with_kerf(0.2)).unwrap();
    let slot = found
        .contours
        .iter()
        .find(|own| own.name == "slot 1")
        .unwrap();
    let [low, high] = slot.outline.bounds().unwrap();
    assert_abs_diff_eq!(high.x - low.x, 3.8, epsilon = 1e-9);
    assert_abs_diff_eq!(high.y - low.y, 1.8, epsilon = 1e-9);
}

#[test]
fn a_square_worked_by_hand_grows_by_the_kerf_with_round_corners() {
    // 100 mm, kerf 0.2 mm: sides of 100 mm moved out by 0.1 mm, joined by quarters of 0.1 mm radius;
    // area 100² + 4·100·0.1 + π·0.1² mm².
    let case = square(100.0, 30.0);
    let found = cut(&case, CutPart::Plate, &with_kerf(0.2)).unwrap();
    let edge = &of_purpose(&found, Purpose::CutOutside)[0].outline;
    let by_hand = 10_000.0 + 40.0 + std::f64::consts::PI * 0.01;
    assert_abs_diff_eq!(edge.area(), by_hand, epsilon = 1e-6);
    let arcs = edge
        .segments
        .iter()
        .filter(|piece| matches!(piece, Segment::Arc(arc) if (arc.radius - 0.1).abs() < 1e-9));
    assert_eq!((arcs.count(), edge.segments.len()), (4, 8));
}

#[test]
fn a_hole_allowance_is_added_to_the_diameter() {
    let case = square(100.0, 30.0);
    let options = CutOptions {
        hole_allowance: 0.15,
        ..CutOptions::default()
    };
    let [side, hole] = widths(&case, &options);
    assert_abs_diff_eq!(side, 100.0, epsilon = 1e-9);
    assert_abs_diff_eq!(hole, 30.15, epsilon = 1e-9);
    let both = CutOptions {
        kerf: 0.2,
        ..options
    };
    assert_abs_diff_eq!(widths(&case, &both)[1], 29.95, epsilon = 1e-9);
}

#[test]
fn a_fine_screw_hole_with_the_step_to_the_next_fit_as_its_allowance_is_the_next_published_hole() {
    // ISO 273 clearance holes, mm: fine, medium, coarse (four independent pages agree, among them
    // engineeringhardware.com and NBK technical note 20).
    let published = [
        ("M1.6", [1.7, 1.8, 2.0]),
        ("M2", [2.2, 2.4, 2.6]),
        ("M2.5", [2.7, 2.9, 3.1]),
        ("M3", [3.2, 3.4, 3.6]),
        ("M3.5", [3.7, 3.9, 4.2]),
        ("M4", [4.3, 4.5, 4.8]),
        ("M5", [5.3, 5.5, 5.8]),
        ("M6", [6.4, 6.6, 7.0]),
    ];
    for (thread, fits) in published {
        let mut project = square(100.0, fits[0]).project;
        project.parts.ball_diameter = fits[0] + 0.1;
        let case = Case::of(thread, project);
        for fit in fits {
            let options = CutOptions {
                hole_allowance: fit - fits[0],
                ..CutOptions::default()
            };
            assert_abs_diff_eq!(widths(&case, &options)[1], fit, epsilon = 1e-9);
        }
    }
}

#[test]
fn every_line_lies_half_a_kerf_outside_the_part() {
    for kerf in [0.2, 1.0] {
        let mut checked = 0;
        every_part(kerf, |case, part, found| {
            let finished = cut(case, part, &with_kerf(0.0)).unwrap();
            let what = format!("{}, {}, kerf {kerf}", case.name, part.noun());
            // Pieces nearer to each other than the kerf cannot both be cut; the project fouls there.
            if of_purpose(&finished, Purpose::CutOutside).len() > 1 {
                return;
            }
            checked += 1;
            let edges: Vec<_> = finished
                .contours
                .iter()
                .map(|own| ring(&own.outline))
                .collect();
            let part = material(&finished);
            for contour in &found.contours {
                for point in walked(&contour.outline, 3.0) {
                    let off = distance(point, &edges);
                    assert!(
                        (off - kerf / 2.0).abs() < FLAT,
                        "{what}: {off} mm off at {point}"
                    );
                    let inside = part.contains(&geo::Point::new(point.x, point.y));
                    assert!(!inside, "{what}: cuts into the part at {point}");
                }
            }
            // And every edge has its line, unless the tool does not reach into a corner.
            let lines: Vec<_> = found
                .contours
                .iter()
                .map(|own| ring(&own.outline))
                .collect();
            for contour in &finished.contours {
                for point in walked(&contour.outline, 3.0) {
                    let off = distance(point, &lines);
                    assert!(off > kerf / 2.0 - FLAT, "{what}: {off} mm off at {point}");
                }
            }
        });
        assert!(checked > 150, "{checked}");
    }
}
