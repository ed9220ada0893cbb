//! The projects that were opened or saved last.

use std::path::{Path, PathBuf};

use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use super::{Keep, make};
use crate::files::{Backup, FileError, replace, text_of};

/// How many files the list holds.
pub const MOST_RECENT: usize = 10;

/// The list of recent files, newest first, each by its whole path.
///
/// Every window reads the list again before it changes it, so that two of them share one list. A
/// list that cannot be written is kept for this run alone.
#[derive(Clone, Debug, Default)]
pub struct Recent {
    file: Option<PathBuf>,
    paths: Vec<PathBuf>,
    /// Whether the file is no list, so that it stays as a backup when the list is written.
    broken: bool,
}

/// The list as its file holds it.
#[derive(Serialize, Deserialize)]
#[serde(rename = "Recent")]
struct List {
    files: Vec<String>,
}

impl Recent {
    /// The list that is kept there; without a place, an empty one that is kept nowhere.
    pub fn of(keep: Option<&Keep>) -> Self {
        Self {
            file: keep.map(Keep::recent_file),
            ..Self::default()
        }
    }

    /// The files, newest first.
    pub fn paths(&self) -> &[PathBuf] {
        &self.paths
    }

    /// Whether a file is on the list.
    pub fn holds(&self, path: &Path) -> bool {
        self.paths.contains(&whole(path))
    }

    /// Reads the list as it is kept now.
    ///
    /// # Errors
    /// A [`FileError`] if it cannot be read; the list then stays as it was.
    pub fn refresh(&mut self) -> Result<(), FileError> {
        let Some(file) = self.file.as_ref().filter(|file| file.exists()) else {
            return Ok(());
        };
        let list = text_of(file).and_then(|text| parse(&text).map_err(|why| why.in_file(file)));
        self.broken = list.is_err();
        self.paths = list?;
        Ok(())
    }

    /// Puts a file at the head of the list.
    ///
    /// # Errors
    /// A [`FileError`] if the list cannot be kept.
    pub fn note(&mut self, path: &Path) -> Result<(), FileError> {
        self.change(|paths| {
            let path = whole(path);
            paths.retain(|other| *other != path);
            paths.insert(0, path);
            paths.truncate(MOST_RECENT);
        })
    }

    /// Drops a file from the list.
    ///
    /// # Errors
    /// As [`Recent::note`].
    pub fn forget(&mut self, path: &Path) -> Result<(), FileError> {
        let path = whole(path);
        self.change(|paths| paths.retain(|other| *other != path))
    }

    /// Empties the list.
    ///
    /// # Errors
    /// As [`Recent::note`].
    pub fn clear(&mut self) -> Result<(), FileError> {
        self.change(Vec::clear)
    }

    fn change(&mut self, change: impl FnOnce(&mut Vec<PathBuf>)) -> Result<(), FileError> {
        // What is wrong with a list that cannot be read has been told when it was read first.
        let _told = self.refresh();
        change(&mut self.paths);
        let written = self.write();
        if written.is_err() {
            self.file = None;
        }
        written
    }

    fn write(&mut self) -> Result<(), FileError> {
        let Some(file) = &self.file else {
            return Ok(());
        };
        if let Some(folder) = file.parent() {
            make(folder)?;
        }
        let backup = if self.broken {
            Backup::Keep
        } else {
            Backup::None
        };
        let text = text(&self.paths);
        replace(file, backup, |out| out.write_all(text.as_bytes()))?;
        self.broken = false;
        Ok(())
    }
}

fn parse(text: &str) -> Result<Vec<PathBuf>, FileError> {
    let list: List = ron::from_str(text).map_err(|error| {
        FileError::new(
            format!("This is no list of recent files: {error}."),
            "The list starts anew; what stood there is kept beside it as a backup.",
        )
    })?;
    let paths = list.files.into_iter().map(PathBuf::from);
    Ok(paths.take(MOST_RECENT).collect())
}

/// The list's text. A path that is no Unicode is left out: RON cannot hold it.
fn text(paths: &[PathBuf]) -> String {
    let files = paths.iter().filter_map(|path| path.to_str());
    let list = List {
        files: files.map(str::to_owned).collect(),
    };
    let pretty = PrettyConfig::new().struct_names(true);
    ron::ser::to_string_pretty(&list, pretty).expect("RON can hold a list of texts") + "\n"
}

/// The path from the root, so that it means the same wherever the program is started.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}
