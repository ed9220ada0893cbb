//! The head: its outline, its size and where ties can hold on to it.

use egui::Ui;
use layout::closed_curve::CurveOf;
use layout::field::Field;
use layout::handle::Handle;
use layout::{Edit, Project};

use super::{apply, curve, number, place, shown_place, tracing};
use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;

/// The shape that a head outline can start from.
#[derive(Clone, Copy, Debug)]
pub(super) struct StartShape {
    width: f64,
    height: f64,
    squareness: f64,
}

impl StartShape {
    /// As wide and high as the outline is.
    pub(super) fn of(project: &Project) -> Self {
        let span = |axis: usize| {
            let values = || project.head.outline.iter().map(|point| point[axis]);
            let high = values().fold(f64::NEG_INFINITY, f64::max);
            let low = values().fold(f64::INFINITY, f64::min);
            high - low
        };
        Self {
            width: span(0),
            height: span(1),
            squareness: 0.0,
        }
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, start: &mut StartShape) -> Option<Command> {
    pieces::group(ui, "Outline, inside the wall", true);
    curve::show(ui, desk, CurveOf::Head);
    let from_file = controls::outlined_button(ui, Command::ImportHead.label());
    let asked = from_file.clicked().then_some(Command::ImportHead);
    pieces::group(ui, "Picture to trace", false);
    let asked = asked.or(tracing::show(ui, desk));
    pieces::group(ui, "Start again from a plain shape", false);
    start_again(ui, desk, start);
    pieces::group(ui, "Inside", false);
    for field in [Field::WallThickness, Field::CavityDepth, Field::Access] {
        number(ui, desk, field, None);
    }
    pieces::group(ui, "Anchor holes", false);
    anchor_holes(ui, desk);
    asked
}

fn start_again(ui: &mut Ui, desk: &mut Desk, start: &mut StartShape) {
    let shape = std::cell::Cell::new(*start);
    let length = Measure::Length(desk.unit);
    type Put = fn(&mut StartShape, f64);
    let rows: [(&str, f64, Measure, Put); 3] = [
        ("Width", start.width, length, |shape, value| {
            shape.width = value;
        }),
        ("Head height", start.height, length, |shape, value| {
            shape.height = value;
        }),
        (
            "Squareness, 0 to 0.9",
            start.squareness,
            Measure::Plain,
            |shape, value| shape.squareness = value,
        ),
    ];
    for (label, value, measure, put) in rows {
        NumberField {
            label,
            name: None,
            value,
            measure,
        }
        .show(ui, desk, |_, value| {
            let mut next = shape.get();
            put(&mut next, value);
            shape.set(next.checked()?);
            Ok(())
        });
    }
    *start = shape.get();
    if controls::outlined_button(ui, "Start again from this shape").clicked() {
        let StartShape {
            width,
            height,
            squareness,
        } = *start;
        apply(
            desk,
            &Edit::StartOutline {
                width,
                height,
                squareness,
            },
        );
    }
}

impl StartShape {
    /// The shape, if an outline can be made from it.
    fn checked(self) -> Result<Self, layout::Problem> {
        use layout::problem::{size, within};
        size("width", self.width)?;
        size("height", self.height)?;
        within("squareness", self.squareness, 0.0..=0.9, "")?;
        Ok(self)
    }
}

fn anchor_holes(ui: &mut Ui, desk: &mut Desk) {
    let holes = desk.project().head.anchor_holes.clone();
    for (index, hole) in holes.iter().enumerate() {
        let handle = Handle::AnchorHole(index);
        let name = format!("Anchor hole {}", index + 1);
        let chosen = desk.selected == Some(handle);
        let figure = shown_place(desk, hole.at);
        if controls::pick_row(ui, &name, &figure, chosen).clicked() {
            desk.selected = (!chosen).then_some(handle);
        }
        if chosen {
            place(ui, desk, handle, &name);
            number(ui, desk, Field::AnchorDiameter(index), Some(&name));
            if controls::outlined_button(ui, "Remove this hole").clicked() {
                let mirrored = desk.mirror;
                apply(desk, &Edit::Remove { handle, mirrored });
            }
        }
    }
    if holes.is_empty() {
        pieces::hint(ui, "No hole yet: a tie needs one to hold on to.");
    }
    let add = if desk.mirror {
        "Add a pair of holes"
    } else {
        "Add a hole"
    };
    if controls::outlined_button(ui, add).clicked() {
        let (at, mirrored) = (free_place(desk.project()), desk.mirror);
        if desk.apply(&Edit::AddAnchorHole { at, mirrored }).is_ok() {
            desk.selected = Some(Handle::AnchorHole(holes.len()));
        }
    }
}

/// How far above the last hole the next one starts, mm.
const NEXT_HOLE: f64 = 12.0;

/// Where a new anchor hole starts: above the highest at the right, else at the right of the wall.
fn free_place(project: &Project) -> [f64; 2] {
    let right = project
        .head
        .anchor_holes
        .iter()
        .map(|hole| hole.at)
        .filter(|at| at[0] >= 0.0);
    let highest = right.reduce(|a, b| if b[1] > a[1] { b } else { a });
    highest.map_or_else(
        || {
            let outline = project.head.outline.iter().map(|point| point[0]);
            [0.9 * outline.fold(0.0, f64::max), 0.0]
        },
        |[x, y]| [x, y + NEXT_HOLE],
    )
}
