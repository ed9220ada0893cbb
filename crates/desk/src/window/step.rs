//! The steps of the job, from left to right.

use layout::{Finding, wording};

/// One step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Step {
    /// The head's inside wall, its way in and its anchor holes.
    Head,
    /// The eyes, their parts and their gaze.
    Eyes,
    /// The plate and its slots.
    Plate,
    /// The lids and the lugs that carry them.
    Lids,
    /// What moves lids and eyes: levers, cables and sheaths.
    Drives,
    /// The guard, and the hand behind it.
    Hand,
    /// The dimensioned sheet.
    Sheet,
}

impl Step {
    /// All steps in their order.
    pub const ALL: [Self; 7] = [
        Self::Head,
        Self::Eyes,
        Self::Plate,
        Self::Lids,
        Self::Drives,
        Self::Hand,
        Self::Sheet,
    ];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Head => "Head",
            Self::Eyes => "Eyes",
            Self::Plate => "Plate",
            Self::Lids => "Lids",
            Self::Drives => "Drives",
            Self::Hand => "Hand",
            Self::Sheet => "Sheet",
        }
    }

    /// The step where a finding is mended: that about a hole that the plate has, with the plate.
    pub fn of_finding(finding: &Finding) -> Self {
        // Most rules are about no hole; their parts need not be read.
        if finding.id.contains("hole") && wording::is_about_plate_hole(&finding.part) {
            return Self::Plate;
        }
        Self::of(finding.id)
    }

    /// The step where findings of a rule are mended. What nothing evaluates yet stays with the sheet, which
    /// says so.
    pub fn of(finding: &str) -> Self {
        match finding {
            "access" | "sweep_wall" | "sweep_back" => Self::Head,
            "ring_shape" | "ring_clearance" | "retention_overlap" | "running_clearance"
            | "ball_gap" | "sweep_gap" | "seated" => Self::Eyes,
            "opening_ligament" | "rim" | "slot_opening" | "slot_edge" | "slot_gap" | "lug_slot"
            | "plate_wall" | "hardware" | "tie_spread" => Self::Plate,
            "lid_plate" | "lid_meeting" | "lid_gap" | "lug_gap" | "lug_wall" | "lid_wall"
            | "lug_lid_gap" | "boss_plate" | "lid_shape" | "pivot_plate" | "pivot_lug"
            | "bare_ball" | "lid_overlap" | "lid_ball" => Self::Lids,
            "drive_shape" | "undriven" | "lever_plate" | "bracket" | "standoff" | "pull_error"
            | "lead" | "route_shape" | "bend_radius" | "push_safety" | "sheath_plate"
            | "sheath_lever" | "sheath_ball" | "sheath_ring" | "sheath_lid" | "sheath_wall"
            | "sheath_gap" | "in_front" | "lever_beside" | "hand_force" | "hole_opening"
            | "lug_hole" | "hole_slot" | "hole_edge" | "hole_gap" | "crosstalk" | "rod_shape"
            | "rod_follow" | "rod_angle" | "rod_clear" | "wire_clear" => Self::Drives,
            "guard_clearance" | "hand_room" | "hand_balance" | "guard_shape" | "guard_edge"
            | "guard_wall" | "guard_cover" => Self::Hand,
            _ => Self::Sheet,
        }
    }
}

#[cfg(test)]
mod tests {
    use layout::limits::Rule;

    use super::*;

    #[test]
    fn every_rule_is_mended_in_a_step_of_its_own() {
        for rule in Rule::ALL {
            let id = rule.info().id;
            assert_ne!(Step::of(id), Step::Sheet, "{id}");
        }
    }
}
