//! Distances found another way than the core's.

use std::f64::consts::TAU;

use geo::{Contains, Distance, Euclidean};
use layout::geometry::Point;
use layout::geometry::segment::Segment;
use layout::tie::TieSlot;

/// What two margins may differ by, mm.
pub(super) const EXACT: f64 = 1e-6;

/// How far the fine polygon of an outline may lie from it, mm.
pub(super) const FINE: f64 = 1e-7;

/// What a depth that was searched for may differ by, mm.
pub(super) const SEARCHED: f64 = 1e-4;

pub(super) fn to_geo(points: impl IntoIterator<Item = Point>) -> geo::Polygon {
    let ring: geo::LineString = points
        .into_iter()
        .map(|p| geo::coord! { x: p.x, y: p.y })
        .collect();
    geo::Polygon::new(ring, Vec::new())
}

pub(super) fn fine(segments: &[Segment]) -> geo::Polygon {
    let points = segments.iter().flat_map(|segment| match *segment {
        Segment::Line(line) => vec![line.start],
        Segment::Arc(arc) => {
            // A chord over the angle a lies r·a²/8 from its arc.
            let step = (8.0 * FINE / arc.radius.max(FINE)).sqrt();
            let mut points = vec![arc.start()];
            let mut turned = step;
            while turned < arc.sweep.abs() {
                points.push(arc.at(arc.start_angle + turned * arc.sweep.signum()));
                turned += step;
            }
            points
        }
    });
    to_geo(points)
}

/// A slot: everything within `radius` of a rectangle.
pub(super) struct Rounded {
    pub(super) core: geo::Polygon,
    pub(super) radius: f64,
}

impl Rounded {
    /// From what the model says of a slot: a tie of width and thickness, a clearance of 0.7 mm on
    /// both, corners as round as the clearance.
    pub(super) fn of(slot: &TieSlot) -> Self {
        let clearance = 0.7;
        let [length, width] = slot.tie.map(|side| side + clearance);
        let radius = f64::min(clearance, width.min(length) / 2.0);
        let (x, y) = (length / 2.0 - radius, width / 2.0 - radius);
        let (sin, cos) = slot.angle.0.to_radians().sin_cos();
        let corners = [[x, y], [-x, y], [-x, -y], [x, -y]].map(|[x, y]| {
            Point::new(
                slot.at[0] + x * cos - y * sin,
                slot.at[1] + x * sin + y * cos,
            )
        });
        Self {
            core: to_geo(corners),
            radius,
        }
    }

    pub(super) fn corners(&self) -> impl Iterator<Item = geo::Point> + '_ {
        self.core.exterior().points().take(4)
    }
}

/// Distance from a point inside to a polygon's edge; negative from outside.
pub(super) fn room(polygon: &geo::Polygon, point: geo::Point) -> f64 {
    let distance = Euclidean.distance(&point, polygon.exterior());
    if polygon.contains(&point) {
        distance
    } else {
        -distance
    }
}

/// The least `room` along a curve between two places on it, mm from its start, found by halving
/// every stretch that may still hold it.
pub(super) fn least_room(
    wall: &geo::Polygon,
    curve: &impl Fn(f64) -> Point,
    ends: [f64; 2],
    best: &mut f64,
) {
    let [from, to] = ends;
    let middle = (from + to) / 2.0;
    let at = curve(middle);
    let here = room(wall, geo::Point::new(at.x, at.y));
    *best = best.min(here);
    // No point of the stretch is farther than half its length from its middle.
    let half = (to - from) / 2.0;
    if here - half < *best - SEARCHED / 2.0 {
        least_room(wall, curve, [from, middle], best);
        least_room(wall, curve, [middle, to], best);
    }
}

/// The least `room` of a whole piece.
pub(super) fn least_room_on(wall: &geo::Polygon, piece: &Segment, best: &mut f64) {
    match *piece {
        Segment::Line(line) => {
            let length = (line.end - line.start).norm();
            let curve = |at: f64| line.start + (line.end - line.start) * (at / length);
            if length > 0.0 {
                least_room(wall, &curve, [0.0, length], best);
            }
        }
        Segment::Arc(arc) => {
            let curve = |at: f64| arc.at(arc.start_angle + at / arc.radius * arc.sweep.signum());
            least_room(wall, &curve, [0.0, arc.radius * arc.sweep.abs()], best);
        }
    }
}

/// How deep two rounded rectangles overlap: the least shift, over all directions, that parts them.
pub(super) fn overlap(a: &Rounded, b: &Rounded) -> f64 {
    let reach = |slot: &Rounded, x: f64, y: f64| {
        let out = slot.corners().map(|p| p.x() * x + p.y() * y);
        out.fold(f64::NEG_INFINITY, f64::max) + slot.radius
    };
    let depth = |angle: f64| {
        let (y, x) = angle.sin_cos();
        reach(a, x, y) + reach(b, -x, -y)
    };
    let steps = 3_600;
    let step = TAU / f64::from(steps);
    let coarse = (0..steps)
        .map(|i| step * f64::from(i))
        .min_by(|a, b| depth(*a).total_cmp(&depth(*b)));
    let about = coarse.expect("there are steps");
    let finer = (-1_000..=1_000).map(|i| depth(about + step * f64::from(i) / 1_000.0));
    finer.fold(f64::INFINITY, f64::min)
}
