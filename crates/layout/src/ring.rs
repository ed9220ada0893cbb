//! The ring that is glued to the ball behind the plate, and what it can turn.

use serde::{Deserialize, Serialize};

use crate::problem::{self, Problem};
use crate::seat::SeatFit;

/// The retaining ring. Its bore follows the ball. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ring {
    /// Depth d of the ring's front face behind the ball's centre.
    pub depth: f64,
    /// Thickness w.
    pub thickness: f64,
    /// Outer diameter.
    pub outer_diameter: f64,
    /// Leg b of the 45° bevel that breaks the front outer edge.
    pub bevel: f64,
}

/// A point of the ring's meridian: distance from the ball's axis and depth behind its centre, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Distance from the axis.
    pub radius: f64,
    /// Depth behind the ball's centre.
    pub depth: f64,
}

impl ProfilePoint {
    /// Distance L from the ball's centre, mm.
    pub fn reach(self) -> f64 {
        self.radius.hypot(self.depth)
    }

    /// Angle φ from the axis, radians.
    pub fn angle(self) -> f64 {
        self.radius.atan2(self.depth)
    }

    /// The point's depth behind the centre, mm, when the axis is tilted by `tilt` (radians) so that
    /// this side comes forward: z·cos θ − r·sin θ.
    pub fn depth_at(self, tilt: f64) -> f64 {
        self.depth * tilt.cos() - self.radius * tilt.sin()
    }

    /// The tilt at which the point comes up to a plane `back` behind the centre, mm, radians:
    /// acos(back/L) − φ.
    pub fn tilt_to(self, back: f64) -> f64 {
        (back / self.reach()).min(1.0).acos() - self.angle()
    }

    /// The greatest depth that the point reaches for tilts up to `tilt`: L·cos(max(0, φ − θ)), mm.
    pub fn swept_depth(self, tilt: f64) -> f64 {
        self.reach() * (self.angle() - tilt).max(0.0).cos()
    }

    /// The greatest distance in plan that the point reaches for tilts up to `tilt`:
    /// L·sin(min(max(π/2, φ − θ), φ + θ)), mm.
    pub fn swept_reach(self, tilt: f64) -> f64 {
        let angle = self.angle();
        let widest = std::f64::consts::FRAC_PI_2
            .max(angle - tilt)
            .min(angle + tilt);
        self.reach() * widest.sin()
    }
}

/// A ring on its ball in its seat. Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingFit {
    /// The seat that the ball sits in.
    pub seat: SeatFit,
    /// The meridian: front of the bore, bevel, outer edge, back, back of the bore.
    pub profile: [ProfilePoint; 5],
}

impl Ring {
    /// Outer radius, mm.
    pub fn outer_radius(&self) -> f64 {
        self.outer_diameter / 2.0
    }

    /// Sets the ring on the ball of `seat`.
    ///
    /// # Errors
    /// A [`Problem`] if no such ring can be made: it ends beyond the ball, its bevel takes the whole
    /// edge, or nothing is left between bore and bevel.
    pub fn fit(&self, seat: SeatFit) -> Result<RingFit, Problem> {
        let ball = seat.ball_radius;
        let (front, back, outer) = (self.depth, self.depth + self.thickness, self.outer_radius());
        if back > ball {
            return Err(Problem::new(
                "parts.ring.depth",
                "The ring ends farther back than the ball.",
                "Bring the ring nearer to the centre or make it thinner.",
            ));
        }
        if !(0.0..self.thickness).contains(&self.bevel) {
            return Err(Problem::new(
                "parts.ring.bevel",
                "The bevel is not smaller than the ring is thick.",
                "Use a smaller bevel or a thicker ring.",
            ));
        }
        let bore = |depth: f64| (ball * ball - depth * depth).max(0.0).sqrt();
        if outer - self.bevel <= bore(front) {
            return Err(Problem::new(
                "parts.ring.outer_diameter",
                "The ring has no front face left between its bore and its bevel.",
                "Use a larger outer diameter, a smaller bevel or a deeper ring.",
            ));
        }
        let point = |radius, depth| ProfilePoint { radius, depth };
        Ok(RingFit {
            seat,
            profile: [
                point(bore(front), front),
                point(outer - self.bevel, front),
                point(outer, front + self.bevel),
                point(outer, back),
                point(bore(back), back),
            ],
        })
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size(&format!("{at}.depth"), self.depth)?;
        problem::size(&format!("{at}.thickness"), self.thickness)?;
        problem::size(&format!("{at}.outer_diameter"), self.outer_diameter)?;
        problem::size_or_none(&format!("{at}.bevel"), self.bevel)
    }
}

