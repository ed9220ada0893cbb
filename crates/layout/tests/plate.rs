//! The styles of a plate's outline, measured again with geo.

use geo::algorithm::buffer::{BufferStyle, LineJoin};
use geo::{Area, BooleanOps, Buffer, Contains, MultiPolygon};
use layout::closed_curve::CurveOf;
use layout::edit::{Edit, HeadSide};
use layout::geometry::outline::Outline;
use layout::geometry::polygon;
use layout::geometry::segment::Segment;
use layout::plate::PlateOutline;
use layout::{Degrees, Laid, Project};

use crate::common::{Random, around, pair, star};

fn to_geo(outline: &Outline) -> geo::Polygon {
    // A circle of 30 mm lies within a tenth of a micrometre of as many chords.
    in_pieces(outline, 2_000)
}

/// The outline with its arcs in chords, as many for a whole circle.
fn in_pieces(outline: &Outline, circle: u32) -> geo::Polygon {
    let points = outline.segments.iter().flat_map(|segment| match *segment {
        Segment::Line(line) => vec![line.start],
        Segment::Arc(arc) => {
            let share = arc.sweep.abs() / std::f64::consts::TAU;
            let steps = (share * f64::from(circle)).ceil();
            let turns = (0..circle).map(f64::from).take_while(|&step| step < steps);
            let at = |step: f64| arc.at(arc.start_angle + arc.sweep * step / steps);
            turns.map(at).collect()
        }
    });
    let ring: geo::LineString = points.map(|p| geo::coord! { x: p.x, y: p.y }).collect();
    geo::Polygon::new(ring, Vec::new())
}

fn disc(centre: [f64; 2], radius: f64) -> geo::Polygon {
    let turn = |k: u32| f64::from(k) * std::f64::consts::TAU / 720.0;
    let ring: geo::LineString = (0..720)
        .map(|k| geo::coord! { x: centre[0] + radius * turn(k).cos(), y: centre[1] + radius * turn(k).sin() })
        .collect();
    geo::Polygon::new(ring, Vec::new())
}

fn random_project(random: &mut Random) -> Project {
    let mut project = pair();
    let corners = 10 + random.below(20);
    project.head.outline = star(random, corners, 80.0, 110.0);
    project.head.smooth = random.one_in(2);
    let half = random.between(25.0, 40.0);
    project.eyes[0].centre = [-half, random.between(-4.0, 4.0)];
    project.eyes[1].centre = [half, 0.0];
    if random.one_in(3) {
        let mut third = project.eyes[0].clone();
        third.centre = [random.between(-10.0, 10.0), random.between(48.0, 54.0)];
        project.eyes.push(third);
    }
    for slot in &mut project.ties {
        slot.at = random.point(75.0).into();
        slot.angle = Degrees(random.between(0.0, 180.0));
    }
    project
}

fn is_closed(outline: &Outline) -> bool {
    let pieces = &outline.segments;
    let ends = pieces.iter().zip(pieces.iter().cycle().skip(1));
    ends.into_iter()
        .all(|(one, next)| (one.end() - next.start()).norm() < 1e-5)
}

#[test]
fn a_waisted_plate_is_closed_holds_every_opening_and_pad_and_keeps_its_bridge() {
    let mut random = Random::new(41);
    for _ in 0..100 {
        let mut project = random_project(&mut random);
        project.plate.outline = PlateOutline::Waisted {
            bridge: random.between(5.0, 45.0),
            fillet: random.between(0.0, 20.0),
        };
        let laid = Laid::out(&project);
        assert!(is_closed(&laid.plate));
        // What touches from inside may stand out by the chords of the other side.
        let plate: MultiPolygon = to_geo(&laid.plate).buffer(1e-3);
        for eye in &laid.eyes {
            let opening = eye.opening().unwrap();
            let rim = disc(opening.centre.into(), opening.radius + project.plate.rim);
            assert!(plate.contains(&rim));
        }
        for slot in &project.ties {
            assert!(plate.contains(&to_geo(&Outline::hull(&slot.discs(3.0)))));
        }
        let middle = nalgebra::center(&laid.eyes[0].centre, &laid.eyes[1].centre);
        assert!(project.eyes.len() > 2 || laid.plate.contains(middle));
    }
}

