//! Folders that are made to be written into.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::error::FileError;

/// Makes a folder with all above it, if it is not there, and writes into it. If that fails, what was
/// made goes again.
///
/// # Errors
/// A [`FileError`] that names the folder if it cannot be made, else what `write` fails with.
pub(crate) fn in_folder<T>(
    folder: &Path,
    write: impl FnOnce() -> Result<T, FileError>,
) -> Result<T, FileError> {
    let missing: Vec<PathBuf> = folder
        .ancestors()
        .take_while(|above| !above.as_os_str().is_empty() && !above.exists())
        .map(Path::to_owned)
        .collect();
    let made = fs::create_dir_all(folder).map_err(|error| not_made(folder, &error));
    made.and_then(|()| write()).inspect_err(|_| {
        for made in &missing {
            // One that holds something is needed by somebody else and stays.
            let _ = fs::remove_dir(made);
        }
    })
}

fn not_made(folder: &Path, error: &io::Error) -> FileError {
    let name = folder.display();
    match error.kind() {
        ErrorKind::AlreadyExists => FileError::new(
            format!("`{name}` is a file, not a folder."),
            "Name a folder, or one that can be made.",
        ),
        ErrorKind::NotADirectory => FileError::new(
            format!("The folder `{name}` cannot be made: it would lie in a file."),
            "Name another folder.",
        ),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => FileError::new(
            format!("The folder `{name}` cannot be made: what it would lie in is write-protected."),
            "Name another folder.",
        ),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => FileError::new(
            format!("The folder `{name}` cannot be made: the disk is full."),
            "Make room, or choose another disk.",
        ),
        _ => FileError::new(
            format!("The folder `{name}` cannot be made: {error}."),
            "Name another folder.",
        ),
    }
}
