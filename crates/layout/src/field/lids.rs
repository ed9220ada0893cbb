//! The numbers of an eye's lids.

use super::Unit;
use crate::lid::{Lids, Which};

/// A number of the lids.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LidsField {
    /// `gap`
    Gap,
    /// `shell`
    Shell,
    /// `pivot_spacing`
    PivotSpacing,
    /// `pivot_hole`
    PivotHole,
    /// `lug_thickness`
    LugThickness,
    /// `lug_width`
    LugWidth,
    /// `lever_width`
    LeverWidth,
    /// `upper.open`, `lower.open`
    Open(Which),
    /// `upper.closed`, `lower.closed`
    Closed(Which),
    /// `upper.extent`, `lower.extent`
    Extent(Which),
}

impl LidsField {
    pub(super) fn label(self) -> &'static str {
        match self {
            Self::Gap => "Gap to the ball",
            Self::Shell => "Shell thickness",
            Self::PivotSpacing => "Lugs apart, middle to middle",
            Self::PivotHole => "Pivot hole",
            Self::LugThickness => "Lug thickness",
            Self::LugWidth => "Lug width",
            Self::LeverWidth => "Lever width",
            Self::Open(_) => "Open at",
            Self::Closed(_) => "Shut at",
            Self::Extent(_) => "Reaches back by",
        }
    }

    pub(super) fn unit(self) -> Unit {
        match self {
            Self::Open(_) | Self::Closed(_) | Self::Extent(_) => Unit::Angle,
            _ => Unit::Length,
        }
    }

    pub(super) fn slot(self, lids: &mut Lids) -> Option<&mut f64> {
        Some(match self {
            Self::Gap => &mut lids.gap,
            Self::Shell => &mut lids.shell,
            Self::PivotSpacing => &mut lids.pivot_spacing,
            Self::PivotHole => &mut lids.pivot_hole,
            Self::LugThickness => &mut lids.lug_thickness,
            Self::LugWidth => &mut lids.lug_width,
            Self::LeverWidth => &mut lids.lever_width,
            Self::Open(which) => &mut lids.lid_mut(which)?.open.0,
            Self::Closed(which) => &mut lids.lid_mut(which)?.closed.0,
            Self::Extent(which) => &mut lids.lid_mut(which)?.extent.0,
        })
    }
}
