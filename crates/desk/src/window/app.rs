//! The window as a whole: its panels, and the one place where commands are carried out.

use std::path::PathBuf;

use egui::{CentralPanel, Context, Frame, Margin, Panel, Rect, Ui, UiBuilder, ViewportCommand};
use layout::Project;
use layout::closed_curve::CurveOf;

use super::command::Command;
use super::file_work::{FileWork, Intent, Purpose};
use super::import::Becomes;
use super::inspector::Inspector;
use super::placing::Placing;
use super::printing::Printing;
use super::proposing::Asked;
use super::recent::RecentFiles;
use super::recovery::Copies;
use super::shelf_work::{Kept, Looking, OpenShelf, Ranking};
use super::spacing_work::Scanning;
use super::state::Desk;
use super::step::Step;
use super::surroundings::Surroundings;
use super::theme::{GUTTER, Palette};
use super::views::Camera;
use super::{column, notice, number_field, pieces, text_field, thread, top_bar, viewing};

/// The window.
pub struct App {
    pub(crate) desk: Desk,
    pub(crate) camera: Camera,
    pub(crate) inspector: Inspector,
    pub(crate) files: FileWork,
    pub(crate) recent: RecentFiles,
    pub(crate) copies: Copies,
    pub(crate) printing: Printing,
    /// The route that is being looked for.
    pub(crate) asked: Option<Asked>,
    /// The slots that are being looked for.
    pub(crate) placing: Option<Placing>,
    /// The spacing window that is being looked for.
    pub(crate) scanning: Option<Scanning>,
    /// The plates of the shelf that are being tried.
    pub(crate) ranking: Option<Ranking>,
    /// The plate of the shelf that is being looked at.
    pub(crate) looking: Option<Looking>,
    /// The name on its way while the maker types it.
    pub(crate) renaming: Option<top_bar::Renaming>,
    title: String,
}

impl App {
    /// A window on a project, and the file that it came from. [`super::theme::install`] gives its
    /// context the looks.
    pub fn new(path: Option<PathBuf>, project: Project, around: Surroundings) -> Self {
        let desk = Desk::new(project, path);
        let keep = around.keep.as_ref();
        let mut app = Self {
            inspector: Inspector::new(desk.project()),
            desk,
            camera: Camera::default(),
            files: FileWork::new(around.dialogs),
            recent: RecentFiles::of(keep),
            copies: Copies::of(keep),
            printing: Printing::new(around.keep.clone(), around.viewer),
            asked: None,
            placing: None,
            scanning: None,
            ranking: None,
            looking: None,
            renaming: None,
            title: String::new(),
        };
        app.start_recent();
        app
    }

    /// What the window is working on.
    pub fn desk(&self) -> &Desk {
        &self.desk
    }

    /// Where its front view looks.
    pub fn camera(&self) -> &Camera {
        &self.camera
    }

