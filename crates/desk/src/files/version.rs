//! The version of the file format, looked at before anything else.

use std::borrow::Cow;

use super::error::{FileError, Place};
use super::locate::Map;

/// Turns the text of one version into that of the next.
pub(crate) type Step = fn(&str) -> String;

/// The steps from version 1 up; the newest version is one more than their number.
pub(crate) const MIGRATIONS: &[Step] = &[];

/// The text in the newest version that `steps` lead to. A text that does not say its version is
/// left as it is: reading it says what is missing.
pub(crate) fn brought_up<'a>(text: &'a str, steps: &[Step]) -> Result<Cow<'a, str>, FileError> {
    let newest = 1 + steps.len();
    let map = Map::of(text);
    let Some(node) = map.find("version") else {
        return Ok(Cow::Borrowed(text));
    };
    let written = map.value(node);
    if written.is_empty() || !written.bytes().all(|b| b.is_ascii_digit()) {
        return Ok(Cow::Borrowed(text));
    }
    let refused = |sentence: String, remedy: String| {
        Err(FileError::new(sentence, remedy).at(Place::of(text, node.value)))
    };
    // A number too long to be counted is newer than any.
    match written.parse::<usize>().unwrap_or(usize::MAX) {
        0 => refused(
            "The file says that it is version 0 of the file format, and the first is version 1."
                .to_owned(),
            format!("Write `version: {newest}`."),
        ),
        version if version > newest => refused(
            format!(
                "The file is version {written} of the file format, and this program reads up to \
                 version {newest}."
            ),
            "Open it with a newer Gazewright.".to_owned(),
        ),
        version => Ok(steps[version - 1..]
            .iter()
            .fold(Cow::Borrowed(text), |text, step| Cow::Owned(step(&text)))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A made-up step: version 2 spells `colour` with a u.
    fn colour(text: &str) -> String {
        text.replace("version: 1", "version: 2")
            .replace("color:", "colour:")
    }

    /// A made-up step: version 3 calls it `paint`.
    fn paint(text: &str) -> String {
        text.replace("version: 2", "version: 3")
            .replace("colour:", "paint:")
    }

    #[test]
    fn an_older_text_takes_every_step_that_is_left_and_no_other() {
        let steps: &[Step] = &[colour, paint];
        for (text, brought) in [
            ("(version: 1, color: 5)", "(version: 3, paint: 5)"),
            ("(version: 2, colour: 5)", "(version: 3, paint: 5)"),
            ("(version: 3, paint: 5)", "(version: 3, paint: 5)"),
        ] {
            assert_eq!(brought_up(text, steps).unwrap(), brought);
        }
        assert!(brought_up("(version: 4)", steps).is_err());
    }

    #[test]
    fn a_version_that_is_no_number_is_left_to_the_reader() {
        for text in [
            "(version: )",
            "(version:",
            "(version: one)",
            "(version: 1.0)",
        ] {
            assert_eq!(brought_up(text, &[]).unwrap(), text);
        }
    }

    #[test]
    fn the_steps_lead_to_the_version_that_is_written() {
        let newest = 1 + MIGRATIONS.len();
        assert_eq!(newest.to_string(), layout::project::VERSION.to_string());
    }
}
