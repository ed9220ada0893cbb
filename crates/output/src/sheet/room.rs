//! Where the view leaves room for the other parts of the sheet.

use layout::geometry::{Point, Vector, polygon};

use super::canvas::bounds_of;
use crate::drawing::{Bounds, Drawing, Fill, Stroke, Text};

/// Side of one cell, mm.
const CELL: f64 = 1.0;

/// A grid over the view that tells whether a rectangle is free of it.
pub(super) struct Room {
    /// The box around the view, in the plate's frame.
    pub(super) bounds: Bounds,
    /// How many cells hold something drawn.
    drawn: Sums,
    /// How many cells hold something drawn or lie inside the head.
    within: Sums,
}

impl Room {
    pub(super) fn around(view: &Drawing, wall: &[Point]) -> Self {
        let bounds = view.bounds().unwrap_or(bounds_of([]));
        let mut drawn = Cells::over(bounds);
        for stroke in &view.strokes {
            mark_stroke(&mut drawn, stroke);
        }
        let boxes = view.texts.iter().map(Text::bounds);
        for own in boxes.chain(view.fills.iter().filter_map(Fill::bounds)) {
            drawn.mark(own);
        }
        let mut within = drawn.clone();
        mark_inside(&mut within, wall);
        Self {
            bounds,
            drawn: drawn.sums(),
            within: within.sums(),
        }
    }

    /// How much of a box in the plate's frame the view and the inside of the head take up, mm².
    pub(super) fn area_taken(&self, own: Bounds) -> f64 {
        f64::from(self.within.count(own)) * CELL * CELL
    }

    /// Whether a box in the plate's frame holds nothing of the view, and if `inside_head` is false
    /// nothing of the head either.
    pub(super) fn is_free(&self, own: Bounds, inside_head: bool) -> bool {
        let sums = if inside_head {
            &self.drawn
        } else {
            &self.within
        };
        sums.count(own) == 0
    }
}

/// Cells, row by row from the lower left.
#[derive(Clone)]
struct Cells {
    low: Point,
    columns: usize,
    rows: usize,
    marked: Vec<bool>,
}

impl Cells {
    fn over(bounds: Bounds) -> Self {
        let around = bounds.grown(CELL);
        let [columns, rows] = around.size().map(|side| index(side) + 1);
        Self {
            low: around.low,
            columns,
            rows,
            marked: vec![false; columns * rows],
        }
    }

    /// First and one past the last cell of a box, held to the grid: columns, then rows.
    fn range(&self, own: Bounds) -> [[usize; 2]; 2] {
        let held = |from: f64, to: f64, count: usize| {
            [
                index(from).min(count),
                (index(to) + usize::from(to >= 0.0)).min(count),
            ]
        };
        let (a, b) = (own.low - self.low, own.high - self.low);
        [held(a.x, b.x, self.columns), held(a.y, b.y, self.rows)]
    }

    fn mark(&mut self, own: Bounds) {
        let [[left, right], [bottom, top]] = self.range(own);
        for row in bottom..top {
            let start = row * self.columns;
            self.marked[start + left..start + right].fill(true);
        }
    }

    /// For each corner of a cell, how many marked cells lie below and to the left of it.
    fn sums(self) -> Sums {
        let width = self.columns + 1;
        let mut sums = vec![0_u32; width * (self.rows + 1)];
        for row in 0..self.rows {
            for column in 0..self.columns {
                let at = (row + 1) * width + column + 1;
                let own = u32::from(self.marked[row * self.columns + column]);
                sums[at] = own + sums[at - 1] + sums[at - width] - sums[at - width - 1];
            }
        }
        Sums { cells: self, sums }
    }
}

/// Counts of marked cells (a summed-area table).
struct Sums {
    cells: Cells,
    sums: Vec<u32>,
}

impl Sums {
    fn count(&self, own: Bounds) -> u32 {
        let [[left, right], [bottom, top]] = self.cells.range(own);
        let at = |column: usize, row: usize| self.sums[row * (self.cells.columns + 1) + column];
        if left >= right || bottom >= top {
            return 0;
        }
        at(right, top) + at(left, bottom) - at(left, top) - at(right, bottom)
    }
}

/// The cell that a distance from the grid's edge falls into.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "held to a grid of the size of a page"
)]
fn index(distance: f64) -> usize {
    (distance / CELL).floor().clamp(0.0, 1e5) as usize
}

fn mark_stroke(cells: &mut Cells, stroke: &Stroke) {
    let points = stroke.flattened();
    let count = points.len() - usize::from(!stroke.closed);
    for edge in polygon::edges(&points).take(count) {
        let along: Vector = edge.end - edge.start;
        let steps = (along.norm() / (CELL / 2.0)).ceil().max(1.0);
        let mut step = 0.0;
        while step <= steps {
            cells.mark(bounds_of([edge.start + along * (step / steps)]));
            step += 1.0;
        }
    }
}

/// Marks the cells whose centres lie inside a polygon, row by row.
fn mark_inside(cells: &mut Cells, wall: &[Point]) {
    for row in 0..cells.rows {
        let y = cells.low.y + (row as f64 + 0.5) * CELL;
        let mut crossings: Vec<f64> = polygon::edges(wall)
            .filter(|edge| (edge.start.y > y) != (edge.end.y > y))
            .map(|edge| {
                let share = (y - edge.start.y) / (edge.end.y - edge.start.y);
                edge.start.x + (edge.end.x - edge.start.x) * share
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for inside in crossings.chunks_exact(2) {
            cells.mark(bounds_of([
                Point::new(inside[0], y),
                Point::new(inside[1], y),
            ]));
        }
    }
}
