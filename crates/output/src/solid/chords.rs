//! Curves as chords, so placed that they enclose what the curves do.
//!
//! Chords between points of a circle all lie inside it: a disc loses area, a hole gains material, and
//! a ball that should turn does not. Here the corners stand outside by two thirds of the sagitta and
//! the middles of the chords inside by one third, so that areas and volumes are true.

use std::f64::consts::{FRAC_PI_4, TAU};

use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Segment};
use layout::geometry::{Point, Vector};

use super::mesh::SHORTEST_EDGE;

/// The sagitta of a chord, as a share of the chord error. A corner stands outside by at most 4/3 of
/// it: where two arcs of a sphere add up, 2/3 each, and where an arc has two chords only. What is
/// left of the error covers corners that are left out as too near to others.
const SAGITTA: f64 = 0.6;

/// Largest turn of one chord, radians: what is smaller than the chord error stays an octagon.
const LARGEST_TURN: f64 = FRAC_PI_4;

/// Flattens curves for one chord error.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chords {
    sagitta: f64,
}

/// A circle about the z axis. Lengths in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    /// Its radius.
    pub(super) radius: f64,
    /// Its depth below the centre of the sphere that it lies on.
    pub(super) depth: f64,
}

impl Chords {
    /// Chords that stay within `chord_error`, mm.
    pub(super) fn within(chord_error: f64) -> Self {
        Self {
            sagitta: SAGITTA * chord_error,
        }
    }

    /// How many chords an arc of a radius, mm, and a turn, radians, needs.
    fn count(self, radius: f64, turn: f64) -> usize {
        let share = (self.sagitta / radius).min(1.0);
        let step = (2.0 * (1.0 - share).acos()).min(LARGEST_TURN);
        whole(turn / step)
    }

    /// How many chords a whole circle of `radius`, mm, needs.
    pub(super) fn around(self, radius: f64) -> usize {
        self.count(radius, TAU)
    }

    /// The corners of an outline, counter-clockwise, mm.
    pub(super) fn corners(self, outline: &Outline) -> Vec<Point> {
        let mut corners = Vec::new();
        for segment in &outline.segments {
            match segment {
                Segment::Arc(arc) if arc.sweep >= TAU => {
                    return circle(arc.centre, arc.radius, self.around(arc.radius));
                }
                Segment::Arc(arc) => self.add_arc(arc, &mut corners),
                Segment::Line(line) => corners.push(line.start),
            }
        }
        without_short_edges(corners)
    }

    /// Adds the corners of an arc but for its last. Its ends stay where they are; the others stand at
    /// the one radius ρ at which the sectors between them, 2·(r·ρ·sin δ)/2 + (n − 2)·(ρ²·sin δ)/2 for
    /// n chords of the turn δ, add up to the arc's own, r²·n·δ/2.
    fn add_arc(self, arc: &Arc, corners: &mut Vec<Point>) {
        let chords = self.count(arc.radius, arc.sweep.abs()).max(2);
        let n = chords as f64;
        let turn = arc.sweep / n;
        let sectors = n * turn / turn.sin();
        let share = if turn == 0.0 {
            1.0
        } else {
            sectors / (1.0 + (1.0 + (n - 2.0) * sectors).sqrt())
        };
        corners.push(arc.start());
        corners.extend((1..chords).map(|step| {
            let at = arc.at(arc.start_angle + turn * step as f64);
            arc.centre + (at - arc.centre) * share
        }));
    }

    /// The zone of a sphere of `radius` between two depths below its centre, as circles from the
    /// first to the second: those of a sphere that is larger by two thirds of the sagitta.
    pub(super) fn zone(self, radius: f64, from: f64, to: f64) -> Vec<Level> {
        let angle = |radius: f64, depth: f64| (depth / radius).clamp(-1.0, 1.0).acos();
        let turn = (angle(radius, from) - angle(radius, to)).abs();
        let chords = self.count(radius, turn);
        let sagitta = radius * (1.0 - (turn / chords as f64 / 2.0).cos());
        let sphere = radius + 2.0 / 3.0 * sagitta;
        let (start, end) = (angle(sphere, from), angle(sphere, to));
        (0..=chords)
            .map(|step| {
                let angle = start + (end - start) * step as f64 / chords as f64;
                let depth = match step {
                    0 => from,
                    step if step == chords => to,
                    _ => sphere * angle.cos(),
                };
                Level {
                    radius: (sphere * sphere - depth * depth).max(0.0).sqrt(),
                    depth,
                }
            })
            .collect()
    }
}

/// A circle as a polygon of the same area, counter-clockwise, mm.
pub(super) fn circle(centre: Point, radius: f64, chords: usize) -> Vec<Point> {
    let turn = TAU / chords as f64;
    let reach = radius * (turn / turn.sin()).sqrt();
    (0..chords)
        .map(|step| {
            let angle = turn * step as f64;
            centre + Vector::new(angle.cos(), angle.sin()) * reach
        })
        .collect()
}

/// A count of at least one, rounded up.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a length of some metres over a step of some micrometres"
)]
fn whole(count: f64) -> usize {
    count.ceil().clamp(1.0, 1e6) as usize
}

/// The corners without those that are too near to the one before.
fn without_short_edges(corners: Vec<Point>) -> Vec<Point> {
    let near = |a: &Point, b: &Point| (a - b).norm() < SHORTEST_EDGE;
    let mut kept: Vec<Point> = Vec::with_capacity(corners.len());
    for corner in corners {
        if kept.last().is_none_or(|last| !near(last, &corner)) {
            kept.push(corner);
        }
    }
    while kept.len() > 1 && near(&kept[0], &kept[kept.len() - 1]) {
        kept.pop();
    }
    kept
}
