//! The convex hull of discs, as true lines and arcs.

use std::f64::consts::TAU;

use super::outline::Outline;
use super::segment::{Arc, Line, Segment};
use super::{Point, Vector};

/// A disc, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its centre.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
}

impl Disc {
    /// How far the disc reaches in the direction of `out`, a unit vector, from the origin.
    fn support(&self, out: Vector) -> f64 {
        self.centre.coords.dot(&out) + self.radius
    }

    /// The direction, counter-clockwise, from which on `other` reaches farther than this disc: the
    /// outward normal of their common tangent. None if it never does.
    fn overtaken_by(&self, other: &Self) -> Option<Vector> {
        let between = other.centre - self.centre;
        let distance = between.norm();
        // The other reaches farther by distance·cos(angle to it) − (difference of radii).
        let cos = (self.radius - other.radius) / distance;
        if !(-1.0..1.0).contains(&cos) {
            return None;
        }
        let sin = (1.0 - cos * cos).sqrt();
        let toward = between / distance;
        Some(toward * cos + Vector::new(toward.y, -toward.x) * sin)
    }
}

/// Grows with the turn from one unit vector to another, counter-clockwise, from 0 to 5, and for
/// small turns is the turn itself; costs no arc tangent.
fn turn_rank(from: Vector, to: Vector) -> f64 {
    let (cos, sin) = (from.dot(&to), from.perp(&to));
    match (cos >= 0.0, sin >= 0.0) {
        (true, true) => sin,
        (false, _) => 2.0 - sin,
        (true, false) => 5.0 + sin,
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
        let mut out = Vector::x();
        let Some(mut at) = leading(discs, out, 0..discs.len()) else {
            return Self::default();
        };
        let (mut arcs, mut angle) = (Vec::new(), 0.0);
        let mut next = Vec::with_capacity(discs.len());
        // Two discs have at most two common outer tangents, so the walk ends before this.
        for _ in 0..=discs.len() * discs.len() {
            next.clear();
            next.extend(discs.iter().enumerate().filter_map(|(index, other)| {
                let normal = discs[at].overtaken_by(other)?;
                let rank = turn_rank(out, normal);
                let ahead = (SAME_DIRECTION..5.0 - SAME_DIRECTION).contains(&rank);
                ahead.then_some((rank, index, normal))
            }));
            let Some(&(rank, _, normal)) = next.iter().min_by(|a, b| a.0.total_cmp(&b.0)) else {
                break;
            };
            let end = angle + out.perp(&normal).atan2(out.dot(&normal)).rem_euclid(TAU);
            if end >= TAU {
                break;
            }
            let together = next.iter().filter(|n| n.0 < rank + SAME_DIRECTION);
            let leader = leading(discs, normal, together.map(|n| n.1)).unwrap_or(at);
            arcs.push((at, angle, end));
            (at, angle, out) = (leader, end, normal);
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

/// Of the discs in `among`, the one that reaches farthest in the direction of `out`, and of
/// several, the one that reaches farthest just after.
fn leading(discs: &[Disc], out: Vector, among: impl Iterator<Item = usize>) -> Option<usize> {
    /// Lengths nearer than this, mm, are equal.
    const EQUAL: f64 = 1e-9;
    among.reduce(|best, other| {
        let (old, new) = (&discs[best], &discs[other]);
        let farther = new.support(out) - old.support(out);
        let ahead = out.perp(&(new.centre - old.centre)) > 0.0;
        if farther > EQUAL || (farther > -EQUAL && ahead) {
            other
        } else {
            best
        }
    })
}
