//! An outline with fewer corners.

use crate::geometry::Point;
use crate::geometry::polygon::FLATTENING;
use crate::geometry::segment::Line;

/// The corners of a closed polygon without those that lie within [`FLATTENING`] of a straight line
/// between their neighbours, or, where more than `most` would be left, within as many times twice that
/// as leaves no more (D. Douglas, T. Peucker: Algorithms for the reduction of the number of points
/// required to represent a digitized line, 1973).
pub(super) fn thinned(corners: &[Point], most: usize) -> Vec<Point> {
    if corners.len() < 3 {
        return corners.to_vec();
    }
    let mut tolerance = FLATTENING;
    loop {
        let kept = within(corners, tolerance);
        if kept.len() <= most.max(3) {
            return kept;
        }
        tolerance *= 2.0;
    }
}

/// Keeps the first corner, the one farthest from it, and between them those that a straight line
/// would miss by more than `tolerance`, mm.
fn within(corners: &[Point], tolerance: f64) -> Vec<Point> {
    let first = corners[0];
    let from_first = |index: &usize| (corners[*index] - first).norm_squared();
    let far = (0..corners.len())
        .max_by(|a, b| from_first(a).total_cmp(&from_first(b)))
        .unwrap_or(0);
    let closed: Vec<Point> = corners.iter().copied().chain([first]).collect();
    let mut kept = vec![false; corners.len()];
    (kept[0], kept[far]) = (true, true);
    let mut open = vec![(0, far), (far, corners.len())];
    while let Some((from, to)) = open.pop() {
        let chord = Line {
            start: closed[from],
            end: closed[to],
        };
        let off = |index: &usize| (closed[*index] - chord.nearest(closed[*index])).norm();
        let farthest = (from + 1..to).max_by(|a, b| off(a).total_cmp(&off(b)));
        if let Some(index) = farthest.filter(|index| off(index) > tolerance) {
            kept[index] = true;
            open.extend([(from, index), (index, to)]);
        }
    }
    let kept = corners.iter().zip(kept).filter(|(_, kept)| *kept);
    kept.map(|(&corner, _)| corner).collect()
}
