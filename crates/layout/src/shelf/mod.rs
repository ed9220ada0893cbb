//! The shelf: plates that exist already, and which of them fits a head.
//!
//! A [`ShelfPlate`] is entered by hand, from a scan, or from a project ([`ShelfPlate::of`]); what was not
//! measured stays open. [`matching()`] compares its dimensions with those that a project needs,
//! [`fit()`] finds its best place in the head, [`rank`] orders a whole [`Shelf`], and [`taken`] lays
//! a project out round the plate that was chosen.

mod eyes;
mod made;
mod matching;
mod parts;
mod plate;
mod thinned;

pub use matching::{Difference, Held, matching};
pub use parts::{ShelfLids, ShelfParts, ShelfRing, ShelfSeat};
pub use plate::{
    MOST_CORNERS, MOST_PLATES, Shelf, ShelfEye, ShelfHole, ShelfPlate, ShelfSlot, VERSION,
};
