//! The table of lids.

use layout::lever::{THICKNESS, WIDTH};
use layout::lid::{Lid, Which};

use super::names;
use super::tables::{Table, degrees, lengths, words};
use super::view::Subject;

/// Of each lid how far its leading edge goes and how far it reaches back from there, and of all what their levers are
/// cut from; None if there is none.
pub(super) fn lids(subject: &Subject<'_>) -> Option<Table> {
    let project = subject.project;
    let of_eye = |eye: usize| {
        let lids = project.parts_of(eye).lids.as_ref();
        let both = Which::ALL.into_iter();
        both.filter_map(move |which| Some((eye, which, lids?.lid(which)?, lids?.lever_width)))
    };
    let rows: Vec<(usize, Which, Lid, f64)> = (0..project.eyes.len()).flat_map(of_eye).collect();
    if rows.is_empty() {
        return None;
    }
    let angle = |of: fn(&Lid) -> f64| rows.iter().map(move |(_, _, lid, _)| Some(of(lid)));
    let thickness = subject.unit.format(THICKNESS);
    let width = subject.unit.format(WIDTH);
    Some(Table {
        heading: "Lids".to_owned(),
        columns: vec![
            words("No.", rows.iter().map(|(eye, ..)| names::eye(*eye))),
            words("Lid", rows.iter().map(|(_, which, ..)| which.noun().to_owned())),
            degrees("Shut at", angle(|lid| lid.closed.0)),
            degrees("Open at", angle(|lid| lid.open.0)),
            degrees("Reaches back", angle(|lid| lid.extent.0)),
            lengths("Lever", subject.unit, rows.iter().map(|(.., lever)| Some(*lever))),
        ],
        foot: vec![
            "Angles of the edge that leads, from straight ahead away from the other lid, and from there back to the \
             far edge."
                .to_owned(),
            format!(
                "Levers of lids are bars {thickness} thick with round ends, as wide as is given, from the pivot to \
                 the cable's hole; those of gazes are {width} thick all round."
            ),
        ],
    })
}
