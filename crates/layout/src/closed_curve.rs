//! The closed curves that a maker draws point by point: the head outline and a drawn plate outline.

use serde::{Deserialize, Serialize};

use crate::geometry::{Gap, Point, polygon};
use crate::plate::PlateOutline;
use crate::problem::{self, Problem};
use crate::project::Project;

/// Most points that a drawn curve may have: a traced outline needs a few dozen.
pub const MOST_POINTS: usize = 2_000;

/// Which drawn curve of a project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum CurveOf {
    /// The head outline.
    Head,
    /// The plate's own outline, if its style is [`PlateOutline::Drawn`].
    Plate,
}

impl CurveOf {
    /// What the curve is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Head => "head outline",
            Self::Plate => "plate outline",
        }
    }

    /// Its points, mm, and whether it runs smoothly through them; None if the project has no such
    /// curve.
    pub fn get(self, project: &Project) -> Option<(&[[f64; 2]], bool)> {
        match (self, &project.plate.outline) {
            (Self::Head, _) => Some((&project.head.outline, project.head.smooth)),
            (Self::Plate, PlateOutline::Drawn { outline, smooth }) => Some((outline, *smooth)),
            (Self::Plate, _) => None,
        }
    }

    /// The curve as a closed polygon, mm; empty if the project has none.
    pub fn corners(self, project: &Project) -> Vec<Point> {
        self.get(project)
            .map(|(points, smooth)| polygon::through(points, smooth))
            .unwrap_or_default()
    }

    /// The place of the curve that is nearest to `to`; None if the project has no such curve.
    pub fn nearest(self, project: &Project, to: Point) -> Option<OnCurve> {
        let (points, _) = self.get(project)?;
        let corners = self.corners(project);
        let edges = polygon::edges(&corners).map(|edge| Gap::between(to, edge.nearest(to)));
        let (edge, gap) = edges
            .enumerate()
            .min_by(|a, b| a.1.distance.total_cmp(&b.1.distance))?;
        // The curve runs through all its points in their order, the first one at its start.
        let mut after = 0;
        for corner in &corners[1..=edge] {
            let next = points.get(after + 1);
            if next.is_some_and(|&next| (Point::from(next) - corner).norm() < 1e-6) {
                after += 1;
            }
        }
        Some(OnCurve {
            at: gap.to,
            off: gap.distance,
            after,
        })
    }

    pub(crate) fn of(self, project: &mut Project) -> Option<(&mut Vec<[f64; 2]>, &mut bool)> {
        match (self, &mut project.plate.outline) {
            (Self::Head, _) => Some((&mut project.head.outline, &mut project.head.smooth)),
            (Self::Plate, PlateOutline::Drawn { outline, smooth }) => Some((outline, smooth)),
            (Self::Plate, _) => None,
        }
    }
}

/// A place on a drawn curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnCurve {
    /// Where, mm.
    pub at: Point,
    /// How far off the curve the place lies that was asked for, mm.
    pub off: f64,
    /// The point of the curve before it.
    pub after: usize,
}

/// Refuses points that do not give a simple closed curve, counter-clockwise.
///
/// # Errors
/// A [`Problem`] that names the point or the place.
pub(crate) fn check(
    curve: CurveOf,
    field: &str,
    points: &[[f64; 2]],
    smooth: bool,
) -> Result<(), Problem> {
    let (noun, count) = (curve.noun(), points.len());
    if count < 3 {
        return Err(Problem::new(
            field,
            format!("The {noun} has {count} points, and a closed curve needs 3."),
            "Add points.",
        ));
    }
    if count > MOST_POINTS {
        return Err(Problem::new(
            field,
            format!("The {noun} has {count} points, more than {MOST_POINTS}."),
            "Thin the points out.",
        ));
    }
    for (index, point) in points.iter().enumerate() {
        problem::place(&format!("{field}[{index}]"), *point)?;
    }
    if let Some(index) = polygon::coincident(points) {
        return Err(Problem::new(
            format!("{field}[{index}]"),
            format!("Point {} of the {noun} lies on its neighbour.", index + 1),
            "Move it or remove it.",
        ));
    }
    let corners = polygon::through(points, smooth);
    if let Some(crossing) = polygon::self_crossing(&corners) {
        // No minus before a zero.
        let [x, y] = [crossing.x, crossing.y].map(|side| (side * 10.0).round() / 10.0 + 0.0);
        return Err(Problem::new(
            field,
            format!("The {noun} crosses itself near ({x:.1}, {y:.1})."),
            "Move or remove points there.",
        ));
    }
    if polygon::area(&corners) <= 0.0 {
        return Err(Problem::new(
            field,
            format!("The {noun} runs clockwise."),
            "List its points counter-clockwise, as the audience sees it.",
        ));
    }
    Ok(())
}
