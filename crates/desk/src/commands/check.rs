//! `gazewright check`: what fits, what is tight and what fouls.

use layout::report::Figures;
use layout::{Finding, Project, evaluate};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{print, status, table};

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
        serde_json::to_string_pretty(&answer).map_err(|error| Failure {
            cause: format!("The answer cannot be put into JSON: {error}."),
            remedy: "Run it without `--json`.".to_owned(),
        })? + "\n"
    } else {
        table::of(&project.name, &report)
    };
    print(&text)?;
    Ok(status(&report))
}
