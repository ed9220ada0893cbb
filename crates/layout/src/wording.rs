//! What findings say. Sentences hold no figures: those are shown beside them, in the maker's unit.

mod sheaths;

pub(crate) use sheaths::{
    bracket, guard_cover, lever_in_front, lids_and_wall, moved_and_guard, rod_clear,
    sheath_and_guard, sheath_and_lever, sheath_in_front, sweep_and_head, wire,
};

use crate::drive::Moves;
use crate::drive::Turn;
use crate::gaze::SeatedBy;
use crate::lid::Which;
use crate::limits::{Rule, State};
use crate::route::Fault;
use crate::seated::Seated;

/// What a slot is called, by its index.
pub fn slot(index: usize) -> String {
    format!("slot {}", index + 1)
}

/// What a slot's tie is called, by the slot's index.
pub fn tie(index: usize) -> String {
    format!("tie {}", index + 1)
}

/// What a lid is called, by its eye's name.
pub fn lid(which: Which, eye: &str) -> String {
    about(eye, &format!("{} of the {{}}", which.noun()))
}

/// What a drive is called where its name could be taken for a part's.
pub(crate) fn drive(name: &str) -> String {
    format!("drive “{name}”")
}

/// What the lever of a drive or rod is called.
pub(crate) fn lever(name: &str) -> String {
    piece("lever", name)
}

/// What a piece of something is called.
pub(crate) fn piece(what: &str, of: &str) -> String {
    about(of, &format!("{what} of the {{}}"))
}

/// What a cable hole is called, by its place along its drive's cable and the drive's name.
pub fn cable_hole(index: usize, drive: &str) -> String {
    about(drive, &format!("cable hole {} of the {{}}", index + 1))
}

/// What a cable hole is called where a plate's own are told apart, by its index.
pub fn numbered_hole(index: usize) -> String {
    format!("cable hole {}", index + 1)
}

/// What a cable hole is called that a plate has, whatever passes it, by its index.
pub fn plate_hole(index: usize) -> String {
    format!("{} of the plate", numbered_hole(index))
}

/// Whether a finding's part is a hole that a plate has, or something beside one.
pub fn is_about_plate_hole(part: &str) -> bool {
    let of_plate = |own: &str| own.starts_with("cable hole ") && own.ends_with(" of the plate");
    part.split(" and ").any(of_plate)
}

/// What the finding of [`Rule::HoleEdge`] says of a hole that the plate has.
pub(crate) fn plate_hole_edge(state: State, hole: &str) -> String {
    match state {
        State::Clear => format!("The web between {hole} and the edge is wide enough."),
        State::Tight => format!("The web between {hole} and the edge is thin."),
        _ => format!("The edge of the plate breaks at {hole}."),
    }
}

/// What two parts together are called.
pub fn pair(a: &str, b: &str) -> String {
    format!("{a} and {b}")
}

/// Whether a finding's part is the thing of this name, or one of two such, or a piece of it.
pub fn is_about(part: &str, name: &str) -> bool {
    part.split(" and ").any(|own| {
        let before = own.strip_suffix(name);
        before.is_some_and(|before| before.is_empty() || before.ends_with(' '))
    })
}

/// Id and sentence of what this build keeps and does not evaluate: eyes with a plate of their own.
pub(crate) const CARRIERS_NOT_CHECKED: (&str, &str) = (
    "carriers",
    "Eyes with a plate of their own are checked as if they sat on the common one.",
);

/// A sentence about `part`, which comes in where the pattern has `{}`.
pub(crate) fn about(part: &str, pattern: &str) -> String {
    let (before, after) = pattern.split_once("{}").unwrap_or((pattern, ""));
    // A name that ends in a number takes no article: "the left eye", but "eye 3".
    let numbered = part.ends_with(|last: char| last.is_ascii_digit());
    let before = before
        .strip_suffix("the ")
        .filter(|_| numbered)
        .unwrap_or(before);
    [before, part, after].concat()
}

/// What the finding of [`Rule::Seated`] says of `eye`: what takes its play up, and where it stops.
pub(crate) fn seated(state: State, by: SeatedBy, seated: &Seated, eye: &str) -> String {
    let stop = if seated.stopped_by_lid {
        "a lid stops it"
    } else {
        "the plate stops its ring"
    };
    let pattern = match (state, by) {
        (State::Clear, SeatedBy::Elastic { .. }) if seated.held => {
            "The elastic holds the {} in its seat."
        }
        (State::Clear, SeatedBy::Lids) if seated.stopped_by_lid => "The lids keep the {} seated.",
        (State::Clear | State::NotChecked, _) => {
            "The {} has so little play that nothing else need hold it."
        }
        (_, SeatedBy::Elastic { .. }) => "The elastic pulls too little to hold the {}",
        (_, SeatedBy::Lids) if seated.stopped_by_lid => "The lids leave the {} much play",
        (_, SeatedBy::Lids) => "No lid reaches far enough over the {} to hold it",
        (_, SeatedBy::Nothing) => "Nothing holds the {} in its seat",
    };
    let end = match state {
        State::Clear | State::NotChecked => String::new(),
        State::Tight => format!(
            ": it can move forward until {stop}, and its ring still clears the plate when it turns."
        ),
        State::Fouls => format!(": it can move too far forward before {stop}."),
    };
    about(eye, pattern) + &end
}

