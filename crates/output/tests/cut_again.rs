//! Our own cut files, read again: outlines within a hundredth of a millimetre, arcs as arcs, on the
//! right layers.

use geo::Area;
use intake::{Format, Shape};
use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Segment};
use output::cut::{Contour, Cut};

use crate::contours::{KERFS, distance, every_part, polygon, ring, walked};

/// What may be off, mm.
const TOLERANCE: f64 = 0.01;

/// Shorter arcs, mm, may come back as lines that are as near.
const SHORT: f64 = 1.0;

/// The shapes of both files, in the plate's frame.
fn read_again(cut: &Cut) -> [Vec<Shape>; 2] {
    let read = |bytes: &[u8], format| -> Vec<Shape> {
        let found = intake::read(bytes, format).unwrap();
        let unit = found.unit.expect("the file says its unit");
        found
            .shapes
            .iter()
            .map(|shape| shape.scaled(unit))
            .collect()
    };
    let svg = read(&output::svg::write(cut), Format::Svg);
    let page = cut.page();
    let corner = Point::new(page.low.x, page.high.y).coords;
    let moved = svg.into_iter().map(|shape| Shape {
        outline: moved(&shape.outline, corner),
        ..shape
    });
    let dxf = read(&output::dxf::write(cut), Format::Dxf);
    [moved.collect(), dxf]
}

fn moved(outline: &Outline, by: layout::geometry::Vector) -> Outline {
    let segments = outline.segments.iter().map(|segment| match *segment {
        Segment::Line(mut line) => {
            line.start += by;
            line.end += by;
            Segment::Line(line)
        }
        Segment::Arc(mut arc) => {
            arc.centre += by;
            Segment::Arc(arc)
        }
    });
    Outline {
        segments: segments.collect(),
    }
}

fn arcs(outline: &Outline) -> impl Iterator<Item = &Arc> {
    outline.segments.iter().filter_map(|segment| match segment {
        Segment::Arc(arc) => Some(arc),
        Segment::Line(_) => None,
    })
}

/// How far an arc's ends and middle lie from those of another, mm.
fn apart(arc: &Arc, other: &Arc) -> f64 {
    let places = |arc: &Arc, back: bool| {
        let shares = if back {
            [1.0, 0.5, 0.0]
        } else {
            [0.0, 0.5, 1.0]
        };
        shares.map(|share| arc.at(arc.start_angle + arc.sweep * share))
    };
    let far = |back| {
        let pairs = places(arc, false).into_iter().zip(places(other, back));
        pairs.map(|(a, b)| (a - b).norm()).fold(0.0, f64::max)
    };
    far(false).min(far(true))
}

/// The greatest distance of one outline's points from the other.
fn off(one: &Outline, other: &Outline) -> f64 {
    let rings = [ring(other)];
    let distances = walked(one, 2.0)
        .into_iter()
        .map(|point| distance(point, &rings));
    distances.fold(0.0, f64::max)
}

fn nearest<'a>(shapes: &'a [Shape], contour: &Contour) -> &'a Shape {
    let centre = |outline: &Outline| {
        let [low, high] = outline.bounds().unwrap();
        (nalgebra::center(&low, &high), high - low)
    };
    let (at, size) = centre(&contour.outline);
    let far = |shape: &&Shape| {
        let (own, own_size) = centre(&shape.outline);
        (own - at).norm() + (own_size - size).norm()
    };
    shapes
        .iter()
        .min_by(|a, b| far(a).total_cmp(&far(b)))
        .unwrap()
}

fn assert_came_back(what: &str, contour: &Contour, shape: &Shape) -> usize {
    // The id of an SVG's path, and the layer of a DXF's.
    let name = shape.name.as_deref().unwrap_or_default();
    assert!(name.ends_with(contour.purpose.name()), "{what}: {name}");
    assert_eq!(shape.crosses_at, None, "{what}");
    if let Some(circle) = contour.circle() {
        let [Segment::Arc(own)] = shape.outline.segments[..] else {
            panic!("{what}: {:?}", shape.outline);
        };
        assert!((own.radius - circle.radius).abs() < TOLERANCE, "{what}");
        assert!((own.centre - circle.centre).norm() < TOLERANCE, "{what}");
        return 1;
    }
    let there = off(&contour.outline, &shape.outline);
    let back = off(&shape.outline, &contour.outline);
    assert!(
        there < TOLERANCE && back < TOLERANCE,
        "{what}: {there} {back} mm off"
    );
    let mut long = 0;
    for arc in arcs(&contour.outline).filter(|arc| arc.radius * arc.sweep.abs() > SHORT) {
        let nearest = arcs(&shape.outline)
            .map(|own| apart(arc, own))
            .fold(f64::INFINITY, f64::min);
        assert!(
            nearest < TOLERANCE,
            "{what}: an arc came back {nearest} mm off: {arc:?}"
        );
        long += 1;
    }
    long
}

#[test]
fn our_own_files_come_back_within_a_hundredth_with_arcs_as_arcs() {
    for kerf in KERFS {
        let (mut shapes, mut long) = (0, 0);
        every_part(kerf, |case, part, cut| {
            for (format, found) in ["SVG", "DXF"].into_iter().zip(read_again(cut)) {
                let what = format!("{}, {}, {format}, kerf {kerf}", case.name, part.noun());
                assert_eq!(found.len(), cut.contours.len(), "{what}");
                for contour in &cut.contours {
                    let shape = nearest(&found, contour);
                    let what = format!("{what}, {}", contour.name);
                    long += assert_came_back(&what, contour, shape);
                    shapes += 1;
                }
                let area = |outline: &Outline| polygon(outline).unsigned_area();
                let sum: f64 = cut.contours.iter().map(|own| area(&own.outline)).sum();
                let again: f64 = found.iter().map(|own| area(&own.outline)).sum();
                assert!(
                    (sum - again).abs() < 1e-3 * sum,
                    "{what}: {again} mm² for {sum}"
                );
            }
        });
        assert!(
            shapes > 1_500 && long > 2_000,
            "{shapes} shapes, {long} arcs"
        );
    }
}