impl RingFit {
    fn front_depth(&self) -> f64 {
        self.profile[0].depth
    }

    fn outer_radius(&self) -> f64 {
        self.profile[2].radius
    }

    /// How much wider the ring is than the opening's back, on the radius, mm.
    pub fn retention_overlap(&self) -> f64 {
        self.outer_radius() - self.seat.opening_back
    }

    /// How far the eye can move forward before the ring meets the plate, at rest, mm.
    pub fn play(&self) -> f64 {
        self.front_depth() - self.seat.back_depth
    }

    /// The tilt at which the ring meets the plate, radians: the least of
    /// acos((c + t)/L) − φ over the profile. None if the ring already stands in the plate.
    pub fn tilt_limit(&self) -> Option<f64> {
        if self.play() < 0.0 {
            return None;
        }
        self.profile
            .iter()
            .map(|p| p.tilt_to(self.seat.back_depth))
            .reduce(f64::min)
    }

    /// The profile point that comes nearest to the plate at `tilt`, radians.
    pub fn nearest(&self, tilt: f64) -> ProfilePoint {
        let mut nearest = self.profile[0];
        for &point in &self.profile[1..] {
            if point.depth_at(tilt) < nearest.depth_at(tilt) {
                nearest = point;
            }
        }
        nearest
    }

    /// Least distance between the ring and the plane of the plate's back face at `tilt` (radians), mm.
    pub fn clearance(&self, tilt: f64) -> f64 {
        self.nearest(tilt).depth_at(tilt) - self.seat.back_depth
    }

    /// How deep ring and ball reach behind the plate's back face for tilts up to `tilt` (radians), mm.
    pub fn sweep_depth(&self, tilt: f64) -> f64 {
        self.profile
            .iter()
            .map(|p| p.swept_depth(tilt))
            .fold(self.seat.ball_radius, f64::max)
            - self.seat.back_depth
    }

    /// How far from the ball's axis the ring reaches in plan for tilts up to `tilt` (radians), mm.
    pub fn sweep_reach(&self, tilt: f64) -> f64 {
        self.profile
            .iter()
            .map(|p| p.swept_reach(tilt))
            .fold(0.0, f64::max)
    }

    /// Volume of the ring, mm³: the cylinder within its outer edge, less what the bevel takes off (a
    /// frustum stands there) and the zone of the ball that fills the bore,
    /// π·(R²·w − ((d + w)³ − d³)/3).
    pub fn volume(&self) -> f64 {
        let [front, edge, outer, back, _] = self.profile;
        let (ball, thickness) = (self.seat.ball_radius, back.depth - front.depth);
        let bevelled = (outer.depth - front.depth)
            * (edge.radius * edge.radius
                + edge.radius * outer.radius
                + outer.radius * outer.radius)
            / 3.0;
        let straight = outer.radius * outer.radius * (back.depth - outer.depth);
        let cubes = back.depth.powi(3) - front.depth.powi(3);
        let bore = ball * ball * thickness - cubes / 3.0;
        std::f64::consts::PI * (bevelled + straight - bore)
    }

    /// Area of the glued zone, 2πR·w, mm² (area of a zone of a sphere).
    pub fn glue_area(&self) -> f64 {
        let thickness = self.profile[4].depth - self.front_depth();
        std::f64::consts::TAU * self.seat.ball_radius * thickness
    }
}
