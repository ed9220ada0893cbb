//! What is cut is the part that was laid out.

use approx::assert_abs_diff_eq;
use geo::{Area, BooleanOps, MultiPolygon};
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::hand::GuardAxis;
use layout::plate::PlateOutline;
use layout::seat::Seat;
use layout::smallest_head::{SmallestHead, smallest_head};
use output::cut::{CutOptions, CutPart, FOAM_CLEARANCE, Purpose};

use crate::contours::{
    KERFS, cut, every_part, many, material, of_purpose, polygon, walked, with_kerf,
};
use crate::foam_rods::rod_passages;
use crate::projects::{Case, demo, demos};

/// The radius that a flat cutter makes of an eye's opening, by the formulas for seats.
fn opening_radius(case: &Case, eye: usize) -> f64 {
    let parts = case.project.parts_of(eye);
    match parts.seat {
        Seat::Plain { opening_diameter } => opening_diameter / 2.0,
        Seat::Spherical {
            centre_height,
            running_clearance,
        } => {
            let sphere = parts.ball_diameter / 2.0 + running_clearance;
            let depth = centre_height + case.project.plate.thickness;
            (sphere * sphere - depth * depth).sqrt()
        }
    }
}

#[test]
fn openings_are_circles_of_the_smallest_radius_that_the_ball_cannot_pass() {
    for case in demos() {
        let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
        let circles: Vec<_> = found
            .contours
            .iter()
            .filter(|contour| contour.name.starts_with("opening "))
            .filter_map(|contour| contour.circle())
            .collect();
        assert_eq!(circles.len(), case.project.eyes.len(), "{}", case.name);
        for (index, circle) in circles.iter().enumerate() {
            assert_abs_diff_eq!(circle.radius, opening_radius(&case, index), epsilon = 1e-9);
            assert_abs_diff_eq!(circle.centre, case.project.eyes[index].at(), epsilon = 1e-9);
            assert!(circle.radius < case.project.parts_of(index).ball_diameter / 2.0);
        }
    }
}

#[test]
fn a_sound_plate_has_its_outline_openings_slots_and_cable_holes_and_nothing_else() {
    for case in demos() {
        let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
        let names: Vec<&str> = found.contours.iter().map(|own| own.name.as_str()).collect();
        let slots = case.project.ties.len();
        let cable_holes = case.laid.cable_holes().count();
        let holes = case.project.eyes.len() + slots + cable_holes;
        assert_eq!(names.len(), holes + 1);
        assert_eq!(names.last(), Some(&"plate"));
        assert_eq!(
            names
                .iter()
                .filter(|name| name.starts_with("slot "))
                .count(),
            slots
        );
        let outline = &found.contours.last().unwrap().outline;
        assert_abs_diff_eq!(outline.area(), case.laid.plate.area(), epsilon = 1e-6);
        for (contour, slot) in of_purpose(&found, Purpose::CutInside)
            .iter()
            .filter(|own| own.name.starts_with("slot "))
            .zip(&case.laid.slots)
        {
            assert_abs_diff_eq!(contour.outline.area(), slot.area(), epsilon = 1e-9);
        }
    }
}

#[test]
fn a_drawn_plate_is_cut_as_it_was_drawn() {
    let mut case = demo("bramble");
    let corners = [[-60.0, -30.0], [60.0, -30.0], [60.0, 30.0], [-60.0, 30.0]];
    case.project.plate.outline = PlateOutline::Drawn {
        outline: corners.to_vec(),
        smooth: false,
    };
    case.project.ties.clear();
    case.project.drives.clear();
    let case = Case::of("drawn", case.project);
    let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
    let outside = of_purpose(&found, Purpose::CutOutside);
    let found: Vec<[f64; 2]> = outside[0]
        .outline
        .segments
        .iter()
        .map(|segment| segment.start().into())
        .collect();
    assert_eq!(found.len(), 4);
    assert!(
        corners.iter().all(|corner| found.contains(corner)),
        "{found:?}"
    );
}

