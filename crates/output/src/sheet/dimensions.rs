//! Which dimensions the view gets, and in which row each stands.

use layout::geometry::Point;
use layout::geometry::outline::Outline;

use super::canvas::{Canvas, bounds_of};
use super::dimension::{Axis, Dimension};
use super::names;
use super::style::{CENTRE_PAST, EXTENSION_GAP, FIRST_DIMENSION, NEXT_DIMENSION};
use super::view::{SAME, Subject};
use crate::cut::CutPart;
use crate::drawing::Bounds;

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
    let eyes = &subject.scene.eyes;
    if eyes.is_empty() {
        return Vec::new();
    }
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
    let cut = subject.scene.cut_bounds();
    let mut above = Side::new(Axis::Level, cut.high.y, 1.0);
    draw_spacings(canvas, subject, &mut above);
    draw_offsets_across(canvas, subject, &mut above);
    draw_offsets_up(
        canvas,
        subject,
        &mut Side::new(Axis::Upright, cut.high.x, 1.0),
    );
    draw_size(canvas, subject);
}

/// A side of what is drawn, and how far off it the next dimension line goes.
pub(super) struct Side {
    axis: Axis,
    /// Where the outline ends, across the dimension lines.
    edge: f64,
    /// 1 if the side lies toward +x or +y, else −1.
    outward: f64,
    /// Distance of the next line from the edge.
    next: f64,
    rows: usize,
}

impl Side {
    pub(super) fn new(axis: Axis, edge: f64, outward: f64) -> Self {
        Self {
            axis,
            edge,
            outward,
            next: FIRST_DIMENSION,
            rows: 0,
        }
    }

    fn is_full(&self) -> bool {
        self.rows >= MOST_ROWS
    }

    /// Where the next dimension line goes that runs from `low` to `high`: a little farther off than it
    /// must be, if it then runs through no anchor hole.
    pub(super) fn next_line(&mut self, canvas: &Canvas, [low, high]: [f64; 2]) -> f64 {
        /// Most that a line gives way, in steps of a millimetre.
        const MOST_STEPS: u32 = 8;
        /// Room that a line keeps to the hole, mm.
        const ROOM: f64 = 0.5;
        let line = |step: u32| self.edge + self.outward * (self.next + f64::from(step));
        let is_free = |step: &u32| {
            let ends = [low, high].map(|end| self.axis.at(end, line(*step)));
            canvas.is_free(&bounds_of(ends).grown(ROOM))
        };
        let step = (0..=MOST_STEPS).find(is_free).unwrap_or(0);
        let line = line(step);
        self.next += f64::from(step) + NEXT_DIMENSION;
        self.rows += 1;
        line
    }
}

/// Where an eye's extension line starts: at the end of its centre line.
fn end_of_centre_line(subject: &Subject<'_>, eye: usize) -> [f64; 2] {
    let eye = &subject.scene.eyes[eye];
    let reach = eye.opening.map_or(0.0, |opening| opening.radius) + CENTRE_PAST;
    [eye.centre.x + reach, eye.centre.y + reach]
}

/// One row for all spacings at one height.
fn draw_spacings(canvas: &mut Canvas, subject: &Subject<'_>, above: &mut Side) {
    let all = spacings(subject);
    let x = |eye: usize| subject.scene.eyes[eye].centre.x;
    for row in 0..MOST_ROWS {
        let own: Vec<&Spacing> = all
            .iter()
            .filter(|spacing| spacing.row == Some(row))
            .collect();
        let (Some(first), Some(last)) = (own.first(), own.last()) else {
            return;
        };
        let line = above.next_line(canvas, [x(first.eyes[0]), x(last.eyes[1])]);
        for spacing in own {
            Dimension {
                axis: Axis::Level,
                ends: spacing.eyes.map(x),
                from: spacing.eyes.map(|eye| end_of_centre_line(subject, eye)[1]),
                line,
                figure: subject.unit.format(spacing.mm),
            }
            .draw(canvas);
        }
    }
}

