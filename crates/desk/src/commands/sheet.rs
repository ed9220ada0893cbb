//! `gazewright sheet`: the plate at 1:1 as a PDF.

use std::fs;
use std::path::Path;

use layout::{Laid, Report, State, evaluate_laid};
use output::sheet::{SheetOptions, sheet_pdf};

use super::arguments::{Input, Paper, Source};
use super::failure::Failure;
use super::{say, status};
use crate::files::{Backup, replace};

pub(super) fn run(input: &Input, to: &Path, paper: &Paper) -> Result<u8, Failure> {
    if let Source::File(file) = &input.source {
        keep_apart(file, to)?;
    }
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    let options = SheetOptions {
        paper: paper.paper,
        orientation: paper.orientation,
        seen: paper.seen,
        unit: paper.unit,
        date: jiff::Zoned::now().date().to_string(),
    };
    let pdf = sheet_pdf(&project, &laid, &report, &options)?;
    replace(to, Backup::None, |file| file.write_all(&pdf))?;
    if let Some(warning) = warning(&report) {
        say(&warning);
    }
    Ok(status(&report))
}

/// Refuses to write the sheet over the project that it is drawn from.
fn keep_apart(file: &Path, to: &Path) -> Result<(), Failure> {
    match (fs::canonicalize(file), fs::canonicalize(to)) {
        (Ok(file), Ok(target)) if file == target => Err(Failure {
            cause: format!(
                "The sheet would take the place of its own project, `{}`.",
                to.display()
            ),
            remedy: "Name another file after `-o`.".to_owned(),
        }),
        _ => Ok(()),
    }
}

/// One line that says that the sheet shows a plate that fouls.
fn warning(report: &Report) -> Option<String> {
    let fouls = report
        .findings
        .iter()
        .filter(|f| f.state == State::Fouls)
        .count();
    let findings = match fouls {
        0 => return None,
        1 => "1 finding fouls".to_owned(),
        _ => format!("{fouls} findings foul"),
    };
    Some(format!(
        "The sheet is written, but {findings}: see `gazewright check`."
    ))
}
