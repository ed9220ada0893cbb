//! Angles as files and fields hold them.

use serde::{Deserialize, Serialize};

/// An angle in degrees, as the maker types it and the file keeps it.
///
/// Geometry works in radians; [`Degrees::radians`] and [`Degrees::from_radians`] are the only places
/// where one becomes the other.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Degrees(pub f64);

impl Degrees {
    /// The same angle in radians.
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }

    /// An angle given in radians.
    pub fn from_radians(radians: f64) -> Self {
        Self(radians.to_degrees())
    }
}
