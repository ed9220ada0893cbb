//! The convex hull of discs, as true lines and arcs.

use std::f64::consts::TAU;

use super::Point;
use super::outline::Outline;
use super::segment::{Arc, Line, Segment};

/// A disc, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its centre.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
}

impl Disc {
    /// How far the disc reaches in the direction of `angle`, radians, from the origin.
    fn support(&self, angle: f64) -> f64 {
        self.centre.x * angle.cos() + self.centre.y * angle.sin() + self.radius
    }

    /// How far beyond `from` (radians, counter-clockwise) `other` begins to reach farther than this
    /// disc: the outward normal of their common tangent. None if it never does.
    fn overtaken_by(&self, other: &Self, from: f64) -> Option<f64> {
        let between = other.centre - self.centre;
        let distance = between.norm();
        // The other reaches farther by distance·cos(angle − direction) − (difference of radii).
        let share = (self.radius - other.radius) / distance;
        if !(-1.0..1.0).contains(&share) {
            return None;
        }
        let turn = between.y.atan2(between.x) - share.acos() - from;
        Some(turn.rem_euclid(TAU))
    }
}

/// Angles nearer than this, radians, are one direction: an arc of a metre's radius over it is a
/// nanometre long.
const SAME_DIRECTION: f64 = 1e-9;

impl Outline {
    /// The convex hull of `discs`, counter-clockwise. Empty without discs.
    ///
    /// The hull is walked by its outward normal: one disc reaches farthest over a range of
    /// directions and gives an arc; where another overtakes it, their common tangent gives a line.
    pub fn hull(discs: &[Disc]) -> Self {
        let Some(first) = leading(discs, 0.0, 0..discs.len()) else {
            return Self::default();
        };
        let (mut arcs, mut at, mut angle) = (Vec::new(), first, 0.0);
        // Two discs have at most two common outer tangents, so the walk ends before this.
        for _ in 0..=discs.len() * discs.len() {
            let turns: Vec<(usize, f64)> = (0..discs.len())
                .filter_map(|other| Some((other, discs[at].overtaken_by(&discs[other], angle)?)))
                .filter(|(_, turn)| (SAME_DIRECTION..TAU - SAME_DIRECTION).contains(turn))
                .collect();
            let least = turns.iter().map(|t| t.1).fold(TAU, f64::min);
            if angle + least >= TAU {
                break;
            }
            let together = turns.iter().filter(|t| t.1 < least + SAME_DIRECTION);
            let next = leading(discs, angle + least, together.map(|t| t.0));
            arcs.push((at, angle, angle + least));
            (at, angle) = (next.unwrap_or(at), angle + least);
        }
        arcs.push((at, angle, TAU));
        Self::from_arcs(discs, arcs)
    }

    /// Joins the walked arcs by their tangents.
    fn from_arcs(discs: &[Disc], mut arcs: Vec<(usize, f64, f64)>) -> Self {
        // The walk starts at an arbitrary direction: its last arc runs on into its first.
        if arcs.len() > 1 && arcs.first().map(|a| a.0) == arcs.last().map(|a| a.0) {
            let (_, start, _) = arcs.pop().unwrap_or_default();
            arcs[0].1 = start - TAU;
        }
        let mut segments: Vec<Segment> = Vec::with_capacity(2 * arcs.len());
        for (disc, start, end) in arcs {
            let arc = Arc {
                centre: discs[disc].centre,
                radius: discs[disc].radius,
                start_angle: start,
                sweep: end - start,
            };
            if let Some(last) = segments.last() {
                let line = Line {
                    start: last.end(),
                    end: arc.start(),
                };
                segments.push(Segment::Line(line));
            }
            segments.push(Segment::Arc(arc));
        }
        if segments.len() > 1
            && let (Some(last), Some(first)) = (segments.last(), segments.first())
        {
            let line = Line {
                start: last.end(),
                end: first.start(),
            };
            segments.push(Segment::Line(line));
        }
        Self { segments }
    }
}

/// Of the discs in `among`, the one that reaches farthest in the direction of `angle`, radians,
/// and of several, the one that reaches farthest just after.
fn leading(discs: &[Disc], angle: f64, among: impl Iterator<Item = usize>) -> Option<usize> {
    /// Lengths nearer than this, mm, are equal.
    const EQUAL: f64 = 1e-9;
    let ahead = |disc: &Disc| disc.centre.y * angle.cos() - disc.centre.x * angle.sin();
    among.reduce(|best, other| {
        let (old, new) = (&discs[best], &discs[other]);
        let farther = new.support(angle) - old.support(angle);
        if farther > EQUAL || (farther > -EQUAL && ahead(new) > ahead(old)) {
            other
        } else {
            best
        }
    })
}
