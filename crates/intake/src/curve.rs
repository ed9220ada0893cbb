//! What both formats are read into: curves of straight and cubic pieces.

use std::f64::consts::FRAC_PI_4;

use kurbo::{Affine, CubicBez, Line, ParamCurve, ParamCurveArea, ParamCurveExtrema, PathSeg};
use kurbo::{Point, Rect, Vec2};

use crate::IntakeError;

/// Most pieces that a file may hold: 10 times what a finely traced picture has.
pub(crate) const MOST_PIECES: usize = 100_000;

/// Farthest that a coordinate may lie from 0, in the drawing's units: beyond a whole country in mm,
/// and near enough that no distance loses the digits that count.
const FARTHEST: f64 = 1e9;

/// A run of straight and cubic pieces, each starting where the one before ends.
#[derive(Clone, Debug)]
pub(crate) struct Curve {
    /// Its pieces; never empty.
    pub(crate) pieces: Vec<PathSeg>,
    /// Whether its end is joined to its start.
    pub(crate) closed: bool,
    /// The name that the file gives it.
    pub(crate) name: Option<String>,
}

/// Everything that a file draws, y up, in its own units.
#[derive(Debug)]
pub(crate) struct Drawing {
    /// Its curves, in the order of the file.
    pub(crate) curves: Vec<Curve>,
    /// Millimetres of one unit, if the file says so.
    pub(crate) unit: Option<f64>,
    /// The page that it is drawn on, where the file has one.
    pub(crate) page: Option<Rect>,
    /// Sentences about what was left out.
    pub(crate) notes: Vec<String>,
    pieces: usize,
}

impl Drawing {
    /// A drawing without curves.
    pub(crate) fn new(unit: Option<f64>, notes: Vec<String>) -> Self {
        Self {
            curves: Vec::new(),
            page: None,
            unit,
            notes,
            pieces: 0,
        }
    }

    /// Adds a curve, unless there is nothing of it.
    pub(crate) fn add(&mut self, curve: Curve) -> Result<(), IntakeError> {
        self.pieces += curve.pieces.len();
        if self.pieces > MOST_PIECES {
            return Err(IntakeError::too_many_points(MOST_PIECES));
        }
        let near = |point: Point| point.x.abs().max(point.y.abs()) <= FARTHEST;
        // What is not a number is not near, either.
        if !curve.pieces.iter().all(|piece| {
            let cubic = piece.to_cubic();
            [cubic.p0, cubic.p1, cubic.p2, cubic.p3]
                .into_iter()
                .all(near)
        }) {
            return Err(IntakeError::too_far(FARTHEST));
        }
        if !curve.pieces.is_empty() {
            self.curves.push(curve);
        }
        Ok(())
    }
}

impl Curve {
    /// Where it starts.
    pub(crate) fn start(&self) -> Point {
        self.pieces.first().map_or(Point::ORIGIN, ParamCurve::start)
    }

    /// Where it ends.
    pub(crate) fn end(&self) -> Point {
        self.pieces.last().map_or(Point::ORIGIN, ParamCurve::end)
    }

    /// How far its end lies from its start.
    pub(crate) fn gap(&self) -> f64 {
        self.start().distance(self.end())
    }

    /// The box around it.
    pub(crate) fn bounds(&self) -> Rect {
        let boxes = self.pieces.iter().map(ParamCurveExtrema::bounding_box);
        boxes.reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// The area that it encloses; negative if it runs clockwise.
    pub(crate) fn area(&self) -> f64 {
        let closing = PathSeg::Line(Line::new(self.end(), self.start()));
        let pieces = self.pieces.iter().chain([&closing]);
        pieces.map(ParamCurveArea::signed_area).sum()
    }

    /// The same curve, run the other way.
    pub(crate) fn reversed(mut self) -> Self {
        self.pieces.reverse();
        for piece in &mut self.pieces {
            *piece = piece.reverse();
        }
        self
    }

    /// Moves its start, and with it the first handle, to a point nearby.
    pub(crate) fn start_at(&mut self, point: Point) {
        if let Some(first) = self.pieces.first_mut() {
            *first = with_end(first.reverse(), point).reverse();
        }
    }

    /// Makes it closed: moves its end onto its start where they are within `tolerance` of each other,
    /// else adds a straight piece.
    pub(crate) fn close(&mut self, tolerance: f64) {
        let (start, gap) = (self.start(), self.gap());
        self.closed = true;
        match self.pieces.last_mut() {
            Some(last) if gap <= tolerance => *last = with_end(*last, start),
            _ => self
                .pieces
                .push(PathSeg::Line(Line::new(self.end(), start))),
        }
    }
}

/// A piece with its end, and with it the last handle, moved to `point`.
fn with_end(piece: PathSeg, point: Point) -> PathSeg {
    match piece {
        PathSeg::Line(line) => PathSeg::Line(Line::new(line.p0, point)),
        PathSeg::Quad(_) | PathSeg::Cubic(_) => {
            let cubic = piece.to_cubic();
            let by = point - cubic.p3;
            PathSeg::Cubic(CubicBez::new(cubic.p0, cubic.p1, cubic.p2 + by, point))
        }
    }
}

/// Cubics along the ellipse centre + `along`·cos + `across`·sin, from an angle on, radians. Eight to a
/// turn, they stray from it by 4 millionths of its radius.
pub(crate) fn round(
    centre: Point,
    along: Vec2,
    across: Vec2,
    start: f64,
    sweep: f64,
) -> Vec<PathSeg> {
    let count = (sweep.abs() / FRAC_PI_4 - 1e-9).ceil().clamp(1.0, 8.0);
    let step = sweep / count;
    let handle = 4.0 / 3.0 * (step / 4.0).tan();
    let map = Affine::new([along.x, along.y, across.x, across.y, centre.x, centre.y]);
    let mut pieces = Vec::with_capacity(8);
    let mut done = 0.0;
    while done < count {
        let (a, b) = (start + step * done, start + step * (done + 1.0));
        let (from, to) = (Vec2::from_angle(a), Vec2::from_angle(b));
        let cubic = CubicBez::new(
            from.to_point(),
            (from + from.turn_90() * handle).to_point(),
            (to - to.turn_90() * handle).to_point(),
            to.to_point(),
        );
        pieces.push(PathSeg::Cubic(map * cubic));
        done += 1.0;
    }
    pieces
}
