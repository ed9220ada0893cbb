//! Recovery copies: what was not saved when the program ended.
//!
//! Every running program has one copy at most, under a name of its own. A copy is a project file
//! whose first line, a comment, says what it is a copy of; a second one holds the plate that is being measured,
//! if there is one. While its owner runs, the owner holds a
//! lock on the file of the same name with `.lock` behind it; the system lets go of the lock when
//! the process ends, however it ends.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use layout::Project;
use layout::shelf::{Measured, ShelfPlate};
use serde::{Deserialize, Serialize};

use super::{Keep, make};
use crate::files::{Backup, FileError, parse, replace, text_of, to_text};

/// What stands before [`About`] in the first line of a copy.
const MARK: &str = "// Recovery copy: ";

/// What stands before [`Unshelved`] in the second line.
const UNSHELVED: &str = "// Measured plate: ";

/// What a copy is a copy of.
#[derive(Default, Serialize, Deserialize)]
struct About {
    file: Option<PathBuf>,
    taken: Option<Timestamp>,
}

/// A plate that is being measured and on no shelf yet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unshelved {
    /// What is known of it.
    pub plate: Measured,
    /// The plate of a shelf that it takes the place of, and the shelf's file; None of a new one.
    pub of: Option<(PathBuf, ShelfPlate)>,
}

impl Unshelved {
    /// The same as a text can hold it: a path that is no Unicode cannot be written, and the plate is a new one
    /// then.
    fn in_text(&self) -> Self {
        let whole = |(path, old): &(PathBuf, ShelfPlate)| Some((written(path)?, old.clone()));
        Self {
            plate: self.plate.clone(),
            of: self.of.as_ref().and_then(whole),
        }
    }

    /// What a line of a copy holds; None if it is another one, or holds what no plate can be.
    fn read(line: &str) -> Option<Self> {
        let read: Self = ron::from_str(line.strip_prefix(UNSHELVED)?).ok()?;
        read.plate.check().is_ok().then_some(read)
    }
}

/// A path from the root, if it can be written into a text.
fn written(path: &Path) -> Option<PathBuf> {
    let whole = std::path::absolute(path).ok()?;
    whole.to_str().is_some().then_some(whole)
}

/// A copy on the disk that this program holds.
#[derive(Debug)]
pub struct CopyFile {
    path: PathBuf,
    lock: Option<File>,
}

impl CopyFile {
    /// Takes hold of a copy, unless a running program has it. Where nothing can be locked, nobody
    /// can be told to have it.
    fn take(path: PathBuf) -> Option<Self> {
        let lock = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(lock_of(&path))
            .ok();
        match lock.as_ref().map(File::try_lock) {
            Some(Err(TryLockError::WouldBlock)) => None,
            _ => Some(Self { path, lock }),
        }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Takes it off the disk.
    ///
    /// # Errors
    /// A [`FileError`] if it stays there.
    pub fn remove(self) -> Result<(), FileError> {
        let gone = match fs::remove_file(&self.path) {
            Err(error) if error.kind() != ErrorKind::NotFound => Err(FileError::new(
                format!(
                    "The recovery copy `{}` cannot be deleted: {error}.",
                    self.path.display()
                ),
                "Delete it by hand.",
            )),
            _ => Ok(()),
        };
        drop(self.lock);
        // A lock without a copy means nothing to anybody.
        let _ = fs::remove_file(lock_of(&self.path));
        gone
    }
}

fn lock_of(copy: &Path) -> PathBuf {
    copy.with_extension("lock")
}

/// The one copy of this running program.
#[derive(Debug)]
pub struct Recovery {
    folder: Option<PathBuf>,
    name: String,
    copy: Option<CopyFile>,
}

impl Recovery {
    /// Copies go there; without a place, none are kept.
    pub fn of(keep: Option<&Keep>) -> Self {
        let started = Timestamp::now().as_nanosecond();
        Self {
            folder: keep.map(Keep::copies),
            name: format!("{}-{started}.ron", std::process::id()),
            copy: None,
        }
    }

    /// Writes the copy: the project as it stands, the file that it belongs to, and the plate that is being
    /// measured.
    ///
    /// # Errors
    /// A [`FileError`]; an older copy is then as it was.
    pub fn write(
        &mut self,
        project: &Project,
        file: Option<&Path>,
        measured: Option<&Unshelved>,
        taken: Timestamp,
    ) -> Result<(), FileError> {
        let Some(folder) = &self.folder else {
            return Ok(());
        };
        make(folder)?;
        if self.copy.is_none() {
            self.copy = CopyFile::take(folder.join(&self.name));
        }
        let Some(copy) = &self.copy else {
            return Err(FileError::new(
                format!("Another program has the recovery copy `{}`.", self.name),
                "Save the character, and start the program again.",
            ));
        };
        let about = About {
            file: file.and_then(written),
            taken: Some(taken),
        };
        replace(&copy.path, Backup::None, |out| {
            let about = ron::to_string(&about).map_err(io::Error::other)?;
            writeln!(out, "{MARK}{about}")?;
            if let Some(measured) = measured {
                let measured = ron::to_string(&measured.in_text()).map_err(io::Error::other)?;
                writeln!(out, "{UNSHELVED}{measured}")?;
            }
            out.write_all(to_text(project).as_bytes())
        })
    }

    /// Goes on with a copy that was left over, in the place of the own one.
    ///
    /// # Errors
    /// As [`Recovery::remove`].
    pub fn adopt(&mut self, copy: CopyFile) -> Result<(), FileError> {
        self.copy.replace(copy).map_or(Ok(()), CopyFile::remove)
    }

    /// Removes the copy, if there is one.
    ///
    /// # Errors
    /// A [`FileError`] if it stays there.
    pub fn remove(&mut self) -> Result<(), FileError> {
        self.copy.take().map_or(Ok(()), CopyFile::remove)
    }
}

/// A copy whose owner ended before its changes were saved.
#[derive(Debug)]
pub struct LeftCopy {
    /// The copy; no other program takes it meanwhile.
    pub copy: CopyFile,
    /// The file that it belongs to, if it was ever saved.
    pub file: Option<PathBuf>,
    /// When it was taken.
    pub taken: Option<Timestamp>,
    /// What is in it.
    pub project: Result<Project, FileError>,
    /// The plate that was being measured.
    pub measured: Option<Unshelved>,
}

impl LeftCopy {
    /// All that are kept there, newest first.
    pub fn all(keep: &Keep) -> Vec<Self> {
        let entries = fs::read_dir(keep.copies()).into_iter().flatten().flatten();
        let mut all: Vec<_> = entries
            .map(|entry| entry.path())
            .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
            .filter_map(CopyFile::take)
            // Its owner may have removed it a moment ago.
            .filter(|copy| copy.path.exists())
            .map(Self::read)
            .collect();
        all.sort_by(|a, b| (b.taken, &a.copy.path).cmp(&(a.taken, &b.copy.path)));
        all
    }

    fn read(copy: CopyFile) -> Self {
        let text = text_of(&copy.path);
        let mut lines = text.iter().flat_map(|text| text.lines());
        let about = lines.next().and_then(|line| line.strip_prefix(MARK));
        let measured = lines.next().and_then(Unshelved::read);
        let about: About = about
            .and_then(|about| ron::from_str(about).ok())
            .unwrap_or_default();
        let project = text.and_then(|text| parse(&text).map_err(|why| why.in_file(&copy.path)));
        Self {
            copy,
            file: about.file,
            taken: about.taken,
            project,
            measured,
        }
    }
}
