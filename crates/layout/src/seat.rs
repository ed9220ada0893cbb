//! The opening that a ball sits in.

use serde::{Deserialize, Serialize};

use crate::problem::{self, Problem};

/// The shape of the opening's wall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Seat {
    /// A cylinder; the ball rests on its front edge.
    Plain {
        /// Diameter of the opening, mm.
        opening_diameter: f64,
    },
    /// A zone of a sphere that is concentric with the ball.
    Spherical {
        /// Height of the ball's centre above the plate's front face, mm.
        centre_height: f64,
        /// Gap between ball and seat, mm, measured along the radius.
        running_clearance: f64,
    },
}

/// A seat worked out for one ball and one plate. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatFit {
    /// Ball radius R.
    pub ball_radius: f64,
    /// Height c of the ball's centre above the plate's front face.
    pub centre_height: f64,
    /// Opening radius at the front face.
    pub opening_front: f64,
    /// Opening radius at the back face.
    pub opening_back: f64,
    /// Depth c + t of the plate's back face behind the ball's centre.
    pub back_depth: f64,
}

impl SeatFit {
    /// How far the ball stands out behind the plate's back face, R − (c + t), mm.
    pub fn ball_behind(&self) -> f64 {
        self.ball_radius - self.back_depth
    }
}

impl Seat {
    /// Works the seat out for a ball of `ball_diameter` in a plate of `thickness`, both mm.
    ///
    /// * `Plain`, opening radius a < R: c = √(R² − a²), and the opening keeps its radius.
    /// * `Spherical`, Rs = R + clearance: front radius √(Rs² − c²), back radius √(Rs² − (c + t)²).
    ///
    /// # Errors
    /// A [`Problem`] if the ball would fall through, or if the seat's sphere ends inside the plate.
    pub fn fit(&self, ball_diameter: f64, thickness: f64) -> Result<SeatFit, Problem> {
        let ball_radius = ball_diameter / 2.0;
        match *self {
            Self::Plain { opening_diameter } => {
                let a = opening_diameter / 2.0;
                if a >= ball_radius {
                    return Err(Problem::new(
                        "parts.seat.opening_diameter",
                        format!(
                            "The opening, {opening_diameter} mm, is not smaller than the ball, \
                             {ball_diameter} mm: the ball falls through."
                        ),
                        format!("Use an opening smaller than {ball_diameter} mm."),
                    ));
                }
                let centre_height = (ball_radius * ball_radius - a * a).sqrt();
                Ok(SeatFit {
                    ball_radius,
                    centre_height,
                    opening_front: a,
                    opening_back: a,
                    back_depth: centre_height + thickness,
                })
            }
            Self::Spherical {
                centre_height,
                running_clearance,
            } => {
                let seat_radius = ball_radius + running_clearance;
                let back_depth = centre_height + thickness;
                if back_depth >= seat_radius {
                    return Err(Problem::new(
                        "parts.seat.centre_height",
                        format!(
                            "The plate's back face lies {back_depth} mm behind the ball's centre, \
                             and the seat's sphere ends at {seat_radius} mm: there is no opening left."
                        ),
                        format!(
                            "Use a centre height below {} mm, or a thinner plate.",
                            rounded(seat_radius - thickness)
                        ),
                    ));
                }
                let opening_back = (seat_radius.powi(2) - back_depth.powi(2)).sqrt();
                if opening_back >= ball_radius {
                    let least = (seat_radius.powi(2) - ball_radius.powi(2)).sqrt() - thickness;
                    return Err(Problem::new(
                        "parts.seat.centre_height",
                        format!(
                            "The opening is {} mm wide at the back, not smaller than the ball, \
                             {ball_diameter} mm: the ball falls through.",
                            rounded(2.0 * opening_back)
                        ),
                        format!(
                            "Use a centre height above {} mm, or less running clearance.",
                            rounded(least)
                        ),
                    ));
                }
                Ok(SeatFit {
                    ball_radius,
                    centre_height,
                    opening_front: (seat_radius.powi(2) - centre_height.powi(2)).sqrt(),
                    opening_back,
                    back_depth,
                })
            }
        }
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        match *self {
            Self::Plain { opening_diameter } => {
                problem::size(&format!("{at}.opening_diameter"), opening_diameter)
            }
            Self::Spherical {
                centre_height,
                running_clearance,
            } => {
                problem::size_or_none(&format!("{at}.centre_height"), centre_height)?;
                problem::size_or_none(&format!("{at}.running_clearance"), running_clearance)
            }
        }
    }
}

/// A length rounded to 0.01 mm, for a sentence.
fn rounded(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}
