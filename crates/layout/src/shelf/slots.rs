//! Which slot of a placed plate reaches which anchor hole.

use serde::Serialize;

use crate::head::AnchorHole;
use crate::ties::REACH;

/// The anchor hole nearest to a slot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reach {
    /// The hole's index.
    pub anchor: usize,
    /// From the slot's centre to the hole's, mm.
    pub distance: f64,
    /// Whether that is no more than [`REACH`].
    pub within: bool,
}

/// The anchor hole nearest to a place in the head, mm; None if there is none.
pub(super) fn reach(at: [f64; 2], holes: &[AnchorHole]) -> Option<Reach> {
    let distance = |hole: &AnchorHole| (hole.at[0] - at[0]).hypot(hole.at[1] - at[1]);
    let distances = holes.iter().map(distance).enumerate();
    let (anchor, distance) = distances.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(Reach {
        anchor,
        distance,
        within: distance <= REACH,
    })
}
