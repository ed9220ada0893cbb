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
use super::further::{self, Further};
use super::paper::{OrientationChoice, Page, PaperChoice, pages, pages_for_pieces};
use super::parts;
use super::room::Room;
use super::style::NARROW;
use super::title::{SheetNumber, Shown};
use super::view::{self, Subject};
use super::{SheetOptions, blank, rectangle};
use crate::drawing::{Bounds, Drawing, Layer};
use foot::Foot;
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
    let room = Room::around(&view, &subject.scene.around());
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
        let further = further::pages(self.subject, leaf::window(&self.tiling.page), false)?;
        let count = self.tiling.cells.len() + further.len();
        let (host, free) = self.tiling.freest(room);
        let number = self.tiling.number(host).unwrap_or(1);
        let plans = parts::plans_beside_pieces(self.subject, SheetNumber { number, count });
        let beside = plans
            .iter()
            .find_map(|parts| arrange_beside(free, room, parts));
        let Some(beside) = beside else {
            return self.with_pages_of_notes(further);
        };
        let mut pages = self.pieces(count);
        let by = self.to_page(host);
        put(&mut pages[number - 1], &beside, by);
        self.add(further, &mut pages, count);
        Ok(pages)
    }

    fn with_pages_of_notes(&self, further: Vec<Further>) -> Result<Vec<Drawing>, SheetError> {
        let pieces = self.tiling.cells.len();
        let frame = leaf::window(&self.tiling.page);
        let parts = |count: usize| {
            let number = pieces + 1;
            parts::pieces(self.subject, SheetNumber { number, count })
        };
        let no_room = || SheetError::no_room(self.subject.project);
        let notes = spread(frame, &parts(pieces + 1)).ok_or_else(no_room)?.len();
        let count = pieces + notes + further.len();
        let mut pages = self.pieces(count);
        let parts = parts(count);
        for arrangement in spread(frame, &parts).ok_or_else(no_room)? {
            let number = pages.len() + 1;
            let sheet = SheetNumber { number, count };
            let shown = Shown::view(self.subject);
            let mut page = self.framed(sheet, &shown, "Tables and notes");
            put(&mut page, &arrangement, Vector::zeros());
            pages.push(page);
        }
        self.add(further, &mut pages, count);
        Ok(pages)
    }

    /// Adds the pages that follow.
    fn add(&self, further: Vec<Further>, pages: &mut Vec<Drawing>, count: usize) {
        for own in further {
            let number = pages.len() + 1;
            let sheet = SheetNumber { number, count };
            let mut page = self.framed(sheet, &own.shown, "Beside the plate's pages");
            page.add(own.drawing, Vector::zeros());
            pages.push(page);
        }
    }

    /// A page that shows no piece of the view.
    fn framed(&self, sheet: SheetNumber, shown: &Shown, place: &str) -> Drawing {
        let mut page = self.leaf(None, sheet, shown, place);
        let frame = leaf::window(&self.tiling.page);
        let edge = rectangle(frame.corners(), NARROW, Layer::Sheet);
        page.strokes.push(edge);
        page
    }

    /// One page for each cell.
    fn pieces(&self, count: usize) -> Vec<Drawing> {
        let cells = self.tiling.cells.iter().enumerate();
        cells
            .map(|(index, &cell)| {
                let number = index + 1;
                let [row, column] = self.tiling.place(cell);
                let place = format!("Row {row}, column {column}");
                let (sheet, shown) = (SheetNumber { number, count }, Shown::view(self.subject));
                let mut page = self.leaf(Some(cell), sheet, &shown, &place);
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

    /// A page with its foot: that of a cell, or another.
    fn leaf(&self, cell: Option<Cell>, sheet: SheetNumber, shown: &Shown, place: &str) -> Drawing {
        let mut page = blank(self.subject, self.tiling.page.size, shown);
        let room = leaf::foot(&self.tiling.page);
        let key_plan = key_plan::draw(&self.subject.scene, &self.tiling, cell);
        let [width, _] = room.size();
        let foot = Foot {
            sheet,
            shown,
            place,
            is_joined: cell.is_some() && self.tiling.cells.len() > 1,
        };
        page.add(foot.draw(self.subject, width, key_plan), room.low.coords);
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
