//! `gazewright sheet`: a part at 1:1 as a PDF.

use std::path::Path;

use layout::{Laid, evaluate_laid};
use output::cut::{CutPart, FOAM_CLEARANCE};
use output::sheet::{SheetOptions, sheet_pdf};

use super::arguments::{Input, Making, Paper};
use super::failure::Failure;
use super::{keep_apart, say_fouls, status};
use crate::files::{Backup, replace};

pub(super) fn run(
    input: &Input,
    to: &Path,
    part: CutPart,
    paper: &Paper,
    making: &Making,
) -> Result<u8, Failure> {
    keep_apart(input, to, "sheet")?;
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    let options = SheetOptions {
        part,
        foam_clearance: making.foam_clearance.unwrap_or(FOAM_CLEARANCE),
        paper: paper.paper,
        orientation: paper.orientation,
        seen: paper.seen,
        unit: paper.unit,
        date: jiff::Zoned::now().date().to_string(),
    };
    let pdf = sheet_pdf(&project, &laid, &report, &options)?;
    replace(to, Backup::None, |file| file.write_all(&pdf))?;
    say_fouls(&report, "The sheet is written");
    Ok(status(&report))
}
