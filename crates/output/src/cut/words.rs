//! What a cut file says in words.

use layout::seat::Seat;
use layout::{Laid, Project, wording};

use super::kerf::Shapes;
use super::{CutOptions, CutPart, Purpose};

/// What the foam's smaller holes are, after what has been said of the larger ones.
pub(crate) const PASSAGES: &str = "Passages: the plate's cable holes, and as much around them.";

/// What the foam's holes for rods are, likewise.
pub(crate) const ROD_PASSAGES: &str = "Rods: what they sweep, and as much around them.";

/// What the smallest head is.
pub(crate) const SMALLEST_HEAD: [&str; 3] = [
    "The smallest inside wall at the plate that a head round it can have.",
    "It keeps off plate, ring sweeps, lids, lugs and guard as far as is wanted.",
    "Sheaths and ties do not count: lead them once the head is there.",
];

/// The part's title.
pub(super) fn title(project: &Project, part: CutPart) -> String {
    let name: String = project.name.chars().map(printable).collect();
    let parts = [name.trim(), part.noun()];
    let said = parts.into_iter().filter(|word| !word.is_empty());
    said.collect::<Vec<_>>().join(", ")
}

/// A line break or another control character would break a line of text.
fn printable(character: char) -> char {
    if character.is_control() {
        ' '
    } else {
        character
    }
}

/// The notes below the part.
pub(super) fn lines(
    project: &Project,
    laid: &Laid,
    part: CutPart,
    options: &CutOptions,
    shapes: &Shapes,
) -> Vec<String> {
    let mut lines = vec![
        title(project, part),
        "Scale 1:1, in millimetres, seen from the front.".to_owned(),
    ];
    lines.extend(about(project, laid, part, options));
    lines.extend(kerf(options.kerf));
    let has_holes = matches!(part, CutPart::Plate | CutPart::Foam);
    if options.hole_allowance > 0.0 && has_holes {
        lines.push(format!(
            "Holes are drawn {} mm wider than they are to come out.",
            options.hole_allowance
        ));
    }
    lines.extend(falls_apart(part, shapes.pieces));
    if shapes.scraps > 0 {
        lines.push(format!("Scraps left with the waste: {}.", shapes.scraps));
    }
    lines.extend(Purpose::ALL.map(|purpose| format!("{}: {}.", purpose.name(), purpose.says())));
    lines
}

/// That a part falls into several pieces, and what to do with them; None if it stays whole.
pub(super) fn falls_apart(part: CutPart, pieces: usize) -> Option<String> {
    let mend = match part {
        CutPart::Foam => ": glue each to the plate",
        CutPart::Plate | CutPart::Guard | CutPart::Head | CutPart::SmallestHead => "",
    };
    let noun = part.noun();
    (pieces > 1).then(|| format!("The {noun} falls into {pieces} pieces{mend}."))
}

/// What is special about a part.
fn about(project: &Project, laid: &Laid, part: CutPart, options: &CutOptions) -> Vec<String> {
    match part {
        CutPart::Plate => {
            let mut lines = vec![format!("Sheet {} mm thick.", project.plate.thickness)];
            if let Some(seats) = spherical_seats(project) {
                lines.push(format!(
                    "{seats}: cut to the seat's smallest radius, at the back."
                ));
                lines.push("Shape the seat from there toward the front.".to_owned());
            }
            lines
        }
        CutPart::Foam => {
            let mut lines = vec![format!(
                "Holes: what the rings sweep, and {} mm around it.",
                options.foam_clearance
            )];
            if laid.cable_passages().next().is_some() {
                lines.push(PASSAGES.to_owned());
            }
            let rods = laid.foam_passages(project, options.foam_clearance);
            if !rods.is_empty() {
                lines.push(ROD_PASSAGES.to_owned());
            }
            lines.push("Foam burns: no laser, unless the foam's maker allows it.".to_owned());
            lines
        }
        CutPart::Guard => vec![
            format!(
                "Mesh, flat. Bend it about its middle line to a bow of {} mm.",
                project.hand.guard_bow
            ),
            "Cut mesh ends are sharp: fold them in and cover them.".to_owned(),
        ],
        CutPart::Head => vec!["The head's inside wall at the plate.".to_owned()],
        CutPart::SmallestHead => SMALLEST_HEAD.map(str::to_owned).to_vec(),
    }
}

/// The eyes in spherical seats, as the beginning of a sentence.
fn spherical_seats(project: &Project) -> Option<String> {
    let eyes = 0..project.eyes.len();
    let spherical = |&eye: &usize| matches!(project.parts_of(eye).seat, Seat::Spherical { .. });
    let found: Vec<usize> = eyes.filter(spherical).collect();
    if found.len() == project.eyes.len() {
        return Some("Spherical seats".to_owned());
    }
    let names = found.into_iter().map(|eye| project.eye_name(eye));
    let names = names.reduce(|a, b| wording::pair(&a, &b))?;
    Some(format!("Spherical seat of {}", of(&names)))
}

fn kerf(kerf: f64) -> Vec<String> {
    if kerf == 0.0 {
        return vec!["Without kerf: the lines are the part's edges.".to_owned()];
    }
    vec![
        format!("For a kerf of {kerf} mm:"),
        format!(
            "edges are drawn {} mm outside the part, holes as much inside.",
            kerf / 2.0
        ),
    ]
}

/// A part's name within a sentence: “the left eye”, but “eye 3” (as findings say it).
pub(crate) fn of(name: &str) -> String {
    if name.ends_with(|last: char| last.is_ascii_digit()) {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

/// A hole's name within a sentence: “the opening of eye 3”, but “slot 2” and “cable hole 1 of …”.
pub(super) fn subject(name: &str) -> String {
    if name.starts_with("slot ") || name.starts_with("cable hole ") {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}
