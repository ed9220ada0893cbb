//! The tables of drives: what each is cut and bent from, and where everything of it goes.

use layout::drive::Drive;
use layout::force::{HAND_END, LEVER_END};
use layout::geometry::space::Place;
use layout::pull::Pull;
use layout::report::DriveFigures;

use super::block::cut_to;
use super::names;
use super::scene::cable_holes_of;
use super::style::NOTE;
use super::tables::{Cells, NONE, Table, degrees, lengths, numbers, words};
use super::view::Subject;
use crate::font::Weight;

/// Widest that a drive's name may run, mm.
const NAME_WIDTH: f64 = 28.0;

/// All of them; none without drives.
pub(super) fn all(subject: &Subject<'_>) -> Vec<Table> {
    if subject.project.drives.is_empty() {
        return Vec::new();
    }
    let more = [cable_holes(subject), route_points(subject)];
    let first = [drives(subject), places(subject)];
    first
        .into_iter()
        .chain(more.into_iter().flatten())
        .collect()
}

/// Number and name of each drive, how it pulls, and what its cable is made from.
fn drives(subject: &Subject<'_>) -> Table {
    let (unit, drives) = (subject.unit, &subject.project.drives);
    let figures = &subject.report.figures.drives;
    let name = |drive: &Drive| cut_to(&drive.name, Weight::Regular, NOTE, NAME_WIDTH);
    let figure = |caption, of: fn(&DriveFigures) -> Option<f64>| {
        lengths(caption, unit, figures.iter().map(of))
    };
    let entered = |caption, of: fn(&Drive) -> f64| {
        lengths(caption, unit, drives.iter().map(|drive| Some(of(drive))))
    };
    let pull = |own: &DriveFigures| own.hand_force_n.map_or(NONE.to_owned(), force);
    let columns = vec![
        words("No.", (0..drives.len()).map(names::drive)),
        words("Drive", drives.iter().map(name)),
        figure("Stroke", |own| own.stroke_mm),
        figure("Standoff", |own| own.standoff_mm),
        entered("Lead", |own| own.lead),
        entered("Wire Ø", |own| own.cable.inner_diameter),
        entered("Sheath Ø", |own| own.cable.sheath_diameter),
        entered("Bend R", |own| own.cable.least_bend_radius),
        degrees("Bends", figures.iter().map(|own| own.bend_total_deg)),
        figure(SHEATH, |own| own.sheath_mm),
        figure(WIRE, |own| own.inner_mm),
        numbers("Pull, N", figures.iter().map(pull)),
    ];
    let [at_lever, at_hand] = [LEVER_END, HAND_END].map(|mm| unit.format_with_symbol(mm));
    Table {
        heading: "Drives".to_owned(),
        columns,
        foot: vec![format!(
            "{WIRE}: with {at_lever} left at the lever and {at_hand} at the hand. Lead: the sheath's straight \
             piece behind its stop. Bend R: the least that its bends may have; Bends: all of them together. \
             Pull: at the hand, where it is hardest."
        )],
    }
}

/// The sheath's length, as the window calls it.
const SHEATH: &str = "Sheath, cut to";
/// The wire's length, as the window calls it.
const WIRE: &str = "Wire, cut to";

/// A force, N, as the window gives it.
fn force(newton: f64) -> String {
    format!("{newton:.1}")
}

/// Where the lever's tip, the sheath's stop and its exit are.
fn places(subject: &Subject<'_>) -> Table {
    let drives = &subject.project.drives;
    let pulls = || {
        subject
            .laid
            .drives
            .iter()
            .map(|laid| laid.pull.as_ref().ok())
    };
    let of_pull = |of: fn(&Pull) -> Place| pulls().map(move |pull| pull.map(of));
    let exits = drives.iter().map(|drive| Some(drive.exit.into()));
    let mut columns = vec![words("No.", (0..drives.len()).map(names::drive))];
    columns.extend(place("Tip x", subject, of_pull(|pull| pull.near)));
    columns.extend(place("Stop x", subject, of_pull(|pull| pull.stop)));
    columns.extend(place("Exit x", subject, exits));
    Table {
        heading: "Places of the drives".to_owned(),
        columns,
        foot: vec![
            "Tip: of the lever, at its end nearest the sheath. Stop: where the sheath begins, behind the \
             lever; exit: where it ends, toward the hand. x to the audience's right, y up, z toward the \
             audience, from the centre lines and the plate's front face."
                .to_owned(),
        ],
    }
}

/// Three columns: a place's x, y and z.
fn place(
    x: &'static str,
    subject: &Subject<'_>,
    places: impl Iterator<Item = Option<Place>>,
) -> [Cells; 3] {
    let places: Vec<Option<Place>> = places.collect();
    let axes = [(x, 0), ("y", 1), ("z", 2)];
    axes.map(|(caption, axis)| {
        let along = places.iter().map(|own| own.map(|own| own[axis]));
        lengths(caption, subject.unit, along)
    })
}

/// The plate's holes for cables; None if it has none.
fn cable_holes(subject: &Subject<'_>) -> Option<Table> {
    let holes = cable_holes_of(subject.laid);
    let along = |of: usize| holes.iter().map(move |(_, hole)| Some(hole.middle()[of]));
    let directions = holes.iter().map(|(_, hole)| Some(hole.direction()?.0));
    let size = |of: usize| holes.iter().map(move |(_, hole)| Some(hole.size()[of]));
    let unit = subject.unit;
    let table = Table {
        heading: "Cable holes".to_owned(),
        columns: vec![
            words("No.", holes.iter().map(|(name, _)| name.clone())),
            lengths("x", unit, along(0)),
            lengths("y", unit, along(1)),
            lengths("Length", unit, size(0)),
            lengths("Width", unit, size(1)),
            degrees("Long side", directions),
        ],
        foot: Vec::new(),
    };
    (!holes.is_empty()).then_some(table)
}

/// The corners which the sheaths cut; None if they cut none.
fn route_points(subject: &Subject<'_>) -> Option<Table> {
    let drives = subject.project.drives.iter().enumerate();
    let points: Vec<(usize, usize, Place)> = drives
        .flat_map(|(drive, own)| {
            let via = own.via.iter().enumerate();
            via.map(move |(point, &at)| (drive, point, at.into()))
        })
        .collect();
    let mut columns = vec![
        words("No.", points.iter().map(|own| names::drive(own.0))),
        words("Point", points.iter().map(|own| (own.1 + 1).to_string())),
    ];
    columns.extend(place("x", subject, points.iter().map(|own| Some(own.2))));
    let table = Table {
        heading: "Route points".to_owned(),
        columns,
        foot: vec![
            "Corners between stop and exit that the sheath rounds with its bends.".to_owned(),
        ],
    };
    (!points.is_empty()).then_some(table)
}
