//! A map of how far places lie inside an outline.

use std::cell::Cell;

use crate::geometry::bounded::Bounded;
use crate::geometry::{Point, Vector};

/// Side of the map's cells, mm.
const CELL: f64 = 1.5;

/// Most cells along a side: a larger outline gets larger ones.
const MOST_CELLS: f64 = 200.0;

/// How far the map reaches beyond the outline, mm: more than any margin that is usual.
const BEYOND: f64 = 5.0;

/// By how much less room it tells than it finds, as a share of a cell: between the corners of a cell,
/// a distance of two cells from a corner of the outline is found up to this much too large.
const WARY: f64 = 0.1;

/// Room at the corners of square cells, each measured when it is first asked for: a search asks for
/// the same places again and again. What is found on it is held against the rules in the end.
pub(super) struct Map<'a> {
    outline: &'a Bounded,
    low: Point,
    high: Point,
    cell: f64,
    columns: usize,
    corners: Vec<Cell<Option<f64>>>,
}

impl<'a> Map<'a> {
    /// A map of the box around an outline.
    pub(super) fn new(outline: &'a Bounded) -> Self {
        let [low, high] = outline.corners();
        let (low, high) = (low - Vector::repeat(BEYOND), high + Vector::repeat(BEYOND));
        let cell = ((high - low).max() / MOST_CELLS).max(CELL);
        let corners = |length: f64| (0..).take_while(|&n| f64::from(n) * cell < length).count() + 2;
        let (columns, rows) = (corners(high.x - low.x), corners(high.y - low.y));
        Self {
            outline,
            low,
            high,
            cell,
            columns,
            corners: vec![Cell::new(None); columns * rows],
        }
    }

    /// About the room around a point in the outline, mm; negative outside. Beyond the map it is that
    /// to the map's edge or less, plus what it is there.
    pub(super) fn room(&self, point: Point) -> f64 {
        let within = point.sup(&self.low).inf(&self.high);
        let at = (within - self.low) / self.cell;
        let (column, row) = (index(at.x), index(at.y));
        let [a, b] = [row, row + 1].map(|row| {
            let [from, to] = [column, column + 1].map(|column| self.corner(column, row));
            from + (to - from) * at.x.fract()
        });
        let room = a + (b - a) * at.y.fract();
        room - WARY * self.cell - (point - within).norm()
    }

    fn corner(&self, column: usize, row: usize) -> f64 {
        let measure = || {
            let to = Vector::new(column as f64, row as f64) * self.cell;
            self.outline.room_around(self.low + to).distance
        };
        // A place on the map's edge may ask for a corner beyond its last.
        let Some(corner) = self.corners.get(row * self.columns + column) else {
            return measure();
        };
        corner.get().unwrap_or_else(|| {
            let room = measure();
            corner.set(Some(room));
            room
        })
    }
}

/// The cell that a coordinate lies in.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "it lies between 0 and the count of cells"
)]
fn index(at: f64) -> usize {
    at as usize
}