/// The holes of a part, each by itself, as they are to come out.
fn holes(case: &Case, part: CutPart, clearance: f64) -> Vec<Outline> {
    let eyes = case.laid.eyes.iter().enumerate();
    let round = eyes.map(|(index, eye)| {
        let radius = match part {
            CutPart::Foam => case.report.figures.eyes[index].sweep_reach_mm.unwrap() + clearance,
            _ => opening_radius(case, index),
        };
        Outline::hull(&[Disc {
            centre: eye.centre,
            radius,
        }])
    });
    match part {
        CutPart::Plate => {
            let cable_holes = case.laid.cable_holes().map(|hole| hole.outline());
            let slots = case.laid.slots.iter().cloned();
            round.chain(slots).chain(cable_holes).collect()
        }
        CutPart::Foam => {
            let passages = case.laid.cable_holes().map(|hole| {
                let [length, width] = hole.size().map(|side| side + 2.0 * clearance);
                let along = (hole.ends[1] - hole.ends[0]).try_normalize(0.0);
                let end = along.unwrap_or_default() * ((length - width) / 2.0);
                let ends = [hole.middle() - end, hole.middle() + end];
                Outline::hull(&ends.map(|centre| Disc {
                    centre,
                    radius: width / 2.0,
                }))
            });
            let passages = passages.chain(rod_passages(case, clearance));
            round.chain(passages).collect()
        }
        CutPart::Guard | CutPart::Head | CutPart::SmallestHead => Vec::new(),
    }
}

/// The mesh of a guard by the length of many chords of its arc.
fn flat_mesh(case: &Case) -> Outline {
    let guard = case.laid.guard.as_ref().unwrap();
    let at = |share: f64| {
        // Places on the circle through both edges and the middle, by angle from the middle.
        let (half, bow) = (guard.half_chord, guard.bow);
        let radius = (half * half + bow * bow) / (2.0 * bow);
        let most = f64::atan2(half, radius - bow);
        let angle = most * share;
        [radius * angle.sin(), radius * angle.cos()]
    };
    let steps = 2000;
    let share = |step: i32| 2.0 * f64::from(step) / f64::from(steps) - 1.0;
    let length = if guard.bow < 1e-6 {
        2.0 * guard.half_chord
    } else {
        (0..steps)
            .map(|step| {
                let [a, b] = [at(share(step)), at(share(step + 1))];
                (b[0] - a[0]).hypot(b[1] - a[1])
            })
            .sum()
    };
    let [x, y] = match guard.axis {
        GuardAxis::Y => [length / 2.0, guard.length / 2.0],
        GuardAxis::X => [guard.length / 2.0, length / 2.0],
    };
    let corners = [(-x, -y), (x, -y), (x, y), (-x, y)];
    Outline::polygon(&corners.map(|(x, y)| Point::new(x, y)))
}

#[test]
fn the_guard_is_cut_as_its_arc_rolled_out_with_its_bend_axis_marked() {
    for axis in [GuardAxis::Y, GuardAxis::X] {
        let mut project = demo("bramble").project;
        project.hand.guard_axis = axis;
        let case = Case::of("guard", project);
        let found = cut(&case, CutPart::Guard, &with_kerf(0.0)).unwrap();
        assert_eq!(found.contours.len(), 1);
        assert_eq!(found.contours[0].purpose, Purpose::CutOutside);
        assert_eq!(found.contours[0].name, "guard");
        let [low, high] = found.contours[0].outline.bounds().unwrap();
        let [own_low, own_high] = flat_mesh(&case).bounds().unwrap();
        assert_abs_diff_eq!(low, own_low, epsilon = 1e-4);
        assert_abs_diff_eq!(high, own_high, epsilon = 1e-4);
        // The guard's length is not changed by bending; its flat width is the report's figure.
        let size = high - low;
        let [along, across] = match axis {
            GuardAxis::Y => [size.y, size.x],
            GuardAxis::X => [size.x, size.y],
        };
        assert_abs_diff_eq!(along, case.project.hand.guard_length, epsilon = 1e-9);
        let flat = case.report.figures.hand.guard_flat_mm.unwrap();
        assert_abs_diff_eq!(across, flat, epsilon = 1e-9);
        let names: Vec<&str> = found.marks.iter().map(|mark| mark.name.as_str()).collect();
        let ends = "end of the bend axis";
        assert_eq!(names, ["middle line", ends, ends]);
        let middle = found.marks[0].lines[0];
        assert_abs_diff_eq!((middle.end - middle.start).norm(), along, epsilon = 1e-9);
        assert_abs_diff_eq!(
            nalgebra::center(&middle.start, &middle.end),
            Point::origin()
        );
        let edge = &found.contours[0].outline;
        for mark in &found.marks[1..] {
            assert!(
                mark.lines
                    .iter()
                    .all(|line| edge.contains(nalgebra::center(&line.start, &line.end)))
            );
        }
        let notes: Vec<&str> = found.notes.iter().map(|note| note.text.as_str()).collect();
        assert!(
            notes.contains(&"Cut mesh ends are sharp: fold them in and cover them."),
            "{notes:?}"
        );
    }
}

