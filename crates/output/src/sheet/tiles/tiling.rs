//! Which pages a view is cut into: as few as possible.

use layout::geometry::{Point, Vector};

use super::grid::{Cell, Grid, MARK_REACH, OVERLAP, SIDES, neighbour};
use super::leaf;
use crate::drawing::Bounds;
use crate::sheet::arrange::{Part, arrange_beside};
use crate::sheet::paper::Page;
use crate::sheet::room::Room;
use crate::sheet::style::TEXT_ROOM;

/// Shares of what the windows cover too much that are tried at the left and below; the middle is liked
/// best.
const SHARES: [f64; 5] = [0.5, 0.25, 0.75, 0.0, 1.0];

/// A view cut into pages.
#[derive(Clone)]
pub(super) struct Tiling {
    pub(super) page: Page,
    pub(super) grid: Grid,
    /// The cells that have a page, in the order of the pages.
    pub(super) cells: Vec<Cell>,
}

impl Tiling {
    /// The tiling with the fewest pages. Among several, it leaves room for one of the `plans` beside the
    /// view, or has its marks where nothing is drawn. None if there are no pages to choose from.
    pub(super) fn best(pages: &[Page], view: &Room, plans: &[Vec<Part>]) -> Option<Self> {
        let all: Vec<Self> = pages
            .iter()
            .flat_map(|page| Self::all(page, view))
            .collect();
        let fewest = all.iter().map(|tiling| tiling.cells.len()).min()?;
        all.into_iter()
            .filter(|tiling| tiling.cells.len() == fewest)
            .min_by_key(|tiling| {
                let (_, free) = tiling.freest(view);
                let fits = |parts: &Vec<Part>| arrange_beside(free, view, parts).is_some();
                (!plans.iter().any(fits), tiling.marks_on_lines(view))
            })
    }

    fn all(page: &Page, view: &Room) -> Vec<Self> {
        let size = leaf::window(page).size();
        let shares = SHARES.iter().flat_map(|&x| SHARES.map(|y| [x, y]));
        let covered = view.bounds.grown(TEXT_ROOM);
        let grids = shares.map(|shares| Grid::over(covered, size, shares));
        let tilings = grids.map(|grid| Self {
            page: *page,
            grid,
            cells: Vec::new(),
        });
        tilings.map(|tiling| tiling.around(view)).collect()
    }

    /// The same windows around a view, without the pages that would show nothing of it that others do
    /// not show. Each page stays joined to the rest by those beside it.
    pub(super) fn around(mut self, view: &Room) -> Self {
        self.cells = self.grid.covering(view.bounds.grown(TEXT_ROOM));
        for cell in self.cells.clone() {
            // A text at the very edge of the next page is not shown there.
            let own = self.without_shared(cell, OVERLAP - TEXT_ROOM);
            let is_drawn = !view.is_free(own, true);
            let mut others = self.cells.clone();
            others.retain(|other| *other != cell);
            if !is_drawn && are_joined(&others) {
                self.cells = others;
            }
        }
        self
    }

    /// The window of a cell, narrower by `strip`, mm, on each side on which it has a neighbour.
    pub(super) fn without_shared(&self, cell: Cell, strip: f64) -> Bounds {
        let mut own = self.grid.window(cell);
        for side in SIDES {
            if !self.cells.contains(&neighbour(cell, side)) {
                continue;
            }
            let axis = usize::from(side[0] == 0);
            if side[axis] < 0 {
                own.low[axis] += strip;
            } else {
                own.high[axis] -= strip;
            }
        }
        own
    }

    /// The page of a cell, from 1; None if it has none.
    pub(super) fn number(&self, cell: Cell) -> Option<usize> {
        let index = self.cells.iter().position(|own| *own == cell)?;
        Some(index + 1)
    }

    /// The row, from the top, and the column of a cell, from 1.
    pub(super) fn place(&self, cell: Cell) -> [i32; 2] {
        let all = self.cells.iter();
        let [left, top] = all.fold(cell, |[left, top], own| [left.min(own[0]), top.max(own[1])]);
        [top - cell[1] + 1, cell[0] - left + 1]
    }

    /// The cell with most paper left beside the head, and the box of it that no other page shows.
    pub(super) fn freest(&self, view: &Room) -> (Cell, Bounds) {
        let boxes = self
            .cells
            .iter()
            .map(|&cell| (cell, self.without_shared(cell, OVERLAP)));
        let free = |own: &Bounds| {
            let [width, height] = own.size();
            width * height - view.area_taken(*own)
        };
        boxes
            .max_by(|a, b| free(&a.1).total_cmp(&free(&b.1)))
            .unwrap_or(([0, 0], self.grid.window([0, 0])))
    }

    /// Where a cell has register marks: in each corner that it shares with a neighbour beside it.
    pub(super) fn marks(&self, cell: Cell) -> Vec<Point> {
        let has = |side: Cell| self.cells.contains(&neighbour(cell, side));
        let corners = [[0, 0], [1, 0], [0, 1], [1, 1]];
        corners
            .into_iter()
            .filter(|[right, up]| has([2 * right - 1, 0]) || has([0, 2 * up - 1]))
            .map(|corner| self.grid.mark(neighbour(cell, corner)))
            .collect()
    }

    /// How many of the marks have something of the view under them.
    fn marks_on_lines(&self, view: &Room) -> usize {
        let marks = self.cells.iter().flat_map(|&cell| self.marks(cell));
        marks
            .map(|at| {
                let reach = Vector::repeat(MARK_REACH);
                Bounds {
                    low: at - reach,
                    high: at + reach,
                }
            })
            .filter(|own| !view.is_free(*own, true))
            .count()
    }
}

/// Whether each of the cells can be reached from any other by way of neighbours.
fn are_joined(cells: &[Cell]) -> bool {
    let mut reached: Vec<Cell> = cells.first().copied().into_iter().collect();
    let mut next = 0;
    while let Some(&cell) = reached.get(next) {
        for side in SIDES {
            let other = neighbour(cell, side);
            if cells.contains(&other) && !reached.contains(&other) {
                reached.push(other);
            }
        }
        next += 1;
    }
    reached.len() == cells.len()
}
