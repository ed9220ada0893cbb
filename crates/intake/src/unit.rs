//! What one unit of a drawing can mean.

/// Millimetres of an inch (by definition since 1959).
pub(crate) const INCH: f64 = 25.4;

/// A unit that a drawing may have been made in, for when its file does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A millimetre.
    Millimetre,
    /// A centimetre.
    Centimetre,
    /// An inch.
    Inch,
    /// A pixel of CSS and SVG: 96 of them are an inch.
    Pixel,
}

impl Unit {
    /// Every unit, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Millimetre, Self::Centimetre, Self::Inch, Self::Pixel];

    /// Its length in mm.
    pub fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Inch => INCH,
            Self::Pixel => INCH / 96.0,
        }
    }

    /// Its name, for one.
    pub fn name(self) -> &'static str {
        match self {
            Self::Millimetre => "millimetre",
            Self::Centimetre => "centimetre",
            Self::Inch => "inch",
            Self::Pixel => "pixel (96 to an inch)",
        }
    }
}
