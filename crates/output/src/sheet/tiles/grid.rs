//! Windows of one size that cover the plane in rows and columns, each lapping over its neighbours.

use layout::geometry::{Point, Vector};

use crate::drawing::Bounds;
use crate::sheet::style::TEXT_ROOM;

/// How far neighbouring windows lap over one another, mm. Two pages are cut and joined along the middle
/// of it: half of it then still lies under the other page, enough to glue or tape. The margin that a
/// printer leaves white comes on top, since windows end inside of it.
pub const OVERLAP: f64 = 12.0;

/// Half of the width and height of a register mark, mm.
pub(super) const MARK_REACH: f64 = 4.5;

/// What a window may end too early, mm, without another being needed.
const ROUNDING: f64 = 1e-6;

/// A window, by its column and row, counted to the right and upward from anywhere.
pub(super) type Cell = [i32; 2];

/// The four sides of a window, as steps to the cells beyond them.
pub(super) const SIDES: [Cell; 4] = [[-1, 0], [1, 0], [0, -1], [0, 1]];

/// The windows, in the view's frame.
#[derive(Clone, Copy, Debug)]
pub(in crate::sheet) struct Grid {
    /// Lower left corner of the window of cell `[0, 0]`.
    low: Point,
    /// Width and height of a window, mm; more than twice [`OVERLAP`].
    size: [f64; 2],
}

impl Grid {
    /// The fewest windows of a size that cover a box. They cover more: `shares` says how much of that
    /// lies to the left and below.
    pub(super) fn over(covered: Bounds, size: [f64; 2], shares: [f64; 2]) -> Self {
        let mut low = covered.low;
        for axis in 0..2 {
            let length = covered.size()[axis];
            let pitch = size[axis] - OVERLAP;
            let count = ((length - OVERLAP) / pitch).ceil().max(1.0);
            low[axis] -= shares[axis] * (count * pitch + OVERLAP - length);
        }
        Self { low, size }
    }

    /// A cell's window.
    pub(super) fn window(&self, cell: Cell) -> Bounds {
        let at = |axis: usize| f64::from(cell[axis]) * self.pitch(axis);
        let low = self.low + Vector::new(at(0), at(1));
        Bounds::of_size(low, self.size)
    }

    /// The cells whose windows cover a box, from the left to the right in each row, the highest row in
    /// front.
    pub(super) fn covering(&self, covered: Bounds) -> Vec<Cell> {
        let range = |axis: usize| {
            let first = self.last_from(axis, covered.low[axis]);
            let end = self.low[axis] + self.size[axis];
            let last = whole(((covered.high[axis] - end - ROUNDING) / self.pitch(axis)).ceil());
            first..=last.max(first)
        };
        let rows = range(1).rev();
        rows.flat_map(|row| range(0).map(move |column| [column, row]))
            .collect()
    }

    /// Whether a text in a box can be read: one window holds it with room around it, and no register
    /// mark runs through it.
    pub(in crate::sheet) fn shows(&self, text: Bounds) -> bool {
        let held = self.holder(text).grown(-TEXT_ROOM).holds(&text);
        held && !self.meets_mark(text.grown(TEXT_ROOM))
    }

    /// The window that starts last before a box, and so ends last.
    fn holder(&self, own: Bounds) -> Bounds {
        let low = own.low - Vector::repeat(TEXT_ROOM);
        self.window([self.last_from(0, low.x), self.last_from(1, low.y)])
    }

    /// Where the register mark belongs that a cell shares with those to its left, below, and between.
    pub(super) fn mark(&self, cell: Cell) -> Point {
        self.window(cell).low + Vector::repeat(OVERLAP / 2.0)
    }

    fn meets_mark(&self, own: Bounds) -> bool {
        (0..2).all(|axis| {
            let [low, high] = [own.low[axis], own.high[axis]];
            let first = self.low[axis] + OVERLAP / 2.0 - MARK_REACH;
            let before = ((high - first) / self.pitch(axis)).floor();
            // The last mark that starts before the box ends.
            first + before * self.pitch(axis) + 2.0 * MARK_REACH > low
        })
    }

    /// The last column or row that starts at or before a place.
    fn last_from(&self, axis: usize, place: f64) -> i32 {
        whole(((place - self.low[axis]) / self.pitch(axis)).floor())
    }

    fn pitch(&self, axis: usize) -> f64 {
        self.size[axis] - OVERLAP
    }
}

/// A count of windows: a view is at most some metres wide.
#[allow(
    clippy::cast_possible_truncation,
    reason = "held to what a drawing can need"
)]
fn whole(count: f64) -> i32 {
    count.clamp(-1e6, 1e6) as i32
}

/// The cell that lies a step away from another.
pub(super) fn neighbour(cell: Cell, [right, up]: Cell) -> Cell {
    [cell[0] + right, cell[1] + up]
}
