//! Why there is no sheet, and what would help.

use std::fmt;

use layout::Project;

use super::paper::page_name;
use super::tiles::MOST_PAGES;
use super::view::Subject;
use crate::cut::CutError;
use crate::drawing::Drawing;

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetError {
    cause: String,
    remedy: String,
}

/// How many pages of which paper, for a message.
pub(super) struct PageCount {
    count: usize,
    name: String,
}

impl PageCount {
    pub(super) fn of(pages: &[Drawing]) -> Self {
        let name = pages.first().and_then(|page| page_name(page.page));
        Self {
            count: pages.len(),
            name: name.unwrap_or_default(),
        }
    }
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

    /// A view of `size`, mm, needs more pages than a sheet has; those of `other` would do.
    pub(super) fn too_many_pages(
        subject: &Subject<'_>,
        size: [f64; 2],
        needed: &PageCount,
        other: Option<&PageCount>,
    ) -> Self {
        let (unit, [width, height]) = (subject.unit, size);
        let cause = format!(
            "“{}” needs {} pages of {}: at 1:1 its view is {} × {}, and a sheet has at most \
             {MOST_PAGES} pages.",
            subject.project.name,
            needed.count,
            needed.name,
            unit.format(width),
            unit.format_with_symbol(height),
        );
        let remedy = match other {
            Some(other) => format!("Use {}: it takes {}.", other.name, other.count),
            None => "Make the head or the plate smaller.".to_owned(),
        };
        Self { cause, remedy }
    }

    /// A table or a note is larger than a page.
    pub(super) fn no_room(project: &Project) -> Self {
        Self {
            cause: format!(
                "A table or note of “{}” is larger than a page.",
                project.name
            ),
            remedy: "Use larger paper, or leave out openings or slots.".to_owned(),
        }
    }
}

impl From<CutError> for SheetError {
    fn from(error: CutError) -> Self {
        Self {
            cause: error.to_string(),
            remedy: error.remedy().to_owned(),
        }
    }
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for SheetError {}
