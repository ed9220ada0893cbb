//! The numbers of the hand and its guard.

use super::Unit;
use crate::hand::Hand;

/// A number of the hand. Axes count from 0: across, height, forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HandField {
    /// `guard_chord`
    GuardChord,
    /// `guard_bow`
    GuardBow,
    /// `guard_edge`
    GuardEdge,
    /// `guard_length`
    GuardLength,
    /// `thickness_mm`
    Thickness,
    /// `head_mass_g`
    HeadMass,
    /// `mass_centre`
    MassCentre(usize),
}

impl HandField {
    pub(super) fn label(self) -> &'static str {
        match self {
            Self::GuardChord => "Guard, chord",
            Self::GuardBow => "Guard, bow",
            Self::GuardEdge => "Edges behind the plate",
            Self::GuardLength => "Guard length",
            Self::Thickness => "Hand thickness",
            Self::HeadMass => "Head weighs",
            Self::MassCentre(axis) => ["Across", "Height"].get(axis).copied().unwrap_or("Forward"),
        }
    }

    pub(super) fn unit(self) -> Unit {
        match self {
            Self::HeadMass => Unit::Mass,
            _ => Unit::Length,
        }
    }

    pub(super) fn slot(self, hand: &mut Hand) -> Option<&mut f64> {
        match self {
            Self::GuardChord => Some(&mut hand.guard_chord),
            Self::GuardBow => Some(&mut hand.guard_bow),
            Self::GuardEdge => Some(&mut hand.guard_edge),
            Self::GuardLength => Some(&mut hand.guard_length),
            Self::Thickness => Some(&mut hand.thickness_mm),
            Self::HeadMass => Some(&mut hand.head_mass_g),
            Self::MassCentre(axis) => hand.mass_centre.get_mut(axis),
        }
    }
}
