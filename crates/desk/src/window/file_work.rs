//! Reading and writing files from the window, and the questions that go with it.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;
use std::time::{Duration, Instant};

use egui::{Context, ViewportCommand};
use output::cut::CutPart;
use output::sheet::sheet_pdf;

use super::app::App;
use super::dialogs::TypedPath;
use super::import::{Becomes, Import};
use super::plain;
use super::shelf_work::Kept;
use super::state::{Desk, Notice};
use super::surroundings::Dialogs;
use crate::files::{self, Backup};
use crate::parts::CutFormat;

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// To read a project.
    Open,
    /// To write the project.
    Save,
    /// To write the sheet.
    Sheet,
    /// To write a part for the cutter.
    Cut(CutFormat),
    /// To write the solids for the printer into a folder.
    Solids,
    /// To write the fit gauge.
    Gauge,
    /// To trace a picture.
    Picture,
    /// To take an outline from a drawing.
    Drawing(Becomes),
    /// To read a shelf of plates.
    OpenShelf,
    /// To put a plate on a shelf.
    KeepOnShelf(Kept),
}

/// What is to happen once the project may be left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Intent {
    /// Start a plain one.
    New,
    /// Open a file; without a path, ask for one.
    Open(Option<PathBuf>),
    /// Close the window.
    Quit,
}

/// A desktop without a file dialog answers "nothing chosen" faster than anybody can cancel one.
const NO_DIALOG_HERE: Duration = Duration::from_millis(300);

/// What is under way with files.
pub(crate) struct FileWork {
    dialogs: Dialogs,
    waiting: Option<Waiting>,
    /// The typed-path dialog, while it is open.
    pub(crate) typed: Option<TypedPath>,
    /// What the close question is about, while it is asked.
    pub(crate) question: Option<Intent>,
    /// The drawing that an outline is taken from, while its dialog is open.
    pub(crate) import: Option<Import>,
    after_save: Option<Intent>,
    may_close: bool,
}

struct Waiting {
    purpose: Purpose,
    answer: Receiver<Answer>,
}

struct Answer {
    path: Option<PathBuf>,
    took: Duration,
}

impl Purpose {
    /// The extension of files that are written.
    fn extension(self) -> &'static str {
        self.extensions()[0]
    }

    /// The extensions of files that serve.
    fn extensions(self) -> &'static [&'static str] {
        match self {
            Self::Open | Self::Save | Self::OpenShelf | Self::KeepOnShelf(_) => &["ron"],
            Self::Sheet => &["pdf"],
            Self::Cut(CutFormat::Svg) => &["svg"],
            Self::Cut(CutFormat::Dxf) => &["dxf"],
            Self::Solids => &[""],
            Self::Gauge => &["stl"],
            Self::Picture => &["png", "jpg", "jpeg"],
            Self::Drawing(_) => &["svg", "dxf"],
        }
    }

    /// Whether a file is read, and not written.
    pub(crate) fn reads(self) -> bool {
        matches!(
            self,
            Self::Open | Self::Picture | Self::Drawing(_) | Self::OpenShelf
        )
    }

    /// Whether it takes the place of a file that is there already.
    pub(crate) fn replaces(self) -> bool {
        !self.reads() && !matches!(self, Self::Solids | Self::KeepOnShelf(_))
    }

    /// What its dialog is called.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a character",
            Self::Save => "Save the character",
            Self::Sheet => "Save the sheet as PDF",
            Self::Cut(CutFormat::Svg) => "Save the cut file as SVG",
            Self::Cut(CutFormat::Dxf) => "Save the cut file as DXF",
            Self::Solids => "Save the solids in a folder",
            Self::Gauge => "Save the fit gauge as STL",
            Self::Picture => "Choose a picture to trace",
            Self::OpenShelf => "Open a shelf of plates",
            Self::KeepOnShelf(_) => "Put the plate on a shelf",
            Self::Drawing(becomes) => becomes.title(),
        }
    }
}

impl FileWork {
    pub(crate) fn new(dialogs: Dialogs) -> Self {
        Self {
            dialogs,
            waiting: None,
            typed: None,
            question: None,
            import: None,
            after_save: None,
            may_close: false,
        }
    }

