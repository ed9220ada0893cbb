//! A project from its text.

use layout::{Problem, Project};

use super::error::{FileError, Place};
use super::explain::explain;
use super::locate::{DEEPEST, Map, Node};
use super::version::{MIGRATIONS, brought_up};

/// Reads a project from RON.
///
/// # Errors
/// A [`FileError`] with the line, the column and the field, if the text is no project of a version
/// that this build knows, or one that no plate can be laid out from. Where an older version was
/// brought up first, places are those in the text that came of it.
pub fn parse(text: &str) -> Result<Project, FileError> {
    let text = brought_up(sound(text)?, MIGRATIONS)?;
    let map = Map::of(&text);
    let project: Project = ron::from_str(&text).map_err(|error| explain(&text, &map, &error))?;
    let checked = project.check();
    checked.map_err(|problem| {
        let node = map.find(&problem.field);
        located(problem, &text, node)
    })?;
    Ok(project)
}

/// The text without what editors put in front of it, if there is something in it that can be read.
pub(super) fn sound(text: &str) -> Result<&str, FileError> {
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

/// What is wrong with a value of a text, told with its place.
pub(super) fn located(problem: Problem, text: &str, node: Option<&Node<'_>>) -> FileError {
    let error = FileError::new(problem.sentence, problem.remedy).about(&problem.field);
    match node {
        Some(node) => error.at(Place::of(text, node.value)),
        None => error,
    }
}
