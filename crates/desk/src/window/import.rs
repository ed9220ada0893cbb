//! The dialog that takes an outline from a drawing.

use std::path::{Path, PathBuf};

use egui::{Context, ScrollArea, Stroke, Ui};
use intake::{Found, Shape, Unit};
use layout::closed_curve::CurveOf;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::shelf::OutlineKind;

use super::app::App;
use super::controls;
use super::dialogs::{self, Answer, modal};
use super::fitted::{self, Fitted};
use super::pieces;
use super::state::{Desk, Notice};
use super::step::Step;
use super::views::outline_edit;
use crate::files::{FileError, drawing};

/// Height of the picture of the drawing, in points.
const PICTURE: f32 = 190.0;

/// Greatest height of the list of shapes, in points; more of them scroll.
const LIST: f32 = 132.0;

/// A drawing that an outline is taken from.
pub(crate) struct Import {
    path: PathBuf,
    found: Found,
    /// The unit, where the file does not state one.
    unit: Unit,
    chosen: usize,
    becomes: Becomes,
}

/// What an outline from a drawing becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Becomes {
    /// A curve of the project.
    Curve(CurveOf),
    /// The outline of the plate that is being measured.
    Measured,
}

impl From<CurveOf> for Becomes {
    fn from(curve: CurveOf) -> Self {
        Self::Curve(curve)
    }
}

impl Becomes {
    /// What a drawing is meant for that is dropped on the window: the plate whose outline is drawn or
    /// measured, or else the head.
    pub(crate) fn dropped_on(desk: &Desk) -> Self {
        let measured = desk.measuring.as_ref().map(|own| own.plate.outline);
        if desk.step == Step::Plate && measured == Some(OutlineKind::Curve) {
            return Self::Measured;
        }
        outline_edit::edited(desk).unwrap_or(CurveOf::Head).into()
    }

    /// What its dialog is called.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Curve(CurveOf::Head) => "Take the head outline from a drawing",
            Self::Curve(CurveOf::Plate) => "Take the plate outline from a drawing",
            Self::Measured => "Take the measured plate's outline from a drawing",
        }
    }

    fn noun(self) -> &'static str {
        match self {
            Self::Curve(curve) => curve.noun(),
            Self::Measured => "outline of the measured plate",
        }
    }
}

impl Import {
    fn mm(&self) -> f64 {
        self.found.unit.unwrap_or_else(|| self.unit.mm())
    }
}

impl App {
    /// Reads a drawing and offers its shapes; tells what is wrong with it.
    pub(crate) fn take_drawing(&mut self, path: &Path, becomes: Becomes) {
        if becomes == Becomes::Measured && self.desk.measuring.is_none() {
            // The plate was given up while the file dialog was open.
            return;
        }
        match drawing::read(path) {
            Ok(found) => {
                self.desk.notice = None;
                self.files.import = Some(Import {
                    path: path.to_owned(),
                    unit: drawing::likely_unit(&found),
                    chosen: found.preferred,
                    found,
                    becomes,
                });
            }
            Err(error) => self.trouble(format!("{error} {}", error.remedy())),
        }
    }

    /// Shows the dialog.
    pub(crate) fn show_import(&mut self, ctx: &Context) {
        let Some(mut import) = self.files.import.take() else {
            return;
        };
        let mut decision = None;
        let modal = modal("import", ctx).show(ctx, |ui| {
            ui.set_width(dialogs::WIDTH);
            decision = import.show(ui, &self.desk);
        });
        if modal.should_close() {
            decision = Some(Answer::Cancel);
        }
        match decision {
            None => self.files.import = Some(import),
            Some(Answer::Go) => self.take_shape(import),
            Some(_) => {}
        }
    }

    /// Makes the chosen shape what it is to become; if it cannot be that, says why and asks on.
    fn take_shape(&mut self, import: Import) {
        let shape = import.found.shapes[import.chosen].scaled(import.mm());
        let told = match import.becomes {
            Becomes::Curve(curve) => self.take_curve(curve, &shape),
            Becomes::Measured => {
                let holes = drawing::holes(&import.found, import.chosen, import.mm());
                self.desk.take_measured_outline(&shape, &holes)
            }
        };
        match told {
            Ok(()) => {
                let [width, height] = drawing::size(&shape).map(|mm| self.desk.unit.format(mm));
                self.desk.notice = Some(Notice::good(format!(
                    "The {} is now that of {}: {width} × {height} {}.",
                    import.becomes.noun(),
                    import.path.display(),
                    self.desk.unit.symbol()
                )));
            }
            Err(why) => {
                self.trouble(why);
                self.files.import = Some(import);
            }
        }
    }

