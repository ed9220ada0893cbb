//! `gazewright fit`: which plate of a shelf fits the head, and how.

use std::path::Path;

use layout::shelf::{self, Fit, Placed, Shelf, Work};
use layout::{Project, State};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{NOTHING_FOULS, SOMETHING_FOULS, as_json, print};
use crate::files;

/// One plate of what is said, the best first.
#[derive(Serialize)]
struct Ranked<'a> {
    plate: &'a str,
    sentence: &'static str,
    fit: Fit,
    /// What is to be done to it; None if it has no place.
    work: Option<Work>,
}

pub(super) fn run(input: &Input, path: &Path, json: bool) -> Result<u8, Failure> {
    let project = input.project()?;
    let shelf = files::read_shelf(path)?;
    let ranked = ranked(&project, &shelf);
    let text = if json {
        as_json(&ranked)?
    } else {
        table(&project, &ranked)
    };
    print(&text)?;
    Ok(if ranked.iter().any(|ranked| serves(&ranked.fit)) {
        NOTHING_FOULS
    } else {
        SOMETHING_FOULS
    })
}

/// All plates of a shelf, with what is to be done to those that take the character's parts.
fn ranked<'a>(project: &Project, shelf: &'a Shelf) -> Vec<Ranked<'a>> {
    let ranked = shelf::rank(project, shelf).into_iter();
    let said = ranked.map(|(index, fit)| {
        let plate = &shelf.plates[index];
        let placed = fit.placed.as_ref();
        Ranked {
            plate: &plate.name,
            sentence: fit.sentence(),
            work: placed.map(|placed| shelf::work(project, plate, placed)),
            fit,
        }
    });
    said.collect()
}

/// Whether a plate is there to be tied in: its parts match and it stays off the wall.
fn serves(fit: &Fit) -> bool {
    let placed = fit.placed.as_ref();
    fit.matches() && placed.is_some_and(|placed| placed.state != State::Fouls)
}

fn table(project: &Project, ranked: &[Ranked<'_>]) -> String {
    let mut lines = vec![project.name.clone()];
    for (
        place,
        Ranked {
            plate,
            sentence,
            fit,
            work,
        },
    ) in ranked.iter().enumerate()
    {
        lines.push(String::new());
        lines.push(format!("{}. {plate}", place + 1));
        lines.push(format!("   {sentence}"));
        lines.extend(fit.placed.iter().flat_map(placed_lines));
        lines.extend(work.iter().filter_map(filing_line));
        let differences = fit.differences.iter().map(|one| one.sentence());
        let measure = fit.measure.iter().map(|one| one.sentence());
        let drilling = work.iter().flat_map(|work| &work.drilling);
        let drilling = drilling.map(|one| {
            let [x, y] = one.at;
            format!("({x:.1}, {y:.1}): {}", one.sentence(project))
        });
        let lacks = work.iter().flat_map(|work| &work.lacks);
        let lacks = lacks.map(|one| one.sentence());
        let refused = work.iter().flat_map(|work| &work.refused);
        let refused = refused.map(ToString::to_string);
        let all = differences
            .chain(measure)
            .chain(drilling)
            .chain(lacks)
            .chain(refused);
        let mut said = Vec::<String>::new();
        for line in all {
            if !said.contains(&line) {
                lines.push(format!("   {line}"));
                said.push(line);
            }
        }
    }
    lines.join("\n") + "\n"
}

/// Where it goes, and what it comes to there.
fn placed_lines(placed: &Placed) -> Vec<String> {
    let [x, y] = placed.placement.shift;
    let spacings = placed
        .spacings
        .iter()
        .map(|own| format!("{:.1}", own.distance));
    let spacings: Vec<_> = spacings.collect();
    let mut lines = vec![
        format!(
            "   Margin to the wall {:.2} mm ({}), spacing {} mm",
            placed.margin,
            placed.state.word(),
            spacings.join(", ")
        ),
        format!(
            "   Its origin goes to ({x:.1}, {y:.1}), turned by {:.1}°",
            placed.placement.turn.0
        ),
    ];
    if !placed.slots.is_empty() {
        lines.push(format!(
            "   {} of its {} slots reach an anchor hole",
            placed.reaching(),
            placed.slots.len()
        ));
    }
    lines
}

fn filing_line(work: &Work) -> Option<String> {
    let (deepest, places) = (work.deepest_filing()?, work.filing.len());
    Some(format!(
        "   File its edge in {places} places, by {deepest:.2} mm at most"
    ))
}