    /// Shows the window in the whole of `ui`.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let mut asked = self.asked_by_keys(&ctx);
        self.take_file_events(&ctx);
        self.take_viewer_answer();
        self.take_proposed();
        self.take_placed();
        self.scan_spacing(&ctx);
        self.rank_shelf(&ctx);
        self.look_at_plate(&ctx);
        if ctx.text_edit_focused() && ctx.input(|input| input.pointer.any_pressed()) {
            // What arrow keys stepped in a field is done before a drag can begin.
            self.desk.finish_gesture();
        }
        let palette = Palette::of(&ctx);
        let bar = Frame::new()
            .fill(palette.bar)
            .inner_margin(Margin::symmetric(16, 8));
        Panel::top("bar")
            .frame(bar)
            .show_separator_line(false)
            .show(ui, |ui| {
                asked = asked.or(top_bar::show(ui, self));
            });
        notice::show(ui, self);
        let desk = Frame::new()
            .fill(palette.desk)
            .inner_margin(Margin::same(pieces::whole(GUTTER)));
        CentralPanel::default().frame(desk).show(ui, |ui| {
            let rect = ui.available_rect_before_wrap();
            let split = rect.right() - column::WIDTH;
            within(ui, "middle", rect.with_max_x(split - GUTTER), |ui| {
                asked = asked.or(thread::show(ui, &self.desk));
                asked = asked.or(viewing::show(ui, &mut self.desk, &mut self.camera));
            });
            within(ui, "column", rect.with_min_x(split), |ui| {
                asked = asked.or(column::show(ui, self));
            });
        });
        self.show_dialogs(&ctx);
        if let Some(command) = asked {
            self.carry_out(command, &ctx);
        }
        if let Some(path) = self.recent.chosen.take() {
            self.leave_for(Intent::Open(Some(path)), &ctx);
        }
        self.keep_copy(&ctx);
        self.keep_title(&ctx);
    }

    /// Carries a command out.
    pub fn carry_out(&mut self, command: Command, ctx: &Context) {
        match command {
            Command::New => self.leave_for(Intent::New, ctx),
            Command::Open => self.leave_for(Intent::Open(None), ctx),
            Command::Save => self.save(ctx),
            Command::SaveAs => self.ask_path(Purpose::Save, ctx),
            Command::SaveSheet => self.ask_path(Purpose::Sheet, ctx),
            Command::Print => self.print(ctx),
            Command::ClearRecent => self.clear_recent(),
            Command::SaveCut(format) => self.ask_path(Purpose::Cut(format), ctx),
            Command::SaveSolids => self.ask_path(Purpose::Solids, ctx),
            Command::SaveGauge => self.ask_path(Purpose::Gauge, ctx),
            Command::TracePicture => self.ask_path(Purpose::Picture, ctx),
            Command::ImportHead => self.ask_path(Purpose::Drawing(CurveOf::Head.into()), ctx),
            Command::ImportPlate => self.ask_path(Purpose::Drawing(CurveOf::Plate.into()), ctx),
            Command::OpenShelf => self.ask_path(Purpose::OpenShelf, ctx),
            Command::KeepOnShelf => match self.desk.shelf.as_ref().map(|open| open.path.clone()) {
                Some(path) => self.keep_on_shelf(&path),
                None => self.ask_path(Purpose::KeepOnShelf(Kept::Project), ctx),
            },
            Command::MeasurePlate => self.measure_plate(ctx),
            Command::ImportMeasured => self.ask_path(Purpose::Drawing(Becomes::Measured), ctx),
            Command::ShelveMeasured => self.shelve(ctx),
            Command::Undo => self.step_back(ctx),
            Command::Redo => {
                forget_drafts(ctx);
                self.desk.redo();
            }
            Command::Rename => self.renaming = Some(top_bar::Renaming::of(self.desk.project())),
            Command::ProposeRoute => {
                self.desk.show_step(Step::Drives);
                self.propose(ctx);
            }
            Command::ProposeSlots => {
                self.desk.show_step(Step::Plate);
                self.place_slots(ctx);
            }
            Command::TurnOver => self.camera.seen = self.camera.seen.turned(),
            Command::Show(step) => self.desk.show_step(step),
            Command::Quit => self.leave_for(Intent::Quit, ctx),
        }
    }

    /// Takes the last change back; what was refused in a field goes with it.
    pub(crate) fn step_back(&mut self, ctx: &Context) {
        forget_drafts(ctx);
        self.desk.undo();
    }

    /// The command of the keys that were pressed. A field that is being typed in commits first: it
    /// loses the focus now and is shown before the command is carried out.
    fn asked_by_keys(&self, ctx: &Context) -> Option<Command> {
        if self.files.is_asking() || self.copies.is_offering() {
            return None;
        }
        let command = Command::pressed(ctx)?;
        if ctx.text_edit_focused() {
            ctx.memory_mut(|memory| {
                if let Some(field) = memory.focused() {
                    memory.surrender_focus(field);
                }
            });
        }
        Some(command)
    }

    /// Starts again with another project; how it is looked at stays.
    pub(crate) fn start_with(&mut self, mut desk: Desk, ctx: &Context) {
        forget_drafts(ctx);
        desk.unit = self.desk.unit;
        desk.step = self.desk.step;
        desk.mirror = self.desk.mirror;
        desk.spacing_shown = self.desk.spacing_shown;
        desk.shelf = self.desk.shelf.take().map(OpenShelf::again);
        desk.measuring = self.desk.measuring.take();
        self.inspector = Inspector::new(desk.project());
        self.desk = desk;
        self.asked = None;
        self.placing = None;
        self.scanning = None;
        self.ranking = None;
        self.looking = None;
        self.camera.ask_to_frame_all();
        self.renaming = None;
    }

    fn keep_title(&mut self, ctx: &Context) {
        let dot = if self.desk.history().is_saved() {
            ""
        } else {
            "• "
        };
        let title = format!(
            "{dot}{} — Gazewright",
            top_bar::shown_name(self.desk.project())
        );
        if title != self.title {
            self.title.clone_from(&title);
            ctx.send_viewport_cmd(ViewportCommand::Title(title));
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        self.keep_copy_hidden(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }
}

/// Shows something in a part of the window.
fn within(ui: &mut Ui, name: &str, rect: Rect, add: impl FnOnce(&mut Ui)) {
    ui.scope_builder(UiBuilder::new().id_salt(name).max_rect(rect), add);
}

/// Forgets what is being typed or was refused, since something else stands in the project.
fn forget_drafts(ctx: &Context) {
    number_field::forget_drafts(ctx);
    text_field::forget_drafts(ctx);
}
