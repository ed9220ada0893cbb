//! What the views draw with: shapes of the plate's plane put on the screen, and kinds of line.

use egui::epaint::Mesh;
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2, vec2};
use layout::geometry::Point;

use super::camera::{Camera, points};
use crate::window::theme::{self, Palette};

/// Width of an outline that matters, in points.
pub(super) const BOLD: f32 = 1.6;

/// Width of every other line, in points.
pub(super) const FINE: f32 = 1.0;

/// Dashes and gaps of a line that shows something hidden or a limit, in points.
const DASHED: [&[f32]; 2] = [&[5.0], &[3.5]];

/// Dashes and gaps of a centre line, long-dashed dotted, in points.
const CENTRE: [&[f32]; 2] = [&[16.0, 1.5], &[3.5, 3.5]];

/// Steps that a circle is drawn in: at the largest scale its chords stay within a pixel or two.
const CIRCLE_STEPS: u32 = 180;

/// A sheet to draw on: a painter, its colours, and the camera that it is seen by.
pub(super) struct Ink<'a> {
    /// Paints, clipped to the view.
    pub(super) painter: Painter,
    /// The colours.
    pub(super) palette: Palette,
    /// Says where on the screen a place is.
    pub(super) camera: &'a Camera,
}

impl Ink<'_> {
    /// A curve of the plate's plane on the screen.
    pub(super) fn path(&self, places: &[Point]) -> Vec<Pos2> {
        places.iter().map(|&at| self.camera.to_screen(at)).collect()
    }

    /// A circle of the plate's plane, filled and edged.
    pub(super) fn circle(&self, centre: Point, radius: f64, fill: Color32, edge: Stroke) {
        let (centre, radius) = (self.camera.to_screen(centre), self.camera.length(radius));
        self.painter.circle(centre, radius, fill, edge);
    }

    /// A dashed circle.
    pub(super) fn dashed_circle(&self, centre: Point, radius: f64, stroke: Stroke) {
        self.dashed_closed(&circle(centre, radius), stroke);
    }

    /// A dashed closed curve.
    pub(super) fn dashed_closed(&self, places: &[Point], stroke: Stroke) {
        let mut path = self.path(places);
        path.extend(path.first().copied());
        self.dashed(&path, stroke);
    }

    /// A closed curve.
    pub(super) fn closed(&self, places: &[Point], stroke: Stroke) {
        self.painter
            .add(Shape::closed_line(self.path(places), stroke));
    }

    /// A convex shape, filled.
    pub(super) fn convex(&self, places: &[Point], fill: Color32, edge: Stroke) {
        self.painter
            .add(Shape::convex_polygon(self.path(places), fill, edge));
    }

    /// A dashed line along points of the screen.
    pub(super) fn dashed(&self, path: &[Pos2], stroke: Stroke) {
        self.broken(path, stroke, DASHED);
    }

    /// A centre line along points of the screen.
    pub(super) fn centre_line(&self, path: &[Pos2], stroke: Stroke) {
        self.broken(path, stroke, CENTRE);
    }

    fn broken(&self, path: &[Pos2], stroke: Stroke, [dashes, gaps]: [&[f32]; 2]) {
        let dashes = Shape::dashed_line_with_offset(path, stroke, dashes, gaps, 0.0);
        let clip = self.painter.clip_rect();
        self.painter.extend(
            dashes
                .into_iter()
                .filter(|dash| dash.visual_bounding_rect().intersects(clip)),
        );
    }

    /// Triangles of the plate's plane, by their corners' indices.
    pub(super) fn mesh(&self, places: &[Point], triangles: &[u32], fill: Color32) {
        let mut mesh = Mesh::default();
        for at in self.path(places) {
            mesh.colored_vertex(at, fill);
        }
        mesh.indices = triangles.to_vec();
        self.painter.add(mesh);
    }

    /// A filled arrow head, its point at `tip`, opening toward `back`.
    pub(super) fn arrow(&self, tip: Pos2, back: Vec2, colour: Color32) {
        /// Length and half width of the head, in points.
        const HEAD: Vec2 = vec2(8.0, 2.6);
        let back = back.normalized();
        let side = back.rot90();
        let corners = vec![
            tip,
            tip + back * HEAD.x + side * HEAD.y,
            tip + back * HEAD.x - side * HEAD.y,
        ];
        self.painter
            .add(Shape::convex_polygon(corners, colour, Stroke::NONE));
    }

    /// Small text; returns what it covers.
    pub(super) fn text(&self, at: Pos2, align: Align2, text: &str, colour: Color32) -> Rect {
        let font = FontId::proportional(theme::size::SMALL);
        self.painter.text(at, align, text, font, colour)
    }

    /// Hatches a simple polygon on the screen with lines at 45°, `apart` points from each other.
    pub(super) fn hatch(&self, polygon: &[Pos2], apart: f32, stroke: Stroke) {
        // Along a hatch line x + y is the same.
        let rank = |at: Pos2| at.x + at.y;
        let step = f64::from(apart) * std::f64::consts::SQRT_2;
        let (low, high) = polygon
            .iter()
            .fold((f32::INFINITY, f32::NEG_INFINITY), |(low, high), &at| {
                (low.min(rank(at)), high.max(rank(at)))
            });
        let mut line = (f64::from(low) / step).ceil() * step;
        while line < f64::from(high) {
            let mut crossings: Vec<Pos2> = edges(polygon)
                .filter_map(|[a, b]| crossing_with(points(line), a, b))
                .collect();
            crossings.sort_by(|a, b| a.x.total_cmp(&b.x));
            for pair in crossings.chunks_exact(2) {
                self.painter.line_segment([pair[0], pair[1]], stroke);
            }
            line += step;
        }
    }
}

/// The points of a circle, counter-clockwise.
pub(super) fn circle(centre: Point, radius: f64) -> Vec<Point> {
    let step = std::f64::consts::TAU / f64::from(CIRCLE_STEPS);
    (0..CIRCLE_STEPS)
        .map(|index| f64::from(index) * step)
        .map(|angle| centre + layout::geometry::Vector::new(angle.cos(), angle.sin()) * radius)
        .collect()
}

fn edges(polygon: &[Pos2]) -> impl Iterator<Item = [Pos2; 2]> + '_ {
    (0..polygon.len()).map(|index| [polygon[index], polygon[(index + 1) % polygon.len()]])
}

/// Where the edge from `a` to `b` crosses the line on which x + y is `line`.
fn crossing_with(line: f32, a: Pos2, b: Pos2) -> Option<Pos2> {
    let (from, to) = (a.x + a.y - line, b.x + b.y - line);
    ((from < 0.0) != (to < 0.0)).then(|| a + (b - a) * (from / (from - to)))
}