/// The places across of eyes that have no mirror image, from the centre line.
fn draw_offsets_across(canvas: &mut Canvas, subject: &Subject<'_>, above: &mut Side) {
    let head = subject.scene.bounds();
    let mut drawn: Vec<f64> = Vec::new();
    for (index, eye) in subject.scene.eyes.iter().enumerate() {
        let x = eye.centre.x;
        let known = drawn.iter().any(|other| (other - x).abs() < SAME);
        let mirrored = subject.project.mirror_eye(index, SAME).is_some();
        if known || mirrored || x.abs() < SAME || above.is_full() {
            continue;
        }
        let line = above.next_line(canvas, [x.min(0.0), x.max(0.0)]);
        let zero = (0.0, line.min(head.high.y + CENTRE_PAST));
        let own = (x, end_of_centre_line(subject, index)[1]);
        let figure = subject.unit.format(x.abs());
        Dimension::between(Axis::Level, [zero, own], line, figure).draw(canvas);
        drawn.push(x);
    }
}

/// The heights of eyes over the level line through the origin.
fn draw_offsets_up(canvas: &mut Canvas, subject: &Subject<'_>, right: &mut Side) {
    let eyes = &subject.scene.eyes;
    let mut drawn: Vec<f64> = Vec::new();
    for eye in eyes {
        let y = eye.centre.y;
        let known = drawn.iter().any(|other| (other - y).abs() < SAME);
        if known || y.abs() < SAME || right.is_full() {
            continue;
        }
        // The centre line of all eyes at this height ends at the rightmost.
        let level = (0..eyes.len()).filter(|&other| (eyes[other].centre.y - y).abs() < SAME);
        let ends = level.map(|other| end_of_centre_line(subject, other)[0]);
        let own = (y, ends.fold(f64::NEG_INFINITY, f64::max));
        let line = right.next_line(canvas, [y.min(0.0), y.max(0.0)]);
        let zero = (0.0, right.edge + CENTRE_PAST);
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

/// Width and height of the plate, or of the part in its place.
fn draw_size(canvas: &mut Canvas, subject: &Subject<'_>) {
    let figures = &subject.report.figures.plate;
    let scene = &subject.scene;
    let edges = match subject.part {
        CutPart::Plate => std::slice::from_ref(&scene.plate),
        // Holes may take something of the foam's edge, and each piece has one.
        CutPart::Foam | CutPart::Guard | CutPart::Head | CutPart::SmallestHead => &scene.cut,
    };
    let boxes = edges.iter().filter_map(Outline::bounds);
    let Bounds { low, high } = bounds_of(boxes.flatten());
    let (width, height) = match subject.part {
        CutPart::Plate => (figures.plate_width_mm, figures.plate_height_mm),
        _ => (Some(high.x - low.x), Some(high.y - low.y)),
    };
    let (Some(width), Some(height)) = (width, height) else {
        return;
    };
    let cut = scene.cut_bounds();
    let corners: Vec<Point> = edges.iter().flat_map(Outline::flattened).collect();
    // Where the outline reaches a side, its extension line starts at the place nearest to the dimension.
    let near = |a: f64, b: f64| (a - b).abs() < 10.0 * SAME;
    let lowest = |x: f64| {
        let there = corners.iter().filter(|corner| near(corner.x, x));
        there.map(|corner| corner.y).fold(high.y, f64::min) - EXTENSION_GAP
    };
    let leftmost = |y: f64| {
        let there = corners.iter().filter(|corner| near(corner.y, y));
        there.map(|corner| corner.x).fold(high.x, f64::min) - EXTENSION_GAP
    };
    let (across, up) = ([low.x, high.x], [low.y, high.y]);
    Dimension {
        axis: Axis::Level,
        ends: across,
        from: across.map(lowest),
        line: Side::new(Axis::Level, cut.low.y, -1.0).next_line(canvas, across),
        figure: subject.unit.format(width),
    }
    .draw(canvas);
    Dimension {
        axis: Axis::Upright,
        ends: up,
        from: up.map(leftmost),
        line: Side::new(Axis::Upright, cut.low.x, -1.0).next_line(canvas, up),
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
