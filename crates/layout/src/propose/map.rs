//! A map of how far places lie inside an outline.

use std::cell::Cell;
use std::ops::RangeInclusive;

use crate::geometry::Point;
use crate::geometry::bounded::Bounded;

/// Side of the map's cells, mm.
const CELL: f64 = 3.0;

/// Most cells along a side: a larger outline gets larger ones.
const MOST_CELLS: f64 = 100.0;

/// Distances from an outline at the corners of square cells, each measured when it is first asked for.
pub(super) struct Map<'a> {
    outline: &'a Bounded,
    low: Point,
    high: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    corners: Vec<Cell<Option<f64>>>,
}

impl<'a> Map<'a> {
    /// A map of the box around an outline.
    pub(super) fn new(outline: &'a Bounded) -> Self {
        let [low, high] = outline.corners();
        let size = high - low;
        let cell = (size.max() / MOST_CELLS).max(CELL);
        let count = |length: f64| (0..).take_while(|&n| f64::from(n) * cell < length).count() + 1;
        let (columns, rows) = (count(size.x), count(size.y));
        Self {
            outline,
            low,
            high,
            cell,
            columns,
            rows,
            corners: vec![Cell::new(None); columns * rows],
        }
    }

    /// The room around a point in the outline, mm, negative outside: exact where it matters, within
    /// a range, and elsewhere no nearer to the range than it is.
    ///
    /// Between the corners of a cell it is interpolated. That is off by no more than the mean distance
    /// of the corners, each counted as it is weighed, which is at most 1/√2 of the cell.
    pub(super) fn room(&self, point: Point, exact: RangeInclusive<f64>) -> f64 {
        let beyond = (point - point.sup(&self.low).inf(&self.high)).norm();
        if -beyond < *exact.start() {
            return -beyond;
        }
        let Some(about) = self.interpolated(point) else {
            return self.outline.room_around(point).distance;
        };
        let off = self.cell * std::f64::consts::FRAC_1_SQRT_2;
        if about - off > *exact.end() {
            about - off
        } else if about + off < *exact.start() {
            about + off
        } else {
            self.outline.room_around(point).distance
        }
    }

    fn interpolated(&self, point: Point) -> Option<f64> {
        let at = (point - self.low) / self.cell;
        let (column, right) = (index(at.x, self.columns)?, at.x.fract());
        let (row, up) = (index(at.y, self.rows)?, at.y.fract());
        let [a, b] = [row, row + 1].map(|row| {
            let [left_end, right_end] = [column, column + 1].map(|column| self.corner(column, row));
            left_end + (right_end - left_end) * right
        });
        Some(a + (b - a) * up)
    }

    fn corner(&self, column: usize, row: usize) -> f64 {
        let corner = &self.corners[row * self.columns + column];
        corner.get().unwrap_or_else(|| {
            let to = nalgebra::Vector2::new(column as f64, row as f64) * self.cell;
            let room = self.outline.room_around(self.low + to).distance;
            corner.set(Some(room));
            room
        })
    }
}

/// The cell that a coordinate lies in, if it is not the last.
fn index(at: f64, count: usize) -> Option<usize> {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "within 0 and the count"
    )]
    let inside = (at >= 0.0 && at + 1.0 < count as f64).then(|| at as usize);
    inside
}
