//! The shelf of plates: read, added to, and tried in the head off the window's thread.

use std::path::{Path, PathBuf};

use egui::Context;
use layout::shelf::{self, Fit, Shelf, ShelfPlate, TakenPlate, Trial, Verdict, Work};
use layout::{Edit, Problem, Project};

use super::app::App;
use super::background::Background;
use super::state::{Desk, Notice};
use super::step::Step;
use crate::files::{self, FileError, ReadShelf};
use crate::ranking;

/// A shelf that is open.
#[derive(Clone, Debug)]
pub struct OpenShelf {
    /// Its file.
    pub path: PathBuf,
    pub(crate) shelf: Shelf,
    /// What to call each of its plates, told apart.
    pub(crate) names: Vec<String>,
    /// What is wrong with entries of the file, and whether they are left out for it.
    pub(crate) troubles: Vec<(String, bool)>,
    /// That there is no plate to be tried, and how to get one.
    pub(crate) nothing: Option<String>,
    /// Its plates by their index, the best first, and the project that they were tried in, by its revision.
    ranked: Option<(u64, Vec<(usize, Fit)>)>,
    /// What each of these comes to, in their order.
    verdicts: Vec<Option<Verdict>>,
    /// The plate that is shown in place, by its index.
    pub(crate) chosen: Option<usize>,
    /// Whether all plates are listed, and not only the best.
    pub(crate) all_listed: bool,
    /// What was found of the plate that was chosen last.
    looked_at: Option<(Of, LookedAt)>,
}

/// The revision of a project, and a plate that was tried in it, by its index.
type Of = (u64, usize);

/// A chosen plate, whatever parts it is made for.
#[derive(Clone, Debug)]
pub(crate) struct LookedAt {
    pub(crate) fit: Fit,
    /// What is to be done to it; None if it has no place.
    pub(crate) work: Option<Work>,
}

impl LookedAt {
    fn of(project: &Project, plate: &ShelfPlate) -> Self {
        let found = shelf::fit(project, plate);
        let (fit, work) = Trial::of(project).work_out(plate, found);
        Self { fit, work }
    }

    /// Whether the project can be laid out round it.
    pub(crate) fn can_be_taken(&self) -> bool {
        self.work
            .as_ref()
            .is_some_and(|work| work.refused.is_none())
    }
}

/// A plate that is put on a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kept {
    /// The project's.
    Project,
    /// The one that is being measured.
    Measured,
}

/// A plate that is on a shelf now.
pub(crate) struct OnShelf {
    /// Its index.
    pub(crate) index: usize,
    /// What it is called there.
    pub(crate) name: String,
    /// Whether it took the place of the old one.
    pub(crate) replaced: bool,
}

/// Plates that are being tried in a project, by its revision.
pub(crate) type Ranking = Background<u64, Vec<Judged>>;

/// A plate by its index, as it is used, and what it comes to.
type Judged = (usize, Fit, Option<Verdict>);

/// A chosen plate that is being looked at.
pub(crate) type Looking = Background<Of, LookedAt>;

impl OpenShelf {
    fn of(path: &Path, read: ReadShelf) -> Self {
        let troubles = read.troubles.iter().map(|trouble| {
            let said = format!("{} {}", trouble.sentence(), trouble.error.remedy());
            (said, trouble.set_aside)
        });
        let nothing = read.nothing_on_it().map(|said| said.join(" "));
        Self {
            path: path.to_owned(),
            names: read.shelf.names_apart(),
            troubles: troubles.collect(),
            nothing,
            shelf: read.shelf,
            ranked: None,
            verdicts: Vec::new(),
            chosen: None,
            all_listed: false,
            looked_at: None,
        }
    }

    /// The same, to be tried in another project.
    pub(crate) fn again(self) -> Self {
        Self {
            ranked: None,
            verdicts: Vec::new(),
            chosen: None,
            looked_at: None,
            ..self
        }
    }

    /// The plates with how they fit, the best first, as they were tried last.
    pub fn ranked(&self) -> &[(usize, Fit)] {
        self.ranked.as_ref().map_or(&[], |(_, ranked)| ranked)
    }

