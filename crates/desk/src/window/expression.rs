//! What a maker may type into a number field: `12,5`, `1/2 in`, `3/8"`, `40-2*3`.
//!
//! A sum of products of numbers. A unit belongs to the product before it, so that `1/2 in` is half
//! an inch; a number without one is in the unit that the field shows.

use layout::field::Unit;
use output::unit::LengthUnit;

use super::pieces::with_minus;

/// What the numbers of a text mean when no unit stands behind them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Measure {
    /// A length, shown in this unit.
    Length(LengthUnit),
    /// An angle in degrees.
    Angle,
    /// A force in newtons.
    Force,
    /// A mass in grams.
    Mass,
    /// A torque in newton millimetres.
    Torque,
    /// A modulus of elasticity in gigapascals.
    Stiffness,
    /// How many there are of something.
    Count,
    /// A plain number.
    Plain,
}

impl Measure {
    /// The measure of a field of a project.
    pub(crate) fn of(unit: Unit, shown: LengthUnit) -> Self {
        match unit {
            Unit::Length => Self::Length(shown),
            Unit::Angle => Self::Angle,
            Unit::Force => Self::Force,
            Unit::Mass => Self::Mass,
            Unit::Torque => Self::Torque,
            Unit::Stiffness => Self::Stiffness,
            Unit::Share => Self::Plain,
        }
    }

    /// How a value is shown: with its unit, except in a plain number.
    pub(crate) fn show(self, value: f64) -> String {
        with_minus(&match self {
            Self::Length(unit) => unit.format_with_symbol(value),
            Self::Angle => format!("{}°", LengthUnit::Millimetre.format(value)),
            Self::Force => format!("{} N", LengthUnit::Millimetre.format(value)),
            Self::Mass => format!("{} g", LengthUnit::Millimetre.format(value)),
            Self::Torque => format!("{} N·mm", LengthUnit::Millimetre.format(value)),
            Self::Stiffness => format!("{} GPa", LengthUnit::Millimetre.format(value)),
            Self::Count => format!("{value}"),
            Self::Plain => LengthUnit::Millimetre.format(value),
        })
    }

    /// A value as the field holds it, mm or degrees, from one without a unit.
    fn bare(self, value: f64) -> f64 {
        match self {
            Self::Length(unit) => unit.to_mm(value),
            Self::Angle
            | Self::Force
            | Self::Mass
            | Self::Torque
            | Self::Stiffness
            | Self::Count
            | Self::Plain => value,
        }
    }

    /// What one of a unit is in mm or degrees, if the unit fits the measure.
    fn one_of(self, unit: &str) -> Option<f64> {
        match (self, unit) {
            (Self::Length(_), "mm")
            | (Self::Angle, "°" | "deg")
            | (Self::Force, "N")
            | (Self::Mass, "g")
            | (Self::Torque, "N·mm" | "Nmm")
            | (Self::Stiffness, "GPa") => Some(1.0),
            (Self::Mass, "kg") => Some(1_000.0),
            (Self::Length(_), "cm") => Some(10.0),
            (Self::Length(_), "in" | "inch" | "inches" | "\"" | "″" | "”") => {
                Some(output::unit::MM_PER_INCH)
            }
            _ => None,
        }
    }

    fn example(self) -> &'static str {
        match self {
            Self::Length(_) => "Type a length such as 12.5, 1/2 in or 40-2*3.",
            Self::Angle => "Type an angle such as 22.5 or 90-12.",
            Self::Force => "Type a force such as 0.5 N.",
            Self::Mass => "Type a mass such as 4.5 g.",
            Self::Torque => "Type a torque such as 20 Nmm.",
            Self::Stiffness => "Type a modulus such as 206 GPa.",
            Self::Count => "Type a whole number such as 4.",
            Self::Plain => "Type a number such as 0.3.",
        }
    }
}

/// Longest text that is read; no length takes more.
const LONGEST: usize = 60;

/// The value of a text in millimetres or degrees.
///
/// # Errors
/// Two sentences: what is wrong, and what can be typed.
pub(crate) fn parse(text: &str, measure: Measure) -> Result<f64, String> {
    let refuse = |why: String| format!("{why} {}", measure.example());
    if text.chars().count() > LONGEST {
        return Err(refuse("That is too long for a number.".to_owned()));
    }
    let tokens = tokens(text).map_err(refuse)?;
    if tokens.is_empty() {
        return Err(refuse("Nothing is typed.".to_owned()));
    }
    let mut reader = Reader {
        tokens: &tokens,
        measure,
    };
    let value = reader.sum().map_err(refuse)?;
    if let Some(token) = reader.tokens.first() {
        return Err(refuse(format!("{} is out of place.", token.quoted())));
    }
    let value = reader.resolved(value);
    if value.is_finite() {
        Ok(value)
    } else {
        Err(refuse("That has no finite value.".to_owned()))
    }
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number { value: f64, whole: bool },
    Sign(char),
    Unit(String),
}

