//! Adding points to a drawn curve by pointing at it.

use egui::Pos2;
use layout::Edit;
use layout::closed_curve::{CurveOf, OnCurve};
use layout::geometry::Point;

use super::camera::Camera;
use crate::window::state::Desk;
use crate::window::step::Step;

/// How near to the outline, in points, a click adds a point to it.
const REACH: f32 = 9.0;

/// A place on a drawn curve where a point can be added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    curve: CurveOf,
    on_curve: OnCurve,
}

impl Place {
    /// Where, mm.
    pub(super) fn at(&self) -> Point {
        self.on_curve.at
    }
}

/// The curve that is drawn in the step that is shown.
pub(crate) fn edited(desk: &Desk) -> Option<CurveOf> {
    let curve = match desk.step {
        Step::Head => CurveOf::Head,
        Step::Plate => CurveOf::Plate,
        _ => return None,
    };
    curve.get(desk.project()).map(|_| curve)
}

/// The place of the curve that is drawn now under the pointer.
pub(super) fn under(desk: &Desk, camera: &Camera, pointer: Pos2) -> Option<Place> {
    let curve = edited(desk)?;
    let on_curve = curve.nearest(desk.project(), camera.to_plate(pointer))?;
    let place = Place { curve, on_curve };
    ((camera.to_screen(place.at()) - pointer).length() <= REACH).then_some(place)
}

/// Adds a point, and in mirror editing its partner.
pub(super) fn add(desk: &mut Desk, Place { curve, on_curve }: Place) {
    // The notice tells what stands in the way.
    let _told = desk.apply(&Edit::AddOutlinePoint {
        curve,
        after: on_curve.after,
        at: tenths(on_curve.at),
        mirrored: desk.mirror,
    });
}

/// A place to tenths of a millimetre, as fields show it.
pub(super) fn tenths(at: Point) -> [f64; 2] {
    [at.x, at.y].map(|along| (along * 10.0).round() / 10.0)
}
