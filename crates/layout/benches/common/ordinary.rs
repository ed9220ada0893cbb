//! An ordinary pair of eyes in a head of many points.

use layout::geometry::polygon;
use layout::{Project, head};

/// Points of the head's outline.
const POINTS: usize = 200;

/// The ordinary pair in a head of [`POINTS`] points: those of a start outline's smooth curve, at
/// even steps along it.
pub(super) fn pair(smooth: bool) -> Project {
    let mut project = super::projects::pair();
    project.drives.clear();
    let start: Vec<_> = head::start_outline(164.0, 196.0, 0.1)
        .into_iter()
        .map(Into::into)
        .collect();
    let curve = polygon::smoothed(&start);
    let length: f64 = polygon::edges(&curve)
        .map(|edge| (edge.end - edge.start).norm())
        .sum();
    let mut left = 0.0;
    let mut points = Vec::with_capacity(POINTS);
    for edge in polygon::edges(&curve) {
        let along = edge.end - edge.start;
        while left < along.norm() && points.len() < POINTS {
            let point = edge.start + along.normalize() * left;
            points.push(point.into());
            left += length / POINTS as f64;
        }
        left -= along.norm();
    }
    assert_eq!(points.len(), POINTS);
    project.head.outline = points;
    project.head.smooth = smooth;
    assert_eq!(project.check(), Ok(()));
    project
}
