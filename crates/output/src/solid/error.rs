//! Why there is no solid, and what would help.

use std::fmt;

use layout::Problem;

/// Why there is no solid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SolidError {
    cause: String,
    remedy: String,
}

impl SolidError {
    /// What would help, in one sentence.
    pub fn remedy(&self) -> &str {
        &self.remedy
    }

    pub(super) fn no_outline(slab: &str) -> Self {
        Self {
            cause: format!("There is no {slab} to make: nothing of its outline is left."),
            remedy: "Change the outline's style or range, or the head outline.".to_owned(),
        }
    }

    pub(super) fn crosses_itself(slab: &str) -> Self {
        Self {
            cause: format!("The outline of the {slab} crosses or touches itself."),
            remedy: "Draw it apart there.".to_owned(),
        }
    }

    pub(super) fn too_thin(slab: &str) -> Self {
        Self {
            cause: format!("The {slab} has no thickness that can be made."),
            remedy: "Make it thicker.".to_owned(),
        }
    }

    pub(super) fn breaks_edge(slab: &str, hole: &str) -> Self {
        Self {
            cause: sentence(hole, &format!("breaks the edge of the {slab}.")),
            remedy: format!("Move it inward, or let the {slab} reach farther there."),
        }
    }

    pub(super) fn meet(one: &str, other: &str) -> Self {
        Self {
            cause: sentence(one, &format!("and {other} run into each other.")),
            remedy: "Move them apart, or make one of them smaller.".to_owned(),
        }
    }

    pub(super) fn closes(hole: &str) -> Self {
        Self {
            cause: sentence(hole, "closes on its way through."),
            remedy: "Make it wider where it is narrowest, or what it passes thinner.".to_owned(),
        }
    }

    pub(super) fn no_front_face(ring: &str) -> Self {
        Self {
            cause: format!("The {ring} has no front face left between its bore and its bevel."),
            remedy: "Use a larger outer diameter, a smaller bevel or a smaller glue gap."
                .to_owned(),
        }
    }

    pub(super) fn no_foot(lever: &str) -> Self {
        Self {
            cause: format!("The {lever} has no room for the foot that is glued to the ball."),
            remedy: "Put its tip farther from the ball, or make the lever narrower.".to_owned(),
        }
    }

    pub(super) fn no_boss(lid: &str) -> Self {
        Self {
            cause: format!("The pivot holes of the {lid} take its whole bosses."),
            remedy: "Use a thicker shell or a smaller hole allowance.".to_owned(),
        }
    }

    pub(super) fn wide_boss(lid: &str) -> Self {
        Self {
            cause: format!("The bosses round the pivot holes of the {lid} are as wide as the lid."),
            remedy: "Use a smaller pivot hole or a thinner shell.".to_owned(),
        }
    }

    pub(super) fn thin_shell(lid: &str) -> Self {
        Self {
            cause: format!("The shell of the {lid} is thinner than its facets are true."),
            remedy: "Use a thicker shell or a smaller chord error.".to_owned(),
        }
    }

    pub(super) fn tiny(lid: &str) -> Self {
        Self {
            cause: format!("The {lid} is too small at its pivots to be made."),
            remedy: "Give it a larger extent, a larger pivot hole or a thicker shell.".to_owned(),
        }
    }

    /// A problem of one part.
    pub(super) fn of(part: &str, problem: &Problem) -> Self {
        Self {
            cause: format!("There is no {part} to make: {}", problem.sentence),
            remedy: problem.remedy.clone(),
        }
    }
}

/// A sentence about a part, whose name begins it.
fn sentence(part: &str, rest: &str) -> String {
    let mut letters = part.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first
        .chain(letters.clone())
        .chain([' '])
        .chain(rest.chars())
        .collect()
}

impl From<Problem> for SolidError {
    fn from(problem: Problem) -> Self {
        Self {
            cause: problem.sentence,
            remedy: problem.remedy,
        }
    }
}

impl fmt::Display for SolidError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for SolidError {}
