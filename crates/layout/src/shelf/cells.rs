//! Which edges of a wall can be the nearest to a place, square by square.

use crate::geometry::{Point, Vector};

/// How often the large square is halved, both ways: 64 × 64 small ones leave few edges in each, and are
/// filled in a millisecond.
const HALVINGS: u32 = 6;

/// Small squares along a side of the large one.
const ALONG: usize = 1 << HALVINGS;

/// How far the large square reaches beyond the wall to every side, as a share of its larger side: places
/// farther out are hardly ever asked for.
const BEYOND: f64 = 0.125;

/// Squares over a wall and some way around it.
pub(super) struct Cells {
    low: Point,
    /// Side of a small square, mm.
    side: f64,
    /// The small squares, row by row: where their edges stand in `edges`.
    spans: Vec<[usize; 2]>,
    edges: Vec<usize>,
}

impl Cells {
    /// Squares over a wall that lies between two corners, with `count` edges of which `apart` tells how far
    /// away from a place they lie, mm.
    pub(super) fn of(
        [low, high]: [Point; 2],
        count: usize,
        apart: impl Fn(usize, Point) -> f64,
    ) -> Self {
        let size = high - low;
        let side = size.x.max(size.y) * (1.0 + 2.0 * BEYOND) / ALONG as f64;
        let mut cells = Self {
            low: nalgebra::center(&low, &high) - Vector::repeat(side * ALONG as f64 / 2.0),
            side,
            spans: vec![[0; 2]; ALONG * ALONG],
            edges: Vec::new(),
        };
        let all: Vec<usize> = (0..count).collect();
        cells.fill([0; 2], ALONG, &all, &apart);
        cells
    }

    /// Fills a square of `along` small ones to a side, whose lower left one is `first`, with those of some
    /// `edges` that can be the nearest to a place in it: no place is farther from the edge that is nearest to the
    /// middle than that edge is from the middle and half a diagonal more.
    fn fill(
        &mut self,
        first: [usize; 2],
        along: usize,
        edges: &[usize],
        apart: &impl Fn(usize, Point) -> f64,
    ) {
        let half = Vector::repeat(self.side * along as f64 / 2.0);
        let [column, row] = first;
        let middle = self.low + Vector::new(column as f64, row as f64) * self.side + half;
        let distances: Vec<f64> = edges.iter().map(|&edge| apart(edge, middle)).collect();
        let most = distances.iter().copied().fold(f64::INFINITY, f64::min) + 2.0 * half.norm();
        let near = edges
            .iter()
            .zip(&distances)
            .filter(|(_, apart)| **apart <= most);
        let near = near.map(|(&edge, _)| edge);
        if along == 1 {
            let start = self.edges.len();
            self.edges.extend(near);
            self.spans[row * ALONG + column] = [start, self.edges.len()];
            return;
        }
        let (near, half) = (near.collect::<Vec<_>>(), along / 2);
        for [right, up] in [[0, 0], [half, 0], [0, half], [half, half]] {
            self.fill([column + right, row + up], half, &near, apart);
        }
    }

    /// The edges that can be the nearest to a place; None if it lies too far outside.
    pub(super) fn at(&self, place: Point) -> Option<&[usize]> {
        let [column, row] = [place.x - self.low.x, place.y - self.low.y].map(|off| off / self.side);
        let within = 0.0..ALONG as f64;
        if !(within.contains(&column) && within.contains(&row)) {
            return None;
        }
        let [start, end] = self.spans[index(row) * ALONG + index(column)];
        self.edges.get(start..end)
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "it lies between 0 and the count of squares along a side"
)]
fn index(at: f64) -> usize {
    at as usize
}