/// What the finding of [`Rule::LugGap`] says of two eyes that share a lug.
pub(crate) fn shared_lug(eyes: &str) -> String {
    about(eyes, "The pivots between {} share one lug.")
}

/// What the finding of [`Rule::LugLidGap`] says of two eyes.
pub(crate) fn lugs_and_lids(state: State, eyes: &str, has_lids: bool) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => "Lugs and lids of {} stand clear of each other.",
        State::Tight => "Of {}, a lug of one stands close to the WHAT of the other.",
        State::Fouls => "Of {}, a lug of one stands in the way of the WHAT of the other.",
    };
    about(
        eyes,
        &pattern.replace("WHAT", if has_lids { "lids" } else { "ball" }),
    )
}

/// What the finding of [`Rule::Undriven`] says of `eye`.
pub(crate) fn undriven(moves: Moves, eye: &str) -> String {
    let pattern = match moves {
        Moves::Gaze {
            turn: Turn::Side, ..
        } => "No cable turns the {} to the side.",
        Moves::Gaze {
            turn: Turn::Lift, ..
        } => "No cable turns the {} up and down.",
        Moves::Lid {
            which: Which::Upper,
            ..
        } => "No cable moves the upper lid of the {}.",
        Moves::Lid {
            which: Which::Lower,
            ..
        } => "No cable moves the lower lid of the {}.",
    };
    about(eye, pattern)
}

/// What the finding of [`Rule::RingClearance`] says of an eye whose lever comes nearest to the plate.
pub(crate) fn lever_turned(state: State, eye: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => {
            "Ring and levers of the {} clear the plate at its working tilt."
        }
        State::Tight => "A lever of the {} nearly meets the plate at its working tilt.",
        State::Fouls => "A lever of the {} meets the plate before its working tilt.",
    };
    about(eye, pattern)
}

/// What the finding of [`Rule::RouteShape`] says of a drive.
pub(crate) fn route_fault(fault: &Fault, drive: &str, has_corners: bool) -> String {
    match fault {
        Fault::TooNear { .. } if !has_corners => about(
            drive,
            "The exit of the {} lies inside the first bend after its lead. Move it away, or use a smaller bend \
             radius.",
        ),
        Fault::TooNear { .. } => about(
            drive,
            "The first point of the {} after its lead lies inside the first bend. Move it away, or use a \
             smaller bend radius.",
        ),
        Fault::LegTooShort { leg, .. } => {
            let which = format!("Leg {} of ", leg + 1);
            let pattern = "the {} is too short for the bends at its ends. Move its points apart, or use a \
                           smaller bend radius.";
            which + &about(drive, pattern)
        }
    }
}

