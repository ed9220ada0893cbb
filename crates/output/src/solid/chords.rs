//! Curves as chords, so placed that they enclose what the curves do.
//!
//! Chords between points of a circle all lie inside it: a disc loses area, a hole gains material, and
//! a ball that should turn does not. Here the corners stand outside by about two thirds of the sagitta
//! and the middles of the chords inside by one third, so that areas and volumes are true.

use std::f64::consts::{FRAC_PI_4, TAU};

use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Segment};
use layout::geometry::{Point, Vector};

use super::mesh::SHORTEST_EDGE;

/// The sagitta of a chord, as a share of the chord error. A corner stands outside by 2/3 of it, or 4/3
/// where an arc has two chords only. What is left of the error covers corners that are left out as too
/// near to others.
const SAGITTA: f64 = 0.6;

/// The sagitta of a chord along the meridian of a sphere, as a share of that of the chords around it:
/// on a sphere, 4/3 of the one and 2/3 of the other add up.
const MERIDIAN: f64 = 0.5;

/// Largest turn of one chord, radians: what is smaller than the chord error stays an octagon.
const LARGEST_TURN: f64 = FRAC_PI_4;

/// Flattens curves for one chord error.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chords {
    sagitta: f64,
}

/// A circle of a zone of a sphere. Lengths in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    /// Its radius.
    pub(super) radius: f64,
    /// How far it lies behind the first circle of the zone.
    pub(super) behind: f64,
}

/// Where a corner of an arc stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Station {
    /// Its angle from the start of the arc, radians.
    pub(super) turn: f64,
    /// Its distance from the arc's centre, in radii.
    pub(super) reach: f64,
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

    /// Adds the corners of an arc but for its last; its ends stay where they are.
    fn add_arc(self, arc: &Arc, corners: &mut Vec<Point>) {
        let mut stations = self.stations(arc.radius, arc.sweep);
        stations.pop();
        corners.extend(stations.into_iter().map(|Station { turn, reach }| {
            let at = arc.at(arc.start_angle + turn);
            arc.centre + (at - arc.centre) * reach
        }));
    }

    /// Where the corners of an arc of a radius, mm, and a signed turn, radians, stand, from its start
    /// to its end, which both lie on it.
    pub(super) fn stations(self, radius: f64, turn: f64) -> Vec<Station> {
        let chords = self.count(radius, turn.abs()).max(2);
        let one = turn / chords as f64;
        let between = reach(one, chords);
        let station = |step: usize| Station {
            turn: one * step as f64,
            reach: if step.is_multiple_of(chords) {
                1.0
            } else {
                between
            },
        };
        (0..=chords).map(station).collect()
    }

    /// Chords along the meridian of a sphere around which these go.
    pub(super) fn along_meridian(self) -> Self {
        Self {
            sagitta: MERIDIAN * self.sagitta,
        }
    }

    /// The zone of a sphere of `radius` from a `depth` behind its centre on, as circles from the
    /// first to the one that lies `thickness` behind it; both stay where they are. All in mm.
    pub(super) fn zone(self, radius: f64, depth: f64, thickness: f64) -> Vec<Level> {
        let angle = |depth: f64| (depth / radius).clamp(-1.0, 1.0).acos();
        let start = angle(depth);
        let whole = angle(depth + thickness) - start;
        let stations = self.along_meridian().stations(radius, whole);
        let end = |behind: f64| Level {
            radius: (radius * radius - (depth + behind).powi(2)).max(0.0).sqrt(),
            behind,
        };
        let inner = &stations[1..stations.len() - 1];
        let between = inner.iter().map(|station| {
            let (sin, cos) = (start + station.turn).sin_cos();
            let sphere = radius * station.reach;
            Level {
                radius: sphere * sin,
                behind: sphere * cos - depth,
            }
        });
        let first = [end(0.0)].into_iter();
        first.chain(between).chain([end(thickness)]).collect()
    }
}

/// How far, in radii, the corners between the ends of an arc stand from its centre so that its chords
/// enclose what it does: the sectors between them, two of r·ρ·sin δ/2 at the ends and n − 2 of
/// ρ²·sin δ/2, add up to its own, r²·n·δ/2. `turn` is δ, radians; n is at least 2.
fn reach(turn: f64, chords: usize) -> f64 {
    if turn == 0.0 {
        return 1.0;
    }
    let n = chords as f64;
    let sectors = n * turn / turn.sin();
    sectors / (1.0 + (1.0 + (n - 2.0) * sectors).sqrt())
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
