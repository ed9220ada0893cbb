//! The dimensions of a plate that a maker measures: what each is called, and where it is kept.

use crate::field::{Field, LidsField, PartsOf, Unit};
use crate::problem::{self, FARTHEST, Problem};
use crate::wording;

/// A number that is measured of a plate, all of them lengths but the angles of slots and holes. Indices count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Between the centres of the two openings.
    Spacing,
    /// Nominal ball diameter.
    Ball,
    /// Diameter of a plain opening.
    Opening,
    /// Height of the ball's centre above the front face, in a spherical seat.
    CentreHeight,
    /// Gap between ball and spherical seat.
    RunningClearance,
    /// Depth of the ring's front face behind the ball's centre.
    RingDepth,
    /// Thickness of the ring.
    RingThickness,
    /// Outer diameter of the ring.
    RingDiameter,
    /// Leg of the ring's bevel.
    RingBevel,
    /// Between the mid-planes of the two lugs of an eye.
    PivotSpacing,
    /// Diameter of the pivot hole.
    PivotHole,
    /// Gap between ball and lid.
    LidGap,
    /// Thickness of a lid's shell.
    LidShell,
    /// Thickness of the plate.
    Thickness,
    /// Width of a rectangular plate.
    Width,
    /// Height of a rectangular plate.
    Height,
    /// From the outline's left edge to the middle of the openings.
    FromLeft,
    /// From the outline's lower edge to the middle of the openings.
    FromBelow,
    /// Place of a slot's centre to the right of the openings' middle.
    SlotAcross(usize),
    /// Place of a slot's centre above the openings' middle.
    SlotHeight(usize),
    /// Direction of a slot's long side, degrees counter-clockwise from +x.
    SlotAngle(usize),
    /// Width of the tie that passes a slot.
    TieWidth(usize),
    /// Thickness of the tie that passes a slot.
    TieThickness(usize),
    /// Place of a cable hole's middle to the right of the openings' middle.
    HoleAcross(usize),
    /// Place of a cable hole's middle above the openings' middle.
    HoleHeight(usize),
    /// Width of a cable hole, or the diameter of a round one.
    HoleWidth(usize),
    /// Length of a cable hole from end to end; a round one has none.
    HoleLength(usize),
    /// Direction of a cable hole's long side, degrees counter-clockwise from +x; a round one has none.
    HoleAngle(usize),
}

impl Dimension {
    /// What the maker calls it: what a project has too is called the same.
    pub fn label(self) -> &'static str {
        let (of, lids) = (PartsOf::Shared, |field| Field::Lids(PartsOf::Shared, field));
        let field = match self {
            Self::Spacing => return "Spacing",
            Self::Width => return "Width",
            Self::Height => return "Height",
            Self::FromLeft => return "Left edge to the middle",
            Self::FromBelow => return "Lower edge to the middle",
            Self::Ball => Field::BallDiameter(of),
            Self::Opening => Field::OpeningDiameter(of),
            Self::CentreHeight => Field::CentreHeight(of),
            Self::RunningClearance => Field::RunningClearance(of),
            Self::RingDepth => Field::RingDepth(of),
            Self::RingThickness => Field::RingThickness(of),
            Self::RingDiameter => Field::RingDiameter(of),
            Self::RingBevel => Field::RingBevel(of),
            Self::PivotSpacing => lids(LidsField::PivotSpacing),
            Self::PivotHole => lids(LidsField::PivotHole),
            Self::LidGap => lids(LidsField::Gap),
            Self::LidShell => lids(LidsField::Shell),
            Self::Thickness => Field::PlateThickness,
            Self::HoleWidth(_) => return "Width or diameter",
            Self::HoleLength(_) => return "Length, if not round",
            Self::HoleAngle(_) => return "Angle, if not round",
            Self::HoleAcross(hole) => Field::SlotX(hole),
            Self::HoleHeight(hole) => Field::SlotY(hole),
            Self::SlotAcross(slot) => Field::SlotX(slot),
            Self::SlotHeight(slot) => Field::SlotY(slot),
            Self::SlotAngle(slot) => Field::SlotAngle(slot),
            Self::TieWidth(slot) => Field::TieWidth(slot),
            Self::TieThickness(slot) => Field::TieThickness(slot),
        };
        field.label()
    }

    /// The dimensions of slot `index`.
    pub fn of_slot(index: usize) -> [Self; 5] {
        [
            Self::SlotAcross(index),
            Self::SlotHeight(index),
            Self::SlotAngle(index),
            Self::TieWidth(index),
            Self::TieThickness(index),
        ]
    }

    /// The dimensions of cable hole `index`.
    pub fn of_hole(index: usize) -> [Self; 5] {
        [
            Self::HoleAcross(index),
            Self::HoleHeight(index),
            Self::HoleWidth(index),
            Self::HoleLength(index),
            Self::HoleAngle(index),
        ]
    }

    /// What it measures.
    pub fn unit(self) -> Unit {
        match self {
            Self::SlotAngle(_) | Self::HoleAngle(_) => Unit::Angle,
            _ => Unit::Length,
        }
    }

    /// The slot or cable hole that it belongs to; None of the plate itself.
    pub fn part(self) -> Option<String> {
        Some(match self {
            Self::SlotAcross(slot)
            | Self::SlotHeight(slot)
            | Self::SlotAngle(slot)
            | Self::TieWidth(slot)
            | Self::TieThickness(slot) => wording::slot(slot),
            Self::HoleAcross(hole)
            | Self::HoleHeight(hole)
            | Self::HoleWidth(hole)
            | Self::HoleLength(hole)
            | Self::HoleAngle(hole) => wording::numbered_hole(hole),
            _ => return None,
        })
    }

    /// Refuses a value that it cannot have wherever the plate's own frame lies; the plate as a whole is
    /// checked as a file is.
    pub(super) fn check(self, value: f64) -> Result<(), Problem> {
        let label = self.label();
        match self {
            Self::SlotAcross(_)
            | Self::SlotHeight(_)
            | Self::HoleAcross(_)
            | Self::HoleHeight(_)
            | Self::FromLeft
            | Self::FromBelow => problem::within(label, value, -FARTHEST..=FARTHEST, "mm"),
            Self::Spacing
            | Self::Width
            | Self::Height
            | Self::TieWidth(_)
            | Self::TieThickness(_)
            | Self::HoleWidth(_)
            | Self::HoleLength(_) => problem::size(label, value),
            Self::SlotAngle(_) | Self::HoleAngle(_) => {
                problem::within(label, value, -360.0..=360.0, "°")
            }
            _ => Ok(()),
        }
    }
}
