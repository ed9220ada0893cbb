//! The rules' limits: what must hold, what is wanted, and why.

use serde::{Deserialize, Serialize};

use crate::lug::FOOT_MARGIN;
use crate::problem::{self, Problem};

/// How far apart two figures may be and still count as equal to a limit.
pub const TOLERANCE: f64 = 1e-6;

/// The least value of a rule (beyond it: fouls) and the wanted one (beyond it: tight).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "(f64, f64)", into = "(f64, f64)")]
pub struct Limit {
    /// What must hold.
    pub least: f64,
    /// What is wanted.
    pub wanted: f64,
}

impl From<(f64, f64)> for Limit {
    fn from((least, wanted): (f64, f64)) -> Self {
        Self { least, wanted }
    }
}

impl From<Limit> for (f64, f64) {
    fn from(limit: Limit) -> Self {
        (limit.least, limit.wanted)
    }
}

/// Which way a rule's figure is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The figure must be at least the limit.
    AtLeast,
    /// The figure must be at most the limit.
    AtMost,
}

/// The state of one finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum State {
    /// At least the wanted value.
    #[serde(rename = "clear")]
    Clear,
    /// This build does not evaluate it.
    #[serde(rename = "not checked")]
    NotChecked,
    /// Holds, but below the wanted value.
    #[serde(rename = "tight")]
    Tight,
    /// Does not hold.
    #[serde(rename = "fouls")]
    Fouls,
}

impl State {
    /// The state's word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::NotChecked => "not checked yet",
            Self::Tight => "tight",
            Self::Fouls => "fouls",
        }
    }
}

/// What a rule wants if the project does not say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted {
    /// A fixed figure.
    Fixed(f64),
    /// The plate's thickness, but at least this, mm.
    PlateThickness(f64),
}

/// What is fixed about a rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleInfo {
    /// The finding's id, and the limit's name in a file.
    pub id: &'static str,
    /// What the maker calls the rule.
    pub label: &'static str,
    /// Unit of the figure and the limits.
    pub unit: &'static str,
    /// Which way is better.
    pub sense: Sense,
    /// Starting value of what must hold.
    pub least: f64,
    /// Starting value of what is wanted.
    pub wanted: Wanted,
    /// Where the starting values come from.
    pub source: &'static str,
}

const OWN: &str = "own choice";
const MOVING_FIT: &str = "moving fit of printed parts, as reported";
const WEB: &str = "web at least as wide as the sheet is thick, as reported";
const PRACTICE: &str = "common practice, no source";
/// 18 N for a control that fingers pull, MIL-STD-1472E 5.4.3.1.8.7; half of it is wanted, since a puppet is
/// played for long.
const FINGERS: &str = "a military standard on controls, as reported; half is wanted";
const HANDBOOK: &str = "handbook rule of thumb, from memory";
const WIRE: &str = "a component maker's rule for push-pull wire, as reported";

macro_rules! rules {
    ($($variant:ident $id:ident $label:literal, $unit:literal, $sense:ident, $least:expr, $wanted:expr, $source:expr;)*) => {
        /// Every rule that has a limit.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Rule {
            $(#[doc = $label] $variant,)*
        }

        impl Rule {
            /// All rules, in the order of the findings.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// What is fixed about the rule.
            pub fn info(self) -> RuleInfo {
                match self {
                    $(Self::$variant => RuleInfo {
                        id: stringify!($id),
                        label: $label,
                        unit: $unit,
                        sense: Sense::$sense,
                        least: $least,
                        wanted: $wanted,
                        source: $source,
                    },)*
                }
            }
        }

        /// The limits of one project; a rule that it does not name has its starting values.
        #[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[serde(default, deny_unknown_fields)]
        pub struct Limits {
            $(
                #[doc = $label]
                #[serde(with = "crate::bare", skip_serializing_if = "Option::is_none")]
                pub $id: Option<Limit>,
            )*
        }

        impl Limits {
            /// What the project itself says about a rule.
            pub fn own(&self, rule: Rule) -> Option<Limit> {
                match rule { $(Rule::$variant => self.$id,)* }
            }

            /// Sets or clears what the project itself says about a rule.
            pub(crate) fn set(&mut self, rule: Rule, limit: Option<Limit>) {
                match rule { $(Rule::$variant => self.$id = limit,)* }
            }
        }
    };
}

use Wanted::{Fixed, PlateThickness};

