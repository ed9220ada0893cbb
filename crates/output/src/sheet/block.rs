//! A rectangular part of the sheet, and text that fills one.

use layout::geometry::Point;

use super::style::{FIGURE, LINE_PITCH, NARROW, NOTE};
use crate::drawing::{Anchor, Bounds, Direction, Drawing, Layer, LineType, Stroke, Text};
use crate::font::{self, Weight};

/// A part of the sheet: its lower left corner is its origin.
#[derive(Clone)]
pub(super) struct Block {
    /// Width and height, mm.
    pub(super) size: [f64; 2],
    pub(super) drawing: Drawing,
}

/// A part in the making, filled from the top down.
pub(super) struct Column {
    width: f64,
    /// Height that is filled; the drawing hangs below y = 0 until it is finished.
    filled: f64,
    drawing: Drawing,
}

/// Room below a line of text for what hangs under its baseline, in letter heights.
const BELOW: f64 = 0.35;

impl Column {
    pub(super) fn new(width: f64) -> Self {
        Self {
            width,
            filled: 0.0,
            drawing: Drawing::default(),
        }
    }

    /// Leaves room, mm.
    pub(super) fn space(&mut self, height: f64) {
        self.filled += height;
    }

    /// A heading over what follows, with room above.
    pub(super) fn heading(&mut self, text: &str) {
        self.space(NOTE / 2.0);
        self.paragraph(text, Weight::SemiBold, FIGURE);
        self.space(NOTE / 2.0);
    }

    /// Text in as many lines as it needs.
    pub(super) fn paragraph(&mut self, text: &str, weight: Weight, cap_height: f64) {
        for line in wrapped(text, weight, cap_height, self.width) {
            let top = self.filled;
            self.filled += LINE_PITCH * cap_height;
            let at = Point::new(0.0, -top - cap_height);
            self.drawing.texts.push(note(at, line, weight, cap_height));
        }
    }

    /// Cells of one line, each at its x and anchor.
    pub(super) fn cells(
        &mut self,
        cells: impl Iterator<Item = (f64, Anchor, String)>,
        weight: Weight,
    ) {
        let baseline = -self.filled - NOTE;
        self.filled += LINE_PITCH * NOTE;
        for (x, anchor, text) in cells {
            self.drawing.texts.push(Text {
                anchor,
                ..note(Point::new(x, baseline), text, weight, NOTE)
            });
        }
    }

    /// A narrow line across, with room above and below.
    pub(super) fn rule(&mut self) {
        let y = -self.filled;
        let (start, end) = (Point::new(0.0, y), Point::new(self.width, y));
        let stroke = Stroke::line(start, end, LineType::Continuous, NARROW, Layer::Sheet);
        self.drawing.strokes.push(stroke);
        self.space(RULE_ROOM);
    }

    pub(super) fn finish(self) -> Block {
        let last = self
            .drawing
            .texts
            .last()
            .map_or(0.0, |text| text.cap_height);
        // The last line needs no room for a next one, only for what hangs under it.
        let height = self.filled - (LINE_PITCH - 1.0 - BELOW) * last;
        let mut drawing = Drawing::default();
        drawing.add(self.drawing, nalgebra::Vector2::new(0.0, height));
        Block {
            size: [self.width, height],
            drawing,
        }
    }
}

/// Room below a ruled line, mm.
const RULE_ROOM: f64 = 1.2;

/// A line of text of the sheet itself.
pub(super) fn note(at: Point, text: String, weight: Weight, cap_height: f64) -> Text {
    Text {
        at,
        text,
        cap_height,
        anchor: Anchor::Start,
        weight,
        direction: Direction::Level,
        layer: Layer::Sheet,
    }
}

/// A text broken between words into lines of at most `width`, mm. A longer word has its own line, cut
/// to it.
fn wrapped(text: &str, weight: Weight, cap_height: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        let fits = longer.filter(|line| font::width(line, weight, cap_height) <= width);
        match (fits, lines.last_mut()) {
            (Some(longer), Some(line)) => *line = longer,
            _ => lines.push(cut_to(word, weight, cap_height, width)),
        }
    }
    lines
}

/// A text, or as much of it as `width`, mm, holds with an ellipsis.
pub(super) fn cut_to(text: &str, weight: Weight, cap_height: f64, width: f64) -> String {
    let fits = |text: &str| font::width(text, weight, cap_height) <= width;
    if fits(text) {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    loop {
        let shortened: String = kept.iter().chain(&['…']).collect();
        if fits(&shortened) || kept.pop().is_none() {
            return shortened;
        }
    }
}

impl Block {
    /// The box that it fills with its lower left corner at `at`.
    pub(super) fn bounds_at(&self, at: Point) -> Bounds {
        Bounds::of_size(at, self.size)
    }
}
