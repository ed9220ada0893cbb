//! Why no slots are proposed.

use std::fmt;

use super::InTheWay;

/// Why no slots are proposed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WhyNot {
    /// The locked slots are as many as are wanted.
    AllLocked,
    /// More are wanted than slots are proposed for.
    TooMany,
    /// There is no plate.
    NoPlate,
    /// In mirrored pairs, an odd number needs a slot on the centre line, and none has room there.
    Odd,
    /// The same, and none that has room is within [`REACH`](super::REACH) of an anchor hole.
    OddTooFar,
    /// There is not room for so many.
    Fewer {
        /// How many slots have room, locked ones included.
        fit: usize,
        /// What takes places, with how many it takes, the most first.
        taken: Vec<(InTheWay, usize)>,
    },
    /// So many have room, but none of their places is within [`REACH`](super::REACH) of the anchor holes that are left
    /// for it.
    TooFar {
        /// The anchor hole that a tie would be too long to, by index.
        anchor: usize,
    },
    /// So many have room, but the plate that they ask for spoils something else.
    OthersSuffer,
}

impl fmt::Display for WhyNot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AllLocked => f.write_str("As many slots as that are locked already."),
            Self::TooMany => f.write_str("Slots are not proposed for so many ties."),
            Self::NoPlate => f.write_str("There is no plate to put slots into."),
            Self::Odd => f.write_str(
                "An odd number of slots in mirrored pairs needs one on the centre line, and none has room there.",
            ),
            Self::OddTooFar => f.write_str(
                "An odd number of slots in mirrored pairs needs one on the centre line, and no anchor hole is near enough \
                 to that. Use an even number, or do not mirror them.",
            ),
            Self::OthersSuffer => f.write_str(
                "That many slots have room, but a plate with their pads leaves too little room for something else.",
            ),
            Self::TooFar { anchor } => write!(
                f,
                "That many slots have room, but anchor hole {} is too far from the slot that is left for it.",
                anchor + 1
            ),
            Self::Fewer { taken, .. } => {
                f.write_str("There is no room for so many slots along the plate.")?;
                match taken.first() {
                    Some((most, _)) => write!(f, " Most places are too near to {most}."),
                    None => Ok(()),
                }
            }
        }
    }
}

impl std::error::Error for WhyNot {}