    /// Whether they were tried in the project as it stands.
    pub(crate) fn is_fresh(&self, revision: u64) -> bool {
        self.ranked.as_ref().is_some_and(|(of, _)| *of == revision)
    }

    /// What a plate comes to, by its rank.
    pub(crate) fn verdict(&self, rank: usize) -> Option<Verdict> {
        *self.verdicts.get(rank)?
    }

    /// The names of the plates that serve, the best first.
    pub(crate) fn serving(&self) -> Vec<&str> {
        let ranked = self.ranked().iter().enumerate();
        let names = ranked.filter_map(|(rank, (index, _))| {
            let serves = self.verdict(rank) == Some(Verdict::Serves);
            self.names.get(*index).filter(|_| serves)
        });
        names.map(String::as_str).collect()
    }

    /// The plate that is shown in place, and what was found of it; None before that is known.
    pub(crate) fn shown(&self) -> Option<(&ShelfPlate, &LookedAt)> {
        let chosen = self.chosen?;
        let ((_, index), looked_at) = self.looked_at.as_ref()?;
        let plate = self.shelf.plates.get(chosen)?;
        (*index == chosen).then_some((plate, looked_at))
    }

    /// The shelf's file, and the plate that is chosen on it.
    pub(crate) fn chosen_plate(&self) -> Option<(&Path, &ShelfPlate)> {
        Some((&self.path, self.shelf.plates.get(self.chosen?)?))
    }

    /// The chosen plate, if it was not yet looked at in the project as it stands.
    fn to_look_at(&self, revision: u64) -> Option<(Of, &ShelfPlate)> {
        let of = (revision, self.chosen?);
        let known = self
            .looked_at
            .as_ref()
            .is_some_and(|(known, _)| *known == of);
        (!known).then_some((of, self.shelf.plates.get(of.1)?))
    }
}

impl Desk {
    /// Whether plates are tried now: where they are shown, and not while something is dragged.
    fn tries_plates(&self) -> bool {
        self.step == Step::Plate && !self.history().in_gesture()
    }

    /// Lays the project out round the plate that is shown in place, with the slots that are to be made in it.
    pub(crate) fn take_plate(&mut self) {
        let shown = self.shelf.as_ref().and_then(OpenShelf::shown);
        let taken = shown.and_then(|(plate, looked_at)| {
            let placement = looked_at.fit.placed.as_ref()?.placement;
            let taken = TakenPlate::new(plate.clone(), placement, looked_at.work.as_ref()?);
            Some(Edit::TakePlate(Box::new(taken)))
        });
        let left = shown.and_then(|(_, looked_at)| left_to_do(looked_at.work.as_ref()?));
        // `Desk::apply` has put a refusal into the notice.
        if let Some(taken) = taken
            && self.apply(&taken).is_ok()
            && let Some(left) = left
        {
            self.notice = Some(Notice::good(left));
        }
    }
}

