//! Which shapes are circles, and which of them lie inside another shape.

use layout::geometry::bounded::Bounded;
use layout::geometry::hull::Disc;
use layout::geometry::segment::Line;
use layout::geometry::{Point, polygon};

use crate::{Found, Shape};

/// How far a circle may be drawn off itself, as a share of its radius. One of 24 straight edges still is one
/// (0.9 %), one of 20 is a polygon (1.2 %). Own choice.
const ROUND: f64 = 0.01;

impl Shape {
    /// The circle that the shape is, in its own unit, whether it is made of arcs or of short edges; None if
    /// it is none.
    pub fn circle(&self) -> Option<Disc> {
        let [low, high] = self.outline.bounds()?;
        let size = high - low;
        let centre = low + size / 2.0;
        let radius = (size.x + size.y) / 4.0;
        let strays = ROUND * radius;
        let corners = self.outline.flattened_within(strays / 2.0);
        let is_on = |place: Point| ((place - centre).norm() - radius).abs() <= strays;
        let follows =
            |edge: Line| is_on(edge.start) && is_on(edge.start + (edge.end - edge.start) / 2.0);
        let is_round = corners.len() >= 3 && polygon::edges(&corners).all(follows);
        (is_round && self.crosses_at.is_none()).then_some(Disc { centre, radius })
    }
}

impl Found {
    /// The circles that lie wholly inside shape `index`, in the drawing's unit, the largest first; none if there is
    /// no such shape.
    pub fn circles_inside(&self, index: usize) -> Vec<Disc> {
        let around = self.shapes.get(index);
        let Some(edge) = around.and_then(|shape| Bounded::of(&shape.outline)) else {
            return Vec::new();
        };
        let others = self.shapes.iter().enumerate();
        let others = others.filter(|(own, _)| *own != index);
        let circles = others.filter_map(|(_, shape)| shape.circle());
        let mut inside: Vec<Disc> = circles
            .filter(|circle| edge.room_around(circle.centre).distance >= circle.radius)
            .collect();
        inside.sort_by(|a, b| b.radius.total_cmp(&a.radius));
        inside
    }
}
