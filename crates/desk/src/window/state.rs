//! What the window is working on: the project with its history, and what is shown of it.

use std::path::PathBuf;

use layout::closed_curve::CurveOf;
use layout::geometry::polygon;
use layout::handle::Handle;
use layout::head::AnchorHole;
use layout::smallest_head::{SmallestHead, smallest_head};
use layout::{Edit, Finding, History, Laid, Problem, Project, Report, State};
use output::unit::LengthUnit;

use super::measuring::Measuring;
use super::placing::Slots;
use super::proposing::Proposed;
use super::shelf_work::OpenShelf;
use super::spacing_work::Scanned;
use super::step::Step;
use super::views::Play;
use super::work::Work;
use crate::files;

/// Everything the window knows. Views read it; only [`Desk::apply`] and the undo calls change the
/// project.
#[derive(Clone, Debug)]
pub struct Desk {
    history: History,
    laid: Laid,
    report: Report,
    /// The step of the job that is shown.
    pub step: Step,
    /// The unit that lengths are shown and typed in.
    pub unit: LengthUnit,
    /// Whether a dragged handle takes its partner across the centre line along.
    pub mirror: bool,
    /// The handle that fields and arrow keys work on.
    pub selected: Option<Handle>,
    /// The eye that the side cut goes through, by its index.
    pub chosen_eye: usize,
    /// The drive that the fields are about, by its index.
    pub chosen_drive: usize,
    /// The rod that the fields are about, by its index.
    pub chosen_rod: usize,
    /// Where the eyes look at the moment.
    pub pose: Pose,
    /// What moves the eyes by itself at the moment.
    pub play: Option<Play>,
    /// What the pointer does on the front view.
    pub work: Work,
    /// The drive for which a route is being looked for, by its index.
    pub proposing: Option<usize>,
    /// Whether the route that was proposed last is yet to be brought into sight.
    pub show_proposal: bool,
    /// What came of looking for a route.
    pub proposed: Option<Proposed>,
    /// The slots that are wanted, and what came of looking for them.
    pub slots: Slots,
    /// Whether the spacing window is shown.
    pub spacing_shown: bool,
    /// The spacing window that was found last.
    pub scanned: Option<Scanned>,
    /// The smallest head for the plate as it stands, or why there is none; None while it is not shown.
    pub smallest: Option<Result<SmallestHead, Problem>>,
    /// The shelf of plates that is open.
    pub shelf: Option<OpenShelf>,
    /// The plate that is being measured for the shelf.
    pub measuring: Option<Measuring>,
    /// The one that was given up last.
    pub(crate) dropped: Option<Measuring>,
    /// The finding whose place is framed, by its index in the report.
    pub framed: Option<usize>,
    /// The file that holds the project.
    pub file: Option<PathBuf>,
    /// What the window has to say at the moment.
    pub notice: Option<Notice>,
}

/// Where the eyes look, radians: a side turn positive to the right, a lift positive upward; and how
/// far the lids are shut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// Turn about y.
    pub side: f64,
    /// Turn about −x.
    pub lift: f64,
    /// How far the lids are shut: 0 open, 1 shut.
    pub shut: f64,
}

impl Pose {
    /// Tilt of the eyes' axis, radians.
    pub fn tilt(self) -> f64 {
        layout::gaze::tilt(self.side, self.lift)
    }
}

/// One message at the window's foot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Whether something did not work.
    pub trouble: bool,
    /// What happened, and what to do.
    pub text: String,
    /// What can be done about it with one click.
    pub offer: Option<Offer>,
}

/// What a notice offers to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Offer {
    /// To put the path of a file on the clipboard.
    CopyPath(PathBuf),
    /// To open a folder in the desktop's own window.
    OpenFolder(PathBuf),
    /// To drop a file from the list of recent files.
    Forget(PathBuf),
    /// To undo the last change.
    Undo,
    /// To go on with the measured plate that was given up.
    MeasureOn,
}

impl Notice {
    /// Something that worked.
    pub fn good(text: impl Into<String>) -> Self {
        Self {
            trouble: false,
            text: text.into(),
            offer: None,
        }
    }

    /// Something that did not work.
    pub fn trouble(text: impl Into<String>) -> Self {
        Self {
            trouble: true,
            ..Self::good(text)
        }
    }

    /// The same, with something to do about it.
    pub fn offering(self, offer: Offer) -> Self {
        Self {
            offer: Some(offer),
            ..self
        }
    }
}

impl Desk {
    /// Starts with a project, and the file that holds it as it is.
    pub fn new(project: Project, file: Option<PathBuf>) -> Self {
        Self::start(project, file, true)
    }

    /// Starts with a project that no file holds, and the file that it belongs to.
    pub fn unsaved(project: Project, file: Option<PathBuf>) -> Self {
        Self::start(project, file, false)
    }

    fn start(project: Project, file: Option<PathBuf>, saved: bool) -> Self {
        let project = files::with_picture_found(project, file.as_deref());
        let laid = Laid::out(&project);
        let report = layout::evaluate_laid(&project, &laid);
        let slots = Slots::of(&project);
        Self {
            history: History::new(project, saved),
            laid,
            report,
            step: Step::Eyes,
            unit: LengthUnit::Millimetre,
            mirror: true,
            selected: None,
            chosen_eye: 0,
            chosen_drive: 0,
            chosen_rod: 0,
            pose: Pose::default(),
            play: None,
            work: Work::default(),
            proposing: None,
            show_proposal: false,
            proposed: None,
            slots,
            spacing_shown: false,
            scanned: None,
            smallest: None,
            shelf: None,
            measuring: None,
            dropped: None,
            framed: None,
            file,
            notice: None,
        }
    }

