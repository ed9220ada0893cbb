//! Putting a new file in the place of an old one, whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::error::FileError;

/// Whether the file that is replaced stays under another name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Backup {
    /// It stays as [`backup_of`] its path.
    Keep,
    /// It goes.
    None,
}

/// Where the backup of a file stands: beside it, with `.bak` behind its name.
pub fn backup_of(path: &Path) -> PathBuf {
    beside(path, |name| format!("{name}.bak"))
}

/// Writes a file through `write`: to a temporary file beside it, flushed to the disk, which then
/// takes its place in one step. If anything fails, the old file is as it was and nothing new is
/// left.
///
/// # Errors
/// A [`FileError`] that names the file and the way out.
pub fn replace(
    path: &Path,
    backup: Backup,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), FileError> {
    Ready::at(path, write)?.take_place(backup)
}

/// Writes several files as [`replace`] does, none of which takes its place before all are on the disk.
///
/// # Errors
/// A [`FileError`] that names the first file that cannot be written, and the way out.
pub fn replace_all(files: &[(PathBuf, Vec<u8>)]) -> Result<(), FileError> {
    let ready = |(path, bytes): &(PathBuf, Vec<u8>)| Ready::at(path, |file| file.write_all(bytes));
    let ready: Result<Vec<Ready>, FileError> = files.iter().map(ready).collect();
    let mut ready = ready?.into_iter();
    ready.try_for_each(|file| file.take_place(Backup::None))
}

/// A file that is on the disk, but not in its place yet.
struct Ready {
    path: PathBuf,
    target: PathBuf,
    temporary: Temporary,
    /// Whether a file stands in its place.
    replaces: bool,
}

impl Ready {
    fn at(
        path: &Path,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<Self, FileError> {
        let target = target_of(path)?;
        let failed = |error: &io::Error| not_written(path, error);
        let old = match fs::metadata(&target) {
            Ok(old) => Some(usable(path, old)?),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(failed(&error)),
        };
        let temporary = Temporary(beside(&target, |name| {
            format!(".{name}.{}.tmp", std::process::id())
        }));
        temporary
            .fill(old.as_ref(), write)
            .map_err(|error| failed(&error))?;
        Ok(Self {
            path: path.to_owned(),
            target,
            temporary,
            replaces: old.is_some(),
        })
    }

    fn take_place(self, backup: Backup) -> Result<(), FileError> {
        if self.replaces && backup == Backup::Keep {
            keep(&self.target).map_err(|error| not_kept(&self.path, &error))?;
        }
        fs::rename(&self.temporary.0, &self.target)
            .map_err(|error| not_written(&self.path, &error))?;
        sync_folder(&self.target);
        Ok(())
    }
}

/// The file that a path stands for: a link stays a link, and what it leads to is replaced.
fn target_of(path: &Path) -> Result<PathBuf, FileError> {
    if path.file_name().is_none() {
        return Err(is_folder(path));
    }
    Ok(fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()))
}

/// Refuses what cannot be replaced by a file.
fn usable(path: &Path, old: fs::Metadata) -> Result<fs::Metadata, FileError> {
    if old.is_dir() {
        return Err(is_folder(path));
    }
    if !old.is_file() {
        return Err(FileError::new(
            format!("`{}` is a device or a pipe, not a file.", path.display()),
            "Name a file in a folder.",
        ));
    }
    if old.permissions().readonly() {
        return Err(FileError::new(
            format!("`{}` is write-protected.", path.display()),
            "Take the protection off, or save under another name.",
        ));
    }
    Ok(old)
}

/// Keeps the old file as its backup. It is linked or copied under a name of its own first, so that
/// at no moment there is neither the old backup nor the new one.
fn keep(target: &Path) -> io::Result<()> {
    let backup = backup_of(target);
    let temporary = Temporary(beside(&backup, |name| {
        format!(".{name}.{}.tmp", std::process::id())
    }));
    temporary.clear()?;
    // Not every file system has links.
    if fs::hard_link(target, &temporary.0).is_err() {
        fs::copy(target, &temporary.0)?;
        File::open(&temporary.0)?.sync_all()?;
    }
    fs::rename(&temporary.0, &backup)
}

/// A file that is removed when it goes out of use, unless it was renamed.
struct Temporary(PathBuf);

impl Temporary {
    /// Makes room for the file: one of this name can only be left over from a process that ended
    /// before it was done.
    fn clear(&self) -> io::Result<()> {
        match fs::remove_file(&self.0) {
            Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }

    /// Writes the file to the disk, with the permissions of the old one.
    fn fill(
        &self,
        old: Option<&fs::Metadata>,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> io::Result<()> {
        self.clear()?;
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&self.0)?;
        if let Some(old) = old {
            file.set_permissions(old.permissions())?;
        }
        write(&mut file)?;
        file.flush()?;
        file.sync_all()
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        // Gone already if it was renamed; if it cannot be removed, there is nobody left to tell.
        let _ = fs::remove_file(&self.0);
    }
}

/// Puts the new name on the disk, too, where a folder can be opened for that. The file is in place
/// either way.
fn sync_folder(target: &Path) {
    let folder = target
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
}

/// The path with another file name.
fn beside(path: &Path, name: impl FnOnce(&str) -> String) -> PathBuf {
    let own = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(name(&own))
}

fn is_folder(path: &Path) -> FileError {
    FileError::new(
        format!("`{}` is a folder, not a file.", path.display()),
        "Name a file in it.",
    )
}

fn not_written(path: &Path, error: &io::Error) -> FileError {
    let name = path.display();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => FileError::new(
            format!("`{name}` cannot be written: its folder is not there."),
            "Make the folder, or choose another one.",
        ),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => FileError::new(
            format!("`{name}` cannot be written: its folder is write-protected."),
            "Choose another folder.",
        ),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => FileError::new(
            format!("`{name}` cannot be written: the disk is full."),
            "Make room, or choose another disk; the old file is as it was.",
        ),
        _ => FileError::new(
            format!("`{name}` cannot be written: {error}."),
            "Choose another place; the old file is as it was.",
        ),
    }
}

fn not_kept(path: &Path, error: &io::Error) -> FileError {
    FileError::new(
        format!(
            "`{}` cannot be written: its backup `{}` cannot be kept: {error}.",
            path.display(),
            backup_of(path).display()
        ),
        "Move what stands in the backup's place, or save under another name.",
    )
}
