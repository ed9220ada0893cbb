//! `gazewright check`: what fits, what is tight and what fouls.

use layout::report::Figures;
use layout::{Finding, Project, evaluate};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{as_json, print, status, table};

/// What `--json` prints.
#[derive(Serialize)]
struct Answer<'a> {
    project: &'a Project,
    figures: &'a Figures,
    findings: &'a [Finding],
}

pub(super) fn run(input: &Input, json: bool) -> Result<u8, Failure> {
    let project = input.project()?;
    let report = evaluate(&project);
    let text = if json {
        let answer = Answer {
            project: &project,
            figures: &report.figures,
            findings: &report.findings,
        };
        as_json(&answer)?
    } else {
        table::of(&project.name, &report)
    };
    print(&text)?;
    Ok(status(&report))
}
