//! The whole drawing small, with the pages that it is cut into.

use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, Vector};

use super::grid::{Cell, OVERLAP};
use super::tiling::Tiling;
use crate::drawing::{Bounds, Drawing, Layer, LineType, Stroke};
use crate::sheet::block::Block;
use crate::sheet::canvas::bounds_of;
use crate::sheet::rectangle;
use crate::sheet::scene::Scene;
use crate::sheet::style::{FINE, WIDE};

/// Width and height that it may have, mm.
pub(super) const LARGEST: [f64; 2] = [42.0, 24.0];

/// Draws it. Pages meet where they are cut; the outline of page `own` is wide.
pub(super) fn draw(scene: &Scene, tiling: &Tiling, own: Option<Cell>) -> Block {
    // Pages are cut through the middle of what they share.
    let part = |cell: Cell| tiling.without_shared(cell, OVERLAP / 2.0);
    let parts = tiling.cells.iter().map(|&cell| part(cell));
    let all = parts.clone().reduce(Bounds::with).unwrap_or(bounds_of([]));
    let [width, height] = all.size();
    let scale = (LARGEST[0] / width).min(LARGEST[1] / height);
    let small = |at: Point| Point::from((at - all.low) * scale);

    let mut drawing = Drawing::default();
    let mut outline = |own: &Outline| {
        let segments = own.segments.iter().map(|piece| shrunk(piece, scale, small));
        let own = Outline {
            segments: segments.collect(),
        };
        let line = LineType::Continuous;
        drawing
            .strokes
            .push(Stroke::outline(&own, line, FINE, Layer::KeyPlan));
    };
    if !scene.wall.is_empty() {
        outline(&Outline::polygon(&scene.wall));
    }
    outline(&scene.plate);
    for opening in scene.openings() {
        let arc = Arc {
            centre: opening.centre,
            radius: opening.radius,
            start_angle: 0.0,
            sweep: std::f64::consts::TAU,
        };
        outline(&Outline {
            segments: vec![Segment::Arc(arc)],
        });
    }
    let own = own.map(|cell| (part(cell), WIDE));
    for (part, line) in parts.map(|part| (part, FINE)).chain(own) {
        let corners = part.corners().map(small);
        drawing
            .strokes
            .push(rectangle(corners, line, Layer::KeyPlan));
    }
    Block {
        size: Vector::new(width, height).map(|side| side * scale).into(),
        drawing,
    }
}

fn shrunk(piece: &Segment, scale: f64, small: impl Fn(Point) -> Point) -> Segment {
    match piece {
        Segment::Line(line) => Segment::Line(Line {
            start: small(line.start),
            end: small(line.end),
        }),
        Segment::Arc(arc) => Segment::Arc(Arc {
            centre: small(arc.centre),
            radius: arc.radius * scale,
            ..*arc
        }),
    }
}
