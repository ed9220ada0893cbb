//! A curve on its way: drawn point by point and not closed yet.

use serde::{Deserialize, Serialize};

use crate::closed_curve::{CurveOf, MOST_POINTS};
use crate::geometry::{Point, polygon};
use crate::handle::MIRROR_REACH;
use crate::problem::{self, Problem};

/// The points of a curve that are set so far. It may cross itself until it is closed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Draft {
    /// The curve that it will be.
    pub curve: CurveOf,
    /// Its points in the order in which they were set, mm.
    pub points: Vec<[f64; 2]>,
}

impl Draft {
    /// The points of the closed curve, mm: with the mirror image of a half on the way back if
    /// `mirrored`, where what lies at the centre line is put onto it.
    pub fn closed(&self, mirrored: bool) -> Vec<Point> {
        let points = || self.points.iter().map(|&at| Point::from(at));
        if !mirrored {
            return points().collect();
        }
        let on_line = |at: &Point| at.x.abs() <= MIRROR_REACH;
        let there = points().map(|at| {
            if on_line(&at) {
                Point::new(0.0, at.y)
            } else {
                at
            }
        });
        let back = points().rev().filter(|at| !on_line(at));
        there
            .chain(back.map(|at| Point::new(-at.x, at.y)))
            .collect()
    }

    /// The points of the closed curve, counter-clockwise.
    pub(crate) fn outline(&self, mirrored: bool) -> Vec<[f64; 2]> {
        let mut points = self.closed(mirrored);
        if polygon::area(&points) < 0.0 {
            points.reverse();
        }
        points.into_iter().map(Into::into).collect()
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        let field = format!("{at}.points");
        if self.points.len() > MOST_POINTS {
            return Err(Problem::new(
                field,
                format!(
                    "The {} on its way has {} points, more than {MOST_POINTS}.",
                    self.curve.noun(),
                    self.points.len()
                ),
                "Close it with fewer.",
            ));
        }
        for (index, &point) in self.points.iter().enumerate() {
            problem::place(&format!("{field}[{index}]"), point)?;
        }
        Ok(())
    }
}
