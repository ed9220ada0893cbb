//! Splines: rational B-splines by control points, or curves through fit points.

use kurbo::{CubicBez, ParamCurve, PathSeg, Point, Rect, Vec2};

use super::fit;
use super::pairs::Pair;
use super::sections::Entity;
use crate::IntakeError;
use crate::curve::MOST_PIECES;

/// Highest degree that is read; programs write 1 to 5.
const HIGHEST_DEGREE: usize = 11;

/// How far the cubics may stray from the spline, as a share of its width or height.
const STRAYS: f64 = 1e-6;

/// Most times that the stretch between two knots is halved.
const HALVINGS: usize = 10;

/// The pieces of a `SPLINE`.
pub(super) fn pieces(entity: &Entity<'_>) -> Result<Vec<PathSeg>, IntakeError> {
    let controls = points(entity, 10)?;
    if controls.is_empty() {
        const CLOSED: i64 = 1;
        let closed = entity.whole(70)? & CLOSED != 0;
        let tangent = |code: i32| match entity.find(code) {
            Some(_) => entity.point(code).map(|p| Some(p.to_vec2())),
            None => Ok(None),
        };
        return Ok(fit::through(
            &points(entity, 11)?,
            closed,
            [tangent(12)?, tangent(13)?],
        ));
    }
    let numbers = |code: i32| {
        let pairs = entity.pairs.iter().filter(|pair| pair.code == code);
        pairs.map(Pair::number).collect::<Result<Vec<f64>, _>>()
    };
    let (knots, mut weights) = (numbers(40)?, numbers(41)?);
    if weights.is_empty() {
        weights = vec![1.0; controls.len()];
    }
    let degree = usize::try_from(entity.whole(71)?).unwrap_or(0);
    let sound = (1..=HIGHEST_DEGREE).contains(&degree)
        && controls.len() > degree
        && weights.len() == controls.len()
        && weights.iter().all(|&weight| weight > 0.0)
        && knots.len() == controls.len() + degree + 1
        && knots.windows(2).all(|pair| pair[0] <= pair[1]);
    if !sound {
        return Err(IntakeError::broken(format!(
            "The spline on line {} has knots, weights and control points that do not go together",
            entity.line
        )));
    }
    let size = |bounds: Rect| bounds.width().max(bounds.height());
    let first = Rect::from_points(controls[0], controls[0]);
    let strays = STRAYS * size(controls.iter().fold(first, |bounds, &p| bounds.union_pt(p)));
    let homogeneous = controls.iter().zip(&weights);
    let spline = Spline {
        degree,
        knots,
        controls: homogeneous.map(|(p, &w)| [p.x * w, p.y * w, w]).collect(),
    };
    let mut pieces = Vec::new();
    for span in degree..spline.controls.len() {
        let (from, to) = (spline.knots[span], spline.knots[span + 1]);
        if from < to {
            spline.add(span, [from, to], strays, HALVINGS, &mut pieces);
        }
        if pieces.len() > MOST_PIECES {
            return Err(IntakeError::too_many_points(MOST_PIECES));
        }
    }
    Ok(pieces)
}

/// The points of an entity whose x has this code, and whose y, which follows, has the code 10 above.
fn points(entity: &Entity<'_>, code: i32) -> Result<Vec<Point>, IntakeError> {
    let mut points: Vec<Point> = Vec::new();
    for pair in entity.pairs {
        if pair.code == code {
            points.push(Point::new(pair.number()?, 0.0));
        } else if let Some(last) = points.last_mut()
            && pair.code == code + 10
        {
            last.y = pair.number()?;
        }
    }
    Ok(points)
}

/// A rational B-spline.
struct Spline {
    degree: usize,
    /// Never falling; one more than there are controls and degrees.
    knots: Vec<f64>,
    /// Control points times their weights, and the weights.
    controls: Vec<[f64; 3]>,
}

impl Spline {
    /// The point at a parameter of the stretch that starts at the knot `span`, and how it moves on
    /// (C. de Boor's algorithm; its last step but one gives both).
    fn at(&self, span: usize, parameter: f64) -> (Point, Vec2) {
        let first = span - self.degree;
        let mut work = self.controls[first..=span].to_vec();
        let mut slope = [0.0; 3];
        for level in 1..=self.degree {
            for index in (level..=self.degree).rev() {
                let (low, high) = (
                    self.knots[first + index],
                    self.knots[first + index + 1 + self.degree - level],
                );
                let (a, b) = (work[index - 1], work[index]);
                let share = (parameter - low) / (high - low);
                if level == self.degree {
                    slope = [0, 1, 2].map(|i| (b[i] - a[i]) * self.degree as f64 / (high - low));
                }
                work[index] = [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * share);
            }
        }
        let [x, y, weight] = work[self.degree];
        let point = Point::new(x / weight, y / weight);
        let slope = Vec2::new(slope[0], slope[1]) - point.to_vec2() * slope[2];
        (point, slope / weight)
    }

    /// Adds cubics along a part of the stretch that starts at the knot `span`, halved until they stray
    /// no farther than `strays`.
    fn add(
        &self,
        span: usize,
        [from, to]: [f64; 2],
        strays: f64,
        halvings: usize,
        pieces: &mut Vec<PathSeg>,
    ) {
        let third = (to - from) / 3.0;
        let ((a, out), (b, into)) = (self.at(span, from), self.at(span, to));
        let cubic = CubicBez::new(a, a + out * third, b - into * third, b);
        let off = |share: f64| {
            let (point, _) = self.at(span, from + (to - from) * share);
            point.distance(cubic.eval(share))
        };
        if halvings == 0
            || [0.25, 0.5, 0.75]
                .into_iter()
                .all(|share| off(share) <= strays)
        {
            pieces.push(PathSeg::Cubic(cubic));
            return;
        }
        let middle = from.midpoint(to);
        self.add(span, [from, middle], strays, halvings - 1, pieces);
        self.add(span, [middle, to], strays, halvings - 1, pieces);
    }
}