#[test]
fn a_fillet_rounds_inner_corners_with_true_arcs_of_its_radius_and_only_adds() {
    let mut random = Random::new(42);
    for _ in 0..200 {
        let mut project = random_project(&mut random);
        project.ties.clear();
        project.eyes.truncate(2);
        let (bridge, fillet) = (random.between(8.0, 20.0), random.between(1.0, 3.0));
        let styles = [0.0, fillet].map(|fillet| {
            project.plate.outline = PlateOutline::Waisted { bridge, fillet };
            Laid::out(&project).plate
        });
        let arcs = |plate: &Outline, inner: bool| {
            let arcs = plate.segments.iter().filter_map(|segment| match segment {
                Segment::Arc(arc) if (arc.sweep < 0.0) == inner => Some(arc.radius),
                _ => None,
            });
            arcs.collect::<Vec<f64>>()
        };
        assert!(arcs(&styles[0], true).is_empty());
        if styles[0].segments.len() < 4 {
            // The discs touch, and the bridge lies inside them.
            continue;
        }
        let inner = arcs(&styles[1], true);
        assert!(!inner.is_empty());
        assert!(
            inner.iter().all(|radius| (radius - fillet).abs() < 1e-6),
            "{inner:?}"
        );
        assert!(styles[1].area() > styles[0].area());
    }
}

#[test]
fn a_plate_trimmed_to_the_head_has_the_area_that_geo_finds() {
    let mut random = Random::new(43);
    for style in [
        PlateOutline::Band,
        PlateOutline::Waisted {
            bridge: 20.0,
            fillet: 8.0,
        },
        PlateOutline::HeadInset {
            bottom: -40.0,
            top: 40.0,
        },
    ] {
        for _ in 0..60 {
            let mut project = random_project(&mut random);
            project.plate.outline.clone_from(&style);
            let whole = to_geo(&Laid::out(&project).plate);
            project.plate.trim_to_head = true;
            let laid = Laid::out(&project);
            let wall: geo::LineString = laid
                .wall
                .iter()
                .map(|p| geo::coord! { x: p.x, y: p.y })
                .collect();
            let inward = BufferStyle::new(-2.0).line_join(LineJoin::Round(0.01));
            let inset = geo::Polygon::new(wall, Vec::new()).buffer_with_style(inward);
            let pieces = whole.intersection(&inset);
            let expected = pieces.iter().map(Area::unsigned_area).fold(0.0, f64::max);
            let found = laid.plate.area();
            assert!(
                (found - expected).abs() < 0.02 + 2e-5 * expected,
                "{found} {expected}"
            );
        }
    }
}

/// A drawn curve around the eyes of a random project: a star about the middle of a plate.
fn drawn(random: &mut Random) -> PlateOutline {
    PlateOutline::Drawn {
        outline: around(12 + random.below(20), |_| random.between(84.0, 98.0)),
        smooth: random.one_in(2),
    }
}

#[test]
fn every_style_is_a_simple_closed_curve_that_holds_all_openings_and_pads_on_500_heads() {
    let mut random = Random::new(44);
    for _ in 0..500 {
        let mut project = random_project(&mut random);
        let styles = [
            PlateOutline::Band,
            PlateOutline::Waisted {
                bridge: random.between(5.0, 45.0),
                fillet: random.between(0.0, 20.0),
            },
            PlateOutline::HeadInset {
                bottom: random.between(-110.0, -80.0),
                top: random.between(80.0, 110.0),
            },
            drawn(&mut random),
        ];
        for style in styles {
            project.plate.outline = style;
            assert_eq!(project.check(), Ok(()));
            let laid = Laid::out(&project);
            assert!(is_closed(&laid.plate), "{:?}", project.plate.outline);
            assert!(laid.plate.area() > 0.0);
            let corners = laid.plate.flattened();
            assert_eq!(
                polygon::self_crossing(&corners),
                None,
                "{:?}",
                project.plate.outline
            );
            // The 48 chords of a circle of 45 mm stay within a tenth of it.
            let chords = |outline: &Outline| in_pieces(outline, 48);
            let plate: MultiPolygon = chords(&laid.plate).buffer(0.1);
            for eye in &laid.eyes {
                let opening = eye.opening().unwrap();
                assert!(plate.contains(&chords(&Outline::hull(&[opening]))));
            }
            for slot in &project.ties {
                assert!(plate.contains(&chords(&Outline::hull(&slot.discs(3.0)))));
            }
        }
    }
}

