//! What rings and lids sweep, as bodies in space, and how far a place lies from them.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::geometry::segment::Line;
use crate::geometry::space::Place;
use crate::geometry::{Point, Vector};
use crate::ring::RingFit;

/// What a ring sweeps at all tilts up to one, to every side: a body round the ball's axis at rest.
/// Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingSweep {
    /// Centre of the ball, in the plate's frame.
    pub centre: Place,
    /// The largest tilt.
    pub tilt: f64,
    /// The ring's section as (distance from the axis, depth behind the centre), the bore straight.
    section: [Point; 5],
}

impl RingSweep {
    /// The sweep of a ring whose ball has its centre at `centre`.
    pub fn of(ring: &RingFit, centre: Place, tilt: f64) -> Self {
        let section = ring.profile.map(|p| Point::new(p.radius, p.depth));
        Self {
            centre,
            tilt,
            section,
        }
    }

    /// The farthest that any of it lies from the ball's centre, mm.
    pub fn farthest(&self) -> f64 {
        let reaches = self.section.iter().map(|p| p.coords.norm());
        reaches.fold(0.0, f64::max)
    }

    /// Distance of a place from it, mm; 0 inside.
    ///
    /// Turning the ring against the place is turning the place against the ring: it then passes an
    /// arc about the centre, and its nearest place to the section is at an end of the arc, straight
    /// over a corner of the section, or within it. No edge has a place in between that is nearest to
    /// the centre, so none but these need a look.
    pub fn distance(&self, place: Place) -> f64 {
        let out = place - self.centre;
        let (aside, deep) = (out.x.hypot(out.y), -out.z);
        let (reach, angle) = (aside.hypot(deep), aside.atan2(deep));
        let (low, high) = ((angle - self.tilt).max(0.0), (angle + self.tilt).min(PI));
        if let Some([from, to]) = self.angles_within(reach)
            && from <= high
            && low <= to
        {
            return 0.0;
        }
        let at = |angle: f64| Point::from(Vector::new(angle.sin(), angle.cos()) * reach);
        let ends = [at(low), at(high)].map(|end| self.off_section(end));
        let corners = self.section.iter().filter_map(|corner| {
            let angle = corner.x.atan2(corner.y);
            let passed = low <= angle && angle <= high;
            passed.then(|| (reach - corner.coords.norm()).abs())
        });
        corners.fold(ends[0].min(ends[1]), f64::min)
    }

    /// The angles from the axis, backward, at which the ring has places at `reach` from the centre.
    fn angles_within(&self, reach: f64) -> Option<[f64; 2]> {
        let [front, edge, outer, back, end] = self.section;
        let nearest = front.coords.norm().max(end.coords.norm());
        if !(nearest..=back.coords.norm()).contains(&reach) {
            return None;
        }
        let to_depth = |depth: f64| (depth / reach).min(1.0).acos();
        let widest = if reach <= edge.coords.norm() {
            to_depth(front.y)
        } else if reach <= outer.coords.norm() {
            // On the bevel, distance from the axis less depth is the same everywhere: √2·reach
            // times the sine of (angle − 45°).
            let beyond = (outer.x - outer.y) / (reach * std::f64::consts::SQRT_2);
            beyond.clamp(-1.0, 1.0).asin() + FRAC_PI_2 / 2.0
        } else {
            (outer.x / reach).min(1.0).asin()
        };
        Some([to_depth(back.y), widest])
    }

    fn off_section(&self, point: Point) -> f64 {
        let corners = self.section;
        let edges = (0..corners.len()).map(|index| Line {
            start: corners[index],
            end: corners[(index + 1) % corners.len()],
        });
        edges
            .map(|edge| (point - edge.nearest(point)).norm_squared())
            .fold(f64::INFINITY, f64::min)
            .sqrt()
    }
}

/// What a lid sweeps on its way from shut to open, with the ball that it slides over: the part of a
/// ball between two half-planes through the pivot axis. Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LidSweep {
    /// Centre of the ball, in the plate's frame.
    pub centre: Place,
    /// Radius of the lid's outside.
    pub radius: f64,
    /// The two half-planes, from forward toward up, or toward down for a lower lid.
    pub range: [f64; 2],
    /// 1 for an upper lid, −1 for a lower one.
    pub up: f64,
}

impl LidSweep {
    /// Distance of a place from it, mm; 0 inside.
    pub fn distance(&self, place: Place) -> f64 {
        let out = place - self.centre;
        let off_axis = out.y.hypot(out.z);
        let angle = (self.up * out.y).atan2(out.z);
        let [low, high] = self.range;
        if (angle - low).rem_euclid(TAU) <= high - low {
            return (out.norm() - self.radius).max(0.0);
        }
        let to_half_disc = |side: f64| {
            let (sin, cos) = (angle - side).sin_cos();
            let (across, along) = (off_axis * sin, off_axis * cos);
            if along < 0.0 {
                // Nearest to the axis itself.
                off_axis.hypot((out.x.abs() - self.radius).max(0.0))
            } else {
                across.hypot((out.x.hypot(along) - self.radius).max(0.0))
            }
        };
        to_half_disc(low).min(to_half_disc(high))
    }
}
