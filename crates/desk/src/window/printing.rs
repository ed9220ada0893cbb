//! Printing the sheet: as a PDF in the desktop's viewer, which knows the printers.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use egui::Context;
use output::cut::CutPart;

use super::app::App;
use super::plain;
use super::state::{Notice, Offer};
use super::surroundings::Viewer;
use crate::keep::{self, Keep};

/// What is put behind the name of the character's file.
const SUFFIX: &str = "-sheet.pdf";

/// What the maker has to choose in the viewer.
const AT_FULL_SIZE: &str = "Print it at 100 %, not “fit to page”";

/// What is under way with the viewer.
pub(crate) struct Printing {
    keep: Option<Keep>,
    viewer: Viewer,
    asked: Option<Asked>,
}

/// A sheet or a folder that the viewer was asked to show.
struct Asked {
    path: PathBuf,
    answer: Receiver<Result<(), String>>,
}

impl Printing {
    pub(crate) fn new(keep: Option<Keep>, viewer: Viewer) -> Self {
        Self {
            keep,
            viewer,
            asked: None,
        }
    }

    /// Asks the viewer to show a sheet or a folder.
    fn view(&mut self, path: PathBuf, ctx: Context) {
        let (sender, answer) = mpsc::channel();
        let (viewer, shown) = (self.viewer, path.clone());
        thread::spawn(move || {
            // The window may be gone by now: then nobody wants the answer.
            let _ = sender.send(viewer(&shown));
            ctx.request_repaint();
        });
        self.asked = Some(Asked { path, answer });
    }
}

impl App {
    /// Writes the sheet and opens it in the desktop's viewer.
    pub(crate) fn print(&mut self, ctx: &Context) {
        let path = match self.print_path() {
            Ok(path) => path,
            Err(why) => return self.trouble(why),
        };
        if self.write_pdf(&path) {
            let text = format!("The sheet is in {}. {AT_FULL_SIZE}.", path.display());
            let offer = Offer::CopyPath(path.clone());
            self.desk.notice = Some(Notice::good(text).offering(offer));
            self.printing.view(path, ctx.clone());
        }
    }

    /// Opens a folder in the desktop's own window.
    pub(crate) fn open_folder(&mut self, folder: PathBuf, ctx: &Context) {
        self.printing.view(folder, ctx.clone());
    }

    /// Where a sheet that is printed goes: beside the character's file; while it has none, among
    /// the maker's data.
    fn print_path(&self) -> Result<PathBuf, String> {
        let sheet = |name: &str| match self.inspector.sheet.part {
            CutPart::Plate => format!("{name}{SUFFIX}"),
            part => format!("{name}-{}{SUFFIX}", part.noun().replace(' ', "-")),
        };
        if let Some(file) = &self.desk.file {
            let name = file.file_stem().unwrap_or_default().to_string_lossy();
            let path = file.with_file_name(sheet(&name));
            return Ok(std::path::absolute(&path).unwrap_or(path));
        }
        let Some(keep) = &self.printing.keep else {
            return Err("There is no folder to put the sheet in. Save the character first.".into());
        };
        let folder = keep.sheets();
        keep::make(&folder).map_err(|error| format!("{error} {}", error.remedy()))?;
        Ok(folder.join(sheet(&plain::file_name(&self.desk.project().name))))
    }

    /// Takes the viewer's answer, if it came in.
    pub(crate) fn take_viewer_answer(&mut self) {
        let Some(asked) = &self.printing.asked else {
            return;
        };
        let answer = match asked.answer.try_recv() {
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err("the attempt to open it broke off".to_owned()),
            Ok(answer) => answer,
        };
        let asked = self.printing.asked.take();
        if let (Err(why), Some(Asked { path, .. })) = (answer, asked) {
            self.desk.notice = Some(not_shown(&path, &why));
        }
    }
}

fn not_shown(path: &Path, why: &str) -> Notice {
    let place = path.display();
    let text = if path.is_dir() {
        format!("The folder is {place}, but nothing here shows it: {why}.")
    } else {
        format!("The sheet is in {place}, but nothing here shows it: {why}. {AT_FULL_SIZE}.")
    };
    Notice::trouble(text).offering(Offer::CopyPath(path.to_owned()))
}
