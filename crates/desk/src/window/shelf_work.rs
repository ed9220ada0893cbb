//! The shelf of plates: read, added to, and tried in the head off the window's thread.

use std::path::{Path, PathBuf};

use egui::Context;
use layout::Edit;
use layout::shelf::{self, Fit, Shelf, ShelfPlate};

use super::app::App;
use super::background::Background;
use super::state::{Desk, Notice};
use super::step::Step;
use crate::files::{self, FileError};

/// A shelf that is open.
#[derive(Clone, Debug)]
pub struct OpenShelf {
    /// Its file.
    pub path: PathBuf,
    pub(crate) shelf: Shelf,
    /// Its plates by their index, the best first, and the project that they were tried in, by its revision.
    ranked: Option<(u64, Vec<(usize, Fit)>)>,
    /// The plate that is shown in place, by its index.
    pub(crate) chosen: Option<usize>,
}

/// Plates that are being tried.
pub(crate) struct Ranking {
    revision: u64,
    work: Background<Vec<(usize, Fit)>>,
}

impl OpenShelf {
    fn of(path: &Path, shelf: Shelf) -> Self {
        Self {
            path: path.to_owned(),
            shelf,
            ranked: None,
            chosen: None,
        }
    }

    /// The same, to be tried in another project.
    pub(crate) fn again(self) -> Self {
        Self {
            ranked: None,
            chosen: None,
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

    /// The plate that is shown in place, and how it fits.
    pub(crate) fn shown(&self) -> Option<(&ShelfPlate, &Fit)> {
        let chosen = self.chosen?;
        let (_, fit) = self.ranked().iter().find(|(index, _)| *index == chosen)?;
        Some((self.shelf.plates.get(chosen)?, fit))
    }
}

impl Desk {
    /// Lays the project out round the plate that is shown in place.
    pub(crate) fn take_plate(&mut self) {
        let shown = self.shelf.as_ref().and_then(OpenShelf::shown);
        let taken = shown.and_then(|(plate, fit)| {
            let placement = fit.placed.as_ref()?.placement;
            let plate = Box::new(plate.clone());
            Some(Edit::TakePlate { plate, placement })
        });
        if let Some(taken) = taken {
            // `Desk::apply` has put a refusal into the notice.
            let _ = self.apply(&taken);
        }
    }
}

impl App {
    /// Opens a shelf.
    pub(crate) fn open_shelf(&mut self, path: &Path) {
        match files::read_shelf(path) {
            Ok(shelf) => self.have_shelf(path, shelf),
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Puts the project's plate on the shelf of a file, which may not be there yet.
    pub(crate) fn keep_on_shelf(&mut self, path: &Path) {
        match self.kept_on(path) {
            Ok(shelf) => {
                let name = &self.desk.project().name;
                let told = format!("The plate of {name} is on the shelf in {}.", path.display());
                self.have_shelf(path, shelf);
                self.desk.notice = Some(Notice::good(told));
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Works with another shelf from now on: what is being tried is none of its plates.
    fn have_shelf(&mut self, path: &Path, shelf: Shelf) {
        self.desk.shelf = Some(OpenShelf::of(path, shelf));
        self.ranking = None;
    }

    fn kept_on(&self, path: &Path) -> Result<Shelf, FileError> {
        let mut shelf = if path.exists() {
            files::read_shelf(path)?
        } else {
            Shelf::empty()
        };
        shelf.plates.push(ShelfPlate::of(self.desk.project()));
        files::save_shelf(path, &shelf)?;
        Ok(shelf)
    }

    /// Takes what came of trying the plates, and tries them again if something else stands in the project.
    pub(crate) fn rank_shelf(&mut self, ctx: &Context) {
        self.take_ranked();
        let desk = &self.desk;
        let revision = desk.history().revision();
        let Some(open) = desk.shelf.as_ref().filter(|open| !open.is_fresh(revision)) else {
            return;
        };
        if desk.step != Step::Plate || self.ranking.is_some() || desk.history().in_gesture() {
            return;
        }
        let (project, shelf) = (desk.project().clone(), open.shelf.clone());
        let work = Background::start(ctx, move || shelf::rank(&project, &shelf));
        self.ranking = Some(Ranking { revision, work });
    }

    fn take_ranked(&mut self) {
        let Some(ranking) = &self.ranking else {
            return;
        };
        let Some(done) = ranking.work.done() else {
            return;
        };
        if let Some((open, ranked)) = self.desk.shelf.as_mut().zip(done) {
            open.ranked = Some((ranking.revision, ranked));
        }
        self.ranking = None;
    }
}
