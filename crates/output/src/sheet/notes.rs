//! What the sheet says in words: the cautions, and what was checked.

use layout::limits::State;
use layout::{Finding, Report};

use super::block::{Block, Column};
use super::style::NOTE;
use crate::cut::{CutPart, SMALLEST_HEAD};
use crate::font::Weight;
use crate::unit::LengthUnit;

/// The cautions, said once on the sheet.
const CAUTIONS: [&str; 7] = [
    "Small parts and balls choke: even a 40 mm ball passes the gauge for children under 3.",
    "Fold in and cover sharp mesh and wire ends.",
    "A strained tie can snap.",
    "Glue and solvent: air the room, follow the label.",
    "Heating and laser-cutting plastic makes fumes: never PVC. Old celluloid balls burn fiercely.",
    "Moving parts pinch; a heavy head held high tires the arm: rest.",
    "Local rules for toys, stage and workshop come first; if in doubt, ask a qualified person.",
];

/// Most fouls that are written out.
const MOST_FOULS: usize = 6;

/// Draws the cautions in a width, mm.
pub(super) fn cautions(width: f64) -> Block {
    let mut column = Column::new(width);
    write_cautions(&mut column);
    column.finish()
}

/// Writes the cautions on.
pub(super) fn write_cautions(column: &mut Column) {
    column.heading("Take care");
    column.paragraph(&CAUTIONS.join(" "), Weight::Regular, NOTE);
}

/// Draws what the report says of the project, in a width, mm: how many findings foul and which, and
/// what was not checked. For the template of a smaller head, it says that this is of the present one.
pub(super) fn findings(report: &Report, unit: LengthUnit, part: CutPart, width: f64) -> Block {
    let of = |state: State| {
        report
            .findings
            .iter()
            .filter(move |finding| finding.state == state)
    };
    let fouls: Vec<&Finding> = of(State::Fouls).collect();
    let mut column = Column::new(width);
    let checked = if part == CutPart::SmallestHead {
        column.heading("This template");
        column.paragraph(&SMALLEST_HEAD.join(" "), Weight::Regular, NOTE);
        "Checked in the present head"
    } else {
        "Checked"
    };
    let unchecked: Vec<&str> = of(State::NotChecked).map(|finding| finding.id).collect();
    column.heading(&match summary(fouls.len(), of(State::Tight).count()) {
        // What is not checked may foul.
        None if !unchecked.is_empty() => "Clear so far".to_owned(),
        None => format!("{checked}: all clear"),
        Some(counted) => format!("{checked}: {counted}"),
    });
    for finding in fouls.iter().take(MOST_FOULS) {
        column.paragraph(&in_words(finding, unit), Weight::Regular, NOTE);
    }
    if fouls.len() > MOST_FOULS {
        let rest = fouls.len() - MOST_FOULS;
        column.paragraph(&format!("And {rest} more."), Weight::Regular, NOTE);
    }
    if !unchecked.is_empty() {
        let list = format!("Not checked yet: {}.", unchecked.join(", "));
        column.paragraph(&list, Weight::Regular, NOTE);
    }
    column.finish()
}

/// How many findings foul and are tight; None if none does or is.
fn summary(fouls: usize, tight: usize) -> Option<String> {
    let fouls = match fouls {
        0 if tight == 0 => return None,
        0 => "no foul".to_owned(),
        1 => "1 foul".to_owned(),
        fouls => format!("{fouls} fouls"),
    };
    Some(match tight {
        0 => fouls,
        tight => format!("{fouls}, {tight} tight"),
    })
}

/// A finding with the part that it is about, its figure and what is wanted of it.
fn in_words(finding: &Finding, unit: LengthUnit) -> String {
    let figure = |value: f64| match finding.unit {
        "mm" => unit.format_with_symbol(value),
        other => format!("{value:.1}{other}"),
    };
    let sentence = if finding.sentence.contains(&finding.part) {
        finding.sentence.clone()
    } else {
        format!("{}: {}", finding.part, finding.sentence)
    };
    match (finding.value, finding.wanted) {
        (Some(value), Some(wanted)) => {
            let sentence = sentence.trim_end_matches('.');
            format!("{sentence}: {}, wanted {}.", figure(value), figure(wanted))
        }
        _ => sentence,
    }
}
