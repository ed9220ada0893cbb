//! The recent files as the window knows them.

use std::path::{Path, PathBuf};

use super::app::App;
use super::state::{Notice, Offer};
use crate::files::FileError;
use crate::keep::{Keep, Recent};

/// The list, and what is shown of it while the menu is open.
pub(crate) struct RecentFiles {
    list: Recent,
    /// What the menu shows, from when it was opened; empty while it is closed.
    pub(crate) shown: Option<Vec<Shown>>,
    /// The file that was chosen in the menu, until it is opened.
    pub(crate) chosen: Option<PathBuf>,
}

/// A recent file in the menu.
pub(crate) struct Shown {
    pub(crate) path: PathBuf,
    /// Whether it is gone.
    pub(crate) missing: bool,
}

impl RecentFiles {
    pub(crate) fn of(keep: Option<&Keep>) -> Self {
        Self {
            list: Recent::of(keep),
            shown: None,
            chosen: None,
        }
    }

    /// What the menu shows. The disk is asked once each time the menu is opened.
    pub(crate) fn open(&mut self) -> &[Shown] {
        let list = &mut self.list;
        self.shown.get_or_insert_with(|| {
            // What is wrong with the list was told at the start.
            let _told = list.refresh();
            let shown = |path: &PathBuf| Shown {
                path: path.clone(),
                missing: !path.exists(),
            };
            list.paths().iter().map(shown).collect()
        })
    }
}

impl App {
    /// Reads the list for the first time.
    pub(crate) fn start_recent(&mut self) {
        let read = self.recent.list.refresh();
        self.tell_of_list(read);
        if let Some(file) = self.desk.file.clone() {
            self.note_recent(&file);
        }
    }

    /// Puts a file that was opened or saved at the head of the list.
    pub(crate) fn note_recent(&mut self, path: &Path) {
        let kept = self.recent.list.note(path);
        self.tell_of_list(kept);
    }

    /// Drops a file from the list.
    pub(crate) fn forget_recent(&mut self, path: &Path) {
        let kept = self.recent.list.forget(path);
        self.tell_of_list(kept);
    }

    /// Empties the list.
    pub(crate) fn clear_recent(&mut self) {
        let kept = self.recent.list.clear();
        self.tell_of_list(kept);
    }

    /// The failure to open a file; one that is on the list can be dropped from it.
    pub(crate) fn not_opened(&mut self, path: PathBuf, error: &FileError) {
        let notice = Notice::trouble(format!("{error} {}", error.remedy()));
        let listed = self.recent.list.holds(&path);
        self.desk.notice = Some(match listed {
            true => notice.offering(Offer::Forget(path)),
            false => notice,
        });
    }

    fn tell_of_list(&mut self, kept: Result<(), FileError>) {
        if let Err(error) = kept {
            self.add_trouble(&format!(
                "The list of recent files cannot be kept: {error} {}",
                error.remedy()
            ));
        }
    }
}
