//! Curves as true lines and arcs: cubics that were drawn as arcs become arcs again.

use std::f64::consts::{FRAC_PI_2, TAU};

use kurbo::{CubicBez, ParamCurve, PathEl, PathSeg, Point, Vec2};
use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};

use crate::curve::Curve;

/// Widest turn that a cubic stands for as an arc, radians: a quarter, and a little for rounding.
const WIDEST: f64 = FRAC_PI_2 * 1.05;

/// How far the usual cubic of a quarter turn strays from its circle, as a share of the radius. It grows
/// with the sixth power of the turn (M. Goldapp: Approximation of circular arcs by cubic polynomials,
/// 1991).
const QUARTER_STRAYS: f64 = 2.8e-4;

/// How many marks of a run of arcs are held against the circle of them all, whenever it grows.
const MOST_MARKS: usize = 16;

/// A closed curve as lines and arcs, counter-clockwise: each cubic within `tolerance` of an arc is that
/// arc, and all that follow one circle are one. Any other cubic is flattened within `tolerance`.
pub(crate) fn outline(curve: &Curve, tolerance: f64) -> Outline {
    let mut pieces: Vec<Piece> = curve
        .pieces
        .iter()
        .map(|piece| Piece::of(piece, tolerance))
        .collect();
    // Begin where one circle ends and another piece starts, if there is such a place.
    let count = pieces.len();
    let break_at = (0..count).find(|&index| {
        let mut before = pieces[(index + count - 1) % count].clone();
        !before.goes_on(&pieces[index], tolerance)
    });
    pieces.rotate_left(break_at.unwrap_or(0));
    let mut merged: Vec<Piece> = Vec::with_capacity(count);
    for piece in pieces {
        let goes_on = merged
            .last_mut()
            .is_some_and(|last| last.goes_on(&piece, tolerance));
        if !goes_on {
            merged.push(piece);
        }
    }
    let mut segments = Vec::with_capacity(merged.len());
    for piece in &merged {
        piece.write(tolerance, &mut segments);
    }
    let outline = Outline { segments };
    if outline.area() < 0.0 {
        reversed(&outline)
    } else {
        outline
    }
}

/// The same curve, run the other way.
fn reversed(outline: &Outline) -> Outline {
    let segments = outline.segments.iter().rev();
    let segments = segments.map(|segment| match *segment {
        Segment::Line(line) => Segment::Line(Line {
            start: line.end,
            end: line.start,
        }),
        Segment::Arc(arc) => Segment::Arc(Arc {
            start_angle: arc.start_angle + arc.sweep,
            sweep: -arc.sweep,
            ..arc
        }),
    });
    Outline {
        segments: segments.collect(),
    }
}

/// What a curve is made of, once arcs are told from other cubics.
#[derive(Clone, Debug)]
enum Piece {
    Straight(kurbo::Line),
    Round(Run),
    Free(CubicBez),
}

/// Arcs of one circle, one after the other.
#[derive(Clone, Debug)]
struct Run {
    /// Where it starts, the middle of its first arc, where that ends, the middle of the next, and so on.
    marks: Vec<Point>,
    circle: Circle,
    /// How far it turns, radians; positive is counter-clockwise.
    sweep: f64,
}

#[derive(Clone, Copy, Debug)]
struct Circle {
    centre: Point,
    radius: f64,
}

impl Piece {
    fn of(piece: &PathSeg, tolerance: f64) -> Self {
        match piece {
            PathSeg::Line(line) => Self::Straight(*line),
            PathSeg::Quad(_) | PathSeg::Cubic(_) => {
                let cubic = piece.to_cubic();
                Run::of(&cubic, tolerance).map_or(Self::Free(cubic), Self::Round)
            }
        }
    }

    /// Takes the next piece in if both are arcs of one circle.
    fn goes_on(&mut self, next: &Self, tolerance: f64) -> bool {
        match (self, next) {
            (Self::Round(run), Self::Round(next)) => run.goes_on(next, tolerance),
            _ => false,
        }
    }

    fn write(&self, tolerance: f64, segments: &mut Vec<Segment>) {
        match self {
            Self::Straight(line) => push_line(line.p0, line.p1, segments),
            Self::Round(run) => segments.push(Segment::Arc(run.arc())),
            Self::Free(cubic) => {
                let path = [
                    PathEl::MoveTo(cubic.p0),
                    PathEl::CurveTo(cubic.p1, cubic.p2, cubic.p3),
                ];
                let mut from = cubic.p0;
                kurbo::flatten(path, tolerance, |element| {
                    if let PathEl::LineTo(to) = element {
                        push_line(from, to, segments);
                        from = to;
                    }
                });
            }
        }
    }
}

fn push_line(start: Point, end: Point, segments: &mut Vec<Segment>) {
    if start != end {
        let [start, end] = [start, end].map(|p| layout::geometry::Point::new(p.x, p.y));
        segments.push(Segment::Line(Line { start, end }));
    }
}

