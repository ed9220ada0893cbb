//! A plate that is being measured: new, or one of the shelf whose figures are changed.

use std::path::{Path, PathBuf};

use egui::Context;
use layout::Problem;
use layout::geometry::hull::Disc;
use layout::shelf::{Dimension, Measured, ShelfPlate};

use super::app::App;
use super::file_work::{Intent, Purpose};
use super::shelf_work::{Kept, OnShelf, OpenShelf};
use super::state::{Desk, Notice, Offer};
use super::step::Step;
use super::{drawn_openings, number_field, text_field};
use crate::keep::Unshelved;

/// A plate on its way to the shelf. It is no part of the project: undo leaves it alone, and it stays
/// when another project is opened.
#[derive(Clone, Debug, Default)]
pub struct Measuring {
    pub(crate) plate: Measured,
    /// The plate of a shelf that it takes the place of, and the shelf's file; None of a new one.
    of: Option<(PathBuf, ShelfPlate)>,
    /// Why it could not be put on the shelf.
    pub(crate) refused: Option<String>,
    /// What became of the openings of the drawing that its outline was taken from.
    pub(crate) drawn: Option<String>,
    /// Whether it was brought into sight.
    pub(crate) seen: bool,
}

impl Measuring {
    /// Whether anything was typed.
    fn is_changed(&self) -> bool {
        let old = self.of.as_ref().map(|(_, old)| Measured::of(old));
        self.plate != old.unwrap_or_default()
    }
}

impl From<Unshelved> for Measuring {
    fn from(Unshelved { plate, of }: Unshelved) -> Self {
        Self {
            plate,
            of,
            ..Self::default()
        }
    }
}

impl Desk {
    /// The plate that is being measured, if anything was typed of it that is on no shelf.
    pub(crate) fn unshelved(&self) -> Option<Unshelved> {
        let changed = self.measuring.as_ref().filter(|own| own.is_changed());
        changed.map(|own| Unshelved {
            plate: own.plate.clone(),
            of: own.of.clone(),
        })
    }

    /// Changes the plate that is being measured; what it was refused for may be mended by that.
    ///
    /// # Errors
    /// As the change has them.
    pub(crate) fn change_measured(
        &mut self,
        change: impl FnOnce(&mut Measured) -> Result<(), Problem>,
    ) -> Result<(), Problem> {
        let Some(measuring) = &mut self.measuring else {
            return Ok(());
        };
        change(&mut measuring.plate)?;
        measuring.refused = None;
        Ok(())
    }

    /// Notes what was measured, or that it is not known.
    ///
    /// # Errors
    /// As [`Measured::set`] has them.
    pub(crate) fn set_measured(
        &mut self,
        dimension: Dimension,
        value: Option<f64>,
    ) -> Result<(), Problem> {
        self.change_measured(|plate| plate.set(dimension, value))
    }

    /// Gives the plate that is being measured the outline of a drawing, mm, with its openings where the `holes` in it
    /// tell them, and notes which.
    ///
    /// # Errors
    /// As [`Measured::take_drawing`] has them.
    pub(crate) fn take_drawn(
        &mut self,
        corners: &[[f64; 2]],
        holes: &[Disc],
    ) -> Result<(), Problem> {
        let mut taken = false;
        self.change_measured(|plate| {
            taken = plate.take_drawing(corners, holes)?;
            Ok(())
        })?;
        let unit = self.unit;
        if let Some(measuring) = &mut self.measuring {
            measuring.drawn = drawn_openings::told(&measuring.plate, holes, taken, unit);
        }
        Ok(())
    }

    /// Whether the plate that is being measured can be put on the shelf; if not, it says why. Fields that hold
    /// a refused text are named in `unclear`.
    pub(crate) fn is_measured(&mut self, unclear: &[String]) -> bool {
        let Some(measuring) = &mut self.measuring else {
            return false;
        };
        measuring.refused = match unclear.first() {
            Some(field) => Some(format!("Mend “{field}” first, or empty it.")),
            None => measuring.plate.plate().err().map(|why| why.to_string()),
        };
        measuring.refused.is_none()
    }

