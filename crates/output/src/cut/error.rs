//! Why there is no cut file, and what would help.

use std::fmt;

use layout::{Problem, Project};

use super::CutPart;
use super::words::subject;

/// Why there is no cut file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutError {
    cause: String,
    remedy: String,
}

impl CutError {
    /// What would help, in one sentence.
    pub fn remedy(&self) -> &str {
        &self.remedy
    }

    pub(super) fn no_edge(project: &Project, part: CutPart) -> Self {
        let of = match part {
            CutPart::Plate | CutPart::Foam | CutPart::SmallestHead => "the plate's outline",
            CutPart::Guard => "its mesh",
            CutPart::Head => "the head outline",
        };
        Self {
            cause: format!(
                "“{}” has no {} to cut: nothing of {of} is left.",
                project.name,
                part.noun()
            ),
            remedy: match part {
                CutPart::Plate | CutPart::Foam | CutPart::SmallestHead => {
                    "Change the outline's style or range, or the head outline."
                }
                CutPart::Guard => "Give the guard a chord and a length.",
                CutPart::Head => {
                    "Draw a head outline that encloses something and does not cross itself."
                }
            }
            .to_owned(),
        }
    }

    /// The holes leave nothing of the part.
    pub(super) fn all_holes(noun: &str) -> Self {
        Self {
            cause: format!("Nothing of the {noun} is left between its holes."),
            remedy: "Use a larger plate, or a smaller clearance.".to_owned(),
        }
    }

    /// A hole that a problem keeps from being drawn.
    pub(super) fn no_hole(hole: &str, problem: &Problem) -> Self {
        Self {
            cause: format!("There is no {hole}: {}", lower_first(&problem.sentence)),
            remedy: problem.remedy.clone(),
        }
    }

    pub(super) fn hole_too_small(hole: &str, kerf: f64) -> Self {
        Self {
            cause: format!(
                "Nothing of {} is left to cut along: the kerf, {kerf} mm, is as wide as the hole.",
                subject(hole)
            ),
            remedy: "Use a tool with a smaller kerf, or a wider hole.".to_owned(),
        }
    }
}

/// A sentence as it goes on after a colon.
fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    first.chain(letters).collect()
}

impl From<Problem> for CutError {
    fn from(problem: Problem) -> Self {
        Self {
            cause: problem.sentence,
            remedy: problem.remedy,
        }
    }
}

impl fmt::Display for CutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for CutError {}
