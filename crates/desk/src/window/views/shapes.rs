//! What the views draw of a project besides its laid-out shapes, kept until these change.

use std::sync::Arc;

use egui::{Id, Ui};
use geo::{LineString, Polygon, TriangulateEarcut};
use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::limits::Rule;

use crate::window::state::Desk;

/// Derived shapes, in the plate's frame, mm.
#[derive(Clone, Debug)]
pub(super) struct Shapes {
    wall: Vec<Point>,
    plate: Outline,
    fit_clearance: f64,
    /// The wall moved inward by what the plate should stay off it.
    pub(super) inset: Vec<Point>,
    /// The plate's edge.
    pub(super) plate_edge: Vec<Point>,
    /// Its triangles, as indices of the edge's points.
    pub(super) plate_triangles: Vec<u32>,
}

impl Shapes {
    /// The shapes of the project as it stands; worked out again only when it has changed.
    pub(super) fn of(ui: &Ui, desk: &Desk) -> Arc<Self> {
        let id = Id::unique("shapes of the views");
        let kept: Option<Arc<Self>> = ui.data(|data| data.get_temp(id));
        if let Some(shapes) = &kept
            && shapes.head_holds_for(desk)
            && shapes.plate == desk.laid().plate
        {
            return Arc::clone(shapes);
        }
        let shapes = Arc::new(Self::out(desk, kept.as_deref()));
        ui.data_mut(|data| data.insert_temp(id, Arc::clone(&shapes)));
        shapes
    }

    fn head_holds_for(&self, desk: &Desk) -> bool {
        self.wall == desk.laid().wall && self.fit_clearance == fit_clearance(desk)
    }

    fn out(desk: &Desk, before: Option<&Self>) -> Self {
        let laid = desk.laid();
        let fit_clearance = fit_clearance(desk);
        let plate_edge = laid.plate.flattened();
        // Moving the head inward is the dear part, and most drags leave the head alone.
        let inset = before
            .filter(|shapes| shapes.head_holds_for(desk))
            .map_or_else(
                || {
                    Outline::polygon(&laid.wall)
                        .inset(fit_clearance)
                        .flattened()
                },
                |shapes| shapes.inset.clone(),
            );
        Self {
            wall: laid.wall.clone(),
            plate: laid.plate.clone(),
            fit_clearance,
            inset,
            plate_triangles: triangles(&plate_edge),
            plate_edge,
        }
    }
}

/// How far the plate should stay off the wall, mm.
fn fit_clearance(desk: &Desk) -> f64 {
    let project = desk.project();
    let limit = project.limits.of(Rule::PlateWall, project.plate.thickness);
    limit.wanted.max(0.0)
}

/// Triangles that fill a simple polygon, as indices of its corners.
fn triangles(corners: &[Point]) -> Vec<u32> {
    // Of no plate at all, the triangulation would count its corners below none.
    if corners.len() < 3 {
        return Vec::new();
    }
    let ring: LineString = corners.iter().map(|at| (at.x, at.y)).collect();
    let filled = Polygon::new(ring, Vec::new()).earcut_triangles_raw();
    let indices = filled.triangle_indices.into_iter();
    indices
        .filter_map(|index| u32::try_from(index).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use layout::geometry::polygon;

    use super::*;

    #[test]
    fn triangles_fill_a_shape_with_a_notch_and_no_more() {
        let corners = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (4.0, 1.0), (0.0, 6.0)];
        let corners = corners.map(|(x, y)| Point::new(x, y));
        let area = |index: &[u32]| {
            let [a, b, c] = [0, 1, 2].map(|corner| corners[index[corner] as usize]);
            ((b - a).perp(&(c - a)) / 2.0).abs()
        };
        let filled: f64 = triangles(&corners).chunks_exact(3).map(area).sum();
        approx::assert_abs_diff_eq!(filled, polygon::area(&corners), epsilon = 1e-9);
    }
}