#[test]
fn a_drawn_plate_is_its_curve_joined_with_its_pads() {
    let mut random = Random::new(45);
    for _ in 0..100 {
        let mut project = random_project(&mut random);
        project.plate.outline = drawn(&mut random);
        let corners = CurveOf::Plate.corners(&project);
        let ring: geo::LineString = corners
            .iter()
            .map(|p| geo::coord! { x: p.x, y: p.y })
            .collect();
        let curve = geo::Polygon::new(ring, Vec::new());
        let plate = to_geo(&Laid::out(&project).plate);
        assert!(plate.buffer(1e-3).contains(&curve));
        project.ties.clear();
        let bare = Laid::out(&project).plate.area();
        assert!((bare - curve.unsigned_area()).abs() < 1e-6 * bare);
        assert!(plate.unsigned_area() > bare - 1e-6);
    }
}

#[test]
fn a_drawn_outline_taken_over_from_another_style_follows_it_and_keeps_its_symmetry() {
    for style in [
        PlateOutline::Band,
        PlateOutline::Waisted {
            bridge: 24.0,
            fillet: 12.0,
        },
    ] {
        let mut project = pair();
        project.plate.outline = style;
        let before = Laid::out(&project).plate;
        project.plate.outline = PlateOutline::drawn_after(&before).unwrap();
        assert_eq!(project.check(), Ok(()));
        let (points, _) = CurveOf::Plate.get(&project).unwrap();
        assert!(
            points[0][0].abs() < 1e-9,
            "the first point lies on the centre line"
        );
        for [x, y] in points {
            let opposite = |other: &&[f64; 2]| (other[0] + x).hypot(other[1] - y) < 1e-3;
            assert!(points.iter().any(|other| opposite(&other)), "({x}, {y})");
        }
        for place in CurveOf::Plate.corners(&project) {
            let off = before.room_around(place).unwrap().distance.abs();
            assert!(off < 2.0, "{off} mm at {place:?}");
        }
    }
    assert_eq!(PlateOutline::drawn_after(&Outline::default()), None);
}

#[test]
fn a_drawn_outline_is_edited_like_the_head_outline() {
    let mut random = Random::new(46);
    let mut project = pair();
    project.plate.outline = drawn(&mut random);
    let mirror = Edit::MirrorOutline {
        curve: CurveOf::Plate,
        keep: HeadSide::Right,
    };
    let head = project.head.clone();
    let mirrored = mirror.apply(&project).unwrap();
    let (points, _) = CurveOf::Plate.get(&mirrored).unwrap();
    for [x, y] in points {
        assert!(points.contains(&[-x, *y]), "({x}, {y})");
    }
    assert_eq!(mirrored.head, head);
    let smooth = Edit::Smooth(CurveOf::Plate, true).apply(&mirrored).unwrap();
    assert!(CurveOf::Plate.get(&smooth).unwrap().1);
    // A plate of another style has no points to edit, and says so.
    let band = Edit::PlateStyle(PlateOutline::Band)
        .apply(&project)
        .unwrap();
    assert!(mirror.apply(&band).is_err());
    // An outline from elsewhere makes the plate a drawn one.
    let outline = Edit::Outline {
        curve: CurveOf::Plate,
        points: vec![[-60.0, -30.0], [60.0, -30.0], [0.0, 50.0]],
        smooth: false,
    };
    let taken = outline.apply(&band).unwrap();
    assert_eq!(CurveOf::Plate.get(&taken).unwrap().0.len(), 3);
    let crossing = Edit::Outline {
        curve: CurveOf::Plate,
        points: vec![[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]],
        smooth: false,
    };
    let problem = crossing.apply(&band).unwrap_err();
    assert_eq!(problem.field, "plate.outline.outline");
    assert_eq!(
        problem.sentence,
        "The plate outline crosses itself near (5.0, 5.0)."
    );
}
