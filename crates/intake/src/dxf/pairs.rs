//! The pairs of a group code and a value that a DXF is made of.

use crate::{Format, IntakeError};

/// A group code and its value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    /// What the value means.
    pub(super) code: i32,
    /// The value, without the spaces around it.
    pub(super) value: &'a str,
    /// The line on which the code stands, counted from 1.
    pub(super) line: usize,
}

/// Stands before every comment.
const COMMENT: i32 = 999;

/// All pairs in front of the end mark, without comments.
pub(super) fn read(text: &str) -> Result<Vec<Pair<'_>>, IntakeError> {
    let mut lines = (1..)
        .zip(text.lines())
        .map(|(number, line)| (number, line.trim()));
    let mut pairs = Vec::new();
    while let Some((line, code)) = lines.next() {
        let value = lines.next();
        let read = |code: &str| code.parse().ok().filter(|_| code.len() < 6);
        let (code, value) = match (read(code), value) {
            (Some(code), Some((_, value))) => (code, value),
            (None, _) if pairs.is_empty() => {
                return Err(IntakeError::no_drawing(
                    Format::Dxf,
                    "it does not begin with a group code",
                ));
            }
            (Some(_), None) => return Err(IntakeError::cut_off(line)),
            (None, _) => {
                return Err(IntakeError::no_number(
                    format!("Line {line}, where a group code should stand,"),
                    code,
                ));
            }
        };
        if code == 0 && value == "EOF" {
            return Ok(pairs);
        }
        if code != COMMENT {
            pairs.push(Pair { code, value, line });
        }
        if let [Pair { code, value, .. }] = pairs[..]
            && (code, value) != (0, "SECTION")
        {
            return Err(IntakeError::no_drawing(
                Format::Dxf,
                "it does not begin with a section",
            ));
        }
    }
    Err(IntakeError::cut_off(text.lines().count()))
}

impl Pair<'_> {
    /// The value as a finite number.
    pub(super) fn number(&self) -> Result<f64, IntakeError> {
        let number = self
            .value
            .parse()
            .ok()
            .filter(|number: &f64| number.is_finite());
        number.ok_or_else(|| IntakeError::no_number(format!("Line {}", self.line + 1), self.value))
    }

    /// The value as a whole number. Some programs write one as 1.0.
    pub(super) fn whole(&self) -> Result<i64, IntakeError> {
        #[allow(
            clippy::cast_possible_truncation,
            reason = "flags and counts are small"
        )]
        self.number().map(|number| number as i64)
    }
}
