//! Closed shapes in ASCII DXF, R12 to R2018: pairs of a group code and a value, in sections.

mod blocks;
mod entities;
mod fit;
mod pairs;
mod polyline;
mod sections;
mod spline;

use crate::IntakeError;
use crate::curve::Drawing;

/// Reads a DXF.
pub(crate) fn read(text: &str) -> Result<Drawing, IntakeError> {
    let pairs = pairs::read(text)?;
    let sections = sections::read(&pairs)?;
    blocks::draw(&sections)
}
