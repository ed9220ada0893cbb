//! The styles of a plate's outline, measured again with geo.

use geo::algorithm::buffer::{BufferStyle, LineJoin};
use geo::{Area, BooleanOps, Buffer, Contains, MultiPolygon};
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::plate::PlateOutline;
use layout::{Degrees, Laid, Project};

use crate::common::{Random, pair, star};

fn to_geo(outline: &Outline) -> geo::Polygon {
    /// Pieces of an arc: a whole circle of 30 mm lies within 1 µm of them.
    const PIECES: u32 = 400;
    let points = outline.segments.iter().flat_map(|segment| match *segment {
        Segment::Line(line) => vec![line.start],
        Segment::Arc(arc) => (0..PIECES)
            .map(|k| arc.at(arc.start_angle + arc.sweep * f64::from(k) / f64::from(PIECES)))
            .collect(),
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
        third.centre = [random.between(-10.0, 10.0), random.between(48.0, 60.0)];
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
            project.plate.outline = style;
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