/// What a rule's finding says of `part`.
pub(crate) fn sentence(rule: Rule, state: State, part: &str) -> String {
    let say = |clear: &str, tight: &str, fouls: &str| {
        let pattern = match state {
            State::Clear | State::NotChecked => clear,
            State::Tight => tight,
            State::Fouls => fouls,
        };
        about(part, pattern)
    };
    match rule {
        Rule::LidGap => say(
            "Lids and balls of {} keep clear of each other.",
            "Lids and balls of {} nearly touch.",
            "Lids and balls of {} run into each other.",
        ),
        Rule::LugGap => say(
            "The lugs of {} stand apart.",
            "The lugs of {} stand close together.",
            "The lugs of {} stand in each other.",
        ),
        Rule::LugWall => say(
            "The lugs of the {} stand inside the head.",
            "The lugs of the {} come near the wall.",
            "The lugs of the {} run into the wall.",
        ),
        Rule::LugLidGap => say(
            "The lids of the {} turn freely between their lugs.",
            "The lids of the {} nearly rub on their lugs.",
            "The lids of the {} do not fit between their lugs.",
        ),
        Rule::BossPlate => say(
            "The pivot bosses of the {} clear the plate.",
            "The pivot bosses of the {} nearly touch the plate.",
            "The pivot bosses of the {} run into the plate.",
        ),
        Rule::PivotPlate => say(
            "The fasteners in the lugs of the {} have room above the plate.",
            "The fasteners in the lugs of the {} have little room above the plate.",
            "The pivot holes of the {} run into the plate.",
        ),
        Rule::PivotLug => say(
            "The lugs of the {} are wide enough round their pivot holes.",
            "The lugs of the {} are thin round their pivot holes.",
            "The pivot holes of the {} break their lugs.",
        ),
        Rule::LidPlate => say(
            "The {} opens clear of the plate.",
            "The {} opens close to the plate.",
            "The {} runs into the plate before it is open.",
        ),
        Rule::LidMeeting => say(
            "The lids of the {} meet when shut.",
            "The lids of the {} only just meet when shut.",
            "The lids of the {} do not meet when shut.",
        ),
        Rule::LidOverlap => say(
            "The shut lids of the {} lie over each other by little.",
            "The shut lids of the {} run far over each other. Let one of them shut less far.",
            "The shut lids of the {} run too far over each other. Let one of them shut less far.",
        ),
        Rule::LidBall => say(
            "The largest ball turns freely under the lids of the {}.",
            "The largest ball barely turns under the lids of the {}. Give the lids a larger gap.",
            "The largest ball jams under the lids of the {}. Give the lids a larger gap.",
        ),
        Rule::BareBall => say(
            "The {} hides the ball when shut, but for a sliver at most.",
            "The {} leaves a strip of the ball bare behind it when shut.",
            "The {} leaves too much of the ball bare behind it when shut.",
        ),
        Rule::GuardClearance => say(
            "The guard keeps clear of the {}.",
            "The guard comes near the {}.",
            "The guard stands in the way of the {}.",
        ),
        Rule::GuardEdge => say(
            "The guard's edges keep clear of the {}.",
            "An edge of the guard comes near the {}.",
            "An edge of the guard stands in the sweep of the {}.",
        ),
        Rule::GuardWall => say(
            "The {} fits inside the head.",
            "The {} comes near the head's wall. Make it narrower or shorter.",
            "The {} is too large for the head and runs into its wall. Make it narrower or shorter.",
        ),
        Rule::HandForce => say(
            "A finger pulls the {} with ease.",
            "A finger pulls hard at the {}.",
            "The {} takes more pull than a finger has.",
        ),
        Rule::HandBalance => say(
            "A part of the head's weight rests on the {}.",
            "Hardly any of the head's weight rests on the {}.",
            "The head lifts off the {}: its weight lies beyond the other support.",
        ),
        Rule::HandRoom => say(
            "The {} has room behind the guard.",
            "The {} has little room behind the guard.",
            "The {} does not fit behind the guard.",
        ),
        Rule::RingClearance => say(
            "The ring of the {} clears the plate at its working tilt.",
            "The ring of the {} nearly touches the plate at its working tilt.",
            "The ring of the {} meets the plate before its working tilt.",
        ),
        Rule::RetentionOverlap => say(
            "The ring holds the {} in its opening.",
            "The ring holds the {} by little.",
            "The ring does not hold the {}: it can slip through its opening.",
        ),
        Rule::RunningClearance => say(
            "The largest ball turns freely in the seat of the {}.",
            "The largest ball barely turns in the seat of the {}.",
            "The largest ball jams in the seat of the {}.",
        ),
        Rule::BallGap => say(
            "The balls of {} stand apart.",
            "The balls of {} nearly touch.",
            "The balls of {} run into each other.",
        ),
        Rule::SweepGap => say(
            "The rings of {} sweep clear of each other.",
            "The rings of {} sweep close to each other.",
            "The rings of {} sweep through each other.",
        ),
        Rule::OpeningLigament => say(
            "The web between {} is wide enough.",
            "The web between {} is thin.",
            "The web between {} breaks or is not there.",
        ),
        Rule::Rim => say(
            "The rim around the {} is wide enough.",
            "The rim around the {} is thin.",
            "The opening of the {} breaks the plate's edge.",
        ),
        Rule::SlotOpening => say(
            "The web between {} is wide enough.",
            "The web between {} is thin.",
            "The web between {} breaks or is not there.",
        ),
        Rule::SlotEdge => say(
            "The pad around {} is wide enough.",
            "The pad around {} is thin.",
            "The edge of the plate breaks at {}.",
        ),
        Rule::SlotGap => say(
            "The web between {} is wide enough.",
            "The web between {} is thin.",
            "The web between {} breaks or is not there.",
        ),
        Rule::PlateWall => say(
            "The {} fits inside the head.",
            "The {} comes near the wall.",
            "The {} runs into the wall.",
        ),
        Rule::Hardware => say(
            "The strap stays out of the ring's sweep at {}.",
            "The strap comes near the ring's sweep at {}.",
            "The strap stands in the ring's sweep at {}.",
        ),
        Rule::TieSpread => say(
            "The slots lie all round eyes and sheath stops; nearest to their edge is the {}.",
            "The {} lies beyond the slots: what pulls there can tip the plate.",
            "The {} lies too far beyond the slots: what pulls there tips the plate.",
        ),
        Rule::Access => say(
            "The {} with its eyes passes the head's opening.",
            "The {} with its eyes just passes the head's opening.",
            "The {} with its eyes does not pass the head's opening.",
        ),
        Rule::LeverBeside => say(
            "The {} stand clear of each other, side by side.",
            "The {} stand close, side by side.",
            "The {} stand in each other.",
        ),
        Rule::LeverPlate => say(
            "The lever of the {} clears the plate over its whole turn.",
            "The lever of the {} nearly touches the plate.",
            "The lever of the {} runs into the plate.",
        ),
        Rule::Bracket => say(
            "The bracket for the stop of the {} is short.",
            "The bracket for the stop of the {} reaches far and may bend.",
            "The bracket for the stop of the {} reaches too far.",
        ),
        Rule::Standoff => say(
            "The sheath of the {} stops close to its lever.",
            "The sheath of the {} stops some way before its lever.",
            "The sheath of the {} stops too far from its lever.",
        ),
        Rule::PullError => say(
            "The cable of the {} pulls true over the whole turn.",
            "The cable of the {} pulls aslant in a part of the turn.",
            "The cable of the {} pulls too far aslant in a part of the turn.",
        ),
        Rule::Crosstalk => say(
            "The cable of the {} hardly feels the eye's other turn.",
            "The eye's other turn draws a little on the cable of the {}.",
            "The eye's other turn draws so much on the cable of the {} that it moves what the cable holds.",
        ),
        Rule::RodFollow => say(
            "What the {} moves keeps in step with what drives it.",
            "What the {} moves falls a little out of step with what drives it.",
            "What the {} moves turns otherwise than what drives it.",
        ),
        Rule::RodAngle => say(
            "The {} stands well across the lever that it turns, over the whole turn.",
            "The {} pulls aslant at the lever that it turns in a part of the turn.",
            "The {} comes so near to lying in line with the lever that it turns that it may jam.",
        ),
        Rule::Lead => say(
            "The sheath of the {} runs straight long enough behind its stop.",
            "The sheath of the {} runs straight only briefly behind its stop.",
            "The sheath of the {} bends too soon behind its stop.",
        ),
        Rule::BendRadius => say(
            "The bends of the {} are wide enough for its wire.",
            "The bends of the {} are narrow for its wire.",
            "The bends of the {} are too narrow: they bend the wire for good.",
        ),
        Rule::PushSafety => say(
            "The bare wire of the {} can push without buckling.",
            "The bare wire of the {} can only just push without buckling.",
            "The bare wire of the {} buckles when it pushes.",
        ),
        Rule::SheathPlate => say(
            "The sheath of the {} passes the plate freely.",
            "The sheath of the {} comes near the plate.",
            "The sheath of the {} runs into the plate.",
        ),
        Rule::SheathBall => say(
            "The sheath of the {} keeps clear of every ball.",
            "The sheath of the {} nearly touches a ball.",
            "The sheath of the {} runs into a ball.",
        ),
        Rule::SheathRing => say(
            "The sheath of the {} stays out of every ring's sweep.",
            "The sheath of the {} comes near a ring's sweep.",
            "The sheath of the {} runs into a ring's sweep.",
        ),
        Rule::SheathLid => say(
            "The sheath of the {} stays out of the way of every lid.",
            "The sheath of the {} comes near a lid on its way.",
            "The sheath of the {} stands in the way of a lid.",
        ),
        Rule::SheathWall => say(
            "The sheath of the {} stays off the wall.",
            "The sheath of the {} comes near the wall.",
            "The sheath of the {} runs into the wall.",
        ),
        Rule::SheathGap => say(
            "The sheaths of {} run apart.",
            "The sheaths of {} nearly touch.",
            "The sheaths of {} run into each other.",
        ),
        Rule::LugSlot | Rule::LugHole => say(
            "There is room between {}.",
            "There is no room for the glue between {}.",
            "There is no room at all between {}: the lug would stand over it.",
        ),
        Rule::HoleOpening | Rule::HoleSlot | Rule::HoleGap => say(
            "The web between {} is wide enough.",
            "The web between {} is thin.",
            "The web between {} breaks or is not there.",
        ),
        Rule::HoleEdge => say(
            "The pad around the cable hole of the {} is wide enough.",
            "The pad around the cable hole of the {} is thin.",
            "The edge of the plate breaks at the cable hole of the {}.",
        ),
        // The rest is evaluated by no rule of this build; the label is then all there is to say.
        _ => rule.info().label.to_owned(),
    }
}
