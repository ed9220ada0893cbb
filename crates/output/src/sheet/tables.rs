//! The tables of openings and slots.

use layout::geometry::Point;
use layout::report::TieFigures;
use layout::ties::length::HEAD_AND_TAIL;

use super::block::{Block, Column};
use super::dimensions;
use super::names;
use super::style::NOTE;
use super::view::{SAME, Subject};
use crate::cut::{PASSAGES, ROD_PASSAGES};
use crate::drawing::Anchor;
use crate::font::{self, Weight};
use crate::seen::Seen;
use crate::unit::LengthUnit;

/// A table, and what is said under it.
pub(super) struct Table {
    pub(super) heading: String,
    pub(super) columns: Vec<Cells>,
    pub(super) foot: Vec<String>,
}

/// A column: its caption and its cells.
pub(super) struct Cells {
    caption: &'static str,
    /// Where each cell begins or ends.
    anchor: Anchor,
    cells: Vec<String>,
}

/// Between two columns, mm.
const COLUMN_GAP: f64 = 3.0;
/// Between two stretches of a table that stand side by side, mm.
const STRETCH_GAP: f64 = 8.0;
/// Between the last row and what is said under it, mm.
const FOOT_ROOM: f64 = 0.8;

pub(super) fn words(caption: &'static str, cells: impl Iterator<Item = String>) -> Cells {
    Cells {
        caption,
        anchor: Anchor::Start,
        cells: cells.collect(),
    }
}

pub(super) fn numbers(caption: &'static str, cells: impl Iterator<Item = String>) -> Cells {
    Cells {
        caption,
        anchor: Anchor::End,
        cells: cells.collect(),
    }
}

/// What stands for a value that there is not.
pub(super) const NONE: &str = "–";

/// A column of lengths, mm, all with as many decimals.
pub(super) fn lengths(
    caption: &'static str,
    unit: LengthUnit,
    lengths: impl Iterator<Item = Option<f64>>,
) -> Cells {
    let cells = unit.format_column(&lengths.collect::<Vec<_>>());
    let text = |cell: Option<String>| cell.unwrap_or_else(|| NONE.to_owned());
    numbers(caption, cells.into_iter().map(text))
}

/// Number, name and place of each opening; its size where they differ.
pub(super) fn openings(subject: &Subject<'_>) -> Table {
    let eyes = &subject.laid.eyes;
    let length = |mm: f64| subject.unit.format(mm);
    let mut columns = vec![
        words("No.", (0..eyes.len()).map(names::eye)),
        words(
            "Opening",
            (0..eyes.len()).map(|index| subject.project.eye_name(index)),
        ),
        lengths("x", subject.unit, eyes.iter().map(|eye| Some(eye.centre.x))),
        lengths("y", subject.unit, eyes.iter().map(|eye| Some(eye.centre.y))),
    ];
    let sizes: Vec<_> = eyes
        .iter()
        .map(|eye| {
            eye.seat
                .as_ref()
                .ok()
                .map(|seat| [seat.opening_front, seat.opening_back])
        })
        .collect();
    if sizes.iter().any(|size| size != &sizes[0]) {
        for (caption, side) in [("Ø front", 0), ("Ø back", 1)] {
            let diameter = |size: &Option<[f64; 2]>| size.map(|size| 2.0 * size[side]);
            columns.push(lengths(caption, subject.unit, sizes.iter().map(diameter)));
        }
    }
    let mut foot: Vec<String> = dimensions::spacings_in_words(subject).into_iter().collect();
    let pivots: Vec<_> = (0..eyes.len())
        .map(|index| pivots(subject, index))
        .collect();
    match pivots.first() {
        Some(Some([spacing, height, hole])) if pivots.iter().all(|own| own == &pivots[0]) => {
            foot.push(format!(
                "Pivots {} apart, {} over the plate, pivot hole Ø{}.",
                length(*spacing),
                length(*height),
                length(*hole)
            ));
        }
        _ if pivots.iter().any(Option::is_some) => {
            for (caption, own) in [("Pivots", 0), ("Height", 1), ("Pivot Ø", 2)] {
                let cell = |pivots: &Option<[f64; 3]>| pivots.map(|pivots| pivots[own]);
                columns.push(lengths(caption, subject.unit, pivots.iter().map(cell)));
            }
        }
        _ => {}
    }
    foot.push(which_way(subject.seen).to_owned());
    Table {
        heading: "Openings".to_owned(),
        columns,
        foot,
    }
}