    /// Whether a dialog of the window's own is open, so that keys belong to it.
    pub(crate) fn is_asking(&self) -> bool {
        self.typed.is_some() || self.question.is_some() || self.import.is_some()
    }

    /// Whether the window is closing, with all questions answered.
    pub(crate) fn is_closing(&self) -> bool {
        self.may_close
    }

    /// Whether the desktop's file dialog has been asked for and has not answered.
    pub(crate) fn is_waiting(&self) -> bool {
        self.waiting.is_some()
    }

    /// Leaves the desktop's dialog alone and asks for a typed path.
    pub(crate) fn type_instead(&mut self) {
        if let Some(waiting) = self.waiting.take() {
            self.typed = Some(TypedPath::new(waiting.purpose, String::new()));
        }
    }

    /// Forgets what was to follow, since the maker cancelled.
    pub(crate) fn forget(&mut self) {
        self.typed = None;
        self.question = None;
        self.after_save = None;
    }

    fn ask_system(&mut self, purpose: Purpose, suggested: PathBuf, ctx: Context) {
        let (sender, answer) = mpsc::channel();
        self.waiting = Some(Waiting { purpose, answer });
        thread::spawn(move || {
            let asked = Instant::now();
            let path = system_dialog(purpose, &suggested);
            let took = asked.elapsed();
            // The window may have stopped waiting: then nobody wants the answer.
            let _ = sender.send(Answer { path, took });
            ctx.request_repaint();
        });
    }
}

fn system_dialog(purpose: Purpose, suggested: &Path) -> Option<PathBuf> {
    let kind = match purpose {
        Purpose::Open | Purpose::Save => "Gazewright character",
        Purpose::Sheet => "PDF",
        Purpose::Cut(_) | Purpose::Drawing(_) => "Drawing",
        Purpose::Solids => "Folder",
        Purpose::Gauge => "Solid",
        Purpose::Picture => "Picture",
        Purpose::OpenShelf | Purpose::KeepOnShelf(_) => "Shelf of plates",
    };
    let mut dialog = rfd::FileDialog::new()
        .set_title(purpose.title())
        .add_filter(kind, purpose.extensions());
    if let Some(folder) = suggested.parent().filter(|folder| folder.is_dir()) {
        dialog = dialog.set_directory(folder);
    }
    if let Some(name) = suggested.file_name() {
        dialog = dialog.set_file_name(name.to_string_lossy());
    }
    match purpose {
        Purpose::Open | Purpose::Picture | Purpose::Drawing(_) | Purpose::OpenShelf => {
            dialog.pick_file()
        }
        Purpose::Save
        | Purpose::Sheet
        | Purpose::Cut(_)
        | Purpose::Gauge
        | Purpose::KeepOnShelf(_) => dialog.save_file(),
        Purpose::Solids => dialog.pick_folder(),
    }
}

impl App {
    /// Takes what came in since the last frame: the answer of a file dialog, a dropped file, a
    /// wish to close.
    pub(crate) fn take_file_events(&mut self, ctx: &Context) {
        self.take_answer(ctx);
        let dropped = ctx.input(|input| {
            input
                .raw
                .dropped_files
                .first()
                .map(|file| file.path().to_owned())
        });
        if let Some(path) = dropped {
            self.take_dropped(path, ctx);
        }
        let closing = ctx.input(|input| input.viewport().close_requested());
        if closing && !self.files.may_close && !self.desk.may_be_left_for(&Intent::Quit) {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.files.question = Some(Intent::Quit);
        }
    }

    /// Does with a dropped file what its name says that it is for.
    fn take_dropped(&mut self, path: PathBuf, ctx: &Context) {
        let extension = path
            .extension()
            .map(|end| end.to_string_lossy().to_lowercase());
        let serves = |purpose: Purpose| {
            let known = purpose.extensions().iter();
            extension
                .as_deref()
                .is_some_and(|end| known.copied().any(|own| own == end))
        };
        let dropped = Becomes::dropped_on(&self.desk);
        let [picture, drawing] = [Purpose::Picture, Purpose::Drawing(dropped)];
        if serves(picture) {
            self.settle(picture, path, ctx);
        } else if serves(drawing) {
            self.settle(drawing, path, ctx);
        } else {
            self.leave_for(Intent::Open(Some(path)), ctx);
        }
    }

