//! Dimensions after ISO 129-1: a line with two arrowheads, extension lines, and the figure over it.

use layout::geometry::segment::Line;
use layout::geometry::{Point, Vector};

use super::canvas::Canvas;
use super::label::{self, Label, Target};
use super::style::{ARROW_HALF_WIDTH, ARROW_LENGTH, EXTENSION_PAST, FIGURE, NARROW, TEXT_GAP};
use crate::drawing::{Anchor, Direction, Fill, Layer, LineType, Stroke, Text};
use crate::font::Weight;

/// Which way a dimension line runs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    /// Level, its figure above it.
    Level,
    /// Upright, its figure to its left, read from the right.
    Upright,
}

impl Axis {
    /// The point `along` the dimension line's direction and `across` it.
    pub(super) fn at(self, along: f64, across: f64) -> Point {
        match self {
            Self::Level => Point::new(along, across),
            Self::Upright => Point::new(across, along),
        }
    }
}

/// A dimension between two places.
pub(super) struct Dimension {
    pub(super) axis: Axis,
    /// The two ends along the line, the lower one first.
    pub(super) ends: [f64; 2],
    /// Where the extension line of each end begins, across the line.
    pub(super) from: [f64; 2],
    /// Where the dimension line lies, across its direction.
    pub(super) line: f64,
    pub(super) figure: String,
}

/// Least length of a dimension line between whose ends both arrowheads point outward.
const ARROWS_INSIDE: f64 = 2.0 * ARROW_LENGTH + 1.0;
/// How far the dimension line runs on where its arrowheads point inward from outside.
const OUTSIDE_RUN: f64 = ARROW_LENGTH + 2.5;

impl Dimension {
    /// Draws it. Its figure goes where it is free, the middle first.
    pub(super) fn draw(&self, canvas: &mut Canvas) {
        let [low, high] = self.ends;
        for (end, from) in self.ends.into_iter().zip(self.from) {
            let past = self.line + EXTENSION_PAST * (self.line - from).signum();
            canvas.stroke(narrow(self.axis.at(end, from), self.axis.at(end, past)));
        }
        let outside = high - low < ARROWS_INSIDE;
        let run = if outside { OUTSIDE_RUN } else { 0.0 };
        let (start, end) = (
            self.axis.at(low - run, self.line),
            self.axis.at(high + run, self.line),
        );
        let along = (end - start).normalize() * if outside { -1.0 } else { 1.0 };
        canvas.fill(arrow(self.axis.at(low, self.line), -along));
        canvas.fill(arrow(self.axis.at(high, self.line), along));
        let reach = self.figure(canvas, [low - run, high + run]);
        canvas.stroke(narrow(
            self.axis.at(reach[0], self.line),
            self.axis.at(reach[1], self.line),
        ));
    }

    /// Places the figure over the line from `reach[0]` to `reach[1]`, and returns how far the line
    /// must run to carry it.
    fn figure(&self, canvas: &mut Canvas, reach: [f64; 2]) -> [f64; 2] {
        let level = |at: Point| Text {
            at,
            text: self.figure.clone(),
            cap_height: FIGURE,
            anchor: Anchor::Middle,
            weight: Weight::Regular,
            direction: Direction::Level,
            layer: Layer::Dimension,
        };
        // What hangs under the baseline of a named figure stays off the line too.
        let off = TEXT_GAP - level(Point::origin()).bounds().low.y.min(0.0);
        let text = |along: f64| match self.axis {
            Axis::Level => level(self.axis.at(along, self.line + off)),
            Axis::Upright => Text {
                direction: Direction::Upward,
                ..level(self.axis.at(along, self.line - off))
            },
        };
        let half = text(0.0).length() / 2.0 + TEXT_GAP;
        let middle = (self.ends[0] + self.ends[1]) / 2.0;
        let room = (self.ends[1] - self.ends[0]) / 2.0 - half;
        let steps = [0.0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75, -1.0, 1.0];
        let within = steps
            .into_iter()
            .filter(|&share| room >= 0.0 || share == 0.0)
            .map(|share| middle + share * room.max(0.0));
        let beside = [reach[1] + half, reach[0] - half];
        let places = within.filter(|_| room >= -ARROW_LENGTH).chain(beside);
        let best = places
            .enumerate()
            .filter(|&(_, along)| canvas.has_room_for_text(&text(along).bounds()))
            .min_by_key(|&(rank, along)| (canvas.interrupted_by(&text(along).bounds()) > 1, rank));
        if let Some((_, along)) = best {
            canvas.text(text(along));
            [reach[0].min(along - half), reach[1].max(along + half)]
        } else {
            let label = Label::figure(vec![self.figure.clone()]);
            let place = self.axis.at(middle, self.line);
            label::place(canvas, &label, Target::on_line(place));
            reach
        }
    }
}

/// A dimension between two points, along the line through them, with its label at a leader.
pub(super) fn between(canvas: &mut Canvas, from: Point, to: Point, label: &Label) {
    let Some(along) = (to - from).try_normalize(0.0) else {
        return;
    };
    let outside = (to - from).norm() < ARROWS_INSIDE;
    let (run, outward) = if outside {
        (OUTSIDE_RUN, -along)
    } else {
        (0.0, along)
    };
    canvas.stroke(narrow(from - along * run, to + along * run));
    canvas.fill(arrow(from, -outward));
    canvas.fill(arrow(to, outward));
    label::place(canvas, label, Target::on_line(nalgebra::center(&from, &to)));
}

/// A closed, filled arrowhead with its tip at `tip`, pointing along `direction`.
pub(super) fn arrow(tip: Point, direction: Vector) -> Fill {
    let base = tip - direction * ARROW_LENGTH;
    let across = Vector::new(-direction.y, direction.x) * ARROW_HALF_WIDTH;
    Fill {
        corners: vec![tip, base + across, base - across],
        layer: Layer::Dimension,
    }
}

/// A narrow continuous line of a dimension.
pub(super) fn narrow(start: Point, end: Point) -> Stroke {
    Stroke::line(start, end, LineType::Continuous, NARROW, Layer::Dimension)
}

/// The straight line of a narrow stroke.
pub(super) fn straight(start: Point, end: Point) -> Line {
    Line { start, end }
}