    /// Starts to change the figures of the plate that is chosen on the shelf.
    pub(crate) fn measure_chosen(&mut self, ctx: &Context) {
        let chosen = self.shelf.as_ref().and_then(OpenShelf::chosen_plate);
        let Some((path, plate)) = chosen else {
            return;
        };
        let measuring = Measuring {
            plate: Measured::of(plate),
            of: Some((path.to_owned(), plate.clone())),
            ..Measuring::default()
        };
        self.start_measuring(measuring, ctx);
    }

    /// Gives the plate that is being measured up; the notice offers to bring it back.
    pub(crate) fn drop_measured(&mut self) {
        self.dropped = self.measuring.take();
        let told = Notice::good("The measured plate is dropped; the shelf is as it was.");
        self.notice = Some(told.offering(Offer::MeasureOn));
    }

    /// Goes on with the plate that was given up last.
    pub(crate) fn measure_on(&mut self) {
        self.notice = None;
        self.measuring = self.dropped.take();
        self.show_step(Step::Plate);
    }

    fn start_measuring(&mut self, measuring: Measuring, ctx: &Context) {
        // What was refused in the fields of an earlier one is not this one's.
        number_field::forget_drafts(ctx);
        text_field::forget_drafts(ctx);
        self.measuring = Some(measuring);
        // The notice may still offer the one that was given up.
        self.notice = None;
    }

    /// Whether nothing that was typed would be lost: changes of the project, and with the window the plate
    /// that is being measured.
    pub(crate) fn may_be_left_for(&self, intent: &Intent) -> bool {
        self.history().is_saved() && !self.loses_measured(intent)
    }

    /// Whether the plate that is being measured would be lost.
    pub(crate) fn loses_measured(&self, intent: &Intent) -> bool {
        *intent == Intent::Quit && self.measuring.as_ref().is_some_and(Measuring::is_changed)
    }
}

impl App {
    /// Starts to measure a plate, or goes on with the one that is on its way.
    pub(crate) fn measure_plate(&mut self, ctx: &Context) {
        self.desk.show_step(Step::Plate);
        match &mut self.desk.measuring {
            Some(measuring) => measuring.seen = false,
            None => self.desk.start_measuring(Measuring::default(), ctx),
        }
    }

    /// Puts the plate that is being measured where it came from, or on the shelf that is open; asks for one if
    /// none is.
    pub(crate) fn shelve(&mut self, ctx: &Context) {
        let of = self.desk.measuring.as_ref().and_then(|own| own.of.as_ref());
        let of = of.map(|(path, _)| path);
        let open = self.desk.shelf.as_ref().map(|open| &open.path);
        match of.or(open).cloned() {
            Some(path) => self.shelve_measured(&path),
            None => self.ask_path(Purpose::KeepOnShelf(Kept::Measured), ctx),
        }
    }

    /// Puts the plate that is being measured on the shelf of a file, which may not be there yet. If that
    /// fails, it stays as it is.
    pub(crate) fn shelve_measured(&mut self, path: &Path) {
        let Some(measuring) = &mut self.desk.measuring else {
            return;
        };
        let plate = match measuring.plate.plate() {
            Ok(plate) => plate,
            Err(why) => {
                measuring.refused = Some(why.to_string());
                return;
            }
        };
        let shelf = path.display();
        let old = measuring.of.as_ref().map(|(_, old)| old.clone());
        match self.put_on(path, plate, old.as_ref()) {
            Ok(OnShelf {
                index,
                name,
                replaced,
            }) => {
                self.desk.measuring = None;
                if let Some(open) = &mut self.desk.shelf {
                    open.chosen = Some(index);
                }
                self.desk.notice = Some(Notice::good(match (old, replaced) {
                    (Some(old), false) => format!(
                        "{shelf} no longer holds “{}” as it was: the measured plate is on the shelf as “{name}”, \
                         beside what is there.",
                        old.name
                    ),
                    (Some(_), true) => format!("The figures of “{name}” are changed in {shelf}."),
                    (None, _) => format!("“{name}” is on the shelf in {shelf}."),
                }));
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }
}
