//! Why no route is proposed.

use std::fmt;

use crate::problem::Problem;
use crate::wording;

/// Why no route is proposed for a sheath.
#[derive(Clone, Debug, PartialEq)]
pub enum Blocked {
    /// There is no such drive.
    NoDrive,
    /// The route of the drive of this name is locked.
    Locked(String),
    /// The drive cannot work.
    CannotWork(Problem),
    /// Stop, lead or exit stand in these.
    Fixed(Vec<String>),
    /// The best try runs into these; if there are none, it cannot be laid.
    OnTheWay(Vec<String>),
}

impl Blocked {
    pub(super) fn fixed(parts: Vec<String>) -> Self {
        Self::Fixed(each_once(parts))
    }

    pub(super) fn on_the_way(parts: Vec<String>) -> Self {
        Self::OnTheWay(each_once(parts))
    }
}

impl fmt::Display for Blocked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoDrive => f.write_str("There is no such drive."),
            Self::Locked(name) => {
                f.write_str(&wording::about(name, "The route of the {} is locked."))
            }
            Self::CannotWork(problem) => problem.fmt(f),
            Self::Fixed(parts) => write!(
                f,
                "No way leads clear: the sheath's stop, its lead or its exit is too near to {}.",
                listed(parts)
            ),
            Self::OnTheWay(parts) if parts.is_empty() => {
                f.write_str("No way was found: there is no room for the sheath's bends.")
            }
            Self::OnTheWay(parts) => {
                let stand = if parts.len() == 1 { "stands" } else { "stand" };
                write!(
                    f,
                    "No clear way was found: {} {stand} in the way.",
                    listed(parts)
                )
            }
        }
    }
}

impl std::error::Error for Blocked {}

fn each_once(parts: Vec<String>) -> Vec<String> {
    let mut once = Vec::new();
    for part in parts {
        if !once.contains(&part) {
            once.push(part);
        }
    }
    once
}

fn listed(parts: &[String]) -> String {
    match parts {
        [all @ .., before, last] if !all.is_empty() => {
            format!("{}, {before} and {last}", all.join(", "))
        }
        [before, last] => format!("{before} and {last}"),
        parts => parts.concat(),
    }
}
