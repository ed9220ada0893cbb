//! Which dimensions the view gets, and in which row each stands.

use layout::geometry::Point;

use super::canvas::{Canvas, bounds_of};
use super::dimension::{Axis, Dimension};
use super::names;
use super::style::{CENTRE_PAST, EXTENSION_GAP, FIRST_DIMENSION, NEXT_DIMENSION};
use super::view::{SAME, Subject};

/// Most rows of dimensions over the plate, and most columns beside it: more would hide the view. What
/// they leave out stands in the tables.
const MOST_ROWS: usize = 4;

/// The distance between two eyes, by their indices.
pub(super) struct Spacing {
    pub(super) eyes: [usize; 2],
    pub(super) mm: f64,
    /// The row over the plate that it is drawn in; None if it is only in the table.
    row: Option<usize>,
}

impl Spacing {
    /// Whether the view shows it.
    pub(super) fn is_drawn(&self) -> bool {
        self.row.is_some()
    }
}

/// The spacings of neighbouring eyes: of those at one height from left to right, and those that
/// join what is not at one height by the shortest ways.
pub(super) fn spacings(subject: &Subject<'_>) -> Vec<Spacing> {
    let eyes = &subject.laid.eyes;
    let level = |a: usize, b: usize| (eyes[a].centre.y - eyes[b].centre.y).abs() < SAME;
    let mut order: Vec<usize> = (0..eyes.len()).collect();
    order.sort_by(|&a, &b| eyes[a].centre.x.total_cmp(&eyes[b].centre.x));
    let mut group: Vec<usize> = (0..eyes.len()).collect();
    let mut found = Vec::new();
    let mut heights: Vec<f64> = Vec::new();
    for (rank, &left) in order.iter().enumerate() {
        let Some(&right) = order[rank + 1..].iter().find(|&&right| level(left, right)) else {
            continue;
        };
        let y = eyes[left].centre.y;
        let row = heights.iter().position(|height| (height - y).abs() < SAME);
        let row = row.unwrap_or_else(|| {
            heights.push(y);
            heights.len() - 1
        });
        join(&mut group, left, right);
        found.extend(spacing(
            subject,
            [left, right],
            (row < MOST_ROWS).then_some(row),
        ));
    }
    let mut pairs = subject.report.figures.pairs.clone();
    pairs.sort_by(|a, b| {
        a.spacing_mm
            .partial_cmp(&b.spacing_mm)
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    for pair in pairs {
        if group[pair.a] != group[pair.b] {
            join(&mut group, pair.a, pair.b);
            found.extend(spacing(subject, [pair.a, pair.b], None));
        }
    }
    found
}

fn join(group: &mut [usize], a: usize, b: usize) {
    let (kept, gone) = (group[a], group[b]);
    for own in group.iter_mut().filter(|own| **own == gone) {
        *own = kept;
    }
}

/// The spacing of two eyes, as the report has it.
fn spacing(subject: &Subject<'_>, eyes: [usize; 2], row: Option<usize>) -> Option<Spacing> {
    let [a, b] = eyes;
    let mut pairs = subject.report.figures.pairs.iter();
    let pair = pairs.find(|pair| (pair.a, pair.b) == (a.min(b), a.max(b)))?;
    Some(Spacing {
        eyes,
        mm: pair.spacing_mm?,
        row,
    })
}

/// Draws all of them: spacings and offsets across over the plate, its width below, its height to the
/// left, offsets in height to the right.
pub(super) fn draw(canvas: &mut Canvas, subject: &Subject<'_>) {
    let rows = draw_spacings(canvas, subject);
    draw_offsets_across(canvas, subject, rows);
    draw_offsets_up(canvas, subject);
    draw_size(canvas, subject);
}

/// How far the `index`-th dimension line stands off the outline, mm.
fn off(index: usize) -> f64 {
    FIRST_DIMENSION + index as f64 * NEXT_DIMENSION
}

/// Where an eye's extension line starts: at the end of its centre line.
fn end_of_centre_line(subject: &Subject<'_>, eye: usize) -> [f64; 2] {
    let eye = &subject.laid.eyes[eye];
    let reach = eye.opening().map_or(0.0, |opening| opening.radius) + CENTRE_PAST;
    [eye.centre.x + reach, eye.centre.y + reach]
}

/// Returns how many rows they fill.
fn draw_spacings(canvas: &mut Canvas, subject: &Subject<'_>) -> usize {
    let top = subject.cut_bounds().high.y;
    let mut rows = 0;
    for spacing in spacings(subject) {
        let Some(row) = spacing.row else {
            continue;
        };
        rows = rows.max(row + 1);
        Dimension {
            axis: Axis::Level,
            ends: spacing.eyes.map(|eye| subject.laid.eyes[eye].centre.x),
            from: spacing.eyes.map(|eye| end_of_centre_line(subject, eye)[1]),
            line: top + off(row),
            figure: subject.unit.format(spacing.mm),
        }
        .draw(canvas);
    }
    rows
}

/// The places across of eyes that have no mirror image, from the centre line.
fn draw_offsets_across(canvas: &mut Canvas, subject: &Subject<'_>, rows: usize) {
    let cut = subject.cut_bounds();
    let mut drawn: Vec<f64> = Vec::new();
    for (index, eye) in subject.laid.eyes.iter().enumerate() {
        let Point { coords: at } = eye.centre;
        let known = drawn.iter().any(|x| (x - at.x).abs() < SAME);
        let mirrored = subject.project.mirror_eye(index, SAME).is_some();
        if known || mirrored || at.x.abs() < SAME || rows + drawn.len() >= MOST_ROWS {
            continue;
        }
        let line = cut.high.y + off(rows + drawn.len());
        let head = bounds_of(subject.laid.wall.iter().copied()).with(cut);
        let zero = (0.0, line.min(head.high.y + CENTRE_PAST));
        let own = (at.x, end_of_centre_line(subject, index)[1]);
        let figure = subject.unit.format(at.x.abs());
        Dimension::between(Axis::Level, [zero, own], line, figure).draw(canvas);
        drawn.push(at.x);
    }
}

/// The heights of eyes over the level line through the origin.
fn draw_offsets_up(canvas: &mut Canvas, subject: &Subject<'_>) {
    let cut = subject.cut_bounds();
    let mut drawn: Vec<f64> = Vec::new();
    for (index, eye) in subject.laid.eyes.iter().enumerate() {
        let y = eye.centre.y;
        let known = drawn.iter().any(|height| (height - y).abs() < SAME);
        if known || y.abs() < SAME || drawn.len() >= MOST_ROWS {
            continue;
        }
        // The rightmost eye at this height has the shortest extension line.
        let level = (0..subject.laid.eyes.len())
            .filter(|&other| (subject.laid.eyes[other].centre.y - y).abs() < SAME);
        let reach = level.map(|other| end_of_centre_line(subject, other)[0]);
        let own = (
            y,
            reach.fold(end_of_centre_line(subject, index)[0], f64::max),
        );
        let line = cut.high.x + off(drawn.len());
        let zero = (0.0, cut.high.x + CENTRE_PAST);
        let figure = subject.unit.format(y.abs());
        Dimension::between(Axis::Upright, [zero, own], line, figure).draw(canvas);
        drawn.push(y);
    }
}

impl Dimension {
    /// A dimension between two places, each with the start of its extension line.
    fn between(axis: Axis, places: [(f64, f64); 2], line: f64, figure: String) -> Self {
        let [a, b] = places;
        let (low, high) = if b.0 < a.0 { (b, a) } else { (a, b) };
        Self {
            axis,
            ends: [low.0, high.0],
            from: [low.1, high.1],
            line,
            figure,
        }
    }
}

/// Width and height of the plate.
fn draw_size(canvas: &mut Canvas, subject: &Subject<'_>) {
    let figures = &subject.report.figures.plate;
    let (Some(width), Some(height)) = (figures.plate_width_mm, figures.plate_height_mm) else {
        return;
    };
    let Some([low, high]) = subject.laid.plate.bounds() else {
        return;
    };
    let cut = subject.cut_bounds();
    let corners = subject.laid.plate.flattened();
    // Where the outline reaches a side, its extension line starts at the place nearest to the dimension.
    let lowest = |x: f64| {
        let there = corners.iter().filter(|p| (p.x - x).abs() < 10.0 * SAME);
        there.map(|p| p.y).fold(f64::INFINITY, f64::min).min(high.y)
    };
    let leftmost = |y: f64| {
        let there = corners.iter().filter(|p| (p.y - y).abs() < 10.0 * SAME);
        there.map(|p| p.x).fold(f64::INFINITY, f64::min).min(high.x)
    };
    Dimension {
        axis: Axis::Level,
        ends: [low.x, high.x],
        from: [low.x, high.x].map(|x| lowest(x) - EXTENSION_GAP),
        line: cut.low.y - off(0),
        figure: subject.unit.format(width),
    }
    .draw(canvas);
    Dimension {
        axis: Axis::Upright,
        ends: [low.y, high.y],
        from: [low.y, high.y].map(|y| leftmost(y) - EXTENSION_GAP),
        line: cut.low.x - off(0),
        figure: subject.unit.format(height),
    }
    .draw(canvas);
}

/// The spacings that the view does not show, in words; None if it shows all.
pub(super) fn spacings_in_words(subject: &Subject<'_>) -> Option<String> {
    let list: Vec<String> = spacings(subject)
        .into_iter()
        .filter(|spacing| !spacing.is_drawn())
        .map(|spacing| {
            let [a, b] = spacing.eyes.map(names::eye);
            format!("{a} to {b} {}", subject.unit.format(spacing.mm))
        })
        .collect();
    (!list.is_empty()).then(|| format!("Between centres: {}.", list.join(", ")))
}
