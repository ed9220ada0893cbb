//! What the program keeps for the maker from one run to the next, in a folder of its own.

mod copy;
mod recent;

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

use crate::files::FileError;

pub use copy::{CopyFile, LeftCopy, Recovery, Unshelved};
pub use recent::{MOST_RECENT, Recent};

/// The variable of the environment that names the folder, instead of the user's data folder.
pub const FOLDER_VARIABLE: &str = "GAZEWRIGHT_DATA";

/// What the folder is called among those of other programs.
const FOLDER: &str = "gazewright";

/// The folder; it is made when something is first written into it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keep {
    folder: PathBuf,
}

impl Keep {
    /// Keeps things in this folder.
    pub fn in_folder(folder: impl Into<PathBuf>) -> Self {
        Self {
            folder: folder.into(),
        }
    }

    /// Keeps things where [`FOLDER_VARIABLE`] says, else among the user's data. None for a user
    /// without a folder.
    pub fn of_user() -> Option<Self> {
        let named = env::var_os(FOLDER_VARIABLE).filter(|name| !name.is_empty());
        let folder = match named {
            Some(named) => PathBuf::from(named),
            None => {
                let strategy = etcetera::base_strategy::choose_native_strategy().ok()?;
                strategy.data_dir().join(FOLDER)
            }
        };
        std::path::absolute(folder).ok().map(Self::in_folder)
    }

    /// Where the list of recent files stands.
    pub fn recent_file(&self) -> PathBuf {
        self.folder.join("recent.ron")
    }

    /// The folder of the recovery copies.
    pub fn copies(&self) -> PathBuf {
        self.folder.join("recovery")
    }

    /// The folder for sheets of characters that are in no file yet.
    pub fn sheets(&self) -> PathBuf {
        self.folder.join("sheets")
    }
}

/// Makes a folder with all above it, if it is not there.
pub(crate) fn make(folder: &Path) -> Result<(), FileError> {
    fs::create_dir_all(folder).map_err(|error| {
        FileError::new(
            format!("The folder `{}` cannot be made: {error}.", folder.display()),
            format!("Name another one in `{FOLDER_VARIABLE}`, or make room for it."),
        )
    })
}
