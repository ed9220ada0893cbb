//! Closed polygons as lists of corners.

use geo::{ConvexHull, Coord, LineString, Polygon, Simplify};
use kurbo::{BezPath, PathEl};

use super::segment::Line;
use super::{Gap, Point, Vector};

/// How far a flattened curve may lie from the true one, mm: a tenth of what a good printer errs by.
pub const FLATTENING: f64 = 0.02;

/// How much finer than [`FLATTENING`] a cubic is asked to be flattened: about a sharp bend it strays
/// by a tenth more than it was asked to.
const SAFETY: f64 = 2.0;

/// The edges, closing one included.
pub fn edges(points: &[Point]) -> impl Iterator<Item = Line> + Clone + '_ {
    (0..points.len()).map(|index| Line {
        start: points[index],
        end: points[(index + 1) % points.len()],
    })
}

/// Where the polygon passes the upright line at `x`, mm: spans along y, from the lowest up.
pub fn spans(points: &[Point], x: f64) -> Vec<[f64; 2]> {
    let mut ys: Vec<f64> = edges(points)
        .filter(|edge| (edge.start.x < x) != (edge.end.x < x))
        .map(|edge| {
            let share = (x - edge.start.x) / (edge.end.x - edge.start.x);
            edge.start.y + (edge.end.y - edge.start.y) * share
        })
        .collect();
    ys.sort_by(f64::total_cmp);
    ys.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// The closed curve through some points, mm: straight between them, or smooth to within
/// [`FLATTENING`].
pub fn through(points: &[[f64; 2]], smooth: bool) -> Vec<Point> {
    let points: Vec<Point> = points.iter().map(|&point| point.into()).collect();
    if smooth { smoothed(&points) } else { points }
}

/// Enclosed area, mm²; negative if the corners run clockwise.
pub fn area(points: &[Point]) -> f64 {
    edges(points)
        .map(|edge| edge.start.coords.perp(&edge.end.coords) / 2.0)
        .sum()
}

/// Whether a ray from `point` to the right passes an odd number of `edges`.
pub(crate) fn passes_odd(edges: impl Iterator<Item = Line>, point: Point) -> bool {
    edges.fold(false, |inside, edge| {
        let upward = edge.end.y > point.y;
        let passes = (edge.start.y > point.y) != upward && is_right_of(&edge, point) != upward;
        inside != passes
    })
}

/// Whether `point` lies to the right of the line, looking along it. A point on the line counts as
/// lying a little to the right of the page, or above a level line, so that every test of it agrees.
pub(crate) fn is_right_of(line: &Line, point: Point) -> bool {
    let along = line.end - line.start;
    let turn = along.perp(&(point - line.start));
    turn < 0.0 || (turn == 0.0 && (along.y > 0.0 || (along.y == 0.0 && along.x < 0.0)))
}

/// Whether `point` lies inside.
pub fn contains(points: &[Point], point: Point) -> bool {
    passes_odd(edges(points), point)
}

/// The gap from a polygon to a point outside it; negative if the point lies inside. None if the polygon
/// is empty.
pub fn gap_to_point(points: &[Point], point: Point) -> Option<Gap> {
    let gap = room_around(points, point)?.reversed();
    Some(Gap {
        distance: -gap.distance,
        ..gap
    })
}

/// The gap from a point inside to the polygon; negative if the point lies outside. None if empty.
pub fn room_around(points: &[Point], point: Point) -> Option<Gap> {
    let apart = |place: &Point| (place - point).norm_squared();
    let places = edges(points).map(|edge| edge.nearest(point));
    let nearest = places.min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
    let gap = Gap::between(point, nearest);
    Some(super::outline::signed(gap, contains(points, point)))
}

/// The gap between two convex polygons, counter-clockwise; negative if they overlap, by the least
/// shift that parts them. None if either is empty.
pub fn gap(a: &[Point], b: &[Point]) -> Option<Gap> {
    let parting = parting_shifts(a, b).chain(parting_shifts(b, a).map(Gap::reversed));
    let least = parting.max_by(|a, b| a.distance.total_cmp(&b.distance));
    if least.is_some_and(|gap| gap.distance < 0.0) {
        return least;
    }
    // Where two convex polygons lie apart, one of them is nearest at a corner.
    corner_gaps(a, b)
        .chain(corner_gaps(b, a).map(Gap::reversed))
        .reduce(Gap::or_nearer)
}

/// The gaps from every edge of `a` to every corner of `b`.
fn corner_gaps<'a>(a: &'a [Point], b: &'a [Point]) -> impl Iterator<Item = Gap> + 'a {
    let to = |&corner: &Point| edges(a).map(move |edge| Gap::between(edge.nearest(corner), corner));
    b.iter().flat_map(to)
}

/// For each edge of `a`, how far `b` reaches beyond it inward, as a negative gap: two convex
/// polygons that overlap are parted soonest square to an edge of one of them.
fn parting_shifts<'a>(a: &'a [Point], b: &'a [Point]) -> impl Iterator<Item = Gap> + 'a {
    edges(a).filter_map(move |edge| {
        let along = (edge.end - edge.start).try_normalize(0.0)?;
        let inward = |corner: &Point| along.perp(&(corner - edge.start));
        let deepest = *b.iter().max_by(|p, q| inward(p).total_cmp(&inward(q)))?;
        let depth = inward(&deepest);
        Some(Gap {
            distance: -depth,
            from: deepest + Vector::new(along.y, -along.x) * depth,
            to: deepest,
        })
    })
}

/// Index of the first point that lies on the one after it, closing pair included.
pub fn coincident(points: &[[f64; 2]]) -> Option<usize> {
    /// Nearer points, mm, give no direction.
    const NEAREST: f64 = 1e-6;
    (0..points.len()).find(|&index| {
        let (a, b) = (points[index], points[(index + 1) % points.len()]);
        (a[0] - b[0]).hypot(a[1] - b[1]) < NEAREST
    })
}

/// Where the polygon crosses or touches itself, if it does.
pub fn self_crossing(points: &[Point]) -> Option<Point> {
    let edges: Vec<Line> = edges(points).collect();
    let count = edges.len();
    // Sorted by their left ends, only edges whose ranges of x overlap need a look.
    let span = |edge: &Line| {
        let (a, b) = (edge.start.x, edge.end.x);
        (a.min(b), a.max(b))
    };
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|&a, &b| span(&edges[a]).0.total_cmp(&span(&edges[b]).0));
    for (rank, &index) in order.iter().enumerate() {
        let right = span(&edges[index]).1;
        for &other in &order[rank + 1..] {
            if span(&edges[other]).0 > right {
                break;
            }
            if let Some(at) = edges_meet(&edges, index.min(other), index.max(other)) {
                return Some(at);
            }
        }
    }
    None
}

