//! What is said of shelf plates. Sentences hold no figures: those are shown beside them, in the maker's
//! unit.

use super::drilling::{Drilled, Drilling};
use super::filing::Filing;
use super::fit::{Fit, Measure, Placed, SPACING, TIE_THAT_PASSES};
use super::lacks::Lack;
use super::matching::{Difference, Held, WITHOUT_LIDS};
use super::new_slots::Beyond;
use super::verdict::is_for_a_tie;
use super::work::Work;
use crate::limits::State;
use crate::problem::Problem;
use crate::project::Project;
use crate::ties::InTheWay;
use crate::wording::{self, about, slot};

/// Why a plate that has an outline cannot be taken over: it has not one opening for each eye, or nobody knows
/// where they are.
pub(super) fn not_taken(openings: usize, eyes: usize) -> Problem {
    if openings == eyes {
        return Problem::new(
            "plate.eyes",
            "No eye can be put to its opening while the plate's spacing is not known.",
            "Measure it first.",
        );
    }
    Problem::new(
        "plate.eyes",
        format!("The plate has {openings} openings, and the character {eyes} eyes."),
        "Choose a plate with one opening for each eye.",
    )
}

impl Fit {
    /// In a few sentences, whether the plate can be used. `work` is what is to be done to it at its place, where it
    /// has one.
    pub fn sentence(&self, work: Option<&Work>) -> String {
        let Some(placed) = &self.placed else {
            return if self.matches() {
                "Nothing can be said before the plate's outline is measured."
            } else {
                "The plate is made for other parts."
            }
            .to_owned();
        };
        if !self.matches() {
            return placed.beside_other_parts().to_owned();
        }
        let anyway = work.and_then(Work::anyway);
        let sentences = std::iter::once(self.of_the_plate(placed, work)).chain(anyway);
        sentences.collect::<Vec<_>>().join(" ")
    }

    /// What is said of a plate that matches, and of nothing that it leaves as it is.
    fn of_the_plate(&self, placed: &Placed, work: Option<&Work>) -> String {
        let known = self.measure.is_empty();
        let against = work.map(|work| work.against(placed)).unwrap_or_default();
        if against.is_empty() {
            let holes = work.filter(|_| known).map_or("", Work::holes);
            return format!("{}{holes}.", placed.alone(known));
        }
        let measure = if known {
            ""
        } else {
            " What is not known must be measured."
        };
        format!(
            "The plate {} {}.{measure}",
            placed.room(),
            against.join(", and ")
        )
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

    /// What is said of a plate that nothing else stands against; `known`: that its parts match.
    fn alone(&self, known: bool) -> &'static str {
        match (self.state, known) {
            (State::Clear | State::NotChecked, true) => {
                "The plate takes the parts, and fits the head with room to spare"
            }
            (State::Tight, true) => "The plate takes the parts, and only just fits the head",
            (State::Fouls, true) => "The plate takes the parts, but must be filed to fit the head",
            (State::Clear | State::NotChecked, false) => {
                "The plate fits the head with room to spare; what is not known must be measured"
            }
            (State::Tight, false) => {
                "The plate only just fits the head; what is not known must be measured"
            }
            (State::Fouls, false) => {
                "The plate must be filed to fit the head, and what is not known measured"
            }
        }
    }

    /// What is said of the head before what stands against the plate.
    fn room(&self) -> &'static str {
        match self.state {
            State::Clear | State::NotChecked => "has room in the head, but",
            State::Tight => "only just fits the head, and",
            State::Fouls => "must be filed to fit the head, and",
        }
    }
}

