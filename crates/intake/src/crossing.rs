//! Where a polygon crosses itself, as long as that is not too long a question.

use layout::geometry::{Point, polygon};

/// Whether and where a polygon crosses itself.
pub(crate) enum Crossing {
    /// It does not.
    Nowhere,
    /// It does, here first.
    At(Point),
    /// More edges lie side by side than can be looked through.
    TooFine,
}

/// Looks for a place where a polygon crosses or touches itself. `looks` is how many pairs of edges may
/// still be looked at, and is brought down by those that are.
pub(crate) fn find(corners: &[Point], looks: &mut usize) -> Crossing {
    let mirrored: Vec<Point> = corners.iter().map(swapped).collect();
    // The search goes from left to right: a tall comb is lain on its side.
    let (upright, lying) = (side_by_side(corners), side_by_side(&mirrored));
    let Some(left) = looks.checked_sub(upright.min(lying)) else {
        return Crossing::TooFine;
    };
    *looks = left;
    let found = if lying < upright {
        polygon::self_crossing(&mirrored).as_ref().map(swapped)
    } else {
        polygon::self_crossing(corners)
    };
    found.map_or(Crossing::Nowhere, Crossing::At)
}

fn swapped(point: &Point) -> Point {
    Point::new(point.y, point.x)
}

/// How many pairs of edges have a range of x in common.
fn side_by_side(corners: &[Point]) -> usize {
    let edges = polygon::edges(corners);
    let mut starts: Vec<f64> = edges
        .clone()
        .map(|edge| edge.start.x.min(edge.end.x))
        .collect();
    starts.sort_by(f64::total_cmp);
    // Of those that start before an edge ends, all but those that start before it does.
    let begun = |edge: layout::geometry::segment::Line| {
        let end = edge.start.x.max(edge.end.x);
        starts.partition_point(|&start| start <= end)
    };
    let all: usize = edges.map(begun).sum();
    all.saturating_sub(starts.len() * (starts.len() + 1) / 2)
}
