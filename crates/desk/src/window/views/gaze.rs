//! An eye turned by a side turn and a lift.

use layout::geometry::{Point, Vector};
use nalgebra::Vector3;

use crate::window::state::Pose;

/// A turned eye's own directions in the plate's frame: right, up, and the way it looks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axes {
    right: Vector3<f64>,
    up: Vector3<f64>,
    /// Where the eye looks.
    pub(super) forward: Vector3<f64>,
}

impl Axes {
    /// The directions of an eye that was lifted, then turned to the side.
    pub(super) fn of(pose: Pose) -> Self {
        let (side, lift) = (pose.side.sin_cos(), pose.lift.sin_cos());
        Self {
            right: Vector3::new(side.1, 0.0, -side.0),
            up: Vector3::new(-side.0 * lift.0, lift.1, -side.1 * lift.0),
            forward: Vector3::new(side.0 * lift.1, lift.0, side.1 * lift.1),
        }
    }
}

/// The circle of `radius` on a ball of `ball_radius` about the axis of sight, mm, as it is seen
/// from the front: offsets from the ball's centre. What has turned out of sight lies on the rim.
pub(super) fn circle_on_ball(axes: &Axes, ball_radius: f64, radius: f64) -> Vec<Vector> {
    let ahead = (ball_radius * ball_radius - radius * radius)
        .max(0.0)
        .sqrt();
    turns()
        .map(|angle| {
            axes.forward * ahead + (axes.right * angle.cos() + axes.up * angle.sin()) * radius
        })
        .map(|at| {
            let seen = Vector::new(at.x, at.y);
            if at.z < 0.0 {
                seen.normalize() * ball_radius
            } else {
                seen
            }
        })
        .collect()
}

/// The circle of `radius` about the axis of sight at `depth` behind the ball's centre, mm, as it is
/// seen from the front or the back: offsets from the centre.
pub(super) fn circle_behind(axes: &Axes, radius: f64, depth: f64) -> Vec<Vector> {
    turns()
        .map(|angle| {
            (axes.right * angle.cos() + axes.up * angle.sin()) * radius - axes.forward * depth
        })
        .map(|at| at.xy())
        .collect()
}

/// The angles of the points that a circle is drawn through, radians.
fn turns() -> impl Iterator<Item = f64> {
    const STEPS: u32 = 96;
    (0..STEPS).map(|step| std::f64::consts::TAU * f64::from(step) / f64::from(STEPS))
}

/// The cut of a turned eye by the plane through its centre across x, as the side view shows it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut {
    /// Length of the axis of sight in the plane: 1 when the eye is not turned to the side.
    along: f64,
    /// The axis of sight in the plane, as (depth behind the centre, y), of length 1.
    axis: Vector,
}

impl Cut {
    /// The cut at a pose. A pose never turns the eye away from the plane altogether, for both turns
    /// end at 90°; there the cut would have no axis, and it keeps the level one.
    pub(super) fn of(pose: Pose) -> Self {
        let forward = Axes::of(pose).forward;
        let in_plane = Vector::new(-forward.z, forward.y);
        let along = in_plane.norm();
        Self {
            along: along.max(f64::EPSILON),
            axis: in_plane.try_normalize(1e-9).unwrap_or(-Vector::x()),
        }
    }

    /// Where the circle of `radius` at `depth` behind the centre, both along the eye's own axis,
    /// passes the plane: (depth, y) from the ball's centre, above and below the axis. A circle that
    /// the plane misses is cut to its axis.
    pub(super) fn circle(&self, radius: f64, depth: f64) -> [Point; 2] {
        let back = depth / self.along;
        let out = (radius * radius - (back * back - depth * depth))
            .max(0.0)
            .sqrt();
        let (axis, across) = (self.axis, Vector::new(self.axis.y, -self.axis.x));
        [out, -out].map(|out| Point::from(across * out - axis * back))
    }

