//! Slots that the program proposes: looked for off the window's thread, and shown until they are taken or
//! dropped.

use egui::Context;
use layout::ties::{self, MOST_TIES, Proposal, Wanted, WhyNot};
use layout::{Edit, Laid, Project};

use super::app::App;
use super::background::Background;
use super::state::Desk;

/// Which slots are wanted, and what came of looking for them.
#[derive(Clone, Debug)]
pub struct Slots {
    /// How many, locked ones included.
    pub count: usize,
    /// Width and thickness of their ties, mm.
    pub tie: [f64; 2],
    /// Whether they are being looked for.
    pub looking: bool,
    found: Option<Found>,
}

/// What came of looking for slots.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    /// The project that they were looked for in, by its revision.
    revision: u64,
    wanted: Wanted,
    answer: Result<Proposal, WhyNot>,
    /// The plate with them, if they were found.
    laid: Option<Laid>,
}

/// Slots that are being looked for.
pub(crate) type Placing = Background<(), Found>;

/// How many slots are asked for at first, if there are no more: two on each side. Own choice.
const USUAL_COUNT: usize = 4;

impl Slots {
    /// What is asked for at first: the ties that the project has.
    pub(crate) fn of(project: &Project) -> Self {
        let tie = project
            .ties
            .first()
            .map_or(layout::tie::USUAL, |slot| slot.tie);
        Self {
            count: USUAL_COUNT.max(project.ties.len()).min(MOST_TIES),
            tie,
            looking: false,
            found: None,
        }
    }
}

impl Desk {
    /// The slots that are wanted.
    pub(crate) fn slots_wanted(&self) -> Wanted {
        Wanted {
            count: self.slots.count,
            tie: self.slots.tie,
            mirrored: self.mirror,
        }
    }

    /// What came of looking for slots, while project and wish are still the same.
    pub(crate) fn slots_found(&self) -> Option<&Result<Proposal, WhyNot>> {
        self.found().map(|found| &found.answer)
    }

    /// The plate as it is with the slots that are proposed.
    pub(crate) fn slots_laid(&self) -> Option<&Laid> {
        self.found()?.laid.as_ref()
    }

    fn found(&self) -> Option<&Found> {
        let (revision, wanted) = (self.history().revision(), self.slots_wanted());
        let current = |own: &&Found| own.revision == revision && own.wanted == wanted;
        self.slots.found.as_ref().filter(current)
    }

    /// Puts the slots that are proposed into the plate.
    pub(crate) fn take_slots(&mut self) {
        if let Some(Ok(proposal)) = self.slots_found() {
            let place = Edit::PlaceSlots(proposal.slots.clone());
            self.drop_slots();
            // `Desk::apply` has put a refusal into the notice.
            let _ = self.apply(&place);
        }
    }

    /// Forgets the slots that are proposed.
    pub(crate) fn drop_slots(&mut self) {
        self.slots.found = None;
    }
}

impl App {
    /// Looks for slots.
    pub(crate) fn place_slots(&mut self, ctx: &Context) {
        let (project, wanted) = (self.desk.project().clone(), self.desk.slots_wanted());
        let revision = self.desk.history().revision();
        let work = Background::start(ctx, (), move || {
            let answer = ties::propose(&project, &wanted);
            let placed = |proposal: &Proposal| Laid::out(&ties::placed(&project, &proposal.slots));
            Found {
                revision,
                wanted,
                laid: answer.as_ref().ok().map(placed),
                answer,
            }
        });
        self.desk.drop_slots();
        self.desk.slots.looking = true;
        self.placing = Some(work);
    }

    /// Takes what came of it, if it came in.
    pub(crate) fn take_placed(&mut self) {
        if let Some(((), done)) = Background::take_done(&mut self.placing) {
            self.desk.slots.found = done;
            self.desk.slots.looking = false;
        }
    }
}