/// Number, name and place of each hole of the foam: behind an eye, or for a rod.
pub(super) fn foam_holes(subject: &Subject<'_>) -> Table {
    let (eyes, project) = (&subject.laid.eyes, subject.project);
    let passages = subject.laid.foam_passages(project, subject.foam_clearance);
    let rods = || passages.iter().map(|(rod, _)| *rod);
    let middles = passages.iter().filter_map(|(_, edge)| edge.bounds());
    let middles = middles.map(|[low, high]| nalgebra::center(&low, &high));
    let places: Vec<Point> = eyes.iter().map(|eye| eye.centre).chain(middles).collect();
    let numbers = (0..eyes.len()).map(names::eye);
    let eye_names = (0..eyes.len()).map(|index| project.eye_name(index));
    let columns = vec![
        words("No.", numbers.chain(rods().map(names::rod))),
        words(
            "For",
            eye_names.chain(rods().map(|rod| project.rods[rod].name.clone())),
        ),
        lengths("x", subject.unit, places.iter().map(|at| Some(at.x))),
        lengths("y", subject.unit, places.iter().map(|at| Some(at.y))),
    ];
    let clearance = subject.unit.format_with_symbol(subject.foam_clearance);
    let mut foot = vec![format!("What the rings sweep, and {clearance} around it.")];
    if !subject.scene.cable_holes.is_empty() {
        foot.push(PASSAGES.to_owned());
    }
    if !passages.is_empty() {
        foot.push(ROD_PASSAGES.to_owned());
    }
    foot.push(which_way(subject.seen).to_owned());
    foot.extend(subject.scene.falls_apart.clone());
    Table {
        heading: "Holes".to_owned(),
        columns,
        foot,
    }
}

/// Pivot spacing, pivot height over the plate's front face and pivot hole of an eye, mm; None without
/// lugs.
fn pivots(subject: &Subject<'_>, eye: usize) -> Option<[f64; 3]> {
    let [lug, _] = subject.laid.eyes[eye].lugs.as_ref()?;
    let lids = subject.project.parts_of(eye).lids.as_ref()?;
    Some([lids.pivot_spacing, lug.pivot_height, lug.hole])
}

/// Which way x and y run, and whose left and right the names mean.
fn which_way(seen: Seen) -> &'static str {
    match seen {
        Seen::Front => "x to the right, y up, from the centre lines, seen from the front.",
        Seen::Back => {
            "Left and right are the audience's: seen from the back, x runs to the left. y up, from \
             the centre lines."
        }
    }
}

/// Number, place, direction, size and tie of each slot; None if the plate has none.
pub(super) fn slots(subject: &Subject<'_>) -> Option<Table> {
    let slots = &subject.project.ties;
    let first = slots.first()?;
    let length = |mm: f64| subject.unit.format(mm);
    let by = |[a, b]: [f64; 2]| format!("{} × {}", length(a), length(b));
    let mut columns = vec![
        words("No.", (0..slots.len()).map(names::slot)),
        lengths("x", subject.unit, slots.iter().map(|slot| Some(slot.at[0]))),
        lengths("y", subject.unit, slots.iter().map(|slot| Some(slot.at[1]))),
        degrees("Angle", slots.iter().map(|slot| Some(slot.angle.0))),
    ];
    let mut foot = Vec::new();
    let same = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs() < SAME && (a[1] - b[1]).abs() < SAME;
    if slots.iter().all(|slot| same(slot.tie, first.tie)) {
        foot.push(format!(
            "Slot size {}, for ties {}.",
            by(first.size()),
            by(first.tie)
        ));
    } else {
        columns.push(numbers(
            "Slot size",
            slots.iter().map(|slot| by(slot.size())),
        ));
        columns.push(numbers("Tie", slots.iter().map(|slot| by(slot.tie))));
    }
    if slots.iter().any(|slot| slot.anchor.is_some()) {
        let to = |anchor: Option<usize>| anchor.map_or(NONE.to_owned(), names::anchor);
        columns.push(words("To hole", slots.iter().map(|slot| to(slot.anchor))));
        foot.extend(tie_lengths(subject, &mut columns));
    }
    Some(Table {
        heading: "Slots".to_owned(),
        columns,
        foot,
    })
}

