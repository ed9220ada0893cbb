//! Why there is no sheet, and what would help.

use std::fmt;

use layout::Project;

use super::arrange::{Part, arrange};
use super::paper::{OrientationChoice, Page, PaperChoice, largest, pages};
use super::room::Room;
use crate::unit::LengthUnit;

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetError {
    cause: String,
    remedy: String,
}

impl SheetError {
    /// What would help, in one sentence.
    pub fn remedy(&self) -> String {
        self.remedy.clone()
    }

    pub(super) fn no_plate(project: &Project) -> Self {
        Self {
            cause: format!(
                "“{}” has no plate to draw: nothing of its outline is left.",
                project.name
            ),
            remedy: "Change the outline's style or range, or the head outline.".to_owned(),
        }
    }

    /// None of the pages in `choice` holds the drawing.
    pub(super) fn too_large(
        project: &Project,
        unit: LengthUnit,
        choice: &[Page],
        view: &Room,
        plans: &[Vec<Part>],
    ) -> Self {
        let by = |[width, height]: [f64; 2]| {
            format!(
                "{} × {}",
                unit.format(width.round()),
                unit.format_with_symbol(height.round())
            )
        };
        let tried: Vec<String> = choice.iter().map(Page::name).collect();
        let cause = format!(
            "“{}” does not fit on {}: its view alone is {} at 1:1.",
            project.name,
            tried.join(" or "),
            by(view.bounds.size()),
        );
        let all = pages(PaperChoice::Auto, OrientationChoice::Auto, unit);
        let fits = all
            .iter()
            .find(|page| arrange(page.size, view, plans).is_some());
        let remedy = match fits {
            Some(page) => format!(
                "Use {}, or let the paper and its orientation be chosen.",
                page.name()
            ),
            None => format!(
                "It needs a page of about {}: make the head or the plate smaller, or leave out slots.",
                by(needed(view, plans))
            ),
        };
        Self { cause, remedy }
    }
}

/// Growth of the page from one try to the next, mm.
const GROWTH: f64 = 20.0;

/// A page, mm, that would hold everything: the largest paper, grown along both sides.
fn needed(view: &Room, plans: &[Vec<Part>]) -> [f64; 2] {
    let mut size = largest();
    while arrange(size, view, plans).is_none() {
        size = size.map(|side| side + GROWTH);
    }
    size
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for SheetError {}
