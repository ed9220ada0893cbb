//! Straight and round pieces of an outline, and the distances between them.

use std::f64::consts::TAU;

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
        (within.contains(&on_self) && within.contains(&on_other))
            .then(|| self.start + a * on_self)
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

    /// Whether the arc passes the direction of `angle`, radians.
    pub fn spans(&self, angle: f64) -> bool {
        let turned = (angle - self.start_angle) * self.sweep.signum();
        turned.rem_euclid(TAU) <= self.sweep.abs()
    }

    /// The point of the arc that is nearest to `point`.
    pub fn nearest(&self, point: Point) -> Point {
        let out = point - self.centre;
        if let Some(direction) = out.try_normalize(0.0)
            && self.spans(out.y.atan2(out.x))
        {
            return self.centre + direction * self.radius;
        }
        let (start, end) = (self.start(), self.end());
        if (point - start).norm_squared() <= (point - end).norm_squared() {
            start
        } else {
            end
        }
    }

    /// The gap to a line; 0 where they cross.
    pub fn gap(&self, line: &Line) -> Gap {
        if let Some(crossing) = self.crossing(line) {
            return Gap::between(crossing, crossing);
        }
        let (start, end) = (self.start(), self.end());
        let foot = line.nearest(self.centre);
        Gap::between(self.nearest(line.start), line.start)
            .or_nearer(Gap::between(self.nearest(line.end), line.end))
            .or_nearer(Gap::between(self.nearest(foot), foot))
            .or_nearer(Gap::between(start, line.nearest(start)))
            .or_nearer(Gap::between(end, line.nearest(end)))
    }

    fn crossing(&self, line: &Line) -> Option<Point> {
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
            .find(|point| {
                let out = point - self.centre;
                self.spans(out.y.atan2(out.x))
            })
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

    /// The point that is nearest to `point`.
    pub fn nearest(&self, point: Point) -> Point {
        match self {
            Self::Line(line) => line.nearest(point),
            Self::Arc(arc) => arc.nearest(point),
        }
    }

    /// The gap to a line; 0 where they cross.
    pub fn gap(&self, line: &Line) -> Gap {
        match self {
            Self::Line(own) => own.gap(line),
            Self::Arc(own) => own.gap(line),
        }
    }

    /// Lower left and upper right corner of the box around it.
    pub fn bounds(&self) -> [Point; 2] {
        let (start, end) = (self.start(), self.end());
        let mut low = start.inf(&end);
        let mut high = start.sup(&end);
        if let Self::Arc(arc) = self {
            for quarter in 0..4 {
                let angle = f64::from(quarter) * TAU / 4.0;
                if arc.spans(angle) {
                    let point = arc.at(angle);
                    low = low.inf(&point);
                    high = high.sup(&point);
                }
            }
        }
        [low, high]
    }
}
