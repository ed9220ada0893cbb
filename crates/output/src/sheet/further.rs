//! The pages that follow the plate's: the side cut and the tables of drives and rods.

use layout::geometry::Point;

use super::arrange::{Corner, Part, arrange};
use super::block::{Block, Column};
use super::drive_table;
use super::error::SheetError;
use super::gauge;
use super::lid_table;
use super::parts::{MOST_ROWS, part, stretches};
use super::rod_table;
use super::room::Room;
use super::side::{self, SCALES};
use super::style::NOTE;
use super::tables::Table;
use super::title::{self, SheetNumber, Shown};
use super::view::Subject;
use crate::cut::{CutPart, of};
use crate::drawing::{Bounds, Drawing};
use crate::font::Weight;

/// One page that follows, without what it has in common with all others.
pub(super) struct Further {
    pub(super) shown: Shown,
    pub(super) drawing: Drawing,
    /// Where its title block has its lower left corner, if it is to have one.
    pub(super) title_at: Option<Point>,
}

/// Widths that the words beside the cut can take, mm.
const WORD_WIDTHS: [f64; 4] = [84.0, 58.0, 130.0, 46.0];

/// Arranges them within a frame, each with a title block and a bar if `with_title`. There are none where
/// no eye sits in a seat, and none after another part.
///
/// The cuts come first, each at the largest scale that fits, with as many tables as there is room for beside
/// it; pages of tables follow.
///
/// # Errors
/// If the frame is too small for them.
pub(super) fn pages(
    subject: &Subject<'_>,
    frame: Bounds,
    with_title: bool,
) -> Result<Vec<Further>, SheetError> {
    let eyes = side::eyes(subject);
    if eyes.is_empty() || subject.part != CutPart::Plate {
        return Ok(Vec::new());
    }
    let site = Site {
        subject,
        frame,
        with_title,
    };
    let mut tables = drive_table::all(subject);
    tables.extend(rod_table::rods(subject));
    tables.extend(lid_table::lids(subject));
    site.all(&eyes, tables)
        .ok_or_else(|| SheetError::no_room(subject.project))
}

/// What the pages are made from, and the room that each has.
struct Site<'a> {
    subject: &'a Subject<'a>,
    frame: Bounds,
    with_title: bool,
}

impl Site<'_> {
    /// All pages; None if something does not fit.
    fn all(&self, eyes: &[usize], tables: Vec<Table>) -> Option<Vec<Further>> {
        let (mut pages, mut done) = (Vec::new(), 0);
        for &eye in eyes {
            let mut scales = SCALES.into_iter();
            let (scale, alone) =
                scales.find_map(|scale| Some((scale, self.cut(eye, scale, &[])?)))?;
            let left = &tables[done..];
            let with_some = |count: &usize| self.cut(eye, scale, &left[..*count]);
            let mut counts = (1..=left.len()).rev();
            let with_tables = counts.find_map(|count| Some((count, with_some(&count)?)));
            let (count, page) = with_tables.unwrap_or((0, alone));
            pages.push(page);
            done += count;
        }
        let rest = tables.into_iter().skip(done);
        let rest: Vec<Table> = rest.flat_map(|table| table.in_pieces(MOST_ROWS)).collect();
        let mut left = rest.as_slice();
        while !left.is_empty() {
            let mut counts = (1..=left.len()).rev();
            let (count, page) =
                counts.find_map(|count| Some((count, self.tables(&left[..count])?)))?;
            pages.push(page);
            left = &left[count..];
        }
        Some(pages)
    }

    /// The page with the cut through an eye at one to `scale`, with some tables beside it.
    fn cut(&self, eye: usize, scale: u32, tables: &[Table]) -> Option<Further> {
        let name = self.subject.project.eye_name(eye);
        let view = side::draw(self.subject, eye, scale)?;
        let shown = Shown {
            what: "Side cut".to_owned(),
            scale: Some(scale),
        };
        let words = WORD_WIDTHS.map(|width| words(&name, width)).to_vec();
        let mut parts = vec![part(words, Corner::LowerLeft, false)];
        parts.extend(tables.iter().map(in_corner));
        self.arranged(shown, view, parts)
    }

    /// A page of tables alone.
    fn tables(&self, tables: &[Table]) -> Option<Further> {
        let shown = Shown {
            what: "Drives".to_owned(),
            scale: None,
        };
        let parts = tables.iter().map(in_corner).collect();
        self.arranged(shown, Drawing::default(), parts)
    }

    fn arranged(&self, shown: Shown, view: Drawing, own: Vec<Part>) -> Option<Further> {
        let mut parts = Vec::new();
        if self.with_title {
            // Its number does not change its size.
            let title = title::block(self.subject, SheetNumber::ONLY, &shown);
            let mut title = part(vec![title], Corner::LowerRight, false);
            title.at_frame = true;
            parts.push(title);
            let bar = gauge::bar(self.subject.unit, &shown);
            parts.push(part(vec![bar], Corner::LowerLeft, false));
        }
        let first = parts.len();
        parts.extend(own);
        let plans = [parts];
        let room = Room::around(&view, &[]);
        let arrangement = arrange(self.frame, &room, &plans)?;
        let mut drawing = Drawing::default();
        drawing.add(view, arrangement.origin);
        // The title block waits for its number.
        let own = arrangement.parts.iter().skip(usize::from(first > 0));
        for (block, at) in own {
            drawing.add(block.drawing.clone(), at.coords);
        }
        let title_at = arrangement.parts.first().filter(|_| first > 0);
        Some(Further {
            shown,
            drawing,
            title_at: title_at.map(|(_, at)| *at),
        })
    }
}

fn in_corner(table: &Table) -> Part {
    part(stretches(table), Corner::UpperRight, false)
}

/// How the cut is to be read, in a width, mm.
fn words(eye: &str, width: f64) -> Block {
    let mut column = Column::new(width);
    column.heading(&format!("Cut upright through the middle of {}", of(eye)));
    column.paragraph(
        "The audience is at the left, the hand at the right. The eye looks straight ahead, and lids are \
         open. Dashed: hidden by the ball. With double dots: how far the ring's deepest corner turns, edge \
         and middle of the guard where they lie beside the cut, and levers, cable lines and sheaths of \
         this eye, wherever they lie across; a bar is the sheath's stop. Depths below are from the \
         plate's back face.",
        Weight::Regular,
        NOTE,
    );
    column.finish()
}
