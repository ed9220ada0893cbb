//! The numbers of a rod.

use crate::rod::{Rod, RodEnd};

/// A number of a rod: a place of one end's lever tip along an axis, counted from 0: across, height,
/// forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct RodField {
    /// The end.
    pub end: RodEnd,
    /// The axis.
    pub axis: usize,
}

impl RodField {
    pub(super) fn slot(self, rod: &mut Rod) -> Option<&mut f64> {
        rod.tip_mut(self.end).get_mut(self.axis)
    }
}
