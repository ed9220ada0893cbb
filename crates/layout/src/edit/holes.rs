//! Changes of the cable holes that a plate has.

use crate::cable_hole::PlateHole;
use crate::laid::Laid;
use crate::project::Project;

/// What becomes of a hole for cables that the plate has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleChange {
    /// It is filled, or was never there.
    Forget,
    /// It is made as wide as the cables need that pass too near beside it.
    Widen,
}

impl HoleChange {
    /// Makes it; None if there is no such hole, or nothing to widen it for.
    pub(super) fn make(self, p: &mut Project, index: usize) -> Option<()> {
        match self {
            Self::Forget => {
                let holes = &mut p.plate.cable_holes;
                (index < holes.len()).then(|| holes.remove(index))?;
            }
            Self::Widen => {
                let wider = Laid::out(p).widened_hole(p, index)?;
                p.plate.cable_holes[index] = PlateHole::from(&wider);
            }
        }
        Some(())
    }
}
