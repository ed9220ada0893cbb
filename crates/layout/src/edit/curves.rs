//! Changes of drawn curves.

use super::opposite;
use crate::closed_curve::CurveOf;
use crate::handle::MIRROR_REACH;
use crate::plate::PlateOutline;
use crate::project::Project;

/// Replaces the points of a curve; a plate of another style becomes a drawn one.
pub(super) fn set_outline(p: &mut Project, curve: CurveOf, outline: Vec<[f64; 2]>, smooth: bool) {
    match curve {
        CurveOf::Head => {
            p.head.outline = outline;
            p.head.smooth = smooth;
        }
        CurveOf::Plate => p.plate.outline = PlateOutline::Drawn { outline, smooth },
    }
}

/// Adds the partner of a point that was added `off` its curve: where the curve passes opposite as
/// near to it, and no point stands yet.
pub(super) fn add_opposite(p: &mut Project, curve: CurveOf, at: [f64; 2], off: f64) -> Option<()> {
    let partner = opposite(at);
    let place = curve.nearest(p, partner.into())?;
    let (points, _) = curve.of(p)?;
    let near = |point: &[f64; 2]| (point[0] - partner[0]).hypot(point[1] - partner[1]);
    let stands = points.iter().any(|point| near(point) <= MIRROR_REACH);
    if place.off <= off + MIRROR_REACH && !stands {
        points.insert(place.after + 1, partner);
    }
    Some(())
}
