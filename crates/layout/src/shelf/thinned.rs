//! An outline with fewer corners.

use crate::geometry::Point;
use crate::geometry::polygon::{self, FLATTENING};

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
        let kept = polygon::thinned(corners, tolerance);
        if kept.len() <= most.max(3) {
            return kept;
        }
        tolerance *= 2.0;
    }
}