#[test]
fn a_guard_bent_farther_than_a_half_circle_is_not_cut() {
    let mut project = demo("bramble").project;
    project.hand.guard_bow = project.hand.guard_chord;
    let case = Case::of("guard", project);
    let refused = cut(&case, CutPart::Guard, &with_kerf(0.0)).unwrap_err();
    assert_eq!(
        format!("{refused} {}", refused.remedy()),
        "The guard is bent farther than a half-circle. Use a bow of at most half of the chord."
    );
}

#[test]
fn what_is_left_of_a_part_is_what_geo_leaves_of_it() {
    let (mut notched, mut joined) = (0, 0);
    let refused = every_part(0.0, |case, part, found| {
        let whole = match part {
            CutPart::Plate | CutPart::Foam => polygon(&case.laid.plate),
            CutPart::Guard => polygon(&flat_mesh(case)),
            CutPart::Head => polygon(&Outline::polygon(&case.laid.wall)),
            CutPart::SmallestHead => polygon(&smallest(case).outline),
        };
        let each = holes(case, part, FOAM_CLEARANCE);
        let count = each.len();
        let all = each
            .iter()
            .fold(MultiPolygon::new(Vec::new()), |all, hole| {
                all.union(&polygon(hole))
            });
        let left = whole.difference(&all);
        let mut areas: Vec<f64> = left.iter().map(Area::unsigned_area).collect();
        let largest = areas.iter().copied().fold(0.0, f64::max);
        areas.retain(|area| *area >= 0.012 * largest);
        let expected: f64 = areas.iter().sum();
        // Scrap of up to a hundredth may be left out.
        let area = material(found).unsigned_area();
        let scraps = left.unsigned_area() - expected;
        assert!(
            area > expected - 0.5 && area < expected + scraps + 0.5,
            "{}, {}: {area} mm² for {expected}",
            case.name,
            part.noun()
        );
        let inside = of_purpose(found, Purpose::CutInside).len();
        notched += usize::from(inside < count && left.0.len() == 1);
        joined += usize::from(found.contours.iter().any(|own| own.name.contains(" and ")));
    });
    // The random projects do what sound ones do not.
    assert!(notched > 10 && joined > 10, "{notched} {joined}");
    assert!(refused < 60, "{refused} refused");
}

#[test]
fn contours_are_closed_and_of_sound_numbers() {
    for kerf in KERFS {
        every_part(kerf, |case, part, found| {
            assert!(!of_purpose(found, Purpose::CutOutside).is_empty());
            for contour in &found.contours {
                let pieces = &contour.outline.segments;
                let what = format!("{}, {}, {}", case.name, part.noun(), contour.name);
                assert!(contour.outline.area() > 0.0, "{what}");
                for (index, piece) in pieces.iter().enumerate() {
                    let next = pieces[(index + 1) % pieces.len()].start();
                    let gap = (piece.end() - next).norm();
                    assert!(gap < 1e-5, "{what}: {gap} mm open");
                    let numbers = match piece {
                        Segment::Line(line) => vec![line.start.x, line.start.y],
                        Segment::Arc(arc) => vec![
                            arc.centre.x,
                            arc.centre.y,
                            arc.radius,
                            arc.start_angle,
                            arc.sweep,
                        ],
                    };
                    assert!(numbers.iter().all(|number| number.is_finite()), "{what}");
                }
            }
        });
    }
}

#[test]
fn foam_keeps_its_clearance_off_what_each_ring_sweeps() {
    let clearance = 5.0;
    for case in demos() {
        let options = CutOptions {
            foam_clearance: clearance,
            ..CutOptions::default()
        };
        let found = cut(&case, CutPart::Foam, &options).unwrap();
        for eye in &case.laid.eyes {
            let sweep = eye.sweep().unwrap();
            let nearest = found
                .contours
                .iter()
                .flat_map(|contour| walked(&contour.outline, 0.1))
                .map(|point| (point - sweep.centre).norm() - sweep.radius)
                .fold(f64::INFINITY, f64::min);
            assert!(
                (clearance - 1e-6..clearance + 1e-2).contains(&nearest),
                "{nearest}"
            );
        }
    }
}

