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
        self.format_to(mm, self.decimals(mm))
    }

    /// Lengths of a column, mm, as [`format`](Self::format) gives them, but all with as many decimals as
    /// the one that has the most. What has no length has no text either.
    pub fn format_column(self, lengths: &[Option<f64>]) -> Vec<Option<String>> {
        let own = lengths.iter().flatten().map(|&mm| self.decimals(mm));
        let decimals = own.max().unwrap_or_default();
        let format = |mm: f64| self.format_to(mm, decimals);
        lengths.iter().map(|mm| mm.map(format)).collect()
    }

    /// How many decimals a length of `mm` is given with.
    fn decimals(self, mm: f64) -> usize {
        match self {
            Self::Millimetre if format!("{mm:.2}").ends_with('0') => 1,
            Self::Millimetre => 2,
            Self::Inch => 3,
        }
    }

    fn format_to(self, mm: f64, decimals: usize) -> String {
        let text = format!("{:.decimals$}", self.from_mm(mm));
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
        let column = [Some(2.0), None, Some(20.25), Some(-0.004)];
        let texts = ["2.00", "–", "20.25", "0.00"];
        let formatted = Millimetre.format_column(&column);
        let formatted = formatted.iter().map(|own| own.as_deref().unwrap_or("–"));
        assert!(formatted.eq(texts));
        assert_eq!(Inch.format_with_symbol(25.4), "1.000 in");
        assert!((Inch.to_mm(Inch.from_mm(7.3)) - 7.3).abs() < 1e-12);
    }
}
