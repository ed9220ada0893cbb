//! The dialog that takes an outline from a drawing.

use std::path::{Path, PathBuf};

use egui::{Context, Role, ScrollArea, Sense, Stroke, Ui, WidgetInfo, vec2};
use intake::{Found, Unit};
use layout::closed_curve::CurveOf;
use layout::geometry::{Point, Vector};

use super::app::App;
use super::controls;
use super::dialogs::{self, modal};
use super::pieces;
use super::state::Notice;
use super::step::Step;
use super::theme::{FIELD_RADIUS, Palette};
use super::views::camera::points;
use super::work::Work;
use crate::files::drawing;

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
    curve: CurveOf,
}

/// What was decided.
enum Decision {
    Take,
    Leave,
}

impl Import {
    fn mm(&self) -> f64 {
        self.found.unit.unwrap_or_else(|| self.unit.mm())
    }
}

impl App {
    /// Reads a drawing and offers its shapes; tells what is wrong with it.
    pub(crate) fn take_drawing(&mut self, path: &Path, curve: CurveOf) {
        match drawing::read(path) {
            Ok(found) => {
                self.files.import = Some(Import {
                    path: path.to_owned(),
                    unit: drawing::likely_unit(&found),
                    found,
                    chosen: 0,
                    curve,
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
            decision = import.show(ui, self.desk.unit);
        });
        if modal.should_close() {
            decision = Some(Decision::Leave);
        }
        match decision {
            None => self.files.import = Some(import),
            Some(Decision::Leave) => {}
            Some(Decision::Take) => self.take_shape(import),
        }
    }

    /// Makes the chosen shape the head outline or the plate; if it cannot be one, says why and asks on.
    fn take_shape(&mut self, import: Import) {
        let shape = import.found.shapes[import.chosen].scaled(import.mm());
        let middle = match import.curve {
            CurveOf::Head => self.head_box(),
            CurveOf::Plate => {
                let plate = self.desk.laid().plate.bounds();
                plate.unwrap_or([Point::origin(); 2])
            }
        };
        let edit = drawing::edit(
            import.curve,
            &shape,
            nalgebra::center(&middle[0], &middle[1]),
        );
        let told = match edit {
            Ok(edit) => self
                .desk
                .apply(&edit)
                .map_err(|problem| problem.to_string()),
            Err(error) => Err(format!("{error} {}", error.remedy())),
        };
        match told {
            Ok(()) => {
                self.desk.step = match import.curve {
                    CurveOf::Head => Step::Head,
                    CurveOf::Plate => Step::Plate,
                };
                self.desk.work = Work::Handles;
                self.desk.selected = None;
                self.camera.ask_to_frame_all();
                let [width, height] = drawing::size(&shape).map(|mm| self.desk.unit.format(mm));
                self.desk.notice = Some(Notice::good(format!(
                    "The {} is now that of {}: {width} × {height} {}.",
                    import.curve.noun(),
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
}

impl Import {
    fn show(&mut self, ui: &mut Ui, unit: output::LengthUnit) -> Option<Decision> {
        pieces::heading(ui, "Outline from a drawing");
        let name = self.path.file_name().unwrap_or_default().to_string_lossy();
        pieces::hint(ui, &name);
        ui.add_space(4.0);
        self.picture(ui);
        ui.add_space(6.0);
        self.list(ui, unit);
        for note in &self.found.notes {
            pieces::hint(ui, note);
        }
        ui.add_space(4.0);
        pieces::row(ui, "Take it as", |ui| {
            let chosen = usize::from(self.curve == CurveOf::Plate);
            let names = ["head outline", "plate outline"];
            if let Some(picked) = controls::choice(ui, "Take it as", &names, chosen) {
                self.curve = [CurveOf::Head, CurveOf::Plate][picked];
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
        let mut decision = None;
        ui.add_space(12.0);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let take = controls::strong_button(ui, "Take it");
            if ui.memory(|memory| memory.focused().is_none()) {
                take.request_focus();
            }
            if take.clicked() {
                decision = Some(Decision::Take);
            }
            if controls::outlined_button(ui, "Cancel").clicked() {
                decision = Some(Decision::Leave);
            }
        });
        decision
    }

    /// The closed shapes, each with its size.
    fn list(&mut self, ui: &mut Ui, unit: output::LengthUnit) {
        let mm = self.mm();
        ScrollArea::vertical().max_height(LIST).show(ui, |ui| {
            for (index, shape) in self.found.shapes.iter().enumerate() {
                let [width, height] = drawing::size(shape).map(|own| unit.format(own * mm));
                let size = format!("{width} × {height} {}", unit.symbol());
                let number = index + 1;
                let name = shape.name.as_deref().map_or_else(
                    || format!("Shape {number}"),
                    |name| format!("Shape {number}, {name}"),
                );
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
        /// Room around the shapes, in points.
        const ROOM: f32 = 12.0;
        let palette = Palette::of(ui.ctx());
        let size = vec2(ui.available_width(), PICTURE);
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        let count = self.found.shapes.len();
        let spoken = format!("The drawing: {count} closed shapes");
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
        let painter = ui.painter_at(rect);
        let edge = palette.hairline();
        painter.rect(
            rect,
            FIELD_RADIUS,
            palette.field,
            edge,
            egui::StrokeKind::Inside,
        );
        let boxes = self.found.shapes.iter().filter_map(|s| s.outline.bounds());
        let whole = boxes.reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])]);
        let Some([low, high]) = whole else {
            return;
        };
        let inner = rect.shrink(ROOM).size();
        let span: Vector = high - low;
        let scale = (f64::from(inner.x) / span.x).min(f64::from(inner.y) / span.y);
        let middle = nalgebra::center(&low, &high);
        let at = |place: Point| {
            let off = (place - middle) * scale;
            rect.center() + vec2(points(off.x), -points(off.y))
        };
        for (index, shape) in self.found.shapes.iter().enumerate().rev() {
            let path = shape.outline.flattened().into_iter().map(at).collect();
            let (width, colour) = if index == self.chosen {
                (2.4, palette.accent)
            } else {
                (1.0, palette.faint)
            };
            painter.add(egui::Shape::closed_line(path, Stroke::new(width, colour)));
        }
    }
}