#[test]
fn the_head_template_is_the_inside_wall() {
    for case in demos() {
        let found = cut(&case, CutPart::Head, &with_kerf(0.0)).unwrap();
        assert_eq!(found.contours.len(), 1);
        let corners: Vec<_> = found.contours[0]
            .outline
            .segments
            .iter()
            .map(|segment| segment.start())
            .collect();
        let wall = Outline::polygon(&case.laid.wall);
        assert_abs_diff_eq!(
            found.contours[0].outline.area(),
            wall.area(),
            epsilon = 1e-3
        );
        assert!(corners.len() <= case.laid.wall.len());
        assert!(
            found
                .marks
                .iter()
                .any(|mark| mark.name == "centre of anchor hole 1")
        );
    }
}

fn smallest(case: &Case) -> SmallestHead {
    smallest_head(&case.project, &case.laid).expect("there is a smallest head")
}

#[test]
fn the_smallest_head_template_is_its_outline_with_the_eyes_and_the_centre_line_marked() {
    for case in demos() {
        let found = cut(&case, CutPart::SmallestHead, &with_kerf(0.0)).unwrap();
        let head = smallest(&case);
        assert_eq!(found.contours.len(), 1);
        let edge = &found.contours[0].outline;
        assert_abs_diff_eq!(edge.area(), head.outline.area(), epsilon = 1e-3);
        let [low, high] = edge.bounds().unwrap();
        assert_abs_diff_eq!(high.x - low.x, head.size[0], epsilon = 1e-6);
        assert_abs_diff_eq!(high.y - low.y, head.size[1], epsilon = 1e-6);
        let names: Vec<&str> = found.marks.iter().map(|mark| mark.name.as_str()).collect();
        assert_eq!(names[0], "centre-line");
        // No anchor hole: those are in the wall that stands.
        assert_eq!(names.len(), 1 + case.project.eyes.len());
        for (mark, eye) in found.marks[1..].iter().zip(&case.project.eyes) {
            let line = &mark.lines[0];
            let middle = nalgebra::center(&line.start, &line.end);
            assert_abs_diff_eq!(middle, eye.at(), epsilon = 1e-9);
        }
        let notes: Vec<&str> = found.notes.iter().map(|note| note.text.as_str()).collect();
        assert!(
            notes.contains(&"Sheaths and ties do not count: lead them once the head is there."),
            "{notes:?}"
        );
    }
}

#[test]
fn a_head_is_not_cut_where_there_is_no_plate() {
    let mut project = demo("bramble").project;
    project.plate.outline = PlateOutline::HeadInset {
        bottom: 500.0,
        top: 510.0,
    };
    project.parts.lids = None;
    project.ties.clear();
    project.drives.clear();
    let case = Case::of("no plate", project);
    let refused = cut(&case, CutPart::SmallestHead, &with_kerf(0.0)).unwrap_err();
    assert_eq!(
        format!("{refused} {}", refused.remedy()),
        "There is no plate to build a head round. Change the outline's style or range, or seat an eye."
    );
}

#[test]
fn centres_are_marked_by_crosses_and_the_notes_lie_below() {
    for case in many() {
        let Ok(found) = cut(&case, CutPart::Plate, &with_kerf(0.1)) else {
            continue;
        };
        let crosses: Vec<_> = found
            .marks
            .iter()
            .filter(|mark| mark.lines.len() == 2)
            .collect();
        assert_eq!(
            crosses.len(),
            case.project.eyes.len() + case.project.ties.len()
        );
        for (cross, eye) in crosses.iter().zip(&case.project.eyes) {
            for line in &cross.lines {
                let middle = nalgebra::center(&line.start, &line.end);
                assert_abs_diff_eq!(middle, eye.at(), epsilon = 1e-9);
            }
        }
        let low = case.laid.plate.bounds().unwrap()[0].y;
        assert!(!found.notes.is_empty());
        assert!(found.notes.iter().all(|note| note.at.y < low - 2.0));
    }
}
