//! The ring cut by a plane across x, in the side view's plane: depth behind the plate's front face to the
//! right, y up, mm.

use layout::geometry::Point;
use layout::ring::RingFit;

use super::gaze::Cut;

/// Steps in which an edge of the ring is drawn.
const STEPS: u32 = 16;

/// Both halves of a ring turned with its eye, about the ball's centre. Each edge of its meridian
/// is drawn in steps: cut askew, a straight one is curved.
pub(super) fn ring(ring: &RingFit, cut: &Cut) -> [Vec<Point>; 2] {
    let corners = ring.profile;
    let mut halves = [Vec::new(), Vec::new()];
    for (index, from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        let closes_bore = index + 1 == corners.len();
        for step in 0..STEPS {
            let share = f64::from(step) / f64::from(STEPS);
            let depth = from.depth + (to.depth - from.depth) * share;
            let radius = if closes_bore {
                // The bore follows the ball.
                (ring.seat.ball_radius.powi(2) - depth * depth)
                    .max(0.0)
                    .sqrt()
            } else {
                from.radius + (to.radius - from.radius) * share
            };
            for (half, at) in halves.iter_mut().zip(cut.circle(radius, depth)) {
                half.push(at);
            }
        }
    }
    halves
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout::ring::Ring;
    use layout::seat::Seat;

    #[test]
    fn a_level_ring_is_cut_to_its_own_meridian() {
        let seat = Seat::Spherical {
            centre_height: 4.0,
            running_clearance: 0.4,
        };
        let fit = Ring {
            depth: 15.6,
            thickness: 2.4,
            outer_diameter: 40.5,
            bevel: 1.8,
        };
        let fit = fit.fit(seat.fit(40.0, 3.0).unwrap()).unwrap();
        let [above, below] = ring(&fit, &Cut::of(crate::window::state::Pose::default()));
        for corner in fit.profile {
            let at = Point::new(corner.depth, corner.radius);
            assert!(above.iter().any(|p| (p - at).norm() < 1e-9), "{corner:?}");
            assert!(below.iter().any(|p| (p.y + at.y).abs() < 1e-9));
        }
    }
}
