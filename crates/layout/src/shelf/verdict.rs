//! What a shelf plate comes to, in a word or two.

use super::drilling::{Drilled, Drilling};
use super::fit::Fit;
use super::work::Work;
use crate::limits::State;

/// What a plate comes to for a project: the first of these that holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is made for other parts.
    OtherParts,
    /// So many things foul with it.
    Fouls(usize),
    /// Not all of it is known.
    ToBeMeasured,
    /// The project cannot be laid out round it.
    NotTaken,
    /// It has no slot at all to be tied on by, and none is to be made.
    WithoutSlots,
    /// So many anchor holes are out of its reach.
    OutOfReach(usize),
    /// It does not keep off the wall.
    ToBeFiled,
    /// A tie of the project lacks a slot, or does not pass the one that is there.
    ToBeDrilled,
    /// It is there to be tied in, once the holes for cables are made that it lacks.
    Serves,
}

impl Fit {
    /// What the plate comes to. `work` is what is to be done to it at its place; None if that is not known yet
    /// and it takes that to say.
    pub fn verdict(&self, work: Option<&Work>) -> Option<Verdict> {
        if !self.matches() {
            return Some(Verdict::OtherParts);
        }
        let Some(placed) = &self.placed else {
            return Some(Verdict::ToBeMeasured);
        };
        let work = work?;
        let fouls = work.fouls();
        Some(if fouls > 0 {
            Verdict::Fouls(fouls)
        } else if !self.measure.is_empty() {
            Verdict::ToBeMeasured
        } else if work.refused.is_some() {
            Verdict::NotTaken
        } else if placed.slots.is_empty() && !work.drilling.iter().any(is_for_a_tie) {
            Verdict::WithoutSlots
        } else if !work.beyond.is_empty() {
            Verdict::OutOfReach(work.beyond.len())
        } else if placed.state == State::Fouls {
            Verdict::ToBeFiled
        } else if work.drilling.iter().any(is_for_a_tie) {
            Verdict::ToBeDrilled
        } else {
            Verdict::Serves
        })
    }

    /// Whether the plate is there to be tied in: see [`Verdict::Serves`].
    pub fn serves(&self, work: Option<&Work>) -> bool {
        self.verdict(work) == Some(Verdict::Serves)
    }
}

/// Whether a tie of the project cannot be laid before a hole is made or widened.
pub(super) fn is_for_a_tie(drilling: &Drilling) -> bool {
    matches!(
        drilling.hole,
        Drilled::Slot { .. } | Drilled::WiderSlot { .. }
    )
}

impl Verdict {
    /// How far down a list it stands: the less there is to do, the higher, and what fouls or is made for other parts
    /// last.
    pub fn rank(self) -> usize {
        match self {
            Self::Serves => 0,
            Self::ToBeDrilled => 1,
            Self::ToBeFiled => 2,
            Self::WithoutSlots => 3,
            Self::ToBeMeasured => 4,
            Self::OutOfReach(_) => 5,
            Self::NotTaken => 6,
            Self::Fouls(_) => 7,
            Self::OtherParts => 8,
        }
    }

    /// The state whose mark it gets.
    pub fn state(self) -> State {
        match self {
            Self::Serves => State::Clear,
            Self::ToBeMeasured => State::NotChecked,
            Self::ToBeFiled | Self::ToBeDrilled | Self::WithoutSlots => State::Tight,
            Self::OtherParts | Self::Fouls(_) | Self::NotTaken | Self::OutOfReach(_) => {
                State::Fouls
            }
        }
    }

    /// In a few words, for a list.
    pub fn words(self) -> String {
        match self {
            Self::OtherParts => "other parts",
            Self::Fouls(1) => "1 fouls",
            Self::Fouls(count) => return format!("{count} foul"),
            Self::ToBeMeasured => "to be measured",
            Self::NotTaken => "cannot be taken",
            Self::OutOfReach(1) => "1 hole out of reach",
            Self::OutOfReach(count) => return format!("{count} holes out of reach"),
            Self::WithoutSlots => "no slots",
            Self::ToBeFiled => "to be filed",
            Self::ToBeDrilled => "to be drilled",
            Self::Serves => "serves",
        }
        .to_owned()
    }
}
