//! `gazewright cut`: a part's contours for the cutter.

use std::path::Path;

use layout::{Laid, evaluate_laid};
use output::cut::{CutOptions, CutPart};

use super::arguments::{Input, Making};
use super::failure::Failure;
use super::{keep_apart, say, say_fouls, status};
use crate::files::{Backup, replace};
use crate::parts::{CutFormat, cut_bytes, cut_options};

pub(super) fn run(input: &Input, to: &Path, part: CutPart, making: &Making) -> Result<u8, Failure> {
    let format = CutFormat::of(to).ok_or_else(|| Failure {
        cause: format!("`{}` ends neither in `.svg` nor in `.dxf`.", to.display()),
        remedy: "Name a file with one of these endings after `-o`.".to_owned(),
    })?;
    keep_apart(input, to, "cut file")?;
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    let own = cut_options(&project);
    let options = CutOptions {
        kerf: making.kerf.unwrap_or(own.kerf),
        hole_allowance: making.hole_allowance.unwrap_or(own.hole_allowance),
        foam_clearance: making.foam_clearance.unwrap_or(own.foam_clearance),
    };
    let (bytes, said) = cut_bytes(&project, &laid, part, &options, format)?;
    replace(to, Backup::None, |file| file.write_all(&bytes))?;
    if let Some(said) = said {
        say(&said);
    }
    say_fouls(&report, "The cut file is written");
    Ok(status(&report))
}