    /// The project as it stands.
    pub fn project(&self) -> &Project {
        self.history.project()
    }

    /// Its undo history.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Its shapes.
    pub fn laid(&self) -> &Laid {
        &self.laid
    }

    /// Where a handle is, if the project has it.
    pub fn place_of(&self, handle: Handle) -> Option<[f64; 2]> {
        handle.laid_at(self.project(), &self.laid)
    }

    /// Its figures and findings.
    pub fn report(&self) -> &Report {
        &self.report
    }

    /// The findings of one step, with their indices in the report.
    pub fn findings_of(&self, step: Step) -> impl Iterator<Item = (usize, &Finding)> {
        let findings = self.report.findings.iter().enumerate();
        findings.filter(move |(_, finding)| Step::of_finding(finding) == step)
    }

    /// The worst state of a step's findings.
    pub fn state_of(&self, step: Step) -> State {
        layout::report::worst(self.findings_of(step).map(|(_, finding)| finding))
    }

    /// Makes a change. A change that no plate could be laid out from is refused, and the notice
    /// says why.
    ///
    /// # Errors
    /// The [`Problem`] that the notice tells.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), Problem> {
        match self.history.apply(edit) {
            Ok(()) => {
                self.notice = None;
                self.refresh();
                Ok(())
            }
            Err(problem) => {
                self.notice = Some(Notice::trouble(problem.to_string()));
                Err(problem)
            }
        }
    }

    /// Starts a gesture: what is applied until [`Desk::finish_gesture`] becomes one undo step.
    pub fn begin_gesture(&mut self) {
        self.history.begin();
    }

    /// Ends a gesture.
    pub fn finish_gesture(&mut self) {
        self.history.finish();
    }

    /// Ends a gesture and puts back what was before it.
    pub fn cancel_gesture(&mut self) {
        self.notice = None;
        self.history.cancel();
        self.refresh();
    }

    /// Shows a step of the job. What was told of another step no longer matters.
    pub fn show_step(&mut self, step: Step) {
        if step != self.step {
            self.step = step;
            self.notice = None;
            self.end_work();
        }
    }

    /// Shows the fields of a drive, and the cut through its eye.
    pub fn choose_drive(&mut self, index: usize) {
        self.chosen_drive = index;
        if let Some(drive) = self.project().drives.get(index) {
            self.chosen_eye = drive.moves.eye();
        }
    }

    /// Shows the smallest head for the plate, or no longer.
    pub(crate) fn show_smallest_head(&mut self, shown: bool) {
        self.smallest = shown.then(|| smallest_head(self.project(), &self.laid));
    }

    /// Makes the smallest head that is shown the head outline.
    pub(crate) fn take_smallest_head(&mut self) {
        let Some(Ok(head)) = &self.smallest else {
            return;
        };
        let edit = Edit::Outline {
            curve: CurveOf::Head,
            points: head.points.clone(),
            smooth: false,
        };
        if self.apply(&edit).is_ok() {
            let outside = match self.anchor_holes_outside() {
                0 => "",
                1 => " One anchor hole lies outside it: move it.",
                _ => " Anchor holes lie outside it: move them.",
            };
            let told = format!("The smallest head is the head outline now.{outside}");
            self.notice = Some(Notice::good(told).offering(Offer::Undo));
        }
    }

    /// How many anchor holes lie farther out than the head's wall is thick.
    fn anchor_holes_outside(&self) -> usize {
        let head = &self.project().head;
        let room = |hole: &AnchorHole| polygon::room_around(&self.laid().wall, hole.at.into());
        let holes = head.anchor_holes.iter();
        holes
            .filter_map(room)
            .filter(|room| room.distance < -head.wall_thickness)
            .count()
    }

    /// A width and a height, mm, in the maker's unit.
    pub(crate) fn in_words(&self, [width, height]: [f64; 2]) -> String {
        let (width, height) = (
            self.unit.format(width),
            self.unit.format_with_symbol(height),
        );
        format!("{width} × {height}")
    }

    /// Takes the last step back.
    pub fn undo(&mut self) {
        self.notice = None;
        self.history.undo();
        self.refresh();
    }

    /// Does the last step that was taken back again.
    pub fn redo(&mut self) {
        self.notice = None;
        self.history.redo();
        self.refresh();
    }

    /// Notes that `file` holds the project as it stands.
    pub fn mark_saved(&mut self, file: PathBuf) {
        self.history.mark_saved();
        self.file = Some(file);
    }

    /// Works the project out again and drops what points to things that are gone.
    fn refresh(&mut self) {
        let project = self.history.project();
        self.laid = Laid::out(project);
        self.report = layout::evaluate_laid(project, &self.laid);
        if self.smallest.is_some() {
            self.smallest = Some(smallest_head(project, &self.laid));
        }
        self.selected =
            { self.selected }.filter(|handle| handle.laid_at(project, &self.laid).is_some());
        self.chosen_eye = self.chosen_eye.min(project.eyes.len().saturating_sub(1));
        self.chosen_drive = { self.chosen_drive }.min(project.drives.len().saturating_sub(1));
        self.chosen_rod = { self.chosen_rod }.min(project.rods.len().saturating_sub(1));
        self.framed = self
            .framed
            .filter(|&index| index < self.report.findings.len());
        let (side, lift) = (project.gaze.side.radians(), project.gaze.lift.radians());
        self.pose.side = self.pose.side.clamp(-side, side);
        self.pose.lift = self.pose.lift.clamp(-lift, lift);
        if !project.gaze.together && self.pose.side != 0.0 {
            self.pose.lift = 0.0;
        }
    }
}
