//! What is said of shelf plates. Sentences hold no figures: those are shown beside them, in the maker's
//! unit.

use super::drilling::{Drilled, Drilling, Lack};
use super::filing::Filing;
use super::fit::{Fit, Measure, Placed};
use super::matching::{Difference, Held};
use crate::limits::State;
use crate::problem::Problem;
use crate::project::Project;
use crate::wording::{about, slot};

/// Why a plate with other than one opening for each eye cannot be taken over.
pub(super) fn other_eyes(openings: usize, eyes: usize) -> Problem {
    Problem::new(
        "plate.eyes",
        format!("The plate has {openings} openings, and the character {eyes} eyes."),
        "Choose a plate with one opening for each eye.",
    )
}

impl Fit {
    /// In one sentence, whether the plate can be used.
    pub fn sentence(&self) -> &'static str {
        let Some(placed) = &self.placed else {
            return if self.matches() {
                "Nothing can be said before the plate's outline is measured."
            } else {
                "The plate is made for other parts."
            };
        };
        let parts_fit = match (self.matches(), self.measure.is_empty()) {
            (false, _) => return placed.beside_other_parts(),
            (true, matched) => matched,
        };
        match (placed.state, parts_fit) {
            (State::Clear | State::NotChecked, true) => {
                "The plate takes the parts, and fits the head with room to spare."
            }
            (State::Tight, true) => "The plate takes the parts, and only just fits the head.",
            (State::Fouls, true) => "The plate takes the parts, but must be filed to fit the head.",
            (State::Clear | State::NotChecked, false) => {
                "The plate fits the head with room to spare; what is not known must be measured."
            }
            (State::Tight, false) => {
                "The plate only just fits the head; what is not known must be measured."
            }
            (State::Fouls, false) => {
                "The plate must be filed to fit the head, and what is not known measured."
            }
        }
    }
}

impl Placed {
    fn beside_other_parts(&self) -> &'static str {
        match self.state {
            State::Clear | State::NotChecked | State::Tight => {
                "The plate fits the head, but is made for other parts."
            }
            State::Fouls => "The plate is made for other parts, and does not fit the head either.",
        }
    }
}

impl Difference {
    /// What differs, or that it must be measured.
    pub fn sentence(&self) -> String {
        let pattern = match (self.shelf, self.wanted) {
            (Held::Unknown, _) => format!("Measure the {} of the {{}}.", self.dimension),
            (Held::Kind(_) | Held::Count(_), _) => {
                format!(
                    "The plate is made for another {} of the {{}}.",
                    self.dimension
                )
            }
            (Held::Length(shelf), Held::Length(wanted)) if shelf < wanted => {
                format!(
                    "The {} of the {{}} is smaller on the plate.",
                    self.dimension
                )
            }
            (Held::Length(_), _) => {
                format!("The {} of the {{}} is larger on the plate.", self.dimension)
            }
        };
        about(&self.part, &pattern)
    }
}

impl Measure {
    /// What is to be measured.
    pub fn sentence(&self) -> String {
        about(
            &self.part,
            &format!("Measure the {} of the {{}}.", self.dimension),
        )
    }
}

impl Filing {
    /// What is to be filed.
    pub fn sentence(&self) -> &'static str {
        "File the plate's edge here until it keeps the wanted clearance to the wall."
    }
}

impl Drilling {
    /// What is to be made.
    pub fn sentence(&self, project: &Project) -> String {
        match self.hole {
            Drilled::Slot { anchor } => format!(
                "Make a slot here for the tie to anchor hole {}.",
                anchor + 1
            ),
            Drilled::WiderSlot { slot: index } => {
                format!("Widen {} for the ties of this head.", slot(index))
            }
            Drilled::CableHole { drive } => {
                let name = project.drives.get(drive).map_or("", |drive| &drive.name);
                let drive = crate::wording::drive(name);
                about(&drive, "Make a hole here for the cable of the {}.")
            }
        }
    }
}

impl Lack {
    /// What is missing.
    pub fn sentence(&self) -> String {
        about(&self.part, "The plate ends too near to the {}.")
    }
}
