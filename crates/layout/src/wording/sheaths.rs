//! What is said of where levers and sheaths run.

use super::about;
use crate::limits::State;

/// What the finding of [`Rule::InFront`] says of a drive whose lever stands farthest forward.
pub(crate) fn lever_in_front(state: State, drive: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => "Lever and sheath of the {} stay behind the plate.",
        State::Tight | State::Fouls => {
            "The lever of the {} stands in front of the plate, where the audience sees it. Put its tip behind \
             the plate."
        }
    };
    about(drive, pattern)
}

/// What the finding of [`Rule::InFront`] says of a drive whose sheath comes farthest forward.
pub(crate) fn sheath_in_front(state: State, drive: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => "The sheath of the {} leaves behind the plate.",
        State::Tight | State::Fouls => {
            "The sheath of the {} comes out in front of the plate, where the audience sees it. Lead it out \
             behind the plate."
        }
    };
    about(drive, pattern)
}

/// What the finding of [`Rule::GuardClearance`] says of a drive's sheath.
pub(crate) fn sheath_and_guard(state: State, drive: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => "The sheath of the {} keeps clear of the guard.",
        State::Tight => "The sheath of the {} comes near the guard.",
        State::Fouls => "The sheath of the {} touches the guard or runs behind it.",
    };
    about(drive, pattern)
}
