//! The title block, with the fields of ISO 7200.

use layout::geometry::Point;

use super::block::{Block, cut_to, note};
use super::style::{FIGURE, NARROW, NOTE, TITLE, WIDE};
use super::view::Subject;
use crate::cut::CutPart;
use crate::drawing::{Bounds, Drawing, Layer, LineType, Stroke};
use crate::font::{self, Weight};
use crate::unit::LengthUnit;

/// Width of the block, mm: beside a card it fits within the frame of an upright A4 page.
pub(super) const WIDTH: f64 = 100.0;
/// Height of one row, mm: a caption over a line of writing.
const ROW: f64 = 8.5;
/// Height of the row with the title, mm.
const TITLE_ROW: f64 = 10.0;
/// From a cell's edge to its text, mm.
const INSET: f64 = 1.2;

/// Which page of how many.
#[derive(Clone, Copy)]
pub(super) struct SheetNumber {
    /// The first page has number 1.
    pub(super) number: usize,
    pub(super) count: usize,
}

/// What a page shows.
pub(super) struct Shown {
    /// What it is called.
    pub(super) what: String,
    /// It is drawn at one to this; None if it shows no part.
    pub(super) scale: Option<u32>,
}

impl Shown {
    /// The part, from the side that the sheet shows.
    pub(super) fn view(subject: &Subject<'_>) -> Self {
        let part = match subject.part {
            CutPart::Plate => "Plate",
            CutPart::Foam => "Foam",
            CutPart::Guard => "Flat guard",
            CutPart::Head => "Head template",
            CutPart::SmallestHead => "Smallest head template",
        };
        Self {
            what: format!("{part}, {}", subject.seen.in_words()),
            scale: Some(1),
        }
    }

    /// The scale's designation (ISO 5455:1979); empty if there is none.
    pub(super) fn scale_in_words(&self) -> String {
        self.scale
            .map_or(String::new(), |scale| format!("SCALE 1:{scale}"))
    }
}

impl SheetNumber {
    /// The number of the only page.
    pub(super) const ONLY: Self = Self {
        number: 1,
        count: 1,
    };
}

/// One field: its caption, what it says, and its share of the row.
struct Cell {
    caption: &'static str,
    value: String,
    share: f64,
}

fn cell(caption: &'static str, value: impl Into<String>, share: f64) -> Cell {
    Cell {
        caption,
        value: value.into(),
        share,
    }
}

/// Draws the block. A blank field keeps its room, to be filled in by hand.
pub(super) fn block(subject: &Subject<'_>, sheet: SheetNumber, shown: &Shown) -> Block {
    let fields = &subject.project.title_block;
    let unit = subject.unit;
    let SheetNumber { number, count } = sheet;
    let (caption, length) = match subject.part {
        CutPart::Plate | CutPart::Head | CutPart::SmallestHead => {
            ("Plate thickness", subject.project.plate.thickness)
        }
        CutPart::Foam => ("Thickness at edges", subject.project.hand.guard_edge),
        CutPart::Guard => ("Bow when bent", subject.project.hand.guard_bow),
    };
    let length = unit.format_with_symbol(length);
    let rows: [(f64, Vec<Cell>); 4] = [
        (
            ROW,
            vec![
                cell("Legal owner", &fields.owner, 0.6),
                cell("Identification number", &fields.number, 0.4),
            ],
        ),
        (
            TITLE_ROW,
            vec![
                cell("Title", &subject.project.name, 0.74),
                cell(caption, length, 0.26),
            ],
        ),
        (
            ROW,
            vec![
                cell("Document type", &shown.what, 0.5),
                cell("Lengths in", unit_name(unit), 0.24),
                cell("", shown.scale_in_words(), 0.26),
            ],
        ),
        (
            ROW,
            vec![
                cell("Creator", &fields.creator, 0.31),
                cell("Approval person", &fields.approved_by, 0.31),
                cell("Date of issue", subject.date, 0.24),
                cell("Sheet", format!("{number}/{count}"), 0.14),
            ],
        ),
    ];
    let height: f64 = rows.iter().map(|row| row.0).sum();
    let mut drawing = Drawing::default();
    let mut top = height;
    for (index, (row, cells)) in rows.into_iter().enumerate() {
        if index > 0 {
            drawing
                .strokes
                .push(line(Point::new(0.0, top), Point::new(WIDTH, top)));
        }
        let mut left = 0.0;
        for (column, own) in cells.into_iter().enumerate() {
            if column > 0 {
                drawing
                    .strokes
                    .push(line(Point::new(left, top), Point::new(left, top - row)));
            }
            let width = own.share * WIDTH;
            write(
                &mut drawing,
                &own,
                Bounds::of_size(Point::new(left, top - row), [width, row]),
            );
            left += width;
        }
        top -= row;
    }
    let corners = Bounds::of_size(Point::origin(), [WIDTH, height]).corners();
    drawing
        .strokes
        .push(super::rectangle(corners, WIDE, Layer::Sheet));
    Block {
        size: [WIDTH, height],
        drawing,
    }
}

/// Writes a field into its cell: in the height of its row, or smaller where it is long.
fn write(drawing: &mut Drawing, cell: &Cell, room: Bounds) {
    let [width, height] = room.size();
    let width = width - 2.0 * INSET;
    let caption = Point::new(room.low.x + INSET, room.high.y - INSET - NOTE);
    let value = Point::new(room.low.x + INSET, room.low.y + INSET + 0.2);
    if !cell.caption.is_empty() {
        drawing.texts.push(note(
            caption,
            cell.caption.to_owned(),
            Weight::Regular,
            NOTE,
        ));
    }
    if cell.value.is_empty() {
        return;
    }
    let (largest, weight) = if height > ROW {
        (TITLE, Weight::SemiBold)
    } else {
        (FIGURE, Weight::Regular)
    };
    let fits = |size: &f64| font::width(&cell.value, weight, *size) <= width;
    let size = [largest, FIGURE].into_iter().find(fits).unwrap_or(NOTE);
    let text = cut_to(&cell.value, weight, size, width);
    drawing.texts.push(note(value, text, weight, size));
}

fn line(start: Point, end: Point) -> Stroke {
    Stroke::line(start, end, LineType::Continuous, NARROW, Layer::Sheet)
}

/// What the lengths are in, in full.
pub(super) fn unit_name(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimetre => "mm",
        LengthUnit::Inch => "inches",
    }
}
