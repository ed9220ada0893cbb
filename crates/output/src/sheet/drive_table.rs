//! The table of drives.

use layout::report::DriveFigures;

use super::block::cut_to;
use super::names;
use super::style::NOTE;
use super::tables::{Table, degrees, numbers, words};
use super::view::Subject;
use crate::font::Weight;

/// Widest that a drive's name may run, mm.
const NAME_WIDTH: f64 = 28.0;

/// What stands for a value that there is not.
const NONE: &str = "–";

/// One line of the table: a drive with its first hole, or a further hole of it.
struct Row {
    drive: usize,
    hole: usize,
}

/// Number, name and stroke of each drive, its stop, holes and lengths; None if there is none.
pub(super) fn drives(subject: &Subject<'_>) -> Option<Table> {
    let (laid, figures) = (&subject.laid.drives, &subject.report.figures.drives);
    if laid.is_empty() {
        return None;
    }
    let rows: Vec<Row> = laid
        .iter()
        .enumerate()
        .flat_map(|(drive, own)| (0..own.holes.len().max(1)).map(move |hole| Row { drive, hole }))
        .collect();
    // A further hole's line says nothing of its drive again.
    let of_drive = |cell: &dyn Fn(usize) -> String| -> Vec<String> {
        let cell = |row: &Row| {
            if row.hole == 0 {
                cell(row.drive)
            } else {
                String::new()
            }
        };
        rows.iter().map(cell).collect()
    };
    let or_none =
        |length: Option<f64>| length.map_or(NONE.to_owned(), |mm| subject.unit.format(mm));
    let figure = |of: fn(&DriveFigures) -> Option<f64>| {
        of_drive(&|drive| or_none(figures.get(drive).and_then(of)))
    };
    let stop = |axis: usize| {
        of_drive(&|drive| or_none(laid[drive].pull.as_ref().ok().map(|pull| pull.stop[axis])))
    };
    let hole = |of: &dyn Fn(&layout::cable_hole::CableHole) -> String| -> Vec<String> {
        let cell = |row: &Row| {
            laid[row.drive]
                .holes
                .get(row.hole)
                .map_or(NONE.to_owned(), of)
        };
        rows.iter().map(cell).collect()
    };
    let length = |mm: f64| subject.unit.format(mm);
    let bend = of_drive(&|drive| {
        let total = figures.get(drive).and_then(|own| own.bend_total_deg);
        total.map_or(NONE.to_owned(), degrees)
    });
    let name = |drive: usize| {
        cut_to(
            &subject.project.drives[drive].name,
            Weight::Regular,
            NOTE,
            NAME_WIDTH,
        )
    };
    let columns = vec![
        words("No.", of_drive(&names::drive).into_iter()),
        words("Drive", of_drive(&name).into_iter()),
        numbers("Stroke", figure(|own| own.stroke_mm).into_iter()),
        numbers("Stop x", stop(0).into_iter()),
        numbers("y", stop(1).into_iter()),
        numbers("z", stop(2).into_iter()),
        numbers("Standoff", figure(|own| own.standoff_mm).into_iter()),
        numbers("Hole x", hole(&|own| length(own.middle().x)).into_iter()),
        numbers("y", hole(&|own| length(own.middle().y)).into_iter()),
        numbers("Size", hole(&|own| size(own.size(), &length)).into_iter()),
        numbers("Sheath", figure(|own| own.sheath_mm).into_iter()),
        numbers("Inner", figure(|own| own.inner_mm).into_iter()),
        numbers("Bend", bend.into_iter()),
    ];
    Some(Table {
        heading: "Drives".to_owned(),
        columns,
        foot: vec![
            "Stop: where the sheath ends. x to the audience's right, y up, z toward the audience, from \
             the centre lines and the plate's front face. Inner: the wire, with what is left at both ends."
                .to_owned(),
        ],
    })
}

/// A slot's length and width, or a round hole's diameter.
fn size([along, across]: [f64; 2], length: &dyn Fn(f64) -> String) -> String {
    let (along, across) = (length(along), length(across));
    if along == across {
        format!("Ø{along}")
    } else {
        format!("{along} × {across}")
    }
}
