//! `gazewright fit`: which plate of a shelf fits the head, and how.

use std::path::Path;

use layout::Project;
use layout::shelf::{Fit, Shelf, Work};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{NOTHING_FOULS, SOMETHING_FOULS, as_json, fit_lines, print, say};
use crate::{files, ranking};

/// One plate of what is said, the best first.
#[derive(Serialize)]
pub(super) struct Ranked {
    /// Its name, told apart from others of the same name.
    pub(super) plate: String,
    pub(super) sentence: String,
    /// Whether it is there to be tied in.
    serves: bool,
    pub(super) fit: Fit,
    /// What is to be done to it; None if it has no place.
    pub(super) work: Option<Work>,
    /// Where the middle of its openings lies in its own frame, mm.
    pub(super) middle: [f64; 2],
}

pub(super) fn run(input: &Input, path: &Path, json: bool) -> Result<u8, Failure> {
    let project = input.project()?;
    let read = files::read_shelf(path)?;
    let nothing = read.nothing_on_it();
    for trouble in read.troubles {
        let trouble = trouble.in_file(path);
        say(&format!(
            "{}\n{}",
            trouble.sentence(),
            trouble.error.remedy()
        ));
    }
    if let Some([cause, remedy]) = nothing {
        say(&format!("{}: {cause}\n{remedy}", path.display()));
    }
    let ranked = ranked(&project, &read.shelf);
    let text = if json {
        as_json(&ranked)?
    } else {
        table(&project, &ranked)
    };
    print(&text)?;
    Ok(if ranked.iter().any(|ranked| ranked.serves) {
        NOTHING_FOULS
    } else {
        SOMETHING_FOULS
    })
}

/// All plates of a shelf, with what is to be done to those that take the character's parts.
fn ranked(project: &Project, shelf: &Shelf) -> Vec<Ranked> {
    let names = shelf.names_apart();
    let worked_out = ranking::work_out(project, shelf).into_iter();
    let said = worked_out.map(|(index, fit, work)| {
        let plate = &shelf.plates[index];
        Ranked {
            plate: names[index].clone(),
            sentence: fit.sentence(work.as_ref()),
            serves: fit.serves(work.as_ref()),
            work,
            fit,
            middle: plate.middle(),
        }
    });
    said.collect()
}

fn table(project: &Project, ranked: &[Ranked]) -> String {
    let mut lines = vec![project.name.clone()];
    if !ranked.is_empty() {
        let serving = ranked.iter().filter(|ranked| ranked.serves);
        let serving: Vec<_> = serving.map(|ranked| ranked.plate.as_str()).collect();
        let count = ranking::counted(ranked.len());
        lines.push(format!("{count}, {}", ranking::what_serves(&serving)));
    }
    for (place, ranked) in ranked.iter().enumerate() {
        lines.push(String::new());
        lines.push(format!("{}. {}", place + 1, ranked.plate));
        let said = fit_lines::of(project, ranked);
        lines.extend(said.into_iter().map(|line| format!("   {line}")));
    }
    lines.join("\n") + "\n"
}