impl Run {
    /// The arc that a cubic stands for, if it does.
    fn of(cubic: &CubicBez, tolerance: f64) -> Option<Self> {
        let chord = cubic.p3 - cubic.p0;
        let (out, into) = (cubic.p1 - cubic.p0, cubic.p3 - cubic.p2);
        let turn = |a: Vec2, b: Vec2| a.cross(b).atan2(a.dot(b));
        // Of an arc, both are half its turn.
        let sweep = turn(out, chord) + turn(chord, into);
        let rise = chord.hypot() / 2.0 * (sweep / 4.0).tan().abs();
        if sweep.abs() > WIDEST || rise.is_nan() || rise < tolerance / 4.0 {
            return None;
        }
        let to_centre = chord.turn_90() * (0.5 / (sweep / 2.0).tan());
        let circle = Circle {
            centre: cubic.p0.midpoint(cubic.p3) + to_centre,
            radius: chord.hypot() / (2.0 * (sweep / 2.0).sin().abs()),
        };
        let handle = 4.0 / 3.0 * (sweep / 4.0).tan().abs() * circle.radius;
        let usual = |length: f64| (length / handle - 1.0).abs() < 0.1;
        let strays = tolerance + circle.strays(sweep);
        let follows =
            (1..8).all(|eighth| circle.off(cubic.eval(f64::from(eighth) / 8.0)) <= strays);
        // A quarter turn at most: the middle lies across the chord from the centre.
        let middle = circle.centre - to_centre.normalize() * circle.radius;
        (usual(out.hypot()) && usual(into.hypot()) && follows).then(|| Self {
            marks: vec![cubic.p0, middle, cubic.p3],
            circle,
            sweep,
        })
    }

    /// Takes the next run in if one circle passes through the marks of both.
    fn goes_on(&mut self, next: &Self, tolerance: f64) -> bool {
        /// A turn beyond a whole one that rounding explains, radians.
        const ROUNDING: f64 = 1e-3;
        let sweep = self.sweep + next.sweep;
        if self.sweep * next.sweep < 0.0 || sweep.abs() > TAU + ROUNDING {
            return false;
        }
        let old = self.marks.len();
        let count = old + next.marks.len() - 1;
        let mark = |index: usize| match index.checked_sub(old) {
            None => self.marks[index],
            Some(index) => next.marks[index + 1],
        };
        // Every other mark is a joint. Of a whole turn, the last joint is the first.
        let arcs = count / 2;
        let last = if is_whole(sweep) { arcs * 2 / 3 } else { arcs };
        let joints = [0, last / 2, last].map(|joint| mark(2 * joint));
        let Some(circle) = Circle::through(joints) else {
            return false;
        };
        let strays = tolerance + circle.strays(self.sweep.abs().min(next.sweep.abs()));
        let some = (0..count).step_by(count.div_ceil(MOST_MARKS));
        if !some
            .chain(old - 3..count)
            .all(|index| circle.off(mark(index)) <= strays)
        {
            return false;
        }
        self.marks.extend(&next.marks[1..]);
        self.circle = circle;
        self.sweep = sweep;
        true
    }

    fn arc(&self) -> Arc {
        let Circle { centre, radius } = self.circle;
        let angle = |point: Point| (point - centre).angle();
        let start_angle = angle(self.marks[0]);
        let sweep = if is_whole(self.sweep) {
            TAU.copysign(self.sweep)
        } else {
            // The joints say it better than the handles do, but for whole turns.
            let between = angle(self.marks[self.marks.len() - 1]) - start_angle;
            between + ((self.sweep - between) / TAU).round() * TAU
        };
        Arc {
            centre: layout::geometry::Point::new(centre.x, centre.y),
            radius,
            start_angle,
            sweep,
        }
    }
}

/// Whether a run of arcs turns all the way round.
fn is_whole(sweep: f64) -> bool {
    /// What a closed outline needs at least beside an arc: less than a degree is rounding.
    const REST: f64 = 0.01;
    sweep.abs() > TAU - REST
}

impl Circle {
    /// The circle through three points; None if they are in line.
    fn through([a, b, c]: [Point; 3]) -> Option<Self> {
        let (u, v) = (b - a, c - a);
        let twice = 2.0 * u.cross(v);
        let to_centre = (u * v.hypot2() - v * u.hypot2()).turn_90() / twice;
        to_centre.is_finite().then(|| Self {
            centre: a + to_centre,
            radius: to_centre.hypot(),
        })
    }

    /// How far a point lies off it.
    fn off(&self, point: Point) -> f64 {
        (point.distance(self.centre) - self.radius).abs()
    }

    /// How far the cubic of an arc with this turn may stray from it.
    fn strays(&self, sweep: f64) -> f64 {
        self.radius * QUARTER_STRAYS * (sweep / FRAC_PI_2).powi(6)
    }
}
