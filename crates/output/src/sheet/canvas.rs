//! A drawing in the making: what is on it already, and where a text still has room.

use layout::geometry::hull::Disc;
use layout::geometry::segment::{Line, Segment};
use layout::geometry::{Point, Vector, polygon};

use super::style::{NARROW, TEXT_ROOM};
use crate::drawing::{Bounds, Drawing, Fill, Layer, Stroke, Text};

/// A drawing with what its texts must keep off.
#[derive(Default)]
pub(super) struct Canvas {
    drawing: Drawing,
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

    /// Whether a place lies in an opening.
    pub(super) fn is_in_opening(&self, at: Point) -> bool {
        let mut openings = self.openings.iter();
        openings.any(|opening| (at - opening.centre).norm() < opening.radius)
    }

    /// Whether a text may fill the box: nothing that it must keep off is near.
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
    let met = |line: &Line| rooms.iter().any(|room| crosses(line, room));
    let lines: Vec<Line> = stroke
        .path
        .iter()
        .filter_map(|piece| match piece {
            Segment::Line(line) => Some(*line),
            Segment::Arc(_) => None,
        })
        .collect();
    if !can_be_interrupted(&stroke) || !lines.iter().any(met) {
        return vec![stroke];
    }
    let mut parts: Vec<Vec<Segment>> = vec![Vec::new()];
    for line in lines {
        for part in outside(line, rooms) {
            let joined =
                parts.last().and_then(|path| path.last()).map(Segment::end) == Some(part.start);
            if !joined {
                parts.push(Vec::new());
            }
            if let Some(path) = parts.last_mut() {
                path.push(Segment::Line(part));
            }
        }
    }
    parts
        .into_iter()
        .filter(|path| !path.is_empty())
        .map(|path| Stroke {
            path,
            closed: false,
            ..stroke.clone()
        })
        .collect()
}

/// The parts of a line that lie outside all boxes, in its direction.
fn outside(line: Line, rooms: &[Bounds]) -> Vec<Line> {
    let mut hidden: Vec<[f64; 2]> = rooms
        .iter()
        .filter_map(|room| share_within(&line, room))
        .collect();
    hidden.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let at = |share: f64| line.start + (line.end - line.start) * share;
    let (mut parts, mut from) = (Vec::new(), 0.0);
    for [start, end] in hidden {
        if start > from {
            parts.push(Line {
                start: if from > 0.0 { at(from) } else { line.start },
                end: at(start),
            });
        }
        from = f64::max(from, end);
    }
    if from < 1.0 {
        parts.push(Line {
            start: if from > 0.0 { at(from) } else { line.start },
            end: line.end,
        });
    }
    parts
}

/// Whether a line has a part within a box.
pub(super) fn crosses(line: &Line, room: &Bounds) -> bool {
    share_within(line, room).is_some()
}

/// The part of a line within a box, as shares of its length from its start; None if there is none
/// (after Liang and Barsky: each side of the box cuts the line's range).
fn share_within(line: &Line, room: &Bounds) -> Option<[f64; 2]> {
    let along: Vector = line.end - line.start;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let (start, step) = (line.start[axis], along[axis]);
        let (low, high) = (room.low[axis], room.high[axis]);
        if step == 0.0 {
            if start <= low || start >= high {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        from = from.max(a.min(b));
        to = to.min(a.max(b));
    }
    (from < to).then_some([from, to])
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