impl Token {
    fn quoted(&self) -> String {
        match self {
            Self::Number { value, .. } => format!("“{value}”"),
            Self::Sign(sign) => format!("“{sign}”"),
            Self::Unit(unit) => format!("“{unit}”"),
        }
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, String> {
    let mut tokens = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let taken = match first {
            '0'..='9' | '.' | ',' => {
                let end = end_of(rest, |c| c.is_ascii_digit() || c == '.' || c == ',');
                tokens.push(number(&rest[..end])?);
                end
            }
            '+' | '-' | '−' | '*' | '×' | '/' | '÷' | '(' | ')' => {
                tokens.push(Token::Sign(match first {
                    '−' => '-',
                    '×' => '*',
                    '÷' => '/',
                    same => same,
                }));
                first.len_utf8()
            }
            '"' | '″' | '”' | '°' => {
                tokens.push(Token::Unit(first.to_string()));
                first.len_utf8()
            }
            letter if letter.is_alphabetic() => {
                let end = end_of(rest, char::is_alphabetic);
                tokens.push(Token::Unit(rest[..end].to_lowercase()));
                end
            }
            other => return Err(format!("“{other}” means nothing here.")),
        };
        rest = rest[taken..].trim_start();
    }
    Ok(tokens)
}

fn end_of(text: &str, belongs: impl Fn(char) -> bool) -> usize {
    text.find(|c| !belongs(c)).unwrap_or(text.len())
}

/// A decimal number; a comma and a point both mark its decimals.
fn number(text: &str) -> Result<Token, String> {
    let refused = || format!("“{text}” is not a number.");
    let value = text
        .replace(',', ".")
        .parse::<f64>()
        .map_err(|_| refused())?;
    Ok(Token::Number {
        value,
        whole: !text.contains(['.', ',']),
    })
}

/// A value on the way: in mm or degrees once a unit has been given, bare until then.
#[derive(Clone, Copy)]
struct Value {
    amount: f64,
    has_unit: bool,
}

struct Reader<'a> {
    tokens: &'a [Token],
    measure: Measure,
}

