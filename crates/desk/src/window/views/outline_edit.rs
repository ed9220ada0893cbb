//! Adding points to a drawn curve by pointing at it.

use egui::Pos2;
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::geometry::{Gap, Point, polygon};
use layout::handle::MIRROR_REACH;

use super::camera::Camera;
use crate::window::state::Desk;
use crate::window::step::Step;

/// How near to the outline, in points, a click adds a point to it.
const REACH: f32 = 9.0;

/// A place on a drawn curve where a point can be added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// Where, mm.
    pub(super) at: Point,
    /// The curve.
    curve: CurveOf,
    /// The point of the curve before it.
    after: usize,
}

/// The curve that is drawn in the step that is shown.
pub(crate) fn edited(desk: &Desk) -> Option<CurveOf> {
    let curve = match desk.step {
        Step::Head => CurveOf::Head,
        Step::Plate => CurveOf::Plate,
        Step::Eyes | Step::Sheet => return None,
    };
    curve.get(desk.project()).map(|_| curve)
}

/// The place of the curve that is drawn now under the pointer.
pub(super) fn under(desk: &Desk, camera: &Camera, pointer: Pos2) -> Option<Place> {
    let place = nearest(desk, edited(desk)?, camera.to_plate(pointer))?;
    ((camera.to_screen(place.at) - pointer).length() <= REACH).then_some(place)
}

/// Adds a point, and in mirror editing its partner where the outline passes opposite, as one step.
pub(super) fn add(desk: &mut Desk, place: Place) {
    desk.begin_gesture();
    let at = tenths(place.at);
    let curve = place.curve;
    let edit = |after, at| Edit::AddOutlinePoint { curve, after, at };
    let added = desk.apply(&edit(place.after, at)).is_ok();
    if added && desk.mirror && at[0].abs() > MIRROR_REACH {
        let opposite = Point::new(-at[0], at[1]);
        if let Some(other) = nearest(desk, curve, opposite)
            && (other.at - opposite).norm() <= MIRROR_REACH
            && is_new(desk, curve, opposite)
        {
            let _told_by_the_notice = desk.apply(&edit(other.after, opposite.into()));
        }
    }
    desk.finish_gesture();
}

/// Whether no point of the curve stands there yet.
fn is_new(desk: &Desk, curve: CurveOf, at: Point) -> bool {
    let points = curve
        .get(desk.project())
        .map_or(&[][..], |(points, _)| points);
    points
        .iter()
        .all(|&point| (Point::from(point) - at).norm() > MIRROR_REACH)
}

/// The place of the curve nearest to `to`.
fn nearest(desk: &Desk, curve: CurveOf, to: Point) -> Option<Place> {
    let (points, _) = curve.get(desk.project())?;
    let corners = curve.corners(desk.project());
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
    Some(Place {
        at: gap.to,
        curve,
        after,
    })
}

fn tenths(at: Point) -> [f64; 2] {
    [at.x, at.y].map(|along| (along * 10.0).round() / 10.0)
}