impl Work {
    /// What is said of the holes that it takes.
    fn holes(&self) -> &'static str {
        if self.drilling.iter().any(is_for_a_tie) {
            "; slots must be made or widened before it serves"
        } else if self.drilling.is_empty() {
            ""
        } else {
            "; holes must be made or widened"
        }
    }

    /// What stands against the plate at its place, as main clauses.
    fn against(&self, placed: &Placed) -> Vec<String> {
        let fouls = match self.fouls() {
            0 => None,
            1 => Some("1 thing fouls with it".to_owned()),
            many => Some(format!("{many} things foul with it")),
        };
        let beyond = match self.beyond.len() {
            0 => None,
            _ if placed.slots.is_empty() => None,
            1 => Some("1 anchor hole is out of its reach".to_owned()),
            many => Some(format!("{many} anchor holes are out of its reach")),
        };
        let refused = self.refused.as_ref();
        let refused = refused.map(|_| "the character cannot be laid out round it".to_owned());
        let no_slot = placed.slots.is_empty() && !self.drilling.iter().any(is_for_a_tie);
        let no_slot = no_slot.then(|| "it has no slot to be tied on by".to_owned());
        let against = [fouls, beyond, no_slot, refused];
        against.into_iter().flatten().collect()
    }

    /// What is said of that which comes out tight; None if nothing does.
    pub fn tight_words(&self) -> Option<String> {
        match self.tight {
            0 => None,
            1 => Some("1 thing is tight with it.".to_owned()),
            many => Some(format!("{many} things are tight with it.")),
        }
    }

    /// What is said of that which fouls as much without the plate; None if nothing does.
    fn anyway(&self) -> Option<String> {
        match self.fails_anyway.len() {
            0 => None,
            1 => Some("1 thing that fouls now fouls with it, too.".to_owned()),
            many => Some(format!("{many} things that foul now foul with it, too.")),
        }
    }
}

impl Beyond {
    /// What cannot be reached.
    pub fn sentence(&self) -> String {
        let hole = self.anchor + 1;
        match self.distance {
            Some(_) => {
                format!("Anchor hole {hole} is too far from any slot that the plate has room for.")
            }
            None => {
                let by = self.in_the_way.map_or_else(String::new, |by| {
                    let by = match by {
                        InTheWay::Slot => "its other slots".to_owned(),
                        by => by.to_string(),
                    };
                    format!(" Most places are too near to {by}.")
                });
                format!("The plate has room for no slot to reach anchor hole {hole}.{by}")
            }
        }
    }
}

impl Difference {
    /// What differs, or that it must be measured.
    pub fn sentence(&self) -> String {
        let Self {
            dimension,
            shelf,
            wanted,
            ..
        } = self;
        let pattern = match (shelf, wanted) {
            (Held::Unknown, _) => return measure(dimension, &self.part),
            (Held::Count(has), Held::Count(needs)) if has < needs => {
                return "The plate has fewer openings than the character has eyes.".to_owned();
            }
            (Held::Count(_), _) => {
                return "The plate has more openings than the character has eyes.".to_owned();
            }
            (Held::Kind(WITHOUT_LIDS), _) => "The plate carries no lids for the {}.".to_owned(),
            (Held::Kind(has), Held::Kind(needs)) => {
                format!("The plate has a {has} seat for the {{}}, where a {needs} one is wanted.")
            }
            (Held::Length(has), Held::Length(needs)) if has < needs => {
                format!("The {dimension} of the {{}} is smaller on the plate.")
            }
            _ => format!("The {dimension} of the {{}} is larger on the plate."),
        };
        about(&self.part, &pattern)
    }
}

impl Measure {
    /// What is to be measured.
    pub fn sentence(&self) -> String {
        measure(self.dimension, &self.part)
    }
}

/// That a dimension of a part is to be measured.
fn measure(dimension: &str, part: &str) -> String {
    if dimension == TIE_THAT_PASSES {
        return about(part, "Try which tie passes the {}.");
    }
    if dimension == SPACING {
        return about(
            part,
            "Measure the spacing of the {}: how far the centres of its openings stand apart.",
        );
    }
    about(part, &format!("Measure the {dimension} of the {{}}."))
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
            Drilled::WiderHole { hole, drive } => {
                let name = project.drives.get(drive).map_or("", |drive| &drive.name);
                let pattern = format!(
                    "Widen cable hole {} to this for the cable of the {{}}.",
                    hole + 1
                );
                about(&crate::wording::drive(name), &pattern)
            }
        }
    }
}

impl Lack {
    /// What is missing.
    pub fn sentence(&self) -> String {
        if let (Some(beside), true) = (&self.beside, self.is_there) {
            let how = match self.state {
                State::Fouls => "breaks or is not there",
                _ => "is thinner than is wanted",
            };
            let parts = wording::pair(&self.part, beside);
            return format!("The web between {parts} {how}.");
        }
        if let Some(beside) = &self.beside {
            let part = about(&self.part, "There is no room for the {}");
            return about(
                beside,
                &format!("{part}: it would come too near to the {{}}."),
            );
        }
        let pattern = match self.state {
            State::Fouls => "The plate ends too near to the {}.",
            _ => "The plate leaves less round the {} than is wanted.",
        };
        about(&self.part, pattern)
    }
}
