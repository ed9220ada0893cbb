//! The numbers of a drive.

use super::Unit;
use crate::drive::Drive;

/// A number of a drive. Axes count from 0: across, height, forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DriveField {
    /// `tip`
    Tip(usize),
    /// `standoff`
    Standoff,
    /// `stop`, where the drive has one of its own
    Stop(usize),
    /// `lead`
    Lead,
    /// `via[i]`
    Via(usize, usize),
    /// `exit`
    Exit(usize),
    /// `cable.inner_diameter`
    Wire,
    /// `cable.sheath_diameter`
    Sheath,
    /// `cable.modulus_gpa`
    Modulus,
    /// `cable.friction`
    Friction,
    /// `cable.least_bend_radius`
    LeastBend,
    /// `torque_nmm`
    Torque,
}

impl DriveField {
    pub(crate) fn label(self) -> &'static str {
        match self {
            Self::Tip(axis) | Self::Stop(axis) | Self::Via(_, axis) | Self::Exit(axis) => {
                super::axis_label(axis)
            }
            Self::Standoff => "Stop stands off by",
            Self::Lead => "Straight behind the stop",
            Self::Wire => "Wire diameter",
            Self::Sheath => "Sheath diameter",
            Self::Modulus => "Wire's modulus",
            Self::Friction => "Friction, wire in sheath",
            Self::LeastBend => "Least bend radius",
            Self::Torque => "Resists with",
        }
    }

    pub(super) fn unit(self) -> Unit {
        match self {
            Self::Modulus => Unit::Stiffness,
            Self::Friction => Unit::Share,
            Self::Torque => Unit::Torque,
            _ => Unit::Length,
        }
    }

    pub(super) fn slot(self, drive: &mut Drive) -> Option<&mut f64> {
        match self {
            Self::Tip(axis) => drive.tip.get_mut(axis),
            Self::Standoff => Some(&mut drive.standoff),
            Self::Stop(axis) => drive.stop.as_mut()?.get_mut(axis),
            Self::Lead => Some(&mut drive.lead),
            Self::Via(index, axis) => drive.via.get_mut(index)?.get_mut(axis),
            Self::Exit(axis) => drive.exit.get_mut(axis),
            Self::Wire => Some(&mut drive.cable.inner_diameter),
            Self::Sheath => Some(&mut drive.cable.sheath_diameter),
            Self::Modulus => Some(&mut drive.cable.modulus_gpa),
            Self::Friction => Some(&mut drive.cable.friction),
            Self::LeastBend => Some(&mut drive.cable.least_bend_radius),
            Self::Torque => Some(&mut drive.torque_nmm),
        }
    }
}
