//! What `evaluate` says: figures and findings.

use serde::Serialize;

use crate::limits::{Rule, Sense, State};

/// The answer to a project.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Report {
    /// What was computed. A figure without a value is `None`.
    pub figures: Figures,
    /// What it means, rule by rule.
    pub findings: Vec<Finding>,
}

impl Report {
    /// The worst state of all findings; clear if there is none.
    pub fn worst(&self) -> State {
        worst(self.findings.iter())
    }
}

/// The worst state of some findings; clear if there is none.
pub fn worst<'a>(findings: impl Iterator<Item = &'a Finding>) -> State {
    findings.map(|f| f.state).max().unwrap_or(State::Clear)
}

/// One rule applied to one part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// The rule, as the limits name it, or the section that is not checked.
    pub id: &'static str,
    /// Whether it holds.
    pub state: State,
    /// The figure.
    pub value: Option<f64>,
    /// What is wanted of it.
    pub wanted: Option<f64>,
    /// The figure's unit.
    pub unit: &'static str,
    /// What it means, without figures, which are shown in the maker's own unit.
    pub sentence: String,
    /// The part that it is about.
    pub part: String,
    /// Where it occurs: points in the plate's frame, mm.
    #[serde(rename = "where")]
    pub place: Vec<[f64; 3]>,
}

impl Finding {
    /// The rule that it is of; None of what is not checked.
    pub fn rule(&self) -> Option<Rule> {
        let mut rules = Rule::ALL.iter().copied();
        rules.find(|rule| rule.info().id == self.id)
    }

    /// Whether its figure is to be at most what is wanted.
    pub fn is_at_most(&self) -> bool {
        let rule = self.rule();
        rule.is_some_and(|rule| rule.info().sense == Sense::AtMost)
    }
}

/// All figures of a project.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Figures {
    /// Of the plate.
    pub plate: PlateFigures,
    /// Of the hand.
    pub hand: HandFigures,
    /// Of each eye.
    pub eyes: Vec<EyeFigures>,
    /// Of each pair of eyes.
    pub pairs: Vec<PairFigures>,
    /// Of each drive.
    pub drives: Vec<DriveFigures>,
    /// Of each rod.
    pub rods: Vec<RodFigures>,
    /// Of each slot's tie.
    pub ties: Vec<TieFigures>,
}

/// Figures of the plate. Lengths in mm.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct PlateFigures {
    pub rim_mm: Option<f64>,
    pub plate_wall_mm: Option<f64>,
    pub sweep_wall_mm: Option<f64>,
    pub plate_area_mm2: Option<f64>,
    pub plate_width_mm: Option<f64>,
    pub plate_height_mm: Option<f64>,
    /// How far the eye centre or sheath stop that lies nearest to the edge of the slots' hull lies inside it.
    pub tie_spread_mm: Option<f64>,
}

/// Figures of one slot's tie, in the slots' order; none where it runs to no anchor hole.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct TieFigures {
    /// From the middle of the slot to that of its anchor hole.
    pub run_mm: Option<f64>,
    /// What the tie must be long at least.
    pub tie_needed_mm: Option<f64>,
    /// The shortest usual tie that is as long; none if there is none.
    pub tie_length_mm: Option<f64>,
}

/// Figures of one eye. Openings are radii.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct EyeFigures {
    pub centre_height_mm: Option<f64>,
    pub opening_front_mm: Option<f64>,
    pub opening_back_mm: Option<f64>,
    pub ball_behind_mm: Option<f64>,
    pub retention_overlap_mm: Option<f64>,
    pub ring_play_mm: Option<f64>,
    /// Play that is left by what keeps the eye seated.
    pub play_left_mm: Option<f64>,
    /// Pull that an elastic needs to hold the eye in its seat.
    pub pull_needed_n: Option<f64>,
    pub tilt_limit_deg: Option<f64>,
    pub working_tilt_deg: Option<f64>,
    pub ring_clearance_mm: Option<f64>,
    pub sweep_depth_mm: Option<f64>,
    pub sweep_reach_mm: Option<f64>,
    pub glue_area_mm2: Option<f64>,
    pub lid_open_limit_deg: UpperLower,
    pub lid_meeting_deg: Option<f64>,
    /// The same along the lids' outside.
    pub lid_meeting_mm: Option<f64>,
    /// Strip of the ball that shows behind a shut lid; none where it is covered.
    pub bare_ball_mm: UpperLower,
    pub iris_cover: Option<f64>,
    pub lug_lid_gap_mm: Option<f64>,
    /// Radius of the hole in the foam.
    pub foam_hole_mm: Option<f64>,
}

