//! A project, or a shelf of plates, from its text.

use layout::shelf::Shelf;
use layout::{Problem, Project};
use serde::de::DeserializeOwned;

use super::error::{FileError, Place};
use super::explain::explain;
use super::locate::{DEEPEST, Map};
use super::version::{MIGRATIONS, brought_up};

/// Reads a project from RON.
///
/// # Errors
/// A [`FileError`] with the line, the column and the field, if the text is no project of a version
/// that this build knows, or one that no plate can be laid out from. Where an older version was
/// brought up first, places are those in the text that came of it.
pub fn parse(text: &str) -> Result<Project, FileError> {
    let text = brought_up(sound(text)?, MIGRATIONS)?;
    checked(&text, Project::check)
}

/// Reads a shelf of plates from RON.
///
/// # Errors
/// A [`FileError`] with the line, the column and the field, if the text is no shelf, or one with a plate that
/// cannot be.
pub fn parse_shelf(text: &str) -> Result<Shelf, FileError> {
    checked(sound(text)?, Shelf::check)
}

/// The text without what editors put in front of it, if there is something in it that can be read.
fn sound(text: &str) -> Result<&str, FileError> {
    // Some editors put a byte-order mark in front; it says nothing about the project.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(FileError::new(
            "The file is empty.",
            "Open its backup (the same name with `.bak` behind it), or start anew.",
        ));
    }
    if let Some(byte) = Map::of(text).too_deep {
        return Err(FileError::new(
            format!("Brackets are nested more than {DEEPEST} deep."),
            "Take the brackets out that do not belong there.",
        )
        .at(Place::of(text, byte)));
    }
    Ok(text)
}

/// What a text holds, if it can be read and `check` has nothing against it.
fn checked<T: DeserializeOwned>(
    text: &str,
    check: impl Fn(&T) -> Result<(), Problem>,
) -> Result<T, FileError> {
    let read: T = ron::from_str(text).map_err(|error| explain(text, &Map::of(text), &error))?;
    check(&read).map_err(|problem| {
        let error = FileError::new(problem.sentence, problem.remedy).about(&problem.field);
        match Map::of(text).find(&problem.field) {
            Some(node) => error.at(Place::of(text, node.value)),
            None => error,
        }
    })?;
    Ok(read)
}
