//! Writing parts for the cutter and the printer from the window.

use std::path::Path;

use super::app::App;
use super::plain;
use super::state::{Notice, Offer};
use crate::files::{self, Backup};
use crate::parts::{self, CutFormat, Written};

impl App {
    /// The name of the character's file without its ending; while it has none, one made of the
    /// character's name.
    pub(crate) fn short_name(&self) -> String {
        let file = self.desk.file.as_deref().and_then(Path::file_stem);
        file.map_or_else(
            || plain::file_name(&self.desk.project().name),
            |stem| stem.to_string_lossy().into_owned(),
        )
    }

    pub(crate) fn write_cut(&mut self, path: &Path, format: CutFormat) {
        if self.is_own_file("The cut file", path) {
            return;
        }
        let (desk, making) = (&self.desk, &self.inspector.making);
        let options = making.cut_options(desk.project());
        let cut = parts::cut_bytes(desk.project(), desk.laid(), making.part, &options, format);
        let written = cut.and_then(|(bytes, said)| {
            files::replace(path, Backup::None, |file| file.write_all(&bytes))?;
            Ok(said)
        });
        match written {
            Ok(said) => {
                let said = said.map_or_else(String::new, |said| format!(" {said}"));
                self.tell_written(format!("The cut file is {}.{said}", path.display()), path);
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    pub(crate) fn write_solids(&mut self, folder: &Path) {
        let (desk, making) = (&self.desk, &self.inspector.making);
        let options = making.solid_options(desk.project());
        match parts::write_solids(desk.project(), desk.laid(), &options, false, folder) {
            Ok(written) => {
                let names = written.files.iter().filter_map(|path| path.file_name());
                let names: Vec<_> = names.map(|name| name.to_string_lossy()).collect();
                let text = format!("In {}: {}.", folder.display(), names.join(", "));
                self.tell_written(with_warning(text, &written), folder);
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    pub(crate) fn write_gauge(&mut self, path: &Path) {
        if self.is_own_file("The fit gauge", path) {
            return;
        }
        match parts::write_gauge(self.desk.project(), path) {
            Ok(written) => {
                let text = format!("The fit gauge is {}.", path.display());
                self.tell_written(with_warning(text, &written), path);
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Says what was written, and offers to open the folder of it.
    pub(crate) fn tell_written(&mut self, text: String, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let folder = if path.is_dir() {
            Some(path.as_path())
        } else {
            path.parent()
        };
        let notice = Notice::good(text);
        self.desk.notice = Some(match folder {
            Some(folder) => notice.offering(Offer::OpenFolder(folder.to_owned())),
            None => notice,
        });
    }
}

fn with_warning(text: String, written: &Written) -> String {
    match written.warning() {
        Some(warning) => format!("{text} {warning}"),
        None => text,
    }
}
