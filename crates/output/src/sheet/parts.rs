//! Everything of a sheet but the view, in the shapes that each part can take.

use super::arrange::{Corner, Part};
use super::block::Block;
use super::gauge;
use super::notes;
use super::style::PART_GAP;
use super::tables::{self, Table};
use super::title::{self, SheetNumber, Shown};
use super::view::Subject;
use crate::cut::CutPart;

/// Widths that notes can take, mm: that of the title block first, whose left side they then share.
const NOTE_WIDTHS: [f64; 7] = [
    title::WIDTH - PART_GAP,
    84.0,
    70.0,
    58.0,
    46.0,
    130.0,
    180.0,
];

/// Most stretches of a table that may stand side by side.
const MOST_STRETCHES: usize = 4;

/// Most rows of a table on a page of its own: with what is said under it, they fit the smallest paper.
pub(super) const MOST_ROWS: usize = 32;

/// Two plans for everything but the view of a plate on one page, what is hardest to place in front. The
/// second saves paper: the cautions stand in the card's outline.
pub(super) fn plans(subject: &Subject<'_>) -> Vec<Vec<Part>> {
    let plan = |in_card: bool| {
        let mut parts = parts(subject, SheetNumber::ONLY, in_card, usize::MAX);
        parts[0].at_frame = true;
        let bar = gauge::bar(subject.unit, &Shown::view(subject));
        parts.push(part(vec![bar], Corner::LowerLeft, false));
        parts
    };
    vec![plan(false), plan(true)]
}

/// As [`plans`], for a page of several: each has a bar already, and no frame.
pub(super) fn plans_beside_pieces(subject: &Subject<'_>, sheet: SheetNumber) -> Vec<Vec<Part>> {
    [false, true]
        .map(|in_card| parts(subject, sheet, in_card, usize::MAX))
        .into()
}

/// As [`plans_beside_pieces`], for pages of their own, on which each part fits.
pub(super) fn pieces(subject: &Subject<'_>, sheet: SheetNumber) -> Vec<Part> {
    parts(subject, sheet, false, MOST_ROWS)
}

/// The parts that every sheet has, the title block in front. A table has at most `most_rows` rows, and
/// goes on in another.
fn parts(
    subject: &Subject<'_>,
    sheet: SheetNumber,
    cautions_in_card: bool,
    most_rows: usize,
) -> Vec<Part> {
    let widths = |block: &dyn Fn(f64) -> Block| NOTE_WIDTHS.map(block).to_vec();
    let report = |width: f64| notes::findings(subject.report, subject.unit, subject.part, width);

    let title = title::block(subject, sheet, &Shown::view(subject));
    let card = gauge::card(subject.unit, cautions_in_card);
    let mut parts = vec![
        part(vec![title], Corner::LowerRight, false),
        part(vec![card], Corner::LowerLeft, false),
    ];
    if !cautions_in_card {
        parts.push(part(widths(&notes::cautions), Corner::LowerRight, true));
    }
    let tables = match subject.part {
        CutPart::Plate => vec![Some(tables::openings(subject)), tables::slots(subject)],
        CutPart::Foam => vec![Some(tables::foam_holes(subject))],
        CutPart::Guard | CutPart::Head | CutPart::SmallestHead => Vec::new(),
    };
    let tables = tables.into_iter().flatten();
    let tables = tables.flat_map(|table| table.in_pieces(most_rows));
    parts.extend(tables.map(|table| part(stretches(&table), Corner::UpperRight, true)));
    parts.push(part(widths(&report), Corner::LowerRight, true));
    parts
}

/// The shapes that a table can take.
pub(super) fn stretches(table: &Table) -> Vec<Block> {
    (1..=MOST_STRETCHES).map(|n| table.block(n)).collect()
}

pub(super) fn part(shapes: Vec<Block>, corner: Corner, inside_head: bool) -> Part {
    Part {
        shapes,
        corner,
        inside_head,
        at_frame: false,
    }
}
