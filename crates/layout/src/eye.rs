//! Eyes, and what they are called.

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::geometry::Point;
use crate::parts::Parts;
use crate::problem::{self, Problem};

/// One eye on the plate. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Eye {
    /// Centre of the opening, (x, y) in the plate's frame.
    pub centre: [f64; 2],
    /// Diameter of the iris.
    pub iris_diameter: f64,
    /// Diameter of the pupil.
    pub pupil_diameter: f64,
    /// The eye's own parts, if they differ from the project's.
    pub parts: Option<Box<Parts>>,
    /// The eye's own plate, if it does not sit on the common one.
    pub carrier: Option<Carrier>,
}

/// The place of an eye's own plate, for eyes that do not lie in one plane.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Carrier {
    /// Turn about y.
    pub yaw: Degrees,
    /// Turn about x.
    pub pitch: Degrees,
    /// Height of its front face over the plate's, mm.
    pub height: f64,
}

impl Eye {
    /// Centre of the opening, mm.
    pub fn at(&self) -> Point {
        self.centre.into()
    }

    pub(crate) fn check(&self, at: &str, shared: &Parts, thickness: f64) -> Result<(), Problem> {
        problem::place(&format!("{at}.centre"), self.centre)?;
        problem::size(&format!("{at}.iris_diameter"), self.iris_diameter)?;
        problem::size_or_none(&format!("{at}.pupil_diameter"), self.pupil_diameter)?;
        if let Some(parts) = &self.parts {
            parts.check(&format!("{at}.parts"), thickness)?;
        }
        if let Some(carrier) = &self.carrier {
            carrier.check(&format!("{at}.carrier"))?;
        }
        let ball = self.parts.as_deref().unwrap_or(shared).ball_diameter;
        if self.iris_diameter > ball {
            return Err(Problem::new(
                format!("{at}.iris_diameter"),
                format!(
                    "The iris, {} mm, is larger than the ball, {ball} mm.",
                    self.iris_diameter
                ),
                format!("Use at most {ball} mm."),
            ));
        }
        if self.pupil_diameter > self.iris_diameter {
            return Err(Problem::new(
                format!("{at}.pupil_diameter"),
                format!(
                    "The pupil, {} mm, is larger than the iris, {} mm.",
                    self.pupil_diameter, self.iris_diameter
                ),
                format!("Use at most {} mm.", self.iris_diameter),
            ));
        }
        Ok(())
    }
}

impl Carrier {
    fn check(&self, at: &str) -> Result<(), Problem> {
        problem::within(&format!("{at}.yaw"), self.yaw.0, -90.0..=90.0, "°")?;
        problem::within(&format!("{at}.pitch"), self.pitch.0, -90.0..=90.0, "°")?;
        problem::place(&format!("{at}.height"), [self.height])
    }
}

/// What eye `index` is called: left and right, as the audience sees them, when there are two that
/// stand apart; otherwise by its number, from 1.
pub fn name(eyes: &[Eye], index: usize) -> String {
    match eyes {
        [_] => "eye".to_owned(),
        [a, b] if a.centre[0] != b.centre[0] => {
            let left = usize::from(a.centre[0] > b.centre[0]);
            if index == left {
                "left eye".to_owned()
            } else {
                "right eye".to_owned()
            }
        }
        _ => format!("eye {}", index + 1),
    }
}