    /// Makes a shape a curve of the project, and shows that.
    fn take_curve(&mut self, curve: CurveOf, shape: &Shape) -> Result<(), String> {
        let old = match curve {
            CurveOf::Head => Outline::polygon(&self.desk.laid().wall),
            CurveOf::Plate => self.desk.laid().plate.clone(),
        };
        let edit = drawing::edit(curve, shape, &old).map_err(|error| told(&error))?;
        let applied = self.desk.apply(&edit);
        applied.map_err(|problem| problem.to_string())?;
        self.desk.end_work();
        self.desk.show_step(match curve {
            CurveOf::Head => Step::Head,
            CurveOf::Plate => Step::Plate,
        });
        self.desk.selected = None;
        self.camera.ask_to_frame_all();
        Ok(())
    }
}

impl Desk {
    /// Gives the plate that is being measured the outline of a shape, mm, and the openings that are plain to see
    /// among the holes in it.
    fn take_measured_outline(&mut self, shape: &Shape, holes: &[Disc]) -> Result<(), String> {
        let corners = drawing::corners(shape).map_err(|error| told(&error))?;
        let taken = self.take_drawn(&corners, holes);
        taken.map_err(|problem| problem.to_string())
    }
}

fn told(error: &FileError) -> String {
    format!("{error} {}", error.remedy())
}

impl Import {
    fn show(&mut self, ui: &mut Ui, desk: &Desk) -> Option<Answer> {
        pieces::heading(ui, "Outline from a drawing");
        let name = self.path.file_name().unwrap_or_default().to_string_lossy();
        pieces::hint(ui, &name);
        ui.add_space(4.0);
        self.picture(ui);
        ui.add_space(6.0);
        self.list(ui, desk.unit);
        for note in &self.found.notes {
            pieces::hint(ui, note);
        }
        ui.add_space(4.0);
        pieces::row(ui, "Take it as", |ui| {
            let all = [
                CurveOf::Head.into(),
                CurveOf::Plate.into(),
                Becomes::Measured,
            ];
            let names = ["head outline", "plate outline", "measured plate"];
            let count = if desk.measuring.is_some() { 3 } else { 2 };
            let chosen = all.iter().position(|own| *own == self.becomes);
            let chosen = chosen.unwrap_or_default();
            if let Some(picked) = controls::choice(ui, "Take it as", &names[..count], chosen) {
                self.becomes = all[picked];
            }
        });
        if self.found.unit.is_none() {
            pieces::row(ui, "The file states no unit; it is in", |ui| {
                let names = ["mm", "cm", "in", "px"];
                let chosen = Unit::ALL.iter().position(|own| *own == self.unit);
                let picked = controls::choice(ui, "Unit", &names, chosen.unwrap_or_default());
                if let Some(picked) = picked {
                    self.unit = Unit::ALL[picked];
                }
            });
        }
        let all = [("Take it", Answer::Go), ("Cancel", Answer::Cancel)];
        let crosses = self.found.shapes[self.chosen].crosses_at.is_some();
        if crosses {
            let why = "This shape crosses itself: no outline can be made of it.";
            pieces::refusal(ui, why);
        }
        dialogs::buttons(ui, &all, !crosses, usize::from(crosses))
    }

    /// The closed shapes, each with its size.
    fn list(&mut self, ui: &mut Ui, unit: output::LengthUnit) {
        let mm = self.mm();
        ScrollArea::vertical().max_height(LIST).show(ui, |ui| {
            for (index, shape) in self.found.shapes.iter().enumerate() {
                let [width, height] = drawing::size(shape).map(|own| unit.format(own * mm));
                let size = format!("{width} × {height} {}", unit.symbol());
                let name = pieces::capital(&drawing::shape_name(&self.found, index));
                let figure = if shape.crosses_at.is_some() {
                    format!("crosses itself, {size}")
                } else {
                    size
                };
                if controls::pick_row(ui, &name, &figure, index == self.chosen).clicked() {
                    self.chosen = index;
                }
            }
        });
    }

    /// All shapes, the chosen one filled.
    fn picture(&self, ui: &mut Ui) {
        let count = self.found.shapes.len();
        let spoken = format!("The drawing: {count} closed shapes");
        let (painter, rect, palette) = fitted::paper(ui, PICTURE, &spoken);
        let boxes = { self.found.shapes.iter() }.filter_map(|shape| shape.outline.bounds());
        let Some(fitted) = Fitted::around(rect, boxes.flatten()) else {
            return;
        };
        for (index, shape) in self.found.shapes.iter().enumerate().rev() {
            let path = shape
                .outline
                .flattened()
                .into_iter()
                .map(|place| fitted.at(place))
                .collect();
            let (width, colour) = if index == self.chosen {
                (2.4, palette.accent)
            } else {
                (1.0, palette.faint)
            };
            painter.add(egui::Shape::closed_line(path, Stroke::new(width, colour)));
        }
    }
}
