//! What the window reaches outside itself: the desktop's dialogs, its viewer, the maker's folder.

use std::io::ErrorKind;
use std::path::Path;
use std::time::Duration;

use crate::keep::Keep;

/// Whether the desktop's file dialog is asked for, or a path is typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dialogs {
    /// The desktop's own; a typed path where it has none.
    System,
    /// A typed path.
    Typed,
}

/// Opens a file in the program that the desktop has for it; says why if there is none, in words
/// that end a sentence. It is asked off the window's own thread.
pub type Viewer = fn(&Path) -> Result<(), String>;

/// What a window has around it.
#[derive(Clone, Debug)]
pub struct Surroundings {
    /// How paths are asked for.
    pub dialogs: Dialogs,
    /// Where recent files and recovery copies are kept; without it, they end with the program.
    pub keep: Option<Keep>,
    /// What shows a sheet.
    pub viewer: Viewer,
}

impl Surroundings {
    /// Those of the maker's desktop.
    pub fn of_desktop() -> Self {
        Self {
            dialogs: Dialogs::System,
            keep: Keep::of_user(),
            viewer: system_viewer,
        }
    }

    /// None at all: paths are typed, nothing is kept, nothing shows a sheet.
    pub fn none() -> Self {
        Self {
            dialogs: Dialogs::Typed,
            keep: None,
            viewer: |_| Err("there is no desktop".to_owned()),
        }
    }
}

/// How long each of the desktop's launchers is watched for a failure. One that still runs then has
/// found a program: it waits for it to end.
const LAUNCH: Duration = Duration::from_secs(3);

fn system_viewer(path: &Path) -> Result<(), String> {
    open::that_detached_with_timeout(path, LAUNCH).map_err(|error| match error.kind() {
        ErrorKind::NotFound => "this system has no way to open files".to_owned(),
        // What a launcher says of itself names its command and a number.
        _ => "this system has no program for it".to_owned(),
    })
}
