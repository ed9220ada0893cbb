//! Proposed routes: looked for off the window's thread, and shown until they are taken or dropped.

use egui::Context;
use layout::propose::{self, Blocked, Proposal};
use layout::{Edit, Laid};

use super::app::App;
use super::background::Background;
use super::state::Desk;

/// A route that was looked for, and what came of it.
#[derive(Clone, Debug)]
pub struct Proposed {
    drive: usize,
    /// The project that it was looked for in, by its revision.
    revision: u64,
    answer: Result<Proposal, Blocked>,
}

/// A route of a drive, by its index, that is being looked for in a project, by its revision.
pub(crate) type Asked = Background<(usize, u64), Result<Proposal, Blocked>>;

impl Desk {
    /// What came of looking for a route of drive `index`, while the project is still the same.
    pub fn proposal_of(&self, index: usize) -> Option<&Result<Proposal, Blocked>> {
        let revision = self.history().revision();
        let current = |own: &&Proposed| own.drive == index && own.revision == revision;
        let proposed = self.proposed.as_ref().filter(current)?;
        Some(&proposed.answer)
    }

    /// Leads drive `index` along the route that was proposed for it.
    pub(crate) fn take_proposal(&mut self, index: usize) {
        let Some(Ok(proposal)) = self.proposal_of(index) else {
            return;
        };
        let set = Edit::SetRoute {
            index,
            via: proposal.via.clone(),
            mirrored: self.mirror,
        };
        self.proposed = None;
        // `Desk::apply` has put a refusal into the notice.
        let _ = self.apply(&set);
    }
}

impl App {
    /// Looks for a route of the chosen drive.
    pub(crate) fn propose(&mut self, ctx: &Context) {
        let (drive, revision) = (self.desk.chosen_drive, self.desk.history().revision());
        let (project, mirror) = (self.desk.project().clone(), self.desk.mirror);
        let work = move || propose::route(&project, &Laid::out(&project), drive, mirror);
        self.asked = Some(Background::start(ctx, (drive, revision), work));
        self.desk.proposed = None;
        self.desk.proposing = Some(drive);
    }

    /// Takes what came of it, if it came in.
    pub(crate) fn take_proposed(&mut self) {
        let Some(((drive, revision), done)) = Background::take_done(&mut self.asked) else {
            return;
        };
        self.desk.proposed = done.map(|answer| Proposed {
            drive,
            revision,
            answer,
        });
        self.desk.show_proposal = true;
        self.desk.proposing = None;
    }
}
