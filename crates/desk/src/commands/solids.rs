//! `gazewright solids`: plate and rings for the printer.

use std::path::Path;

use layout::{Laid, evaluate_laid};
use output::solid::SolidOptions;

use super::arguments::Input;
use super::failure::Failure;
use super::{print, say_fouls, status};
use crate::parts::write_solids;

pub(super) fn run(input: &Input, to: &Path, options: &SolidOptions) -> Result<u8, Failure> {
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    for path in write_solids(&project, &laid, options, to)? {
        print(&format!("{}\n", path.display()))?;
    }
    say_fouls(&report, "The solids are written");
    Ok(status(&report))
}
