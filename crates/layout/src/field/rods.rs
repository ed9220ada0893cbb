//! The numbers of a rod.

use super::axis_label;
use crate::rod::{Rod, RodEnd};

/// A number of a rod.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RodField {
    /// A place of one end's lever tip along an axis, counted from 0: across, height, forward.
    Tip(RodEnd, usize),
    /// `diameter`
    Diameter,
}

impl RodField {
    pub(super) fn label(self) -> &'static str {
        match self {
            Self::Tip(_, axis) => axis_label(axis),
            Self::Diameter => "Rod diameter",
        }
    }

    pub(super) fn slot(self, rod: &mut Rod) -> Option<&mut f64> {
        match self {
            Self::Tip(end, axis) => rod.tip_mut(end).get_mut(axis),
            Self::Diameter => Some(&mut rod.diameter),
        }
    }
}