impl App {
    /// Opens a shelf.
    pub(crate) fn open_shelf(&mut self, path: &Path) {
        match files::read_shelf(path) {
            Ok(read) => self.have_shelf(path, read),
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Puts the project's plate on the shelf of a file, which may not be there yet.
    pub(crate) fn keep_on_shelf(&mut self, path: &Path) {
        let plate = ShelfPlate::of(self.desk.project());
        match self.put_on(path, plate, None) {
            Ok(kept) => {
                let name = &self.desk.project().name;
                let called = if kept.name == *name {
                    String::new()
                } else {
                    format!(" as “{}”", kept.name)
                };
                let told = format!(
                    "The plate of {name} is on the shelf in {}{called}.",
                    path.display()
                );
                self.desk.notice = Some(Notice::good(told));
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Works with another shelf from now on: what is being tried is none of its plates.
    fn have_shelf(&mut self, path: &Path, read: ReadShelf) {
        self.desk.shelf = Some(OpenShelf::of(path, read));
        self.ranking = None;
        self.looking = None;
    }

    /// Puts a plate on the shelf of a file, in the place of an `old` one if that is still there. A name that
    /// another plate has gets a number. The shelf is open from then on.
    pub(crate) fn put_on(
        &mut self,
        path: &Path,
        mut plate: ShelfPlate,
        old: Option<&ShelfPlate>,
    ) -> Result<OnShelf, FileError> {
        let mut shelf = Shelf::empty();
        if path.exists() {
            let read = files::read_shelf(path)?;
            let whole = read.may_be_replaced();
            whole.map_err(|error| error.in_file(path))?;
            shelf = read.shelf;
        }
        let replaced = old.and_then(|old| shelf.plates.iter().position(|own| own == old));
        let index = replaced.unwrap_or(shelf.plates.len());
        let keeps_name = replaced.is_some() && old.is_some_and(|old| old.name == plate.name);
        if !keeps_name {
            plate.name = shelf.free_name(&plate.name);
        }
        let name = plate.name.clone();
        match shelf.plates.get_mut(index) {
            Some(own) => *own = plate,
            None => shelf.plates.push(plate),
        }
        let refused = |problem: Problem| FileError::new(problem.sentence, problem.remedy);
        shelf.check().map_err(refused)?;
        files::save_shelf(path, &shelf)?;
        self.have_shelf(path, files::read_shelf(path)?);
        Ok(OnShelf {
            index,
            name,
            replaced: replaced.is_some(),
        })
    }

    /// Takes what came of trying the plates, and tries them again if something else stands in the project.
    pub(crate) fn rank_shelf(&mut self, ctx: &Context) {
        self.take_ranked();
        let desk = &self.desk;
        let revision = desk.history().revision();
        let Some(open) = desk.shelf.as_ref().filter(|open| !open.is_fresh(revision)) else {
            return;
        };
        if self.ranking.is_some() || !desk.tries_plates() {
            return;
        }
        let (project, shelf) = (desk.project().clone(), open.shelf.clone());
        let judge = move || judged(&project, &shelf);
        self.ranking = Some(Background::start(ctx, revision, judge));
    }

    /// Takes what came of looking at the chosen plate, and looks again if another is chosen or something else
    /// stands in the project.
    pub(crate) fn look_at_plate(&mut self, ctx: &Context) {
        self.take_looked_at();
        let desk = &self.desk;
        let revision = desk.history().revision();
        let Some((of, plate)) = desk
            .shelf
            .as_ref()
            .and_then(|open| open.to_look_at(revision))
        else {
            return;
        };
        if self.looking.is_some() || !desk.tries_plates() {
            return;
        }
        let (project, plate) = (desk.project().clone(), plate.clone());
        let look = move || LookedAt::of(&project, &plate);
        self.looking = Some(Background::start(ctx, of, look));
    }

    fn take_looked_at(&mut self) {
        if let Some((of, Some(looked_at))) = Background::take_done(&mut self.looking)
            && let Some(open) = &mut self.desk.shelf
        {
            open.looked_at = Some((of, looked_at));
        }
    }

    fn take_ranked(&mut self) {
        if let Some((revision, Some(judged))) = Background::take_done(&mut self.ranking)
            && let Some(open) = &mut self.desk.shelf
        {
            let judged = judged.into_iter();
            let (ranked, verdicts) = { judged }
                .map(|(index, fit, verdict)| ((index, fit), verdict))
                .unzip();
            open.ranked = Some((revision, ranked));
            open.verdicts = verdicts;
        }
    }
}

/// What is still to be done to a plate that is taken over: the project holds it as it will be then.
fn left_to_do(work: &Work) -> Option<String> {
    let drilled = (!work.drilling.is_empty()).then_some("drilled");
    if !work.filing.is_empty() && work.filed.is_none() {
        let also = drilled.map_or("", |_| ", but with the holes that are to be made");
        return Some(format!(
            "The project holds the plate with its edge as it is{also}."
        ));
    }
    let filed = (!work.filing.is_empty()).then_some("filed");
    let to_do: Vec<&str> = filed.into_iter().chain(drilled).collect();
    let to_do = to_do.join(" and ");
    (!to_do.is_empty())
        .then(|| format!("The project holds the plate as it will be once it is {to_do}."))
}

/// The plates of a shelf, those first that serve, and what each comes to.
fn judged(project: &Project, shelf: &Shelf) -> Vec<Judged> {
    let worked_out = ranking::work_out(project, shelf).into_iter();
    let judged = worked_out.map(|(index, fit, work)| {
        let verdict = fit.verdict(work.as_ref());
        (index, fit, verdict)
    });
    judged.collect()
}
