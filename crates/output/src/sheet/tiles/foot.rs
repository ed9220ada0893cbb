//! What stands at the foot of every page of several: what the drawing is, the bar, the page's number,
//! and which part of the whole it shows.

use layout::geometry::Vector;

use super::key_plan;
use crate::drawing::Drawing;
use crate::font::Weight;
use crate::sheet::block::{Block, Column, cut_to};
use crate::sheet::gauge::{self, BAR_LENGTH};
use crate::sheet::style::{FIGURE, NOTE, TITLE};
use crate::sheet::title::{SheetNumber, Shown, unit_name};
use crate::sheet::view::Subject;

/// Height of the foot, mm: a title, three lines, and the bar.
pub(super) const HEIGHT: f64 = 25.0;

/// Between the columns of the foot, mm.
const COLUMN_GAP: f64 = 5.0;

/// How the pages are put together.
const JOINING: &str = "Cut one of two joining pages through the middle of its crosses, lay it on the \
                       other so that the crosses are whole, and tape.";

/// What the foot of one page says of it.
pub(super) struct Foot<'a> {
    pub(super) sheet: SheetNumber,
    pub(super) shown: &'a Shown,
    /// Which part of the sheet the page is.
    pub(super) place: &'a str,
    /// Whether it is put together with others.
    pub(super) is_joined: bool,
}

impl Foot<'_> {
    /// Draws the foot `width`, mm, wide.
    pub(super) fn draw(&self, subject: &Subject<'_>, width: f64, key_plan: Block) -> Drawing {
        let mut drawing = Drawing::default();
        let mut hang = |column: Column, left: f64| {
            let block = column.finish();
            drawing.add(block.drawing, Vector::new(left, HEIGHT - block.size[1]));
        };

        let mut what = Column::new(BAR_LENGTH);
        let name = cut_to(&subject.project.name, Weight::SemiBold, TITLE, BAR_LENGTH);
        what.paragraph(&name, Weight::SemiBold, TITLE);
        let facts = [
            &self.shown.what,
            &self.shown.scale_in_words(),
            subject.date,
            &format!("lengths in {}", unit_name(subject.unit)),
        ];
        let facts: Vec<&str> = facts.into_iter().filter(|fact| !fact.is_empty()).collect();
        what.paragraph(&facts.join(" · "), Weight::Regular, NOTE);
        if self.is_joined {
            what.paragraph(JOINING, Weight::Regular, NOTE);
        }
        hang(what, 0.0);

        let middle = BAR_LENGTH + COLUMN_GAP;
        let mut which = Column::new(width - middle - COLUMN_GAP - key_plan::LARGEST[0]);
        let SheetNumber { number, count } = self.sheet;
        let number = format!("Page {number} of {count}");
        which.paragraph(&number, Weight::SemiBold, FIGURE);
        which.paragraph(self.place, Weight::Regular, NOTE);
        hang(which, middle);

        let bar = gauge::bar(subject.unit, self.shown);
        drawing.add(bar.drawing, Vector::zeros());
        let [own_width, own_height] = key_plan.size;
        let upper_right = Vector::new(width - own_width, HEIGHT - own_height);
        drawing.add(key_plan.drawing, upper_right);
        drawing
    }
}
