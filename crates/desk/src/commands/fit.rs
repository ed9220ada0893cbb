//! `gazewright fit`: which plate of a shelf fits the head, and how.

use std::path::Path;

use layout::shelf::{self, Fit, Placed, Shelf};
use layout::{Project, State};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{NOTHING_FOULS, SOMETHING_FOULS, as_json, print};
use crate::files;

/// One line of what `--json` prints, the best plate first.
#[derive(Serialize)]
struct Ranked<'a> {
    plate: &'a str,
    sentence: &'static str,
    fit: &'a Fit,
}

pub(super) fn run(input: &Input, path: &Path, json: bool) -> Result<u8, Failure> {
    let project = input.project()?;
    let shelf = files::read_shelf(path)?;
    let ranked = shelf::rank(&project, &shelf);
    let text = if json {
        let answer = ranked.iter().map(|(index, fit)| Ranked {
            plate: &shelf.plates[*index].name,
            sentence: fit.sentence(),
            fit,
        });
        as_json(&answer.collect::<Vec<_>>())?
    } else {
        table(&project, &shelf, &ranked)
    };
    print(&text)?;
    let serves = ranked.iter().any(|(_, fit)| serves(fit));
    Ok(if serves {
        NOTHING_FOULS
    } else {
        SOMETHING_FOULS
    })
}

/// Whether a plate is there to be tied in: its parts match and it stays off the wall.
fn serves(fit: &Fit) -> bool {
    let placed = fit.placed.as_ref();
    fit.matches() && placed.is_some_and(|placed| placed.state != State::Fouls)
}

fn table(project: &Project, shelf: &Shelf, ranked: &[(usize, Fit)]) -> String {
    let mut lines = vec![project.name.clone()];
    for (place, (index, fit)) in ranked.iter().enumerate() {
        lines.push(String::new());
        lines.push(format!("{}. {}", place + 1, shelf.plates[*index].name));
        lines.push(format!("   {}", fit.sentence()));
        lines.extend(fit.placed.iter().flat_map(placed_lines));
        let differences = fit.differences.iter().map(|one| one.sentence());
        let measure = fit.measure.iter().map(|one| one.sentence());
        let drilling = fit.placed.iter().flat_map(|placed| &placed.drilling);
        let drilling = drilling.map(|one| {
            let [x, y] = one.at;
            format!("({x:.1}, {y:.1}): {}", one.sentence(project))
        });
        let lacks = fit.placed.iter().flat_map(|placed| &placed.lacks);
        let lacks = lacks.map(|one| one.sentence());
        let refused = fit.refused.iter().map(ToString::to_string);
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
    if let Some(deepest) = placed.deepest_filing() {
        lines.push(format!(
            "   File its edge in {} places, by {deepest:.2} mm at most",
            placed.filing.len()
        ));
    }
    if !placed.slots.is_empty() {
        lines.push(format!(
            "   {} of its {} slots reach an anchor hole",
            placed.reaching(),
            placed.slots.len()
        ));
    }
    lines
}