/// Where edge `a` meets edge `b` (`a` < `b`) other than in a corner that they share.
fn edges_meet(edges: &[Line], a: usize, b: usize) -> Option<Point> {
    let (first, second) = (&edges[a], &edges[b]);
    let next = b == a + 1;
    let closing = a == 0 && b + 1 == edges.len();
    if next || closing {
        // Neighbours meet again only if one folds back over the other.
        let (incoming, outgoing) = if next {
            (first, second)
        } else {
            (second, first)
        };
        let (u, v) = (incoming.end - incoming.start, outgoing.end - outgoing.start);
        let folds = u.dot(&v) < 0.0 && u.perp(&v).abs() <= 1e-12 * u.norm() * v.norm();
        return folds.then_some(incoming.end);
    }
    first.crossing(second).or_else(|| {
        let gap = first.gap(second);
        (gap.distance == 0.0).then_some(gap.from)
    })
}

/// The corners without those that lie on the one before.
pub(crate) fn without_repeats(mut points: Vec<Point>) -> Vec<Point> {
    points.dedup_by(|a, b| (*a - *b).norm() < 1e-9);
    while points.len() > 1 && (points[0] - points[points.len() - 1]).norm() < 1e-9 {
        points.pop();
    }
    points
}

/// The smooth closed curve through `points` as a polygon, within [`FLATTENING`] of it.
///
/// A centripetal Catmull-Rom spline (C. Yuksel, S. Schaefer, J. Keyser: Parameterization and
/// applications of Catmull-Rom curves, 2011): it neither loops nor cusps within a piece.
pub fn smoothed(points: &[Point]) -> Vec<Point> {
    let count = points.len();
    if count < 3 {
        return points.to_vec();
    }
    let knots: Vec<f64> = edges(points)
        .map(|edge| (edge.end - edge.start).norm().sqrt().max(1e-9))
        .collect();
    let velocities: Vec<Vector> = (0..count)
        .map(|index| centripetal_velocity(points, &knots, index))
        .collect();
    let mut flat = Vec::with_capacity(2 * count);
    for (index, chord) in edges(points).enumerate() {
        let third = knots[index] / 3.0;
        let controls = [
            chord.start + velocities[index] * third,
            chord.end - velocities[(index + 1) % count] * third,
        ];
        flat.push(chord.start);
        // Between its ends, a cubic stays within 3/4 of its controls' distance from the chord.
        let off = |control: &Point| (control - chord.nearest(*control)).norm_squared();
        if controls.iter().map(off).fold(0.0, f64::max) > (FLATTENING / 0.75).powi(2) {
            flatten_between(chord, controls, &mut flat);
        }
    }
    without_repeats(flat)
}

