//! What is left of a stroke outside of some boxes, or inside one.

use std::f64::consts::{PI, TAU};

use layout::geometry::Vector;
use layout::geometry::segment::{Arc, Line, Segment};

use crate::drawing::{Bounds, Stroke};

/// Ends of two pieces that lie nearer than this, mm, are one place.
const JOINED: f64 = 1e-6;

/// The strokes that are left of one when of each of its pieces only some parts are kept.
pub(super) fn kept(stroke: &Stroke, parts: impl Fn(&Segment) -> Vec<Segment>) -> Vec<Stroke> {
    let mut paths: Vec<Vec<Segment>> = Vec::new();
    for part in stroke.path.iter().flat_map(parts) {
        let before = paths.last_mut();
        match before.filter(|path| {
            path.last()
                .is_some_and(|last| (last.end() - part.start()).norm() < JOINED)
        }) {
            Some(path) => path.push(part),
            None => paths.push(vec![part]),
        }
    }
    let strokes = paths.into_iter().map(|path| Stroke {
        path,
        closed: false,
        ..stroke.clone()
    });
    strokes.collect()
}

/// The parts of a line that lie outside all boxes, in its direction.
pub(super) fn outside(line: Line, rooms: &[Bounds]) -> Vec<Line> {
    let mut hidden: Vec<[f64; 2]> = rooms
        .iter()
        .filter_map(|room| share_within(&line, room))
        .collect();
    hidden.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut parts, mut from) = (Vec::new(), 0.0);
    for [start, end] in hidden {
        if start > from {
            parts.push(part(&line, [from, start]));
        }
        from = f64::max(from, end);
    }
    if from < 1.0 {
        parts.push(part(&line, [from, 1.0]));
    }
    parts
}

/// The parts of a piece that lie inside a box, in its direction.
pub(super) fn inside(piece: &Segment, room: &Bounds) -> Vec<Segment> {
    match piece {
        Segment::Line(line) => {
            let share = share_within(line, room);
            let own = share.map(|share| Segment::Line(part(line, share)));
            own.into_iter().collect()
        }
        Segment::Arc(arc) => {
            let turns = turns_at_sides(arc, room);
            let parts = turns.windows(2).map(|pair| Arc {
                start_angle: arc.start_angle + pair[0],
                sweep: pair[1] - pair[0],
                ..*arc
            });
            let within = |part: &Arc| {
                let middle = part.at(part.start_angle + part.sweep / 2.0);
                room.holds(&Bounds {
                    low: middle,
                    high: middle,
                })
            };
            parts.filter(within).map(Segment::Arc).collect()
        }
    }
}

/// Whether a line has a part within a box.
pub(super) fn crosses(line: &Line, room: &Bounds) -> bool {
    share_within(line, room).is_some()
}

/// The part of a line between two shares of its length; its own ends are kept as they are.
fn part(line: &Line, [from, to]: [f64; 2]) -> Line {
    let at = |share: f64| line.start + (line.end - line.start) * share;
    Line {
        start: if from > 0.0 { at(from) } else { line.start },
        end: if to < 1.0 { at(to) } else { line.end },
    }
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

/// The turns from an arc's start at which it starts, crosses the lines through a box's sides, and ends,
/// in its direction.
fn turns_at_sides(arc: &Arc, room: &Bounds) -> Vec<f64> {
    let share = |place: f64, centre: f64| (place - centre) / arc.radius;
    let upright = [room.low.x, room.high.x].map(|x| share(x, arc.centre.x));
    let level = [room.low.y, room.high.y].map(|y| share(y, arc.centre.y));
    let angles = upright
        .into_iter()
        .flat_map(|cosine| [cosine.acos(), -cosine.acos()])
        .chain(
            level
                .into_iter()
                .flat_map(|sine| [sine.asin(), PI - sine.asin()]),
        );
    // Where the arc's circle does not reach a line, there is no angle.
    let turns = angles
        .filter(|angle| angle.is_finite())
        .map(|angle| ((angle - arc.start_angle) * arc.sweep.signum()).rem_euclid(TAU))
        .filter(|turn| *turn < arc.sweep.abs());
    let mut all: Vec<f64> = turns.chain([0.0, arc.sweep.abs()]).collect();
    all.sort_by(f64::total_cmp);
    all.into_iter()
        .map(|turn| turn * arc.sweep.signum())
        .collect()
}
