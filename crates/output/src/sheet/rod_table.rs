//! The table of rods.

use super::block::cut_to;
use super::names;
use super::style::NOTE;
use super::tables::{Table, lengths, words};
use super::view::Subject;
use crate::font::Weight;

/// Widest that a rod's name may run, mm.
const NAME_WIDTH: f64 = 28.0;

/// Number, name and length of each rod, and what it ties; None if there is none.
pub(super) fn rods(subject: &Subject<'_>) -> Option<Table> {
    let rods = &subject.project.rods;
    if rods.is_empty() {
        return None;
    }
    let name = |name: &String| cut_to(name, Weight::Regular, NOTE, NAME_WIDTH);
    let part = |moves: layout::drive::Moves| {
        let eye = subject.project.eye_name(moves.eye());
        format!("{eye}, {}", moves.noun())
    };
    let figures = subject.report.figures.rods.iter();
    Some(Table {
        heading: "Rods".to_owned(),
        columns: vec![
            words("No.", (0..rods.len()).map(names::rod)),
            words("Rod", rods.iter().map(|rod| name(&rod.name))),
            words("Driven by", rods.iter().map(|rod| part(rod.driver))),
            words("Takes along", rods.iter().map(|rod| part(rod.follower))),
            lengths("Length", subject.unit, figures.map(|own| own.rod_length_mm)),
        ],
        foot: vec![
            "Length: from joint to joint, with both eyes straight ahead or both lids shut."
                .to_owned(),
        ],
    })
}