rules! {
    RingShape ring_shape "ring can be made", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    RingClearance ring_clearance "ring clearance at the working tilt", "mm", AtLeast, 0.0, Fixed(0.4), MOVING_FIT;
    RetentionOverlap retention_overlap "ring holds on by", "mm", AtLeast, 0.5, Fixed(1.0), OWN;
    Seated seated "play left of an eye", "mm", AtMost, f64::INFINITY, Fixed(1.0), OWN;
    RunningClearance running_clearance "clearance left for the largest ball", "mm", AtLeast, 0.0, Fixed(0.1), OWN;
    BallGap ball_gap "balls apart", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    LidGap lid_gap "lids apart", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    LugGap lug_gap "lugs apart", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SweepGap sweep_gap "ring sweeps apart", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    OpeningLigament opening_ligament "opening to opening", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    Rim rim "opening to edge", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    SlotOpening slot_opening "slot to opening", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    SlotEdge slot_edge "slot to edge", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    LugSlot lug_slot "lug to slot", "mm", AtLeast, 0.0, Fixed(FOOT_MARGIN), OWN;
    SlotGap slot_gap "slot to slot", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    HoleOpening hole_opening "cable hole to opening", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    HoleSlot hole_slot "cable hole to slot", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    HoleEdge hole_edge "cable hole to edge", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    LugHole lug_hole "lug to cable hole", "mm", AtLeast, 0.0, Fixed(FOOT_MARGIN), OWN;
    HoleGap hole_gap "cable hole to cable hole", "mm", AtLeast, 1.0, PlateThickness(3.0), WEB;
    PlateWall plate_wall "plate to wall", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    LugWall lug_wall "lugs to wall", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    LidWall lid_wall "lids to wall", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    SweepBack sweep_back "ring sweep to the back of the head", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    SweepWall sweep_wall "ring sweep to wall", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    Hardware hardware "ties and brackets to what moves", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    TieSpread tie_spread "eyes and sheath stops among the slots", "mm", AtLeast, f64::NEG_INFINITY, Fixed(0.0), OWN;
    Access access "way in", "mm", AtLeast, 0.0, Fixed(0.0), OWN;
    LidShape lid_shape "lid can be made", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    LugLidGap lug_lid_gap "lug to lid", "mm", AtLeast, 0.0, Fixed(0.4), MOVING_FIT;
    BossPlate boss_plate "pivot boss to plate", "mm", AtLeast, 0.0, Fixed(0.4), MOVING_FIT;
    PivotPlate pivot_plate "pivot hole to plate", "mm", AtLeast, 0.0, Fixed(1.5), OWN;
    PivotLug pivot_lug "pivot hole to edge of lug", "mm", AtLeast, 1.0, Fixed(3.0), OWN;
    LeverBeside lever_beside "levers beside lugs, lids and each other", "mm", AtLeast, 0.0, Fixed(0.4), MOVING_FIT;
    LeverPlate lever_plate "levers to plate", "mm", AtLeast, 0.0, Fixed(0.4), MOVING_FIT;
    LidPlate lid_plate "lid edge to plate", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    LidMeeting lid_meeting "lids when shut", "°", AtMost, 0.0, Fixed(-1.0), OWN;
    LidOverlap lid_overlap "shut lids over each other", "°", AtMost, f64::INFINITY, Fixed(5.0), OWN;
    LidBall lid_ball "clearance left under the lids for the largest ball", "mm", AtLeast, 0.0, Fixed(0.1), OWN;
    BareBall bare_ball "bare ball behind a shut lid", "mm", AtMost, f64::INFINITY, Fixed(1.0), OWN;
    DriveShape drive_shape "drive can work", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    Undriven undriven "turns that nothing moves", "", AtMost, f64::INFINITY, Fixed(0.0), OWN;
    Bracket bracket "stop bracket", "mm", AtMost, f64::INFINITY, Fixed(25.0), OWN;
    Standoff standoff "standoff", "mm", AtMost, 10.0, Fixed(3.0), PRACTICE;
    PullError pull_error "pull error over the turn", "°", AtMost, 25.0, Fixed(12.0), PRACTICE;
    Crosstalk crosstalk "wire drawn by the eye's other turn", "mm", AtMost, 4.0, Fixed(1.5), OWN;
    Lead lead "lead", "mm", AtLeast, 10.0, Fixed(15.0), PRACTICE;
    RouteShape route_shape "sheath can be laid", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    BendRadius bend_radius "bend radius over wire diameter", "", AtLeast, 70.0, Fixed(100.0), WIRE;
    SheathPlate sheath_plate "sheath to plate", "mm", AtLeast, 0.0, Fixed(0.2), OWN;
    SheathBall sheath_ball "sheath to balls", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SheathRing sheath_ring "sheath to ring sweeps", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SheathLid sheath_lid "sheath to lids", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SheathLever sheath_lever "sheath to levers and rods", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SheathWall sheath_wall "sheath to wall", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    SheathGap sheath_gap "sheaths apart", "mm", AtLeast, 0.0, Fixed(0.5), OWN;
    InFront in_front "lever or sheath in front of the plate", "mm", AtMost, f64::INFINITY, Fixed(0.0), OWN;
    HandForce hand_force "pull at the hand", "N", AtMost, 18.0, Fixed(9.0), FINGERS;
    WireClear wire_clear "bare wire to what it passes", "mm", AtLeast, 0.0, Fixed(0.5), OWN;
    PushSafety push_safety "column safety when pushing", "", AtLeast, 1.0, Fixed(2.0), OWN;
    RodShape rod_shape "rod can work", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    RodFollow rod_follow "follower out of step", "°", AtMost, 5.0, Fixed(2.0), OWN;
    RodAngle rod_angle "rod to the lever it turns", "°", AtLeast, 30.0, Fixed(45.0), HANDBOOK;
    RodClear rod_clear "rod to balls, rings, lids, plate and rods", "mm", AtLeast, 0.0, Fixed(1.0), OWN;
    GuardShape guard_shape "guard can be made", "", AtLeast, 0.0, Fixed(0.0), "geometry";
    GuardClearance guard_clearance "guard clearance", "mm", AtLeast, 0.0, Fixed(3.0), OWN;
    GuardEdge guard_edge "edges of the guard to a sweep", "mm", AtLeast, 0.0, Fixed(3.0), OWN;
    GuardWall guard_wall "guard to wall", "mm", AtLeast, 0.0, Fixed(2.0), OWN;
    GuardCover guard_cover "guard beyond ring sweeps", "mm", AtLeast, f64::NEG_INFINITY, Fixed(0.0), OWN;
    HandBalance hand_balance "weight that fingers and pad share", "N", AtLeast, 0.0, Fixed(0.0), "statics";
    HandRoom hand_room "hand room left over", "mm", AtLeast, 0.0, Fixed(5.0), OWN;
}