/// Adds a column of how long the ties are, and says what that means.
fn tie_lengths(subject: &Subject<'_>, columns: &mut Vec<Cells>) -> Vec<String> {
    let ties = &subject.report.figures.ties;
    columns.push(lengths(
        "Tie length",
        subject.unit,
        ties.iter().map(|tie| tie.tie_length_mm),
    ));
    let over = subject.unit.format_with_symbol(HEAD_AND_TAIL);
    let mut foot = vec![format!(
        "Tie length: the shortest usual one that goes there and back through plate and wall, with {over} for \
         head and tail."
    )];
    let is_too_long = |tie: &TieFigures| tie.tie_needed_mm.is_some() && tie.tie_length_mm.is_none();
    if ties.iter().any(is_too_long) {
        foot.push(format!(
            "{NONE} at a hole: no usual tie is as long; join two."
        ));
    }
    foot
}

/// A column of angles, degrees, all with one decimal where one of them has one.
pub(super) fn degrees(
    caption: &'static str,
    angles: impl Iterator<Item = Option<f64>> + Clone,
) -> Cells {
    let is_whole = |angle: f64| format!("{angle:.1}").ends_with(".0");
    let decimals = usize::from(!angles.clone().flatten().all(is_whole));
    let text = |angle: f64| format!("{angle:.decimals$}°");
    let cells = angles.map(|angle| angle.map_or_else(|| NONE.to_owned(), text));
    numbers(caption, cells)
}

impl Cells {
    /// Width of the column, mm.
    fn width(&self) -> f64 {
        let cells = self
            .cells
            .iter()
            .map(|cell| font::width(cell, Weight::Regular, NOTE));
        cells.fold(font::width(self.caption, Weight::SemiBold, NOTE), f64::max)
    }

    /// Where its cells begin or end in a column from `left`, mm.
    fn place(&self, left: f64) -> f64 {
        match self.anchor {
            Anchor::End => left + self.width(),
            Anchor::Start | Anchor::Middle => left,
        }
    }
}

impl Table {
    /// The same rows in tables of at most `most` rows; the last has what is said under it.
    pub(super) fn in_pieces(self, most: usize) -> Vec<Self> {
        let rows = self.rows();
        let mut pieces: Vec<Self> = (0..rows.max(1))
            .step_by(most)
            .map(|first| {
                let columns = self.columns.iter().map(|column| Cells {
                    caption: column.caption,
                    anchor: column.anchor,
                    cells: column
                        .cells
                        .iter()
                        .skip(first)
                        .take(most)
                        .cloned()
                        .collect(),
                });
                let continued = if first == 0 { "" } else { ", continued" };
                Self {
                    heading: format!("{}{continued}", self.heading),
                    columns: columns.collect(),
                    foot: Vec::new(),
                }
            })
            .collect();
        if let Some(last) = pieces.last_mut() {
            last.foot = self.foot;
        }
        pieces
    }

    fn rows(&self) -> usize {
        self.columns.first().map_or(0, |column| column.cells.len())
    }

    /// Draws it with its rows in `stretches` side by side.
    pub(super) fn block(&self, stretches: usize) -> Block {
        let rows = self.rows();
        let per_stretch = rows.div_ceil(stretches.max(1)).max(1);
        let stretches = rows.div_ceil(per_stretch);
        let own: f64 = self
            .columns
            .iter()
            .map(|column| column.width() + COLUMN_GAP)
            .sum();
        let step = own - COLUMN_GAP + STRETCH_GAP;
        let width = step * stretches as f64 - STRETCH_GAP;

        let mut column = Column::new(width);
        column.heading(&self.heading);
        let starts = (0..stretches).map(|stretch| step * stretch as f64);
        let captions = starts
            .clone()
            .flat_map(|left| self.line(left, |own| own.caption.to_owned()));
        column.cells(captions, Weight::SemiBold);
        column.rule();
        for row in 0..per_stretch {
            let cells = starts.clone().enumerate().flat_map(|(stretch, left)| {
                let index = stretch * per_stretch + row;
                self.line(left, move |own| {
                    own.cells.get(index).cloned().unwrap_or_default()
                })
            });
            column.cells(cells.filter(|cell| !cell.2.is_empty()), Weight::Regular);
        }
        column.space(FOOT_ROOM);
        for line in &self.foot {
            column.paragraph(line, Weight::Regular, NOTE);
        }
        column.finish()
    }

    /// One line of cells from `left`, mm.
    fn line<'a>(
        &'a self,
        left: f64,
        text: impl Fn(&'a Cells) -> String + 'a,
    ) -> impl Iterator<Item = (f64, Anchor, String)> + 'a {
        let lefts = self.columns.iter().scan(left, |next, column| {
            let own = *next;
            *next += column.width() + COLUMN_GAP;
            Some(own)
        });
        let columns = self.columns.iter().zip(lefts.collect::<Vec<_>>());
        columns.map(move |(column, left)| (column.place(left), column.anchor, text(column)))
    }
}
