//! What the pointer does on the front view.

use layout::closed_curve::CurveOf;
use layout::geometry::{Point, polygon};
use layout::handle::MIRROR_REACH;
use layout::{Edit, Problem};

use super::state::Desk;

/// What the pointer does on the front view.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Work {
    /// It moves handles.
    #[default]
    Handles,
    /// It moves the tracing picture.
    MovePicture,
    /// It picks two places on the picture that lie a known distance apart.
    MeasurePicture(Vec<Point>),
    /// It draws a curve point by point.
    Trace(CurveOf, Vec<Point>),
}

impl Work {
    /// What the view says of it.
    pub(crate) fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Handles => None,
            Self::MovePicture => Some("Drag the picture. Escape ends it."),
            Self::MeasurePicture(places) if places.len() < 2 => {
                Some("Click two places whose distance you know. Escape ends it.")
            }
            Self::MeasurePicture(_) => {
                Some("Type their distance at the right. Another click starts again.")
            }
            Self::Trace(..) => Some(
                "Click from point to point. Enter closes, Backspace takes one back, Escape ends it.",
            ),
        }
    }
}

impl Desk {
    /// Closes the curve that is traced: with its mirror image in mirror editing. A curve that no
    /// plate can be laid out from is refused, and its points stay on the desk.
    ///
    /// # Errors
    /// The [`Problem`] that the notice tells.
    pub(crate) fn close_trace(&mut self) -> Result<(), Problem> {
        let Work::Trace(curve, points) = &self.work else {
            return Ok(());
        };
        let points = if self.mirror {
            with_mirror_image(points)
        } else {
            points.clone()
        };
        let edit = Edit::Outline {
            curve: *curve,
            points: counter_clockwise(points),
            smooth: true,
        };
        self.apply(&edit)?;
        self.work = Work::Handles;
        Ok(())
    }
}

/// The points of one half, and those of the other on the way back. What lies at the centre line is
/// put onto it.
pub(crate) fn with_mirror_image(half: &[Point]) -> Vec<Point> {
    let on_line = |at: &Point| at.x.abs() <= MIRROR_REACH;
    let there = half.iter().map(|at| {
        if on_line(at) {
            Point::new(0.0, at.y)
        } else {
            *at
        }
    });
    let back = half.iter().rev().filter(|at| !on_line(at));
    there
        .chain(back.map(|at| Point::new(-at.x, at.y)))
        .collect()
}

fn counter_clockwise(mut points: Vec<Point>) -> Vec<[f64; 2]> {
    if polygon::area(&points) < 0.0 {
        points.reverse();
    }
    points.into_iter().map(Into::into).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_traced_half_becomes_a_whole_that_is_symmetric_and_counter_clockwise() {
        let half = [(0.4, 90.0), (-60.0, 40.0), (-70.0, -30.0), (-0.2, -80.0)];
        let half = half.map(|(x, y)| Point::new(x, y));
        let whole = counter_clockwise(with_mirror_image(&half));
        assert_eq!(whole.len(), 6);
        for [x, y] in &whole {
            assert!(whole.contains(&[-x, *y]) || *x == 0.0);
        }
        let points: Vec<Point> = whole.iter().map(|&at| at.into()).collect();
        assert!(polygon::area(&points) > 0.0);
    }
}
