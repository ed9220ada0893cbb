//! `gazewright cut`: a part's contours for the cutter.

use std::path::Path;

use layout::{Laid, evaluate_laid};
use output::cut::{CutOptions, CutPart};

use super::arguments::Input;
use super::failure::Failure;
use super::{keep_apart, say_fouls, status};
use crate::files::{Backup, replace};
use crate::parts::{CutFormat, cut_bytes};

pub(super) fn run(
    input: &Input,
    to: &Path,
    part: CutPart,
    options: &CutOptions,
) -> Result<u8, Failure> {
    let format = CutFormat::of(to).ok_or_else(|| Failure {
        cause: format!("`{}` ends neither in `.svg` nor in `.dxf`.", to.display()),
        remedy: "Name a file with one of these endings after `-o`.".to_owned(),
    })?;
    keep_apart(input, to, "cut file")?;
    let project = input.project()?;
    let laid = Laid::out(&project);
    let report = evaluate_laid(&project, &laid);
    let bytes = cut_bytes(&project, &laid, part, options, format)?;
    replace(to, Backup::None, |file| file.write_all(&bytes))?;
    say_fouls(&report, "The cut file is written");
    Ok(status(&report))
}
