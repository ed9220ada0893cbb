//! The spacing window: looked for off the window's thread while it is shown.

use egui::Context;
use layout::spacing::{self, SpacingWindow};
use layout::{Edit, Project};

use super::app::App;
use super::background::Background;
use super::state::Desk;
use crate::spacing_search;

/// A spacing window that was found.
#[derive(Clone, Debug)]
pub struct Scanned {
    /// The project that it was found for, by its revision.
    revision: u64,
    pub(crate) window: SpacingWindow,
}

/// One that is being looked for.
pub(crate) type Scanning = Background<u64, Option<SpacingWindow>>;

impl Desk {
    /// The two eyes whose spacing the chosen one's is.
    pub(crate) fn spaced_eyes(&self) -> Option<[usize; 2]> {
        let other = spacing::neighbour(self.project(), self.chosen_eye)?;
        Some([self.chosen_eye.min(other), self.chosen_eye.max(other)])
    }

    /// The spacing window that was found last.
    pub fn spacing_window(&self) -> Option<&SpacingWindow> {
        self.scanned.as_ref().map(|scanned| &scanned.window)
    }

    /// Whether the window that is shown was found for the project as it stands.
    pub(crate) fn spacing_is_fresh(&self) -> bool {
        let eyes = self.spaced_eyes();
        self.scanned.as_ref().is_some_and(|scanned| {
            scanned.revision == self.history().revision() && Some(scanned.window.eyes) == eyes
        })
    }

    /// Puts the eyes this far apart, mm. Their window stays what it is: everything that it was found for
    /// moves with them.
    pub(crate) fn space(&mut self, distance: f64) {
        let fresh = self.spacing_is_fresh();
        let Some(eyes) = self.spaced_eyes() else {
            return;
        };
        // `Desk::apply` has put a refusal into the notice.
        let _ = self.apply(&Edit::Spacing { eyes, distance });
        let revision = self.history().revision();
        let present = present(self.project(), eyes);
        if let Some(mut scanned) = self.scanned.take_if(|_| fresh) {
            scanned.revision = revision;
            scanned.window.stand(present, self.report());
            self.scanned = Some(scanned);
        }
    }
}

fn present(project: &Project, [a, b]: [usize; 2]) -> f64 {
    (project.eyes[b].at() - project.eyes[a].at()).norm()
}

impl App {
    /// Takes what was found, and looks again if something else stands in the project now.
    pub(crate) fn scan_spacing(&mut self, ctx: &Context) {
        self.take_scanned();
        let desk = &self.desk;
        if !desk.spacing_shown || self.scanning.is_some() || desk.history().in_gesture() {
            return;
        }
        let Some(eyes) = desk.spaced_eyes().filter(|_| !desk.spacing_is_fresh()) else {
            return;
        };
        let (project, revision) = (desk.project().clone(), desk.history().revision());
        let scan = move || spacing_search::window(&project, eyes);
        self.scanning = Some(Background::start(ctx, revision, scan));
    }

    fn take_scanned(&mut self) {
        if let Some((revision, done)) = Background::take_done(&mut self.scanning) {
            let found = done.flatten();
            self.desk.scanned = found.map(|window| Scanned { revision, window });
        }
    }
}
