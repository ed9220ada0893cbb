//! Holes for cables that a plate has, whatever passes them.

use approx::assert_abs_diff_eq;
use layout::cable_hole::{CableHole, PlateHole};
use layout::edit::HoleChange;
use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::limits::{Rule, State};
use layout::plate::PlateOutline;
use layout::{Edit, Laid, Project, evaluate};

use crate::common::{Random, finding, pair};

/// A pair on a plate of 140 × 80 mm that exists, with holes in it, each with its width.
fn with_holes(holes: &[([f64; 2], f64)]) -> Project {
    on_a_plate(pair(), holes)
}

/// Another pair on it, whose lids' cables pass the plate.
fn passed() -> Project {
    let text = include_str!("../../../demo/bramble.ron");
    on_a_plate(ron::from_str(text).expect("a demo can be read"), &[])
}

fn on_a_plate(mut project: Project, holes: &[([f64; 2], f64)]) -> Project {
    project.plate.outline = PlateOutline::Drawn {
        outline: vec![[70.0, 40.0], [-70.0, 40.0], [-70.0, -40.0], [70.0, -40.0]],
        smooth: false,
    };
    project.plate.padded = false;
    project.plate.cable_holes = { holes.iter() }
        .map(|&(at, width)| PlateHole {
            ends: [at; 2],
            width,
        })
        .collect();
    assert_eq!(project.check(), Ok(()));
    project
}

#[test]
fn the_webs_of_a_hole_are_those_of_its_circle_to_all_beside_it() {
    let mut random = Random::new(77);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..200 {
        let at = [random.between(-68.0, 68.0), random.between(-38.0, 38.0)];
        let other = [random.between(-68.0, 68.0), random.between(-38.0, 38.0)];
        let (width, beside) = (random.between(2.0, 12.0), random.between(2.0, 12.0));
        let project = with_holes(&[(at, width), (other, beside)]);
        let report = evaluate(&project);
        let name = "cable hole 1 of the plate";
        let found = |rule, part: &str| finding(&report, rule, part).value.unwrap();
        let edge = (70.0 - at[0].abs()).min(40.0 - at[1].abs()) - width / 2.0;
        assert_abs_diff_eq!(found(Rule::HoleEdge, name), edge, epsilon = 1e-9);
        let apart = |to: [f64; 2]| (at[0] - to[0]).hypot(at[1] - to[1]);
        let both = format!("{name} and cable hole 2 of the plate");
        let between = apart(other) - (width + beside) / 2.0;
        assert_abs_diff_eq!(found(Rule::HoleGap, &both), between, epsilon = 1e-9);
        let laid = Laid::out(&project);
        let web = |eye: usize| {
            let opening = laid.eyes[eye].opening().unwrap();
            apart(opening.centre.into()) - opening.radius - width / 2.0
        };
        let nearer = usize::from(web(1) < web(0));
        let part = format!("{name} and {}", project.eye_name(nearer));
        let opening = found(Rule::HoleOpening, &part);
        assert_abs_diff_eq!(opening, web(nearer), epsilon = 1e-9);
        let of_holes = |state| {
            let mut own = report.findings.iter().filter(|own| own.part.contains(name));
            own.any(|own| own.state == state)
        };
        fouls += u32::from(of_holes(State::Fouls));
        clear += u32::from(!of_holes(State::Fouls) && !of_holes(State::Tight));
    }
    assert!(clear > 5 && fouls > 50, "{clear} {fouls}");
}

#[test]
fn a_cable_that_passes_a_hole_which_is_there_gets_none() {
    let mut project = passed();
    let bare = Laid::out(&project);
    let needed: Vec<_> = bare.drives[0].holes.clone();
    let [hole] = needed[..] else {
        panic!("one hole: {needed:?}");
    };
    assert_eq!(bare.holes_made(0).count(), 1);
    let there = PlateHole::from(&hole);
    for (wider, made) in [(-0.5, 1), (0.0, 0), (2.0, 0)] {
        project.plate.cable_holes = vec![PlateHole {
            width: there.width + wider,
            ..there
        }];
        let laid = Laid::out(&project);
        assert_eq!(laid.drives[0].holes, needed, "it passes all the same");
        assert_eq!(laid.holes_made(0).count(), made, "{wider}");
        let others = bare.cable_holes().count() - 1;
        assert_eq!(laid.cable_holes().count(), 1 + made + others);
        let report = evaluate(&project);
        let own = |id: &str, part: &str| {
            let mut all = report.findings.iter();
            all.any(|own| own.id == id && own.part == part)
        };
        assert_eq!(own("hole_edge", &project.drives[0].name), made == 1);
        assert!(own("hole_edge", "cable hole 1 of the plate"));
        // A hole that is drilled into one which is there breaks the web between them.
        let name = format!("cable hole 1 of the plate and {}", project.drives[0].name);
        let mut gaps = { report.findings.iter() }.filter(|own| own.id == "hole_gap");
        let breaks = gaps.any(|own| own.part == name && own.state == State::Fouls);
        assert_eq!(breaks, made == 1);
    }
}

