//! The bar and the card by which the printer is checked.

use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::{Point, Vector};

use super::block::{Block, Column, note};
use super::notes;
use super::style::{NARROW, NOTE, TEXT_GAP};
use super::title::Shown;
use crate::drawing::{Anchor, Drawing, Layer, LineType, Stroke, Text};
use crate::font::Weight;
use crate::unit::LengthUnit;

/// Length of the bar, mm.
pub const BAR_LENGTH: f64 = 100.0;
/// Width and height of an ID-1 card, mm (ISO/IEC 7810).
pub const CARD: [f64; 2] = [85.60, 53.98];
/// Radius of its corners, mm (ISO/IEC 7810, from memory). Only its sides are to be measured.
const CARD_CORNER: f64 = 3.18;
/// From the card's edge to the text in it, mm.
const CARD_INSET: f64 = 4.0;

/// Height of the bar's end marks and of the marks between, mm.
const END_MARK: f64 = 5.0;
const MARK: f64 = 2.5;
/// Into how many steps the marks divide the bar.
const STEPS: u32 = 10;

/// The bar: a ruler of ten steps. It is true to size on every page, so beside a view that is not it says
/// so.
pub(super) fn bar(unit: LengthUnit, shown: &Shown) -> Block {
    let mut drawing = Drawing::default();
    let mut line = |from: [f64; 2], to: [f64; 2]| {
        let (start, end) = (Point::from(from), Point::from(to));
        let kind = LineType::Continuous;
        drawing
            .strokes
            .push(Stroke::line(start, end, kind, NARROW, Layer::Gauge));
    };
    line([0.0, 0.0], [BAR_LENGTH, 0.0]);
    for step in 0..=STEPS {
        let at = BAR_LENGTH * f64::from(step) / f64::from(STEPS);
        let mark = if step % STEPS == 0 { END_MARK } else { MARK };
        line([at, 0.0], [at, mark]);
    }
    let mut says = match unit {
        LengthUnit::Millimetre => format!("Check: {} mm from end to end", BAR_LENGTH),
        LengthUnit::Inch => {
            format!(
                "Check: {} in ({} mm) from end to end",
                unit.format(BAR_LENGTH),
                BAR_LENGTH
            )
        }
    };
    if let Some(scale) = shown.scale.filter(|scale| *scale > 1) {
        says.push_str(&format!(". Not for the view: it is 1:{scale}."));
    }
    drawing.texts.push(Text {
        anchor: Anchor::Middle,
        ..note(
            Point::new(BAR_LENGTH / 2.0, MARK + TEXT_GAP),
            says,
            Weight::Regular,
            NOTE,
        )
    });
    Block {
        size: [BAR_LENGTH, END_MARK],
        drawing,
    }
}

/// The card's outline, with how to use it written inside, and the cautions too if `with_cautions`.
pub(super) fn card(unit: LengthUnit, with_cautions: bool) -> Block {
    let [width, height] = CARD;
    let (near, right, top) = (CARD_CORNER, width - CARD_CORNER, height - CARD_CORNER);
    let corners = [(near, near), (right, near), (right, top), (near, top)];
    let discs = corners.map(|(x, y)| Disc {
        centre: Point::new(x, y),
        radius: CARD_CORNER,
    });
    let outline = Outline::hull(&discs);
    let mut drawing = Drawing::default();
    let edge = Stroke::outline(&outline, LineType::Continuous, NARROW, Layer::Gauge);
    drawing.strokes.push(edge);

    let mut column = Column::new(width - 2.0 * CARD_INSET);
    column.heading("Check the print");
    let size = CARD.map(|side| match unit {
        LengthUnit::Millimetre => format!("{side:.2}"),
        LengthUnit::Inch => unit.format(side),
    });
    let how = format!(
        "Lay a bank card here ({} × {} {}, ISO/IEC 7810 ID-1) and a ruler along the bar. If they do \
         not match, print again at 100 %, “actual size”.",
        size[0],
        size[1],
        unit.symbol(),
    );
    column.paragraph(&how, Weight::Regular, NOTE);
    if with_cautions {
        notes::write_cautions(&mut column);
    }
    let text = column.finish();
    let low = Vector::new(CARD_INSET, height - CARD_INSET - text.size[1]);
    drawing.add(text.drawing, low);
    Block {
        size: CARD,
        drawing,
    }
}
