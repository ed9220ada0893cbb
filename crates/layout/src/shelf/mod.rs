//! The shelf: plates that exist already, and which of them fits a head.
//!
//! A [`ShelfPlate`] is entered by hand, from a scan, or from a project ([`ShelfPlate::of`]); what was not
//! measured stays open. [`matching()`] compares its dimensions with those that a project needs,
//! [`fit()`] finds its best place in the head, [`rank`] orders a whole [`Shelf`], and [`taken()`] lays
//! a project out round the plate that was chosen.

mod drilling;
mod eyes;
mod filing;
mod fit;
mod made;
mod matching;
mod parts;
mod placement;
mod plate;
mod program;
mod rim;
mod search;
mod slots;
mod taken;
mod thinned;
mod wall;
mod wording;

pub use drilling::{Drilled, Drilling, Lack};
pub use filing::Filing;
pub use fit::{Fit, Measure, Placed, Spacing, fit, rank};
pub use matching::{Difference, Held, matching};
pub use parts::{ShelfLids, ShelfParts, ShelfRing, ShelfSeat};
pub use placement::Placement;
pub use plate::{
    MOST_CORNERS, MOST_PLATES, Shelf, ShelfEye, ShelfHole, ShelfPlate, ShelfSlot, VERSION,
};
pub use search::MOST_TURN;
pub use slots::{REACH, Reach};
pub use taken::taken;
