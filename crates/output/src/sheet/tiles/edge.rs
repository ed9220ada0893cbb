//! What joins a page to its neighbours: register marks, and which page lies beyond each edge.

use layout::geometry::{Point, Vector};

use super::grid::{Cell, MARK_REACH, SIDES, neighbour};
use super::leaf::GUTTER;
use super::tiling::Tiling;
use crate::drawing::{Anchor, Bounds, Direction, Drawing, Layer, LineType, Stroke, Text};
use crate::font::Weight;
use crate::sheet::block::note;
use crate::sheet::rectangle;
use crate::sheet::style::{NARROW, NOTE};

/// Radius of a register mark's circle, mm.
const MARK_RADIUS: f64 = 3.0;

/// Draws the edge of a cell's window, its marks, and the names of its neighbours, in the view's frame.
pub(super) fn draw(tiling: &Tiling, cell: Cell) -> Drawing {
    let window = tiling.grid.window(cell);
    let mut drawing = Drawing::default();
    let edge = rectangle(window.corners(), NARROW, Layer::Sheet);
    drawing.strokes.push(edge);
    for at in tiling.marks(cell) {
        drawing.strokes.extend(mark(at));
    }
    for side in SIDES {
        if let Some(page) = tiling.number(neighbour(cell, side)) {
            drawing.texts.push(name(&window, side, page));
        }
    }
    drawing
}

/// A cross in a circle.
fn mark(at: Point) -> [Stroke; 3] {
    let (kind, layer) = (LineType::Continuous, Layer::Register);
    let arm = |along: Vector| {
        let [start, end] = [at - along * MARK_REACH, at + along * MARK_REACH];
        Stroke::line(start, end, kind, NARROW, layer)
    };
    [
        Stroke::circle(at, MARK_RADIUS, kind, NARROW, layer),
        arm(Vector::x()),
        arm(Vector::y()),
    ]
}

/// Which page joins at a side, outside of the window's edge.
fn name(window: &Bounds, [right, up]: Cell, page: usize) -> Text {
    /// From the window's edge, or the gutter's, to the text.
    const OFF: f64 = (GUTTER - NOTE) / 2.0;
    let centre = window.centre();
    // The baseline of an upright text is on its right.
    let (at, direction) = match [right, up] {
        [-1, _] => (Point::new(window.low.x - OFF, centre.y), Direction::Upward),
        [1, _] => (
            Point::new(window.high.x + OFF + NOTE, centre.y),
            Direction::Upward,
        ),
        [_, -1] => (
            Point::new(centre.x, window.low.y - OFF - NOTE),
            Direction::Level,
        ),
        _ => (Point::new(centre.x, window.high.y + OFF), Direction::Level),
    };
    let text = format!("page {page} joins here");
    Text {
        anchor: Anchor::Middle,
        direction,
        ..note(at, text, Weight::Regular, NOTE)
    }
}