    /// The arc of a ball of `ball_radius` that lies within `radius` of the axis of sight, from the
    /// front; empty if the plane misses it.
    pub(super) fn cap(&self, ball_radius: f64, radius: f64) -> Vec<Point> {
        /// Steps that the arc is drawn in.
        const STEPS: u32 = 32;
        let share = (ball_radius * ball_radius - radius * radius)
            .max(0.0)
            .sqrt()
            / ball_radius;
        if share > self.along {
            return Vec::new();
        }
        let half = (share / self.along).acos();
        let middle = self.axis.y.atan2(self.axis.x);
        (0..=STEPS)
            .map(|step| middle + half * (2.0 * f64::from(step) / f64::from(STEPS) - 1.0))
            .map(|angle| Point::from(Vector::new(angle.cos(), angle.sin()) * ball_radius))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pose(side: f64, lift: f64) -> Pose {
        Pose {
            side: f64::to_radians(side),
            lift: f64::to_radians(lift),
            shut: 0.0,
        }
    }

    #[test]
    fn an_eye_looks_right_for_a_side_turn_and_up_for_a_lift() {
        let axes = Axes::of(pose(30.0, 0.0));
        approx::assert_abs_diff_eq!(
            axes.forward,
            Vector3::new(0.5, 0.0, 0.75_f64.sqrt()),
            epsilon = 1e-12
        );
        let axes = Axes::of(pose(0.0, 30.0));
        approx::assert_abs_diff_eq!(
            axes.forward,
            Vector3::new(0.0, 0.5, 0.75_f64.sqrt()),
            epsilon = 1e-12
        );
    }

    #[test]
    fn the_eyes_directions_are_square_to_each_other() {
        let axes = Axes::of(pose(22.0, -13.0));
        approx::assert_abs_diff_eq!(axes.right.cross(&axes.up), axes.forward, epsilon = 1e-12);
        approx::assert_abs_diff_eq!(
            axes.forward.z.acos(),
            pose(22.0, -13.0).tilt(),
            epsilon = 1e-12
        );
    }

    #[test]
    fn what_turns_out_of_sight_lies_on_the_rim_of_the_ball() {
        let seen = circle_on_ball(&Axes::of(pose(70.0, 20.0)), 20.0, 12.0);
        assert!(seen.iter().all(|at| at.norm() <= 20.0 + 1e-9));
        assert!(seen.iter().any(|at| (at.norm() - 20.0).abs() < 1e-9));
    }

    #[test]
    fn the_cut_holds_the_points_of_the_turned_ring_that_lie_in_the_plane() {
        let pose = pose(24.0, 15.0);
        let forward = Axes::of(pose).forward;
        let cut = Cut::of(pose);
        for (radius, depth) in [(12.5, 15.6), (18.4, 15.6), (20.2, 17.4), (20.2, 18.0)] {
            for at in cut.circle(radius, depth) {
                let there = Vector3::new(0.0, at.y, -at.x);
                let along = there.dot(&forward);
                approx::assert_abs_diff_eq!(-along, depth, epsilon = 1e-9);
                approx::assert_abs_diff_eq!(
                    (there - forward * along).norm(),
                    radius,
                    epsilon = 1e-9
                );
            }
        }
        for at in cut.cap(20.0, 9.0) {
            let there = Vector3::new(0.0, at.y, -at.x);
            assert!(there.dot(&forward) >= (400.0_f64 - 81.0).sqrt() - 1e-9);
        }
    }

    #[test]
    fn a_level_eye_is_cut_along_its_meridian() {
        let [above, below] = Cut::of(Pose::default()).circle(20.2, 17.4);
        approx::assert_abs_diff_eq!(above, Point::new(17.4, 20.2), epsilon = 1e-12);
        approx::assert_abs_diff_eq!(below, Point::new(17.4, -20.2), epsilon = 1e-12);
    }
}
