//! `gazewright solids`: plate, rings, lids, lugs and levers for the printer.

use std::path::Path;

use layout::{Laid, evaluate_laid};
use output::solid::SolidOptions;

use super::arguments::{Input, Making};
use super::failure::Failure;
use super::{print, say, say_fouls, status};
use crate::parts::{solid_options, write_solids};

pub(super) fn run(input: &Input, to: &Path, making: &Making) -> Result<u8, Failure> {
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    let own = solid_options(&project);
    let options = SolidOptions {
        chord_error: making.chord_error.unwrap_or(own.chord_error),
        glue_gap: making.glue_gap.unwrap_or(own.glue_gap),
        hole_allowance: making.hole_allowance.unwrap_or(own.hole_allowance),
    };
    let written = write_solids(&project, &laid, &options, making.fit_gauge, to)?;
    for path in &written.files {
        print(&format!("{}\n", path.display()))?;
    }
    if let Some(warning) = written.warning() {
        say(&warning);
    }
    say_fouls(&report, "The solids are written");
    Ok(status(&report))
}
