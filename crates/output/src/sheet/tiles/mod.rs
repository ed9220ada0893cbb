//! A sheet that is larger than the paper, at 1:1 on several pages.

mod edge;
mod foot;
mod grid;
mod key_plan;
mod leaf;
mod piece;
mod tiling;

use layout::geometry::Vector;

use super::arrange::{Arrangement, Part, arrange_beside};
use super::error::{PageCount, SheetError};
use super::paper::{OrientationChoice, Page, PaperChoice, pages, pages_for_pieces};
use super::parts;
use super::room::Room;
use super::style::NARROW;
use super::title::SheetNumber;
use super::view::{self, Subject};
use super::{SheetOptions, blank, rectangle};
use crate::drawing::{Bounds, Drawing, Layer};
use grid::Cell;
use tiling::Tiling;

pub(super) use grid::Grid;
pub use grid::OVERLAP;

/// Most pages of one sheet: putting more together is no longer a job for a bench.
pub const MOST_PAGES: usize = 40;

/// Draws the pages. `view` is the room around the view in one piece.
pub(super) fn draw(
    subject: &Subject<'_>,
    options: &SheetOptions,
    view: &Room,
) -> Result<Vec<Drawing>, SheetError> {
    let (paper, unit) = (options.paper, options.unit);
    let own = pages_for_pieces(paper, options.orientation, unit);
    let drawn = in_pieces(subject, &own, view)?;
    if drawn.len() <= MOST_PAGES {
        return Ok(drawn);
    }
    let turned = pages_for_pieces(paper, OrientationChoice::Auto, unit);
    let larger = pages(PaperChoice::A3, OrientationChoice::Auto, unit);
    let others = [turned, larger].into_iter();
    let other = others
        .filter_map(|pages| in_pieces(subject, &pages, view).ok())
        .find(|drawn| drawn.len() <= MOST_PAGES);
    Err(SheetError::too_many_pages(
        subject,
        view.bounds.size(),
        &PageCount::of(&drawn),
        other.as_deref().map(PageCount::of).as_ref(),
    ))
}

/// Draws as many pages as it takes, on the paper among `pages` that takes the fewest.
fn in_pieces(
    subject: &Subject<'_>,
    pages: &[Page],
    view: &Room,
) -> Result<Vec<Drawing>, SheetError> {
    // The numbers do not change the sizes of the parts.
    let plans = parts::plans_beside_pieces(subject, SheetNumber::ONLY);
    let tiling = Tiling::best(pages, view, &plans).expect("every choice of paper allows a page");
    let view = view::draw(subject, Some(tiling.grid));
    let room = Room::around(&view, &subject.scene.wall);
    let set = Set {
        subject,
        tiling: tiling.around(&room),
        view,
    };
    set.draw(&room)
}

/// The pages of one sheet.
struct Set<'a> {
    subject: &'a Subject<'a>,
    tiling: Tiling,
    view: Drawing,
}

impl Set<'_> {
    /// Draws the pieces of the view, and everything else on the emptiest of them, or on pages that
    /// follow.
    fn draw(&self, room: &Room) -> Result<Vec<Drawing>, SheetError> {
        let count = self.tiling.cells.len();
        let (host, free) = self.tiling.freest(room);
        let number = self.tiling.number(host).unwrap_or(1);
        let plans = parts::plans_beside_pieces(self.subject, SheetNumber { number, count });
        let beside = plans
            .iter()
            .find_map(|parts| arrange_beside(free, room, parts));
        let Some(beside) = beside else {
            return self.with_pages_of_notes();
        };
        let mut pages = self.pieces(count);
        let by = self.to_page(host);
        put(&mut pages[number - 1], &beside, by);
        Ok(pages)
    }

    fn with_pages_of_notes(&self) -> Result<Vec<Drawing>, SheetError> {
        let pieces = self.tiling.cells.len();
        let frame = leaf::window(&self.tiling.page);
        let parts = |count: usize| {
            let number = pieces + 1;
            parts::pieces(self.subject, SheetNumber { number, count })
        };
        let no_room = || SheetError::no_room(self.subject.project);
        let notes = spread(frame, &parts(pieces + 1)).ok_or_else(no_room)?.len();
        let count = pieces + notes;
        let mut pages = self.pieces(count);
        let parts = parts(count);
        for arrangement in spread(frame, &parts).ok_or_else(no_room)? {
            let number = pages.len() + 1;
            let mut page = self.leaf(None, SheetNumber { number, count });
            let edge = rectangle(frame.corners(), NARROW, Layer::Sheet);
            page.strokes.push(edge);
            put(&mut page, &arrangement, Vector::zeros());
            pages.push(page);
        }
        Ok(pages)
    }

    /// One page for each cell.
    fn pieces(&self, count: usize) -> Vec<Drawing> {
        let cells = self.tiling.cells.iter().enumerate();
        cells
            .map(|(index, &cell)| {
                let number = index + 1;
                let mut page = self.leaf(Some(cell), SheetNumber { number, count });
                let by = self.to_page(cell);
                let window = self.tiling.grid.window(cell);
                page.add(piece::of(&self.view, window), by);
                page.add(edge::draw(&self.tiling, cell), by);
                page
            })
            .collect()
    }

    /// From the view's frame to the page of a cell.
    fn to_page(&self, cell: Cell) -> Vector {
        leaf::window(&self.tiling.page).low - self.tiling.grid.window(cell).low
    }

    /// A page with its foot: that of a cell, or one of notes.
    fn leaf(&self, cell: Option<Cell>, sheet: SheetNumber) -> Drawing {
        let mut page = blank(self.subject, self.tiling.page.size);
        let place = match cell.map(|cell| self.tiling.place(cell)) {
            Some([row, column]) => format!("Row {row}, column {column}"),
            None => "Tables and notes".to_owned(),
        };
        let room = leaf::foot(&self.tiling.page);
        let key_plan = key_plan::draw(&self.subject.scene, &self.tiling, cell);
        let is_joined = self.tiling.cells.len() > 1;
        let [width, _] = room.size();
        let foot = foot::draw(self.subject, width, sheet, &place, key_plan, is_joined);
        page.add(foot, room.low.coords);
        page
    }
}

/// Puts arranged parts on a page.
fn put(page: &mut Drawing, arrangement: &Arrangement<'_>, by: Vector) {
    for (block, at) in &arrangement.parts {
        page.add(block.drawing.clone(), at.coords + by);
    }
}

/// Spreads parts over as many empty pages as they need; None if one does not fit any.
fn spread(frame: Bounds, parts: &[Part]) -> Option<Vec<Arrangement<'_>>> {
    let blank = Room::around(&Drawing::default(), &[]);
    let (mut pages, mut rest) = (Vec::new(), parts);
    while !rest.is_empty() {
        let mut counts = (1..=rest.len()).rev();
        let (count, page) = counts.find_map(|count| {
            let page = arrange_beside(frame, &blank, &rest[..count])?;
            Some((count, page))
        })?;
        pages.push(page);
        rest = &rest[count..];
    }
    Some(pages)
}
