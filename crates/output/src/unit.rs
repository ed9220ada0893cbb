//! Lengths as they are shown: in millimetres or inches.

/// Millimetres in an inch, by its definition.
pub const MM_PER_INCH: f64 = 25.4;

/// The unit in which lengths are shown. Inside, every length is in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Millimetres, shown with one decimal, or two where the second is not 0.
    #[default]
    Millimetre,
    /// Inches, shown with three decimals.
    Inch,
}

impl LengthUnit {
    /// A length of `mm` as a bare number in this unit, the way drawings give it.
    pub fn format(self, mm: f64) -> String {
        let text = match self {
            Self::Millimetre => {
                let text = format!("{mm:.2}");
                text.strip_suffix('0').map_or(text.clone(), str::to_owned)
            }
            Self::Inch => format!("{:.3}", self.from_mm(mm)),
        };
        // What rounds to nothing has no sign.
        if text.chars().all(|c| "-0.".contains(c)) {
            text.trim_start_matches('-').to_owned()
        } else {
            text
        }
    }

    /// A length of `mm` as a number with its unit, for running text.
    pub fn format_with_symbol(self, mm: f64) -> String {
        format!("{} {}", self.format(mm), self.symbol())
    }

    /// What stands behind a number.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }

    /// A length of `mm` in this unit.
    #[allow(
        clippy::wrong_self_convention,
        reason = "the unit converts; it is not converted"
    )]
    pub fn from_mm(self, mm: f64) -> f64 {
        match self {
            Self::Millimetre => mm,
            Self::Inch => mm / MM_PER_INCH,
        }
    }

    /// A length given in this unit, in mm.
    pub fn to_mm(self, length: f64) -> f64 {
        match self {
            Self::Millimetre => length,
            Self::Inch => length * MM_PER_INCH,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::LengthUnit::{Inch, Millimetre};

    #[test]
    fn a_length_has_one_decimal_or_two_in_mm_and_three_in_inches() {
        let shown = [
            (58.0, "58.0", "2.283"),
            (20.25, "20.25", "0.797"),
            (0.004, "0.0", "0.000"),
            (-0.004, "0.0", "0.000"),
            (-62.1, "-62.1", "-2.445"),
            (25.4, "25.4", "1.000"),
        ];
        for (mm, in_mm, in_inches) in shown {
            assert_eq!(
                (Millimetre.format(mm).as_str(), Inch.format(mm).as_str()),
                (in_mm, in_inches)
            );
        }
        assert_eq!(Inch.format_with_symbol(25.4), "1.000 in");
        assert!((Inch.to_mm(Inch.from_mm(7.3)) - 7.3).abs() < 1e-12);
    }
}
