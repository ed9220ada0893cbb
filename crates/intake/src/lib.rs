//! Finds the closed shapes in a drawing file's bytes.
//!
//! Sees no path, reads nothing but the bytes that it is given, and asks no clock: the same bytes give
//! the same shapes. Nothing that a file refers to outside itself is ever read.

mod arcs;
mod chain;
mod circles;
mod crossing;
mod curve;
mod dxf;
mod error;
mod shapes;
mod svg;
mod text;
mod thin;
mod unit;

use std::path::Path;

pub use error::IntakeError;
pub use shapes::{Found, Shape};
pub use text::MOST_BYTES;
pub use unit::Unit;

/// A kind of drawing file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Scalable Vector Graphics, as text.
    Svg,
    /// Drawing Exchange Format, as text, from R12 to R2018.
    Dxf,
}

impl Format {
    /// The format that a file's name ends in; None for any other ending.
    pub fn of(file_name: &str) -> Option<Self> {
        let ending = Path::new(file_name).extension()?.to_str()?;
        [(Self::Svg, "svg"), (Self::Dxf, "dxf")]
            .into_iter()
            .find_map(|(format, own)| ending.eq_ignore_ascii_case(own).then_some(format))
    }

    /// Its name in a sentence.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Svg => "SVG",
            Self::Dxf => "DXF",
        }
    }
}

/// The closed shapes in a file, the largest first, and what one of its units means.
///
/// # Errors
/// The file is no drawing, is cut off or too large, or holds no closed shape; the [`IntakeError`] says
/// which, and what would help.
pub fn read(bytes: &[u8], format: Format) -> Result<Found, IntakeError> {
    let text = text::decode(bytes, format)?;
    match format {
        Format::Svg => svg::read(&text),
        Format::Dxf => shapes::find(dxf::read(&text)?),
    }
}
