//! Contours of cut parts as points and as polygons of geo, which shares no code with the writers.

use geo::{BooleanOps, Distance, Euclidean, MultiPolygon};
use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use output::cut::{Contour, Cut, CutError, CutOptions, CutPart, Purpose, cut_drawing};

use crate::projects::{Case, Dice, demos, random};

/// Without kerf, and with that of a laser.
pub(crate) const KERFS: [f64; 2] = [0.0, 0.2];

pub(crate) fn with_kerf(kerf: f64) -> CutOptions {
    CutOptions {
        kerf,
        ..CutOptions::default()
    }
}

pub(crate) fn cut(case: &Case, part: CutPart, options: &CutOptions) -> Result<Cut, CutError> {
    cut_drawing(&case.project, &case.laid, part, options)
}

/// All demos and 100 random projects.
pub(crate) fn many() -> Vec<Case> {
    let mut dice = Dice(20);
    let random = (0..100).map(|index| Case::of(format!("random {index}"), random(&mut dice)));
    demos().into_iter().chain(random).collect()
}

/// Every part that can be cut from many projects, and how many cannot.
pub(crate) fn every_part(kerf: f64, mut check: impl FnMut(&Case, CutPart, &Cut)) -> usize {
    let mut refused = 0;
    for case in many() {
        for part in CutPart::ALL {
            match cut(&case, part, &with_kerf(kerf)) {
                Ok(found) => check(&case, part, &found),
                Err(_) => refused += 1,
            }
        }
    }
    refused
}

/// Points of an outline, one at least every `step`, mm, and at each corner.
pub(crate) fn walked(outline: &Outline, step: f64) -> Vec<Point> {
    let mut points = Vec::new();
    for segment in &outline.segments {
        let length = match segment {
            Segment::Line(line) => (line.end - line.start).norm(),
            Segment::Arc(arc) => arc.radius * arc.sweep.abs(),
        };
        let count = (length / step).ceil().max(1.0) as usize;
        points.extend((0..count).map(|index| {
            let share = index as f64 / count as f64;
            match segment {
                Segment::Line(line) => line.start + (line.end - line.start) * share,
                Segment::Arc(arc) => arc.at(arc.start_angle + arc.sweep * share),
            }
        }));
    }
    points
}

/// How far the chords of a ring may lie off its arcs, mm.
const OFF: f64 = 5e-4;

/// A ring for geo: its corners, and chords within [`OFF`] of its arcs.
pub(crate) fn ring(outline: &Outline) -> geo::LineString {
    let mut points = Vec::new();
    for segment in &outline.segments {
        match segment {
            Segment::Line(line) => points.push(line.start),
            Segment::Arc(arc) => {
                // A chord over the angle 2a lies r·(1 − cos a) from its arc.
                let widest = 2.0 * (1.0 - (OFF / arc.radius).min(1.0)).acos();
                let count = (arc.sweep.abs() / widest).ceil().max(1.0) as usize;
                points.extend((0..count).map(|index| {
                    arc.at(arc.start_angle + arc.sweep * index as f64 / count as f64)
                }));
            }
        }
    }
    let coord = |p: Point| geo::coord! { x: p.x, y: p.y };
    let mut ring: geo::LineString = points.into_iter().map(coord).collect();
    ring.close();
    ring
}

pub(crate) fn polygon(outline: &Outline) -> geo::Polygon {
    geo::Polygon::new(ring(outline), Vec::new())
}

/// How far a point lies from the nearest contour, mm.
pub(crate) fn distance(point: Point, rings: &[geo::LineString]) -> f64 {
    let point = geo::Point::new(point.x, point.y);
    let distances = rings.iter().map(|ring| Euclidean.distance(&point, ring));
    distances.fold(f64::INFINITY, f64::min)
}

/// The contours of one purpose.
pub(crate) fn of_purpose(cut: &Cut, purpose: Purpose) -> Vec<&Contour> {
    let all = cut.contours.iter();
    all.filter(|contour| contour.purpose == purpose).collect()
}

/// What falls out when a part is cut along its contours with a tool of no width.
pub(crate) fn material(cut: &Cut) -> MultiPolygon {
    let all = |purpose: Purpose| {
        let own = of_purpose(cut, purpose).into_iter();
        MultiPolygon::new(own.map(|contour| polygon(&contour.outline)).collect())
    };
    all(Purpose::CutOutside).difference(&all(Purpose::CutInside))
}
