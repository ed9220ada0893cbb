//! What is said of where rings, levers, rods and sheaths run.

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

/// What the finding of [`Rule::GuardClearance`] says of the lever of a lid, or of a rod.
pub(crate) fn moved_and_guard(state: State, part: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => "The {} keeps clear of the guard.",
        State::Tight => "The {} comes near the guard.",
        State::Fouls => "The {} runs into the guard.",
    };
    about(part, pattern)
}

/// What the finding of [`Rule::SheathLever`] says of a drive's sheath and the lever or rod nearest to it.
pub(crate) fn sheath_and_lever(state: State, drive: &str, lever: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => {
            return about(
                drive,
                "The sheath of the {} keeps out of the way of levers and rods.",
            );
        }
        State::Tight => "The sheath of the {} comes near ",
        State::Fouls => "The sheath of the {} stands in the way of ",
    };
    about(drive, pattern) + lever + "."
}

/// What the finding of [`Rule::Hardware`] says of a drive's stop bracket and what moves nearest to it.
pub(crate) fn bracket(state: State, drive: &str, nearest: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => {
            return about(
                drive,
                "The bracket for the stop of the {} stays out of the way of all that moves.",
            );
        }
        State::Tight => "The bracket for the stop of the {} comes near ",
        State::Fouls => "The bracket for the stop of the {} stands in the way of ",
    };
    about(drive, pattern) + nearest + "."
}

/// What the finding of [`Rule::WireClear`] says of a drive's bare wire and what is nearest to it.
pub(crate) fn wire(state: State, drive: &str, nearest: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => {
            return about(
                drive,
                "The bare wire of the {} keeps clear of all that it passes.",
            );
        }
        State::Tight => "The bare wire of the {} comes near ",
        State::Fouls => "The bare wire of the {} runs into ",
    };
    about(drive, pattern) + nearest + "."
}

/// What the finding of [`Rule::RodClear`] says of a rod and what is nearest to it.
pub(crate) fn rod_clear(state: State, rod: &str, nearest: &str) -> String {
    let pattern = match state {
        State::Clear | State::NotChecked => {
            return about(rod, "The {} keeps clear of all that it passes.");
        }
        State::Tight => "The {} comes near ",
        State::Fouls => "The {} runs into ",
    };
    about(rod, pattern) + nearest + "."
}

/// What the findings of [`Rule::SweepWall`] and [`Rule::SweepBack`] say of an eye whose ring, or whose lever, reaches
/// farthest toward `what`.
pub(crate) fn sweep_and_head(state: State, eye: &str, lever: bool, what: &str) -> String {
    let turns = if lever {
        "A lever of the {} sweeps "
    } else {
        "The ring of the {} sweeps "
    };
    let how = match state {
        State::Clear | State::NotChecked => "clear of ",
        State::Tight => "near ",
        State::Fouls => "into ",
    };
    [&about(eye, turns), how, what, "."].concat()
}

/// What the finding of [`Rule::LidWall`] says of an eye whose lids, or the lever of one, come nearest to the wall.
pub(crate) fn lids_and_wall(state: State, eye: &str, lever: bool) -> String {
    let (pattern, swing) = if lever {
        ("A lid's lever of the {} ", "swings ")
    } else {
        ("The lids of the {} ", "swing ")
    };
    let how = match state {
        State::Clear | State::NotChecked => "clear of the wall.",
        State::Tight => "near the wall.",
        State::Fouls => "into the wall.",
    };
    [&about(eye, pattern), swing, how].concat()
}

/// What the finding of [`Rule::GuardCover`] says of the ring of an eye, by how much chord and length of the guard lack,
/// mm: it stays about the plate's origin, and grows to both sides.
pub(crate) fn guard_cover(state: State, eye: &str, [chord, length]: [f64; 2]) -> String {
    if state == State::Clear {
        return about(
            eye,
            "The guard lies behind all that the ring of the {} sweeps.",
        );
    }
    let what = match (chord > 0.0, length > 0.0) {
        (true, false) => "a wider chord",
        (false, true) => "more length",
        _ => "a wider chord and more length",
    };
    let pattern = format!(
        "Part of what the ring of the {{}} sweeps lies beside the guard, where only the foam keeps a hand off it. The \
         guard needs {what}: twice what is missing, since it grows to both sides."
    );
    about(eye, &pattern)
}
