//! The window's own dialogs: a typed path, and what becomes of unsaved changes.

use std::path::PathBuf;

use egui::{Context, Id, Key, Modal, RichText, TextEdit, Ui, vec2};

use super::app::App;
use super::controls;
use super::file_work::{Intent, Purpose};
use super::pieces;
use super::theme::Palette;
use super::top_bar;

/// Width of a dialog, in points.
pub(super) const WIDTH: f32 = 460.0;

/// Room at a dialog's edge, in points.
const MARGIN: i8 = 20;

/// A path on its way.
pub(crate) struct TypedPath {
    pub(crate) purpose: Purpose,
    text: String,
    /// The file that would be replaced, once that has been asked about.
    pub(crate) replaces: Option<PathBuf>,
    opened: bool,
}

impl TypedPath {
    pub(crate) fn new(purpose: Purpose, text: String) -> Self {
        Self {
            purpose,
            text,
            replaces: None,
            opened: false,
        }
    }

    /// The path that the text stands for; `~/` is the maker's own folder.
    fn path(&self) -> PathBuf {
        let text = self.text.trim();
        match (text.strip_prefix("~/"), std::env::var_os("HOME")) {
            (Some(rest), Some(home)) => PathBuf::from(home).join(rest),
            _ => PathBuf::from(text),
        }
    }
}

/// What was decided in a dialog.
#[derive(Clone, Copy)]
pub(super) enum Answer {
    Cancel,
    Go,
    Save,
    Discard,
}

impl App {
    /// Shows the dialog that is open, if one is.
    pub(crate) fn show_dialogs(&mut self, ctx: &Context) {
        if let Some(intent) = self.files.question.clone() {
            self.show_question(intent, ctx);
        } else if self.files.import.is_some() {
            self.show_import(ctx);
        } else if self.copies.is_offering() {
            self.show_left_copies(ctx);
        } else if let Some(mut typed) = self.files.typed.take() {
            let answer = typed.show(ctx);
            match answer {
                None => self.files.typed = Some(typed),
                Some(Answer::Go) => self.settle_typed(typed, ctx),
                Some(_) => self.files.forget(),
            }
        }
    }

    /// Uses a typed path; asks first if a file would be replaced.
    fn settle_typed(&mut self, mut typed: TypedPath, ctx: &Context) {
        let path = typed.path();
        let writes = typed.purpose.replaces();
        let own = self.desk.file.as_ref() == Some(&path) && typed.purpose == Purpose::Save;
        if writes && path.exists() && !own && typed.replaces.as_ref() != Some(&path) {
            typed.replaces = Some(path);
            self.files.typed = Some(typed);
        } else {
            self.settle(typed.purpose, path, ctx);
        }
    }

    fn show_question(&mut self, intent: Intent, ctx: &Context) {
        let name = top_bar::shown_name(self.desk.project()).to_owned();
        let saved = self.desk.history().is_saved();
        let mut answer = None;
        let modal = modal("close question", ctx).show(ctx, |ui| {
            ui.set_width(WIDTH);
            pieces::heading(
                ui,
                if saved {
                    "Close the window?"
                } else {
                    "Save the changes?"
                },
            );
            if self.desk.loses_measured(&intent) {
                ui.label(
                    "The plate that you measure is on no shelf yet, and goes with the window.",
                );
            }
            answer = if saved {
                let all = [("Cancel", Answer::Cancel), ("Close", Answer::Discard)];
                buttons(ui, &all, true, 0)
            } else {
                ui.label(format!("{name} has changes that are in no file yet."));
                let all = [
                    ("Save", Answer::Save),
                    ("Cancel", Answer::Cancel),
                    ("Discard", Answer::Discard),
                ];
                buttons(ui, &all, true, 0)
            };
        });
        if modal.should_close() {
            answer = Some(Answer::Cancel);
        }
        let Some(answer) = answer else {
            return;
        };
        self.files.question = None;
        match answer {
            Answer::Save => self.save_then(intent, ctx),
            Answer::Discard => self.go(intent, ctx),
            Answer::Cancel | Answer::Go => self.files.forget(),
        }
    }
}

impl TypedPath {
    fn show(&mut self, ctx: &Context) -> Option<Answer> {
        let mut answer = None;
        let modal = modal("typed path", ctx).show(ctx, |ui| {
            ui.set_width(WIDTH);
            pieces::heading(ui, self.purpose.title());
            let label = ui.label("Path of the file").id;
            let edit = TextEdit::singleline(&mut self.text)
                .margin(pieces::FIELD_MARGIN)
                .min_size(vec2(WIDTH, pieces::FIELD_HEIGHT))
                .desired_width(WIDTH);
            let field = ui.add(edit).labelled_by(label);
            if !std::mem::replace(&mut self.opened, true) {
                field.request_focus();
                pieces::select_all(ctx, field.id, &self.text);
            }
            if field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter)) {
                answer = Some(Answer::Go);
            }
            let replaces = self
                .replaces
                .as_ref()
                .is_some_and(|path| *path == self.path());
            if replaces {
                let name = self.path().display().to_string();
                let colour = Palette::of(ctx).tight;
                ui.label(
                    RichText::new(format!("{name} is already there. Replace it?")).color(colour),
                );
            }
            let go = match (self.purpose, replaces) {
                (Purpose::Open | Purpose::OpenShelf, _) => "Open it",
                (Purpose::KeepOnShelf(_), _) => "Put it there",
                (Purpose::Picture, _) => "Take it",
                (Purpose::Drawing(_), _) => "Read it",
                (_, false) => "Save it",
                (_, true) => "Replace it",
            };
            let all = [(go, Answer::Go), ("Cancel", Answer::Cancel)];
            // Enter alone replaces no file.
            answer = buttons(ui, &all, true, usize::from(replaces)).or(answer.take());
        });
        let closed = modal.should_close();
        answer
            .or(closed.then_some(Answer::Cancel))
            .filter(|answer| {
                // There is nothing to open or to save yet.
                !(matches!(answer, Answer::Go) && self.text.trim().is_empty())
            })
    }
}

/// A dialog on a sheet of paper.
pub(super) fn modal(name: &str, ctx: &Context) -> Modal {
    let frame = pieces::paper(&Palette::of(ctx))
        .inner_margin(MARGIN)
        .shadow(ctx.global_style().visuals.window_shadow);
    Modal::new(Id::unique(name)).frame(frame)
}

/// The buttons at a dialog's foot, the strong one first, at the right. The one at `focus` has the
/// keyboard's focus unless something else has it. The strong one can be clicked once all is `ready`.
pub(super) fn buttons<const N: usize>(
    ui: &mut Ui,
    all: &[(&str, Answer); N],
    ready: bool,
    focus: usize,
) -> Option<Answer> {
    let mut clicked = None;
    ui.add_space(12.0);
    ui.horizontal(|ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            for (index, (text, answer)) in all.iter().enumerate() {
                let response = if index == 0 {
                    ui.add_enabled_ui(ready, |ui| controls::strong_button(ui, text))
                        .inner
                } else {
                    controls::outlined_button(ui, text)
                };
                if index == focus && ui.memory(|memory| memory.focused().is_none()) {
                    response.request_focus();
                }
                if response.clicked() {
                    clicked = Some(*answer);
                }
            }
        });
    });
    clicked
}
