//! Writing parts for the cutter and the printer from the window.

use std::path::Path;

use super::app::App;
use super::plain;
use super::state::{Notice, Offer};
use crate::files::{self, Backup};
use crate::parts::{self, CutFormat};

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
        let (desk, making) = (&self.desk, &self.inspector.making);
        let options = making.cut_options(desk.project());
        let bytes = parts::cut_bytes(desk.project(), desk.laid(), making.part, &options, format);
        let written = bytes
            .and_then(|bytes| files::replace(path, Backup::None, |file| file.write_all(&bytes)));
        match written {
            Ok(()) => self.tell_written(format!("The cut file is {}.", path.display()), path),
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    pub(crate) fn write_solids(&mut self, folder: &Path) {
        let (desk, making) = (&self.desk, &self.inspector.making);
        let options = making.solid_options(desk.project());
        match parts::write_solids(desk.project(), desk.laid(), &options, folder) {
            Ok(written) => {
                let names = written.files.iter().filter_map(|path| path.file_name());
                let names: Vec<_> = names.map(|name| name.to_string_lossy()).collect();
                let warning = written.too_large().map(|text| format!(" {text}"));
                let text = format!(
                    "In {}: {}.{}",
                    folder.display(),
                    names.join(", "),
                    warning.unwrap_or_default()
                );
                self.tell_written(text, folder);
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    pub(crate) fn write_gauge(&mut self, path: &Path) {
        match parts::write_gauge(self.desk.project(), path) {
            Ok(()) => self.tell_written(format!("The fit gauge is {}.", path.display()), path),
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Says what was written, and offers to open the folder of it.
    fn tell_written(&mut self, text: String, path: &Path) {
        let folder = if path.is_dir() {
            Some(path)
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
