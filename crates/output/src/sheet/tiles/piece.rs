//! The piece of a drawing that shows through a window.

use crate::drawing::{Bounds, Drawing, Fill, Stroke};
use crate::sheet::pieces::{inside, kept};
use crate::sheet::style::TEXT_ROOM;

/// What of a drawing lies in a window. Lines are cut at its edge; an arrowhead or a text shows only as a
/// whole.
pub(super) fn of(drawing: &Drawing, window: Bounds) -> Drawing {
    let holds = |own: Option<Bounds>| own.is_some_and(|own| window.holds(&own));
    let strokes = drawing.strokes.iter().flat_map(|stroke| {
        if holds(stroke.bounds()) {
            vec![stroke.clone()]
        } else {
            kept(stroke, |piece| inside(piece, &window))
        }
    });
    let fills = drawing
        .fills
        .iter()
        .filter(|fill| holds(Fill::bounds(fill)));
    let readable = window.grown(-TEXT_ROOM);
    let texts = drawing.texts.iter();
    Drawing {
        strokes: strokes.collect::<Vec<Stroke>>(),
        fills: fills.cloned().collect(),
        texts: texts
            .filter(|text| readable.holds(&text.bounds()))
            .cloned()
            .collect(),
        ..Drawing::default()
    }
}
