//! Small pictures of a part for the cutter and of the solids for the printer, drawn from what is
//! written.

use egui::epaint::{Mesh, Vertex};
use egui::{Color32, Shape, Stroke, Ui};
use layout::geometry::Point;
use nalgebra::{Point3, Rotation3, Vector3};
use output::cut::Cut;
use output::solid::Solid;

use crate::window::fitted::{self, Fitted};
use crate::window::views::camera::points;

/// Height of a picture, in points.
const HEIGHT: f32 = 150.0;

/// The contours of a part, and its marks.
pub(super) fn cut(ui: &mut Ui, cut: &Cut) {
    let (painter, rect, palette) = fitted::paper(ui, HEIGHT, &cut.title);
    let contours: Vec<Vec<Point>> = cut
        .contours
        .iter()
        .map(|contour| contour.outline.flattened())
        .collect();
    let Some(frame) = Fitted::around(rect, contours.iter().flatten().copied()) else {
        return;
    };
    for mark in &cut.marks {
        for line in &mark.lines {
            let ends = [line.start, line.end].map(|at| frame.at(at));
            painter.line_segment(ends, Stroke::new(1.0, palette.faint));
        }
    }
    for contour in contours {
        let path = contour.into_iter().map(|at| frame.at(at)).collect();
        painter.add(Shape::closed_line(path, Stroke::new(1.4, palette.accent)));
    }
}

/// The solids side by side, seen from the front, above and the right; `spoken` is what the picture is
/// called.
pub(super) fn solids(ui: &mut Ui, spoken: &str, solids: &[Solid]) {
    /// Room between two solids, mm.
    const APART: f64 = 12.0;
    let (painter, rect, palette) = fitted::paper(ui, HEIGHT, spoken);
    if !ui.is_rect_visible(rect) {
        return;
    }
    let view = Rotation3::from_axis_angle(&Vector3::x_axis(), -0.9)
        * Rotation3::from_axis_angle(&Vector3::z_axis(), -0.35);
    let (mut corners, mut seen) = (Vec::new(), Vec::new());
    let mut next = 0.0;
    for solid in solids {
        let solid = solid.mesh();
        let Some([low, high]) = solid.bounds() else {
            continue;
        };
        let shift = Vector3::new(next - low.x, -(low.y + high.y) / 2.0, 0.0);
        next += high.x - low.x + APART;
        // Each corner is turned once, not once for each facet that it belongs to.
        let turned: Vec<_> = solid
            .vertices
            .iter()
            .map(|at| view * (at + shift))
            .collect();
        let facets = solid.triangles.iter();
        seen.extend(facets.filter_map(|facet| toward_us(facet.map(|index| turned[index]))));
        corners.extend(turned);
    }
    let flat = |at: &Point3<f64>| Point::new(at.x, at.y);
    let Some(frame) = Fitted::around(rect, corners.iter().map(flat)) else {
        return;
    };
    seen.sort_by(|a, b| a.depth.total_cmp(&b.depth));
    let mut mesh = Mesh::default();
    for Seen { facet, normal, .. } in &seen {
        let colour = shaded(palette.ring, palette.ring_edge, *normal);
        let first = mesh.vertices.len();
        for place in facet {
            mesh.vertices.push(Vertex {
                pos: frame.at(flat(place)),
                uv: egui::epaint::WHITE_UV,
                color: colour,
            });
        }
        let index = |offset: usize| u32::try_from(first + offset).unwrap_or(u32::MAX);
        mesh.indices.extend([index(0), index(1), index(2)]);
    }
    painter.add(mesh);
}

/// A facet that faces the viewer, who looks along −z.
struct Seen {
    facet: [Point3<f64>; 3],
    normal: Vector3<f64>,
    /// Three times how near its middle is.
    depth: f64,
}

fn toward_us(facet: [Point3<f64>; 3]) -> Option<Seen> {
    let normal = (facet[1] - facet[0]).cross(&(facet[2] - facet[0]));
    let normal = normal.try_normalize(0.0)?;
    (normal.z > 0.0).then(|| Seen {
        facet,
        normal,
        depth: facet.iter().map(|at| at.z).sum(),
    })
}

/// A facet's colour: lighter the more it faces the light, which comes from above and the left.
fn shaded(light: Color32, dark: Color32, normal: Vector3<f64>) -> Color32 {
    let toward = Vector3::new(-0.35, 0.55, 0.75).normalize();
    let share = normal.dot(&toward).clamp(0.0, 1.0);
    dark.lerp_to_gamma(light, points(0.15 + 0.85 * share))
}