#[test]
fn a_wider_hole_leaves_the_sheath_more_room() {
    let mut project = passed();
    let margin = |project: &Project| evaluate(project).figures.drives[0].sheath_plate_mm.unwrap();
    let before = margin(&project);
    let hole = PlateHole::from(&Laid::out(&project).drives[0].holes[0]);
    project.plate.cable_holes = vec![PlateHole {
        width: hole.width + 2.0,
        ..hole
    }];
    // The sheath leans, and comes nearest to the hole's rim at a slant.
    let more = margin(&project) - before;
    assert!((0.9..=1.0 + 0.01).contains(&more), "{more}");
}

#[test]
fn holes_are_forgotten_one_by_one_and_with_the_outline_that_had_them() {
    let project = with_holes(&[([0.0, 30.0], 4.0), ([0.0, -30.0], 5.0)]);
    let one = Edit::PlateHole(0, HoleChange::Forget)
        .apply(&project)
        .unwrap();
    assert_eq!(one.plate.cable_holes, project.plate.cable_holes[1..]);
    assert!(Edit::PlateHole(1, HoleChange::Forget).apply(&one).is_err());
    let band = Edit::PlateStyle(PlateOutline::Band)
        .apply(&project)
        .unwrap();
    assert!(band.plate.cable_holes.is_empty());
}

#[test]
fn a_hole_without_a_width_or_a_place_is_refused_by_its_field() {
    for (hole, field) in [
        (([f64::NAN, 0.0], 4.0), "plate.cable_holes[0].ends"),
        (([0.0, 0.0], 0.0), "plate.cable_holes[0].width"),
    ] {
        let mut project = pair();
        project.plate.cable_holes = vec![PlateHole {
            ends: [hole.0; 2],
            width: hole.1,
        }];
        assert_eq!(project.check().unwrap_err().field, field);
    }
}

#[test]
fn a_hole_is_widened_for_a_cable_that_passes_beside_it_and_for_no_other() {
    let mut random = Random::new(512);
    let mut sideways = 0;
    for _ in 0..100 {
        let mut project = passed();
        let hole = Laid::out(&project).drives[0].holes[0];
        let off = [0, 1].map(|_| random.between(-2.0, 2.0));
        let own = PlateHole::from(&hole);
        project.plate.cable_holes = vec![PlateHole {
            ends: own.ends.map(|end| [end[0] + off[0], end[1] + off[1]]),
            ..own
        }];
        let widen = Edit::PlateHole(0, HoleChange::Widen).apply(&project);
        if Laid::out(&project).holes_made(0).count() == 0 {
            assert!(widen.is_err(), "it passes as it is");
            continue;
        }
        let widened = widen.unwrap();
        let laid = Laid::out(&widened);
        assert_eq!(laid.holes_made(0).count(), 0);
        // Both lie in it, and it is no larger than a box round them along its own direction.
        let there = laid.plate_holes[0];
        for end in hole
            .ends
            .into_iter()
            .chain(project.plate.cable_holes[0].shape().ends)
        {
            assert!(there.room_around(end) - hole.radius > -1e-9);
        }
        let [length, width] = there.size();
        let [long, wide] = hole.size();
        assert!(width <= wide + off[0].hypot(off[1]) + 1e-9);
        let along = hole.direction().expect("a sheath leans").radians();
        let ahead = (off[0] * along.cos() + off[1] * along.sin()).abs();
        let aside = (off[1] * along.cos() - off[0] * along.sin()).abs();
        let lengthwise = Outline::hull(
            &CableHole {
                ends: [Point::origin(), Point::new(long - wide + ahead, 0.0)],
                radius: (wide + aside) / 2.0,
                lean: 0.0,
            }
            .discs(0.0),
        );
        assert!(
            there.area() <= lengthwise.area() + 1e-9,
            "{length} × {width}"
        );
        sideways += u32::from(width > wide + 0.01);
        // Only once: there is nothing left to widen it for.
        assert!(
            Edit::PlateHole(0, HoleChange::Widen)
                .apply(&widened)
                .is_err()
        );
    }
    assert!(sideways > 10, "{sideways}");
}

#[test]
fn a_hole_under_the_foot_of_a_lug_is_found_and_left_under_no_other() {
    let mut project = passed();
    let lug = Laid::out(&project).eyes[0].lugs.unwrap()[0];
    let name = "cable hole 1 of the plate and lug of the left eye";
    for (away, wanted) in [
        (0.0, State::Fouls),
        (3.0, State::Tight),
        (6.0, State::Clear),
    ] {
        let at = [lug.centre.x - lug.thickness / 2.0 - away, lug.centre.y];
        project.plate.cable_holes = vec![PlateHole {
            ends: [at; 2],
            width: 4.0,
        }];
        let report = evaluate(&project);
        let found = finding(&report, Rule::LugHole, name);
        assert_eq!(found.state, wanted, "{found:?}");
        assert_abs_diff_eq!(found.value.unwrap(), away - 2.0, epsilon = 1e-9);
    }
}
