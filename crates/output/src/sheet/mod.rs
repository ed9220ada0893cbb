//! The plate's top view at 1:1 on one page.

mod paper;

use std::fmt;

use layout::{Laid, Project, Report};

use crate::drawing::Drawing;
use crate::unit::LengthUnit;

pub use paper::{OrientationChoice, PaperChoice};

/// How a sheet is to be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper.
    pub paper: PaperChoice,
    /// Which way round it lies.
    pub orientation: OrientationChoice,
    /// The unit of all lengths.
    pub unit: LengthUnit,
    /// Date of issue, YYYY-MM-DD: the caller's, since a drawing asks no clock.
    pub date: String,
}

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetError {
    cause: String,
    remedy: String,
}

impl SheetError {
    /// What would help, in one sentence.
    pub fn remedy(&self) -> String {
        self.remedy.clone()
    }
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for SheetError {}

/// Draws the sheet.
///
/// # Errors
/// If there is no plate to draw, or if it does not fit on one page.
pub fn sheet_drawing(
    _project: &Project,
    _laid: &Laid,
    _report: &Report,
    _options: &SheetOptions,
) -> Result<Drawing, SheetError> {
    Err(SheetError { cause: "The sheet is not drawn yet.".to_owned(), remedy: String::new() })
}

/// The sheet as a PDF.
///
/// # Errors
/// As [`sheet_drawing`].
pub fn sheet_pdf(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    sheet_drawing(project, laid, report, options).map(|_| Vec::new())
}
