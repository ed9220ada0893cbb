//! Adding points to the head outline by pointing at it.

use egui::Pos2;
use layout::Edit;
use layout::edit::MIRROR_REACH;
use layout::geometry::{Gap, Point, polygon};

use super::camera::Camera;
use crate::window::state::Desk;

/// How near to the outline, in points, a click adds a point to it.
const REACH: f32 = 9.0;

/// A place on the head outline where a point can be added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// Where, mm.
    pub(super) at: Point,
    /// The outline point before it.
    after: usize,
}

/// The place of the outline under the pointer.
pub(super) fn under(desk: &Desk, camera: &Camera, pointer: Pos2) -> Option<Place> {
    let place = nearest(desk, camera.to_plate(pointer))?;
    ((camera.to_screen(place.at) - pointer).length() <= REACH).then_some(place)
}

/// Adds a point, and in mirror editing its partner where the outline passes opposite, as one step.
pub(super) fn add(desk: &mut Desk, place: Place) {
    desk.begin_gesture();
    let at = tenths(place.at);
    let edit = |after, at| Edit::AddOutlinePoint { after, at };
    let added = desk.apply(&edit(place.after, at)).is_ok();
    if added && desk.mirror && at[0].abs() > MIRROR_REACH {
        let opposite = Point::new(-at[0], at[1]);
        if let Some(other) = nearest(desk, opposite)
            && (other.at - opposite).norm() <= MIRROR_REACH
            && is_new(desk, opposite)
        {
            let _told_by_the_notice = desk.apply(&edit(other.after, opposite.into()));
        }
    }
    desk.finish_gesture();
}

/// Whether no outline point stands there yet.
fn is_new(desk: &Desk, at: Point) -> bool {
    let outline = &desk.project().head.outline;
    outline
        .iter()
        .all(|&point| (Point::from(point) - at).norm() > MIRROR_REACH)
}

/// The place of the outline nearest to `to`.
fn nearest(desk: &Desk, to: Point) -> Option<Place> {
    let (wall, outline) = (&desk.laid().wall, &desk.project().head.outline);
    let edges = polygon::edges(wall).map(|edge| Gap::between(to, edge.nearest(to)));
    let (edge, gap) = edges
        .enumerate()
        .min_by(|a, b| a.1.distance.total_cmp(&b.1.distance))?;
    // The wall runs through all outline points in their order, the first one at its start.
    let mut after = 0;
    for corner in &wall[1..=edge] {
        let next = outline.get(after + 1);
        if next.is_some_and(|&next| (Point::from(next) - corner).norm() < 1e-6) {
            after += 1;
        }
    }
    Some(Place { at: gap.to, after })
}

fn tenths(at: Point) -> [f64; 2] {
    [at.x, at.y].map(|along| (along * 10.0).round() / 10.0)
}
