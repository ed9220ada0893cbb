//! The shelf: plates that exist already, and which of them fits a head.
//!
//! A [`ShelfPlate`] is entered by hand, from a scan, or from a project ([`ShelfPlate::of`]); what was not
//! measured stays open. [`matching()`] compares its dimensions with those that a project needs,
//! [`Trial::fit`] finds the best place in the head of one that matches, [`ordered`] puts those of a whole [`Shelf`]
//! in order, and [`fit()`] places any plate. [`work()`] says what is to be done to one at a place, [`Trial::work_out`] chooses
//! between that place and the one where the eyes are, and
//! [`taken()`] lays a project out round it.

mod below;
mod cells;
mod drilling;
mod eyes;
mod failing;
mod filing;
mod fit;
mod ground;
mod kept;
mod lacks;
mod made;
mod matching;
mod measured;
mod names;
mod new_holes;
mod new_slots;
mod openings;
mod parts;
mod placement;
mod plate;
mod program;
mod rim;
mod search;
mod slots;
mod taken;
mod thinned;
mod verdict;
mod wall;
mod wording;
mod work;

pub use crate::ties::REACH;
pub use drilling::{Drilled, Drilling};
pub use filing::Filing;
pub use fit::{Fit, Measure, Placed, Spacing, Trial, fit, ordered};
pub use lacks::Lack;
pub use matching::{Difference, Held, matching};
pub use measured::{Dimension, LidsKind, Measured, Openings, OutlineKind, SeatKind};
pub use new_slots::Beyond;
pub use parts::{ShelfLids, ShelfParts, ShelfRing, ShelfSeat};
pub use placement::Placement;
pub use plate::{MOST_CORNERS, MOST_PLATES, Shelf, ShelfEye, ShelfPlate, ShelfSlot, VERSION};
pub use search::MOST_TURN;
pub use slots::Reach;
pub use taken::{TakenPlate, taken};
pub use verdict::Verdict;
pub use work::{Work, work};