/// The spline's velocity at the point with this index, by its knot intervals.
fn centripetal_velocity(points: &[Point], knots: &[f64], index: usize) -> Vector {
    let count = points.len();
    let (last, next) = ((index + count - 1) % count, (index + 1) % count);
    let (before, after) = (knots[last], knots[index]);
    (points[index] - points[last]) / before - (points[next] - points[last]) / (before + after)
        + (points[next] - points[index]) / after
}

/// Adds the corners between the ends of a cubic.
fn flatten_between(chord: Line, controls: [Point; 2], flat: &mut Vec<Point>) {
    let to_kurbo = |p: Point| kurbo::Point::new(p.x, p.y);
    let mut path = BezPath::new();
    path.move_to(to_kurbo(chord.start));
    path.curve_to(
        to_kurbo(controls[0]),
        to_kurbo(controls[1]),
        to_kurbo(chord.end),
    );
    kurbo::flatten(path, FLATTENING / SAFETY, |element| {
        if let PathEl::LineTo(p) = element {
            flat.push(Point::new(p.x, p.y));
        }
    });
    flat.pop();
}

/// The convex hull, counter-clockwise; empty if a corner is nowhere.
pub fn convex_hull(points: &[Point]) -> Vec<Point> {
    let count = points.len();
    if points.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return Vec::new();
    }
    let turn = |index: usize| {
        let corner = |step: usize| points[(index + step) % count];
        (corner(1) - corner(0)).perp(&(corner(2) - corner(1)))
    };
    if (0..count).all(|index| turn(index) >= 0.0) && area(points) > 0.0 {
        // All turns to the left, and once around: an outline that does not cross itself.
        return points.to_vec();
    }
    from_geo(&to_geo(points).convex_hull())
}

/// The corners of a closed polygon without those that lie `within` mm of a straight line between the ones
/// that stay. Where the polygon comes as near to itself as that, it may cross itself then.
pub(crate) fn thinned(points: &[Point], within: f64) -> Vec<Point> {
    from_geo(&to_geo(points).simplify(within))
}

/// As geo takes it.
fn to_geo(points: &[Point]) -> Polygon<f64> {
    let ring = points.iter().map(|p| Coord { x: p.x, y: p.y });
    Polygon::new(ring.collect::<LineString<f64>>(), Vec::new())
}

/// The outer ring, without the repeated last corner, counter-clockwise.
fn from_geo(polygon: &Polygon<f64>) -> Vec<Point> {
    let ring = polygon.exterior().0.iter();
    let mut points = without_repeats(ring.map(|c| Point::new(c.x, c.y)).collect());
    if area(&points) < 0.0 {
        points.reverse();
    }
    points
}
