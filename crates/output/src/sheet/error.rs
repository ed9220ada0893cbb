//! Why there is no sheet, and what would help.

use std::fmt;

use layout::Project;

use super::SheetOptions;
use super::arrange::{Part, arrange};
use super::paper::{OrientationChoice, Page, PaperChoice, largest, pages};
use super::room::Room;

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

    /// No page that the options allow holds the drawing.
    pub(super) fn too_large(
        project: &Project,
        options: &SheetOptions,
        view: &Room,
        plans: &[Vec<Part>],
    ) -> Self {
        let unit = options.unit;
        let by = |[width, height]: [f64; 2]| {
            let (width, height) = (unit.format(width), unit.format_with_symbol(height));
            format!("{width} × {height}")
        };
        let tried = pages(options.paper, options.orientation, unit);
        let names: Vec<String> = tried.iter().map(Page::name).collect();
        let cause = format!(
            "“{}” does not fit on {}: at 1:1 its view is {}, and the title block and notes need room \
             beside it.",
            project.name,
            names.join(" or "),
            by(view.bounds.size()),
        );
        // The chosen paper the other way round is nearer at hand than another paper.
        let turned = pages(options.paper, OrientationChoice::Auto, unit);
        let other = pages(PaperChoice::Auto, OrientationChoice::Auto, unit);
        let mut all = turned.into_iter().chain(other);
        let remedy = match all.find(|page| arrange(page.size, view, plans).is_some()) {
            Some(page) => format!(
                "Use {}, or let paper and orientation be chosen.",
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
