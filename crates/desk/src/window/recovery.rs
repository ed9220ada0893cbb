//! Recovery copies: when one is taken, and what becomes of those that were left over.

use std::path::Path;
use std::time::Duration;

use egui::Context;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::app::App;
use super::state::{Desk, Notice};
use super::step::Step;
use super::top_bar;
use crate::files::FileError;
use crate::keep::{Keep, LeftCopy, Recovery, Unshelved};

/// How long a change is in no copy, seconds: what a power cut takes is soon done again.
pub const COPY_INTERVAL: f64 = 30.0;

/// What a copy holds: a project, by its revision, and the plate that is being measured.
type Held = (u64, Option<Unshelved>);

/// The copy of this window, and those of windows before it.
pub(crate) struct Copies {
    own: Recovery,
    /// The copies that are offered, until the maker has decided.
    pub(crate) left: Vec<LeftCopy>,
    /// The one of them that the maker is asked about once more before it is deleted.
    pub(crate) doomed: Option<usize>,
    /// What is in the copy.
    copied: Option<Held>,
    /// When a copy is to be taken, in seconds of the window's clock.
    due: Option<f64>,
    /// Whether the maker knows that no copy can be kept.
    told: bool,
}

impl Copies {
    pub(crate) fn of(keep: Option<&Keep>) -> Self {
        Self {
            own: Recovery::of(keep),
            left: keep.map(LeftCopy::all).unwrap_or_default(),
            doomed: None,
            copied: None,
            due: None,
            told: false,
        }
    }

    /// Whether copies are offered, so that keys belong to their dialog.
    pub(crate) fn is_offering(&self) -> bool {
        !self.left.is_empty()
    }
}

impl App {
    /// Takes a copy if one is due, and removes it once there is nothing to recover.
    pub(crate) fn keep_copy(&mut self, ctx: &Context) {
        let held = self.held();
        if self.desk.history().is_saved() && held.1.is_none() {
            return self.drop_copy();
        }
        if self.copies.copied == Some(held) || self.files.is_closing() {
            return;
        }
        let now = ctx.input(|input| input.time);
        let due = *self.copies.due.get_or_insert(now + COPY_INTERVAL);
        if now < due {
            ctx.request_repaint_after(Duration::from_secs_f64(due - now));
            return;
        }
        self.take_copy(ctx);
    }

    /// Takes a copy that is not due yet while the window is hidden: its clock stands still then.
    pub(crate) fn keep_copy_hidden(&mut self, ctx: &Context) {
        let hidden = ctx.input(|input| input.viewport().visible() == Some(false));
        if hidden && self.copies.due.is_some() {
            self.take_copy(ctx);
        }
    }

    /// What a copy taken now would hold.
    fn held(&self) -> Held {
        (self.desk.history().revision(), self.desk.unshelved())
    }

    fn take_copy(&mut self, ctx: &Context) {
        let (project, file) = (self.desk.project(), self.desk.file.as_deref());
        let held = self.held();
        let (measured, now) = (held.1.as_ref(), Timestamp::now());
        let written = self.copies.own.write(project, file, measured, now);
        self.copies.due = None;
        self.copies.copied = Some(held);
        match written {
            Ok(()) => self.copies.told = false,
            Err(error) if !self.copies.told => {
                self.copies.told = true;
                self.tell_of_copy("No recovery copy can be kept", &error);
                // The foot of this frame is painted already.
                ctx.request_repaint();
            }
            Err(_) => {}
        }
    }

    /// Removes the copy: what was in it is saved, or given up.
    pub(crate) fn drop_copy(&mut self) {
        self.copies.due = None;
        self.copies.copied = None;
        if let Err(error) = self.copies.own.remove() {
            self.tell_of_copy("A recovery copy is left", &error);
        }
    }

    /// Opens a copy that was left over: as unsaved changes of the file that it belongs to. The
    /// copy itself stays until they are saved or given up.
    pub(crate) fn open_copy(&mut self, left: LeftCopy, ctx: &Context) {
        let project = match left.project {
            Ok(project) => project,
            Err(error) => return self.trouble(format!("{error} {}", error.remedy())),
        };
        let saved_in = match &left.file {
            Some(file) => format!("{} stays as it is until you save.", file.display()),
            None => "It is in no file until you save.".to_owned(),
        };
        let taken = taken_at(left.taken);
        self.start_with(Desk::unsaved(project, left.file), ctx);
        if let Some(measured) = left.measured {
            self.desk.measuring = Some(measured.into());
            self.desk.show_step(Step::Plate);
        }
        self.desk.notice = Some(Notice::good(format!(
            "This copy was taken at {taken}. {saved_in}"
        )));
        let adopted = self.copies.own.adopt(left.copy);
        self.copies.due = None;
        self.copies.copied = Some(self.held());
        if let Err(error) = adopted {
            self.tell_of_copy("A recovery copy is left", &error);
        }
    }

    /// Deletes a copy that was left over.
    pub(crate) fn delete_copy(&mut self, left: LeftCopy) {
        let text = format!(
            "Deleted the copy of {}, taken at {}.",
            name_of(&left),
            taken_at(left.taken)
        );
        match left.copy.remove() {
            Ok(()) => self.desk.notice = Some(Notice::good(text)),
            Err(error) => self.tell_of_copy("A recovery copy is left", &error),
        }
    }

    fn tell_of_copy(&mut self, what: &str, error: &FileError) {
        self.add_trouble(&format!("{what}: {error} {}", error.remedy()));
    }
}

/// Whose copy it is.
pub(crate) fn name_of(left: &LeftCopy) -> String {
    match &left.project {
        Ok(project) => top_bar::shown_name(project).to_owned(),
        Err(_) => {
            let name = left.copy.path().file_name().unwrap_or_default();
            name.to_string_lossy().into_owned()
        }
    }
}

/// When a copy was taken, as the clock on the wall showed it.
pub(crate) fn taken_at(taken: Option<Timestamp>) -> String {
    let Some(taken) = taken else {
        return "an unknown time".to_owned();
    };
    let zone = TimeZone::system();
    let suffix = if zone.is_unknown() { " UTC" } else { "" };
    let time = taken.to_zoned(zone).strftime("%Y-%m-%d %H:%M");
    format!("{time}{suffix}")
}

/// Whether the copy's file was written after the copy was taken.
pub(crate) fn is_older_than_file(taken: Option<Timestamp>, file: Option<&Path>) -> bool {
    let modified = file.and_then(|file| file.metadata().ok()?.modified().ok());
    let modified = modified.and_then(|time| Timestamp::try_from(time).ok());
    matches!((taken, modified), (Some(taken), Some(modified)) if modified > taken)
}
