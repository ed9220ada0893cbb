//! What makes a project unusable, said so that it can be mended.

use std::fmt;
use std::ops::RangeInclusive;

use serde::Serialize;

/// A value that no plate can be laid out from: which field, what is wrong, what would be right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// The field as a file spells it, such as `parts.ring.depth` or `head.outline[3]`.
    pub field: String,
    /// One sentence that says what is wrong.
    pub sentence: String,
    /// One sentence that says what would be right.
    pub remedy: String,
}

impl Problem {
    /// A problem with one field.
    pub fn new(
        field: impl Into<String>,
        sentence: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            field: field.into(),
            sentence: sentence.into(),
            remedy: remedy.into(),
        }
    }

    /// The same with the field called what the maker calls it, where the sentence speaks of it by its
    /// path.
    pub(crate) fn called(mut self, name: &str) -> Self {
        let path = format!("`{}`", self.field);
        self.sentence = self.sentence.replacen(&path, name, 1);
        self
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.sentence, self.remedy)
    }
}

impl std::error::Error for Problem {}

/// A named thing of a project that cannot work, for sentences about it.
pub(crate) struct About<'a> {
    /// What it is, such as "drive".
    pub(crate) kind: &'static str,
    /// What the maker calls it.
    pub(crate) name: &'a str,
    /// Where it is, such as `drives[0]`.
    pub(crate) at: String,
}

impl About<'_> {
    /// A problem with one of its fields; the sentence goes on after its name, without a full stop.
    pub(crate) fn problem(&self, field: &str, sentence: &str, remedy: &str) -> Problem {
        let Self { kind, name, at } = self;
        Problem::new(
            format!("{at}.{field}"),
            format!("The {kind} “{name}” {sentence}."),
            remedy,
        )
    }
}

/// Farthest that any point may lie from the plate's origin, mm. A head is held on one hand: two
/// metres is beyond every puppet, and near enough that no distance loses digits.
pub const FARTHEST: f64 = 2_000.0;

/// Largest size of any one part, mm; see [`FARTHEST`].
pub const LARGEST: f64 = 2_000.0;

/// Smallest size that a part can have, mm: below it nothing can be cut, printed or measured.
pub const SMALLEST: f64 = 0.01;

/// Refuses a number that is not finite or lies outside `range`.
///
/// # Errors
/// The [`Problem`] names the field and the range.
pub fn within(
    field: &str,
    value: f64,
    range: RangeInclusive<f64>,
    unit: &str,
) -> Result<(), Problem> {
    if value.is_finite() && range.contains(&value) {
        return Ok(());
    }
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    Err(Problem::new(
        field,
        format!("`{field}` is {}{unit}.", shown(value)),
        format!(
            "Use a number from {} to {}{unit}.",
            range.start(),
            range.end()
        ),
    ))
}

/// A number for a sentence: one with many digits by its power of ten.
fn shown(value: f64) -> String {
    if value.is_finite() && value.abs() >= 1e9 {
        format!("{value:e}")
    } else {
        value.to_string()
    }
}

/// Refuses a size, mm, that is not from [`SMALLEST`] to [`LARGEST`].
///
/// # Errors
/// As [`within`].
pub fn size(field: &str, value: f64) -> Result<(), Problem> {
    within(field, value, SMALLEST..=LARGEST, "mm")
}

/// Refuses a size, mm, that is not from 0 to [`LARGEST`].
///
/// # Errors
/// As [`within`].
pub fn size_or_none(field: &str, value: f64) -> Result<(), Problem> {
    within(field, value, 0.0..=LARGEST, "mm")
}

/// Refuses a point, mm, that lies farther than [`FARTHEST`] along any axis.
///
/// # Errors
/// As [`within`].
pub fn place<const N: usize>(field: &str, point: [f64; N]) -> Result<(), Problem> {
    point
        .into_iter()
        .try_for_each(|value| within(field, value, -FARTHEST..=FARTHEST, "mm"))
}
