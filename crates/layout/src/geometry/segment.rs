//! Straight and round pieces of an outline, and the distances between them.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::{Gap, Point, Vector};

/// A straight piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Where it starts.
    pub start: Point,
    /// Where it ends.
    pub end: Point,
}

/// A round piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of its circle.
    pub centre: Point,
    /// Radius of its circle, mm.
    pub radius: f64,
    /// Direction from the centre to its start, radians.
    pub start_angle: f64,
    /// How far it turns, radians; positive is counter-clockwise.
    pub sweep: f64,
}

/// A piece of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight piece.
    Line(Line),
    /// A round piece.
    Arc(Arc),
}

impl Line {
    /// The point of the line that is nearest to `point`.
    pub fn nearest(&self, point: Point) -> Point {
        let along = self.end - self.start;
        let length_squared = along.norm_squared();
        if length_squared == 0.0 {
            return self.start;
        }
        let share = ((point - self.start).dot(&along) / length_squared).clamp(0.0, 1.0);
        self.start + along * share
    }

    /// The gap to another line; 0 where they cross.
    pub fn gap(&self, other: &Self) -> Gap {
        if let Some(crossing) = self.crossing(other) {
            return Gap::between(crossing, crossing);
        }
        Gap::between(self.start, other.nearest(self.start))
            .or_nearer(Gap::between(self.end, other.nearest(self.end)))
            .or_nearer(Gap::between(self.nearest(other.start), other.start))
            .or_nearer(Gap::between(self.nearest(other.end), other.end))
    }

    /// Where two lines that are not parallel cross.
    pub fn crossing(&self, other: &Self) -> Option<Point> {
        let (a, b) = (self.end - self.start, other.end - other.start);
        let turn = a.perp(&b);
        if turn == 0.0 {
            return None;
        }
        let between = other.start - self.start;
        let (on_self, on_other) = (between.perp(&b) / turn, between.perp(&a) / turn);
        let within = 0.0..=1.0;
        (within.contains(&on_self) && within.contains(&on_other)).then(|| self.start + a * on_self)
    }
}

impl Arc {
    /// The point at `angle`, radians.
    pub fn at(&self, angle: f64) -> Point {
        self.centre + Vector::new(angle.cos(), angle.sin()) * self.radius
    }

    /// Where it starts.
    pub fn start(&self) -> Point {
        self.at(self.start_angle)
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        self.at(self.start_angle + self.sweep)
    }

    /// The straight line from its start to its end.
    pub fn chord(&self) -> Line {
        Line {
            start: self.start(),
            end: self.end(),
        }
    }

    /// Whether the arc passes the direction of `out` from its centre. `chord` is its own, which
    /// costs four sines to find.
    fn spans(&self, chord: &Line, out: Vector) -> bool {
        let (from, to) = (chord.start - self.centre, chord.end - self.centre);
        let turn = self.sweep.signum();
        let (after_start, before_end) = (from.perp(&out) * turn, out.perp(&to) * turn);
        if self.sweep.abs() <= PI {
            // Of a narrow arc, both are true of the opposite direction, too.
            let this_way = self.sweep.abs() > FRAC_PI_2 || (from + to).dot(&out) >= 0.0;
            after_start >= 0.0 && before_end >= 0.0 && this_way
        } else {
            // What is left out is the range from the end on to the start.
            after_start >= 0.0 || before_end >= 0.0 || self.sweep.abs() >= TAU
        }
    }

    /// The point of the arc that is nearest to `point`; `chord` is the arc's own.
    fn nearest(&self, chord: &Line, point: Point) -> Point {
        let out = point - self.centre;
        if let Some(direction) = out.try_normalize(0.0)
            && self.spans(chord, out)
        {
            return self.centre + direction * self.radius;
        }
        let Line { start, end } = *chord;
        if (point - start).norm_squared() <= (point - end).norm_squared() {
            start
        } else {
            end
        }
    }

    /// The gap to a line; 0 where they cross. `chord` is the arc's own.
    fn gap(&self, chord: &Line, line: &Line) -> Gap {
        if let Some(crossing) = self.crossing(chord, line) {
            return Gap::between(crossing, crossing);
        }
        let foot = line.nearest(self.centre);
        let to = |point: Point| Gap::between(self.nearest(chord, point), point);
        let from = |point: Point| Gap::between(point, line.nearest(point));
        to(line.start)
            .or_nearer(to(line.end))
            .or_nearer(to(foot))
            .or_nearer(from(chord.start))
            .or_nearer(from(chord.end))
    }

    fn crossing(&self, chord: &Line, line: &Line) -> Option<Point> {
        let along = line.end - line.start;
        let from = line.start - self.centre;
        let (a, b, c) = (
            along.norm_squared(),
            from.dot(&along),
            from.norm_squared() - self.radius * self.radius,
        );
        let root = b * b - a * c;
        if a == 0.0 || root < 0.0 {
            return None;
        }
        [-root.sqrt(), root.sqrt()]
            .into_iter()
            .map(|root| (root - b) / a)
            .filter(|share| (0.0..=1.0).contains(share))
            .map(|share| line.start + along * share)
            .find(|point| self.spans(chord, point - self.centre))
    }
}

impl Segment {
    /// Where it starts.
    pub fn start(&self) -> Point {
        match self {
            Self::Line(line) => line.start,
            Self::Arc(arc) => arc.start(),
        }
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        match self {
            Self::Line(line) => line.end,
            Self::Arc(arc) => arc.end(),
        }
    }

    /// Length, mm.
    pub fn length(&self) -> f64 {
        match self {
            Self::Line(line) => (line.end - line.start).norm(),
            Self::Arc(arc) => arc.radius * arc.sweep.abs(),
        }
    }

    /// The point at a share of its length, from 0 to 1.
    pub fn at(&self, share: f64) -> Point {
        match self {
            Self::Line(line) => line.start + (line.end - line.start) * share,
            Self::Arc(arc) => arc.at(arc.start_angle + arc.sweep * share),
        }
    }

    /// The straight line from its start to its end.
    pub fn chord(&self) -> Line {
        match self {
            Self::Line(line) => *line,
            Self::Arc(arc) => arc.chord(),
        }
    }

    /// The point that is nearest to `point`; `chord` is the piece's own.
    pub fn nearest(&self, chord: &Line, point: Point) -> Point {
        match self {
            Self::Line(line) => line.nearest(point),
            Self::Arc(arc) => arc.nearest(chord, point),
        }
    }

    /// The gap to a line; 0 where they cross. `chord` is the piece's own.
    pub fn gap(&self, chord: &Line, line: &Line) -> Gap {
        match self {
            Self::Line(own) => own.gap(line),
            Self::Arc(own) => own.gap(chord, line),
        }
    }

    /// Lower left and upper right corner of the box around it.
    pub fn bounds(&self) -> [Point; 2] {
        let chord = self.chord();
        let mut low = chord.start.inf(&chord.end);
        let mut high = chord.start.sup(&chord.end);
        if let Self::Arc(arc) = self {
            for out in [Vector::x(), Vector::y(), -Vector::x(), -Vector::y()] {
                if arc.spans(&chord, out) {
                    let point = arc.centre + out * arc.radius;
                    low = low.inf(&point);
                    high = high.sup(&point);
                }
            }
        }
        [low, high]
    }
}