impl Reader<'_> {
    fn resolved(&self, value: Value) -> f64 {
        if value.has_unit {
            value.amount
        } else {
            self.measure.bare(value.amount)
        }
    }

    fn take_sign(&mut self, among: &[char]) -> Option<char> {
        let (&Token::Sign(sign), rest) = self.tokens.split_first()? else {
            return None;
        };
        among.contains(&sign).then(|| {
            self.tokens = rest;
            sign
        })
    }

    fn sum(&mut self) -> Result<Value, String> {
        let mut total = self.product()?;
        while let Some(sign) = self.take_sign(&['+', '-']) {
            let next = self.product()?;
            if total.has_unit != next.has_unit {
                total = Value {
                    amount: self.resolved(total),
                    has_unit: true,
                };
            }
            let next = if total.has_unit {
                self.resolved(next)
            } else {
                next.amount
            };
            total.amount += if sign == '+' { next } else { -next };
        }
        Ok(total)
    }

    fn product(&mut self) -> Result<Value, String> {
        let first = self.factor()?;
        let mut total = self.with_unit(first)?;
        while let Some(sign) = self.take_sign(&['*', '/']) {
            let next = self.factor()?;
            if next.has_unit && (total.has_unit || sign == '/') {
                return Err("One product can hold one unit.".to_owned());
            }
            total.amount = if sign == '*' {
                total.amount * next.amount
            } else {
                total.amount / next.amount
            };
            total.has_unit |= next.has_unit;
            total = self.with_unit(total)?;
        }
        Ok(total)
    }

    /// Takes the unit that may stand behind a product.
    fn with_unit(&mut self, value: Value) -> Result<Value, String> {
        let Some((Token::Unit(unit), rest)) = self.tokens.split_first() else {
            return Ok(value);
        };
        self.tokens = rest;
        let one = self.measure.one_of(unit);
        let one = one.ok_or_else(|| format!("“{unit}” is no unit of this field."))?;
        if value.has_unit {
            return Err("One product can hold one unit.".to_owned());
        }
        Ok(Value {
            amount: value.amount * one,
            has_unit: true,
        })
    }

    fn factor(&mut self) -> Result<Value, String> {
        let mut negative = false;
        while let Some(sign) = self.take_sign(&['+', '-']) {
            negative ^= sign == '-';
        }
        let mut value = if self.take_sign(&['(']).is_some() {
            let value = self.sum()?;
            self.take_sign(&[')']).ok_or("A bracket is left open.")?;
            value
        } else {
            Value {
                amount: self.mixed_number()?,
                has_unit: false,
            }
        };
        if negative {
            value.amount = -value.amount;
        }
        Ok(value)
    }

    /// A number, or a whole number followed by a fraction, as in `1 1/2`.
    fn mixed_number(&mut self) -> Result<f64, String> {
        use Token::{Number, Sign};
        match *self.tokens {
            [
                Number { value, whole: true },
                Number {
                    value: over,
                    whole: true,
                },
                Sign('/'),
                Number {
                    value: under,
                    whole: true,
                },
                ref rest @ ..,
            ] => {
                self.tokens = rest;
                Ok(value + over / under)
            }
            [Number { value, .. }, ref rest @ ..] => {
                self.tokens = rest;
                Ok(value)
            }
            [ref other, ..] => Err(format!("{} is out of place.", other.quoted())),
            [] => Err("The end is missing.".to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MM: Measure = Measure::Length(LengthUnit::Millimetre);
    const INCH: Measure = Measure::Length(LengthUnit::Inch);

    #[track_caller]
    fn reads(text: &str, measure: Measure, expected: f64) {
        let value = parse(text, measure).unwrap_or_else(|why| panic!("{text}: {why}"));
        assert!(
            (value - expected).abs() < 1e-9,
            "{text} read as {value}, not {expected}"
        );
    }

    #[test]
    fn numbers_take_a_decimal_comma_or_point() {
        reads("12,5", MM, 12.5);
        reads(" 12.5 ", MM, 12.5);
        reads(".5", MM, 0.5);
        reads("−4", MM, -4.0);
        reads("+4", MM, 4.0);
    }

    #[test]
    fn a_unit_belongs_to_the_product_before_it() {
        reads("1/2 in", MM, 12.7);
        reads("3/8\"", MM, 9.525);
        reads("1 1/2 in", MM, 38.1);
        reads("2 cm + 1", MM, 21.0);
        reads("12 mm", INCH, 12.0);
        reads("1/2 in + 2 mm", MM, 14.7);
        reads("2 in * 3", MM, 152.4);
        reads("(1 + 1/4) in", MM, 31.75);
    }

    #[test]
    fn a_number_without_a_unit_is_in_the_unit_shown() {
        reads("40-2*3", MM, 34.0);
        reads("1.5", INCH, 38.1);
        reads("1 + 12.7 mm", INCH, 38.1);
        reads("(40-2*3)/2", MM, 17.0);
        reads("22,5°", Measure::Angle, 22.5);
        reads("90 - 12 deg", Measure::Angle, 78.0);
        reads("0,3", Measure::Plain, 0.3);
    }

    #[test]
    fn what_makes_no_number_is_refused_with_a_way_out() {
        for (text, why) in [
            ("", "Nothing is typed."),
            ("abc", "“abc” is out of place."),
            ("1.2.3", "“1.2.3” is not a number."),
            ("1,234.5", "“1,234.5” is not a number."),
            ("5 km", "“km” is no unit of this field."),
            ("5 °", "“°” is no unit of this field."),
            ("1/0", "That has no finite value."),
            ("2 mm * 2 mm", "One product can hold one unit."),
            ("(1 + 2", "A bracket is left open."),
            ("1 +", "The end is missing."),
            ("2 3", "“3” is out of place."),
            ("1e3", "“e” is no unit of this field."),
            ("5 ?", "“?” means nothing here."),
        ] {
            let expected = format!("{why} Type a length such as 12.5, 1/2 in or 40-2*3.");
            assert_eq!(parse(text, MM), Err(expected), "{text}");
        }
    }

    #[test]
    fn deep_brackets_and_long_texts_do_not_hang() {
        assert!(parse(&"(".repeat(LONGEST), MM).is_err());
        assert!(parse(&"9".repeat(1_000_000), MM).is_err());
    }

    #[test]
    fn a_value_is_shown_with_its_unit() {
        assert_eq!(MM.show(58.0), "58.0 mm");
        assert_eq!(INCH.show(25.4), "1.000 in");
        assert_eq!(Measure::Angle.show(22.5), "22.5°");
        assert_eq!(Measure::Plain.show(0.3), "0.3");
        assert_eq!(Measure::Count.show(4.0), "4");
    }
}