/// A figure of both lids.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct UpperLower {
    pub upper: Option<f64>,
    pub lower: Option<f64>,
}

/// Figures of two eyes, by their indices.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct PairFigures {
    pub a: usize,
    pub b: usize,
    pub spacing_mm: Option<f64>,
    pub ball_gap_mm: Option<f64>,
    pub lid_gap_mm: Option<f64>,
    pub lug_gap_mm: Option<f64>,
    pub sweep_gap_mm: Option<f64>,
    pub opening_ligament_mm: Option<f64>,
    /// How far each eye turns in to look at the point of gaze.
    pub toe_in_deg: Option<f64>,
    /// Distance of the pupils while they do.
    pub pupil_spacing_mm: Option<f64>,
}

/// Figures of one drive.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct DriveFigures {
    pub name: String,
    pub stroke_mm: Option<f64>,
    pub pull_error_deg: Option<f64>,
    pub arm_share: Option<f64>,
    pub unsupported_mm: Option<f64>,
    pub lead_mm: Option<f64>,
    pub sheath_mm: Option<f64>,
    pub bend_total_deg: Option<f64>,
    pub bend_least_mm: Option<f64>,
    pub pull_gain: Option<f64>,
    pub push_safety: Option<f64>,
    /// From the stop to the lever tip's near end.
    pub standoff_mm: Option<f64>,
    /// How far a finger pulls.
    pub travel_mm: Option<f64>,
    /// Length of the wire, what is left at both ends included.
    pub inner_mm: Option<f64>,
    /// Force at the lever tip where its arm is least.
    pub lever_force_n: Option<f64>,
    /// The same at the hand.
    pub hand_force_n: Option<f64>,
    pub lever_plate_mm: Option<f64>,
    pub sheath_plate_mm: Option<f64>,
    pub sheath_ball_mm: Option<f64>,
    pub sheath_ring_mm: Option<f64>,
    pub sheath_lid_mm: Option<f64>,
    pub sheath_lever_mm: Option<f64>,
    pub sheath_wall_mm: Option<f64>,
    pub sheath_guard_mm: Option<f64>,
    /// To the nearest other sheath.
    pub sheath_gap_mm: Option<f64>,
    /// Least distance of the bare wire from what it passes.
    pub wire_clear_mm: Option<f64>,
    /// How far the eye's other turn draws the wire in or out.
    pub crosstalk_mm: Option<f64>,
}

/// Figures of one rod.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct RodFigures {
    pub name: String,
    /// Between the joints.
    pub rod_length_mm: Option<f64>,
    /// How far what follows parts at most from turning as its driver does.
    pub follower_difference_deg: Option<f64>,
    /// Least angle between the rod and the follower's lever.
    pub transmission_least_deg: Option<f64>,
    /// Least distance from balls, rings, lids, plate, levers, wall and other rods.
    pub rod_clear_mm: Option<f64>,
    /// How far the planar four-bar linkage parts at most from the true one.
    pub planar_difference_deg: Option<f64>,
}

/// Figures of the hand.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(
    missing_docs,
    reason = "the names are the documentation: they are the file format's"
)]
pub struct HandFigures {
    pub guard_clearance_mm: Option<f64>,
    pub guard_radius_mm: Option<f64>,
    pub guard_flat_mm: Option<f64>,
    /// Thickness of the foam at the guard's edges.
    pub foam_edge_mm: Option<f64>,
    /// Thickness of the foam at the guard's middle: that of the piece it is cut from.
    pub foam_middle_mm: Option<f64>,
    /// Depth behind the guard, which the hand shares with what is left over.
    pub hand_room_mm: Option<f64>,
    pub hand_front_n: Option<f64>,
    pub hand_rear_n: Option<f64>,
    pub hand_front_kpa: Option<f64>,
    pub hand_rear_kpa: Option<f64>,
    /// The same four without foam and guard.
    pub bare_front_n: Option<f64>,
    pub bare_rear_n: Option<f64>,
    pub bare_front_kpa: Option<f64>,
    pub bare_rear_kpa: Option<f64>,
}