    fn take_answer(&mut self, ctx: &Context) {
        let Some(waiting) = &self.files.waiting else {
            return;
        };
        let purpose = waiting.purpose;
        let answer = match waiting.answer.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return,
            // The dialog's thread ended without an answer: there is no dialog here.
            Err(TryRecvError::Disconnected) => Answer {
                path: None,
                took: Duration::ZERO,
            },
        };
        self.files.waiting = None;
        match answer {
            Answer {
                path: Some(path), ..
            } => self.settle(purpose, path, ctx),
            Answer { path: None, took } if took < NO_DIALOG_HERE => {
                let suggested = self.suggested(purpose).display().to_string();
                self.files.typed = Some(TypedPath::new(purpose, suggested));
            }
            Answer { .. } => self.files.forget(),
        }
    }

    /// Does what is intended, after asking what becomes of unsaved changes.
    pub(crate) fn leave_for(&mut self, intent: Intent, ctx: &Context) {
        if self.desk.may_be_left_for(&intent) {
            self.go(intent, ctx);
        } else {
            self.files.question = Some(intent);
        }
    }

    /// Does what is intended; unsaved changes go.
    pub(crate) fn go(&mut self, intent: Intent, ctx: &Context) {
        match intent {
            Intent::New => self.start_with(Desk::new(plain::project(), None), ctx),
            Intent::Open(None) => self.ask_path(Purpose::Open, ctx),
            Intent::Open(Some(path)) => self.open(path, ctx),
            Intent::Quit => {
                self.files.may_close = true;
                self.drop_copy();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// Saves first, then does what is intended.
    pub(crate) fn save_then(&mut self, intent: Intent, ctx: &Context) {
        self.files.after_save = Some(intent);
        self.save(ctx);
    }

    /// Saves to the project's file; asks for one if it has none.
    pub(crate) fn save(&mut self, ctx: &Context) {
        match self.desk.file.clone() {
            Some(path) => self.settle(Purpose::Save, path, ctx),
            None => self.ask_path(Purpose::Save, ctx),
        }
    }

    /// Asks for a path.
    pub(crate) fn ask_path(&mut self, purpose: Purpose, ctx: &Context) {
        if self.files.is_waiting() {
            return;
        }
        let suggested = self.suggested(purpose);
        match self.files.dialogs {
            Dialogs::System => self.files.ask_system(purpose, suggested, ctx.clone()),
            Dialogs::Typed => {
                let text = suggested.display().to_string();
                self.files.typed = Some(TypedPath::new(purpose, text));
            }
        }
    }

    /// Does with a path what it was asked for. A name without an extension gets one.
    pub(crate) fn settle(&mut self, purpose: Purpose, path: PathBuf, ctx: &Context) {
        let named = with_extension(purpose, path.clone());
        if named != path && named.exists() {
            // The name that the maker agreed to was another one.
            let mut typed = TypedPath::new(purpose, named.display().to_string());
            typed.replaces = Some(named);
            self.files.typed = Some(typed);
            return;
        }
        match purpose {
            Purpose::Open => self.open(path, ctx),
            Purpose::Picture => self.take_picture(&path, ctx),
            Purpose::Drawing(becomes) => self.take_drawing(&path, becomes),
            Purpose::Save => self.write_project(named, ctx),
            Purpose::Sheet => self.write_sheet(&named),
            Purpose::Cut(format) => self.write_cut(&named, format),
            Purpose::Solids => self.write_solids(&path),
            Purpose::Gauge => self.write_gauge(&named),
            Purpose::OpenShelf => self.open_shelf(&path),
            Purpose::KeepOnShelf(kept) => {
                let path = path.with_extension(purpose.extension());
                match kept {
                    Kept::Project => self.keep_on_shelf(&path),
                    Kept::Measured => self.shelve_measured(&path),
                }
            }
        }
    }

    fn open(&mut self, path: PathBuf, ctx: &Context) {
        match files::read(&path) {
            Ok(project) => {
                self.start_with(Desk::new(project, Some(path.clone())), ctx);
                self.note_recent(&path);
            }
            Err(error) => self.not_opened(path, &error),
        }
    }

    fn write_project(&mut self, path: PathBuf, ctx: &Context) {
        let project = files::with_picture_relative(self.desk.project().clone(), &path);
        match files::save(&path, &project) {
            Ok(()) => {
                self.tell(format!("Saved in {}.", path.display()));
                self.note_recent(&path);
                self.desk.mark_saved(path);
                if let Some(intent) = self.files.after_save.take() {
                    self.go(intent, ctx);
                }
            }
            Err(error) => {
                self.files.after_save = None;
                self.trouble(format!("{error} {}", error.remedy()));
            }
        }
    }

    fn write_sheet(&mut self, path: &Path) {
        if !self.is_own_file("The sheet", path) && self.write_pdf(path) {
            self.tell_written(format!("The sheet is in {}.", path.display()), path);
        }
    }

    /// Whether a path is the character's own file; tells that `what` must not take its place.
    pub(crate) fn is_own_file(&mut self, what: &str, path: &Path) -> bool {
        let own = |file: &PathBuf| same_file(file, path);
        let own = self.desk.file.as_ref().is_some_and(own);
        if own {
            self.trouble(format!(
                "{what} would take the place of the character's own file. Choose another name."
            ));
        }
        own
    }

    /// Writes the sheet to a file; tells why if that fails.
    pub(crate) fn write_pdf(&mut self, path: &Path) -> bool {
        let inspector = &self.inspector;
        let foam_clearance = inspector.making.foam_clearance;
        let options = inspector.sheet.options(self.desk.unit, foam_clearance);
        let desk = &self.desk;
        let why = match sheet_pdf(desk.project(), desk.laid(), desk.report(), &options) {
            Err(error) => format!("{error} {}", error.remedy()),
            Ok(pdf) => match files::replace(path, Backup::None, |file| file.write_all(&pdf)) {
                Err(error) => format!("{error} {}", error.remedy()),
                Ok(()) => return true,
            },
        };
        self.trouble(why);
        false
    }

    fn tell(&mut self, text: String) {
        self.desk.notice = Some(Notice::good(text));
    }

    pub(crate) fn trouble(&mut self, text: String) {
        self.desk.notice = Some(Notice::trouble(text.trim_end()));
    }

    /// Says that something else did not work, behind what the notice says already.
    pub(crate) fn add_trouble(&mut self, text: &str) {
        let before = self.desk.notice.take();
        let before = before.map(|notice| notice.text + " ").unwrap_or_default();
        self.trouble(before + text);
    }

    /// The path that a dialog starts from: beside the project's file, named after the character.
    fn suggested(&self, purpose: Purpose) -> PathBuf {
        let folder = self.desk.file.as_deref().and_then(Path::parent);
        let folder = folder
            .map(Path::to_owned)
            .or_else(|| std::env::current_dir().ok());
        let folder = folder.unwrap_or_default();
        let sheet = self.inspector.sheet.part;
        let of_part = |part: CutPart| {
            let name = format!("{}-{}", self.short_name(), part.noun().replace(' ', "-"));
            Path::new(&name).with_extension(purpose.extension())
        };
        match (purpose, &self.desk.file) {
            (Purpose::Open | Purpose::Picture | Purpose::Drawing(_) | Purpose::OpenShelf, _) => {
                folder.join("")
            }
            (Purpose::Save, Some(file)) => file.clone(),
            (Purpose::Sheet, _) if sheet != CutPart::Plate => folder.join(of_part(sheet)),
            (Purpose::Sheet, Some(file)) => file.with_extension(purpose.extension()),
            (Purpose::Cut(_), _) => folder.join(of_part(self.inspector.making.part)),
            (Purpose::Gauge, _) => folder.join("fit-gauge.stl"),
            (Purpose::KeepOnShelf(_), _) => folder.join("plates.ron"),
            (Purpose::Solids, _) => folder.join(format!("{}-solids", self.short_name())),
            (_, None) => {
                let name = self.short_name();
                folder.join(name).with_extension(purpose.extension())
            }
        }
    }
}

fn with_extension(purpose: Purpose, path: PathBuf) -> PathBuf {
    if !purpose.replaces() || path.extension().is_some() {
        path
    } else {
        path.with_extension(purpose.extension())
    }
}

fn same_file(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}