impl Limits {
    /// The limit of a rule for a plate of `thickness`, mm: the project's own, or the starting one.
    pub fn of(&self, rule: Rule, thickness: f64) -> Limit {
        self.own(rule).unwrap_or_else(|| {
            let info = rule.info();
            Limit {
                least: info.least,
                wanted: match info.wanted {
                    Fixed(wanted) => wanted,
                    PlateThickness(least) => thickness.max(least),
                },
            }
        })
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        for &rule in Rule::ALL {
            let Some(limit) = self.own(rule) else {
                continue;
            };
            let info = rule.info();
            let field = format!("{at}.{}", info.id);
            // A rule whose starting value is infinite must hold nothing.
            let unbounded = info.least.is_infinite() && limit.least == info.least;
            let least = (!unbounded).then_some(limit.least);
            for value in least.into_iter().chain([limit.wanted]) {
                problem::within(&field, value, -1_000.0..=1_000.0, info.unit)?;
            }
            let ordered = match info.sense {
                Sense::AtLeast => limit.least <= limit.wanted,
                Sense::AtMost => limit.least >= limit.wanted,
            };
            if !ordered {
                return Err(Problem::new(
                    field,
                    format!(
                        "The limit ({}, {}) of `{}` asks for less than it must have.",
                        limit.least, limit.wanted, info.id
                    ),
                    "Put what must hold first, then what is wanted.",
                ));
            }
        }
        Ok(())
    }
}

impl Limit {
    /// The state of a figure under this limit.
    pub fn state(self, value: f64, sense: Sense) -> State {
        let short = |bound: f64| match sense {
            Sense::AtLeast => value < bound - TOLERANCE,
            Sense::AtMost => value > bound + TOLERANCE,
        };
        if value.is_nan() || short(self.least) {
            State::Fouls
        } else if short(self.wanted) {
            State::Tight
        } else {
            State::Clear
        }
    }
}
