//! Projects on the disk.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

use layout::Project;

use super::error::{FileError, Place};
use super::parse::parse;
use super::replace::{Backup, replace};
use super::text::to_text;

/// Largest file that is read, bytes. The longest outlines and lists that a project may have take
/// a quarter of a MiB.
pub const LARGEST_FILE: u64 = 4 * 1024 * 1024;

/// Reads a project from a file.
///
/// # Errors
/// A [`FileError`] that names the file and, where there is one, the place and the field.
pub fn read(path: &Path) -> Result<Project, FileError> {
    parse(&text_of(path)?).map_err(|error| error.in_file(path))
}

/// The text of a file that is no larger than [`LARGEST_FILE`].
///
/// # Errors
/// A [`FileError`] that names the file and, where there is one, the place.
pub(crate) fn text_of(path: &Path) -> Result<String, FileError> {
    String::from_utf8(bytes_of(path, LARGEST_FILE, &PROJECT)?).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let good = String::from_utf8_lossy(&error.as_bytes()[..good]);
        FileError::new(
            "This is not text in UTF-8.",
            "Save the file as UTF-8, or name a project file (`.ron`).",
        )
        .at(Place::of(&good, good.len()))
        .in_file(path)
    })
}

/// Saves a project. The file that was there stays as [`super::backup_of`] it.
///
/// # Errors
/// A [`FileError`]; the old file is then as it was.
pub fn save(path: &Path, project: &Project) -> Result<(), FileError> {
    replace(path, Backup::Keep, |file: &mut dyn Write| {
        file.write_all(to_text(project).as_bytes())
    })
}

/// What kind of file is read, for what is said of one that cannot be it.
pub(crate) struct Wanted {
    /// What should be named instead.
    pub(crate) what: &'static str,
    /// The way out where a file is too large.
    pub(crate) smaller: &'static str,
}

const PROJECT: Wanted = Wanted {
    what: "a project file (`.ron`)",
    smaller: "Name a project file (`.ron`): none is that large.",
};

/// The bytes of a file that has no more than `most` of them.
///
/// # Errors
/// A [`FileError`] that names the file.
pub(crate) fn bytes_of(path: &Path, most: u64, wanted: &Wanted) -> Result<Vec<u8>, FileError> {
    const MIB: f64 = 1024.0 * 1024.0;
    let failed = |error: io::Error| not_read(path, &error);
    let name = path.display();
    // Asked before opening: opening a pipe would wait for somebody to write into it.
    let kind = fs::metadata(path).map_err(failed)?;
    if kind.is_dir() {
        return Err(FileError::new(
            format!("`{name}` is a folder, not a file."),
            format!("Name {} in it.", wanted.what),
        ));
    }
    if !kind.is_file() {
        return Err(FileError::new(
            format!("`{name}` is a device or a pipe, not a file."),
            format!("Name {}.", wanted.what),
        ));
    }
    let mut bytes = Vec::new();
    let mut file = File::open(path).map_err(failed)?.take(most + 1);
    file.read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() as u64 > most {
        return Err(FileError::new(
            format!("`{name}` is larger than {:.0} MiB.", most as f64 / MIB),
            wanted.smaller,
        ));
    }
    Ok(bytes)
}

fn not_read(path: &Path, error: &io::Error) -> FileError {
    let name = path.display();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => FileError::new(
            format!("`{name}` is not there."),
            "Check the name and the folder.",
        ),
        ErrorKind::PermissionDenied => FileError::new(
            format!("`{name}` may not be read."),
            "Give yourself the right to read it, or copy it.",
        ),
        _ => FileError::new(
            format!("`{name}` cannot be read: {error}."),
            "Copy it to another place and try again.",
        ),
    }
}
