//! A drawing in the making: what is on it already, and where a text still has room.

use layout::geometry::hull::Disc;
use layout::geometry::segment::{Line, Segment};
use layout::geometry::{Point, polygon};

use super::pieces::{self, crosses};
use super::style::{NARROW, TEXT_ROOM};
use super::tiles::Grid;
use crate::drawing::{Bounds, Drawing, Fill, Layer, Stroke, Text};

/// A drawing with what its texts must keep off.
#[derive(Default)]
pub(super) struct Canvas {
    drawing: Drawing,
    /// The windows it is to be cut into, of which each text must fit one.
    grid: Option<Grid>,
    /// Boxes of texts and arrowheads.
    taken: Vec<Bounds>,
    /// Lines that no text may touch, with half of their width: the wide ones, and narrow circles.
    solid: Vec<(Line, f64)>,
    /// Narrow straight lines: a text on one interrupts it, which is second best.
    broken: Vec<Line>,
    /// Openings: a figure in one would seem to belong to what is in it.
    openings: Vec<Disc>,
}

impl Canvas {
    pub(super) fn cut_into(grid: Option<Grid>) -> Self {
        Self {
            grid,
            ..Self::default()
        }
    }

    pub(super) fn stroke(&mut self, stroke: Stroke) {
        let points = stroke.flattened();
        let edges = polygon::edges(&points).take(points.len() - usize::from(!stroke.closed));
        if can_be_interrupted(&stroke) {
            self.broken.extend(edges);
        } else {
            self.solid
                .extend(edges.map(|edge| (edge, stroke.width / 2.0)));
        }
        self.drawing.strokes.push(stroke);
    }

    pub(super) fn fill(&mut self, fill: Fill) {
        self.taken.extend(fill.bounds());
        self.drawing.fills.push(fill);
    }

    pub(super) fn text(&mut self, text: Text) {
        self.taken.push(text.bounds());
        self.drawing.texts.push(text);
    }

    pub(super) fn opening(&mut self, opening: Disc) {
        self.openings.push(opening);
    }

    /// The box around what is drawn so far; None if nothing is.
    pub(super) fn bounds(&self) -> Option<Bounds> {
        self.drawing.bounds()
    }

    /// Whether a place lies in an opening.
    pub(super) fn is_in_opening(&self, at: Point) -> bool {
        let mut openings = self.openings.iter();
        openings.any(|opening| (at - opening.centre).norm() < opening.radius)
    }

    /// Whether a text may fill the box: nothing that it must keep off is near, and it can be read on
    /// one page.
    pub(super) fn has_room_for_text(&self, bounds: &Bounds) -> bool {
        self.grid.is_none_or(|grid| grid.shows(*bounds)) && self.is_free(bounds)
    }

    /// Whether nothing that a text must keep off is near the box.
    pub(super) fn is_free(&self, bounds: &Bounds) -> bool {
        let room = bounds.grown(TEXT_ROOM);
        let clear_of_line = |&(line, half): &(Line, f64)| !crosses(&line, &room.grown(half));
        self.taken.iter().all(|taken| !taken.overlaps(&room))
            && self.solid.iter().all(clear_of_line)
    }

    /// How many lines a text in the box would interrupt.
    pub(super) fn interrupted_by(&self, bounds: &Bounds) -> usize {
        let room = bounds.grown(TEXT_ROOM);
        self.broken
            .iter()
            .filter(|line| crosses(line, &room))
            .count()
    }

    /// Whether a line would run through a text or an arrowhead.
    pub(super) fn runs_through_text(&self, line: &Line) -> bool {
        self.taken
            .iter()
            .any(|taken| crosses(line, &taken.grown(TEXT_ROOM)))
    }

    /// How many wide lines a line crosses.
    pub(super) fn wide_lines_crossed(&self, line: &Line) -> usize {
        self.solid
            .iter()
            .filter(|(solid, _)| solid.crossing(line).is_some())
            .count()
    }

    /// The drawing, with its narrow lines interrupted where a text stands.
    pub(super) fn finish(mut self) -> Drawing {
        let rooms: Vec<Bounds> = self
            .drawing
            .texts
            .iter()
            .map(|t| t.bounds().grown(TEXT_ROOM))
            .collect();
        self.drawing.strokes = self
            .drawing
            .strokes
            .into_iter()
            .flat_map(|stroke| interrupted(stroke, &rooms))
            .collect();
        self.drawing
    }
}

/// Whether a text may stand on a line, which then stops at either side of it.
fn can_be_interrupted(stroke: &Stroke) -> bool {
    let straight = stroke
        .path
        .iter()
        .all(|piece| matches!(piece, Segment::Line(_)));
    straight && stroke.width <= NARROW && stroke.layer != Layer::Plate
}

/// The parts of a stroke that lie outside all boxes.
fn interrupted(stroke: Stroke, rooms: &[Bounds]) -> Vec<Stroke> {
    let met = |piece: &Segment| rooms.iter().any(|room| crosses(&piece.chord(), room));
    if !can_be_interrupted(&stroke) || !stroke.path.iter().any(met) {
        return vec![stroke];
    }
    pieces::kept(&stroke, |piece| {
        let parts = pieces::outside(piece.chord(), rooms);
        parts.into_iter().map(Segment::Line).collect()
    })
}

/// The box around some points; a point at the origin if there is none.
pub(super) fn bounds_of(points: impl IntoIterator<Item = Point>) -> Bounds {
    points
        .into_iter()
        .map(|at| Bounds { low: at, high: at })
        .reduce(Bounds::with)
        .unwrap_or(Bounds {
            low: Point::origin(),
            high: Point::origin(),
        })
}
