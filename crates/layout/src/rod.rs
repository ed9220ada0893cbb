//! Rods that let one part follow another, as a project keeps them.

use serde::{Deserialize, Serialize};

use crate::drive::Moves;
use crate::problem::{self, Problem};
use crate::project::LONGEST_NAME;

/// A straight rod between two levers, with a free joint at each end. Its length is what it measures
/// with both eyes looking straight ahead, or both lids shut. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rod {
    /// What the maker calls it.
    pub name: String,
    /// What it is moved by.
    pub driver: Moves,
    /// What it moves.
    pub follower: Moves,
    /// Lever tip on the driver, relative to the ball's centre: looking straight ahead, or with the lid
    /// shut.
    pub driver_tip: [f64; 3],
    /// Lever tip on the follower, likewise.
    pub follower_tip: [f64; 3],
    /// Diameter of the wire that it is bent from.
    pub diameter: f64,
}

/// An end of a rod.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RodEnd {
    /// On what moves the rod.
    Driver,
    /// On what the rod moves.
    Follower,
}

impl RodEnd {
    /// Both ends.
    pub const ALL: [Self; 2] = [Self::Driver, Self::Follower];

    /// What it is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Driver => "driving end",
            Self::Follower => "following end",
        }
    }
}

impl Rod {
    /// The part at one end, and the lever's tip on it.
    pub fn end(&self, end: RodEnd) -> (Moves, [f64; 3]) {
        match end {
            RodEnd::Driver => (self.driver, self.driver_tip),
            RodEnd::Follower => (self.follower, self.follower_tip),
        }
    }

    /// The same of both ends, the driver's first.
    pub fn ends(&self) -> [(Moves, [f64; 3]); 2] {
        RodEnd::ALL.map(|end| self.end(end))
    }

    pub(crate) fn parts_mut(&mut self) -> [&mut Moves; 2] {
        [&mut self.driver, &mut self.follower]
    }

    pub(crate) fn tip_mut(&mut self, end: RodEnd) -> &mut [f64; 3] {
        match end {
            RodEnd::Driver => &mut self.driver_tip,
            RodEnd::Follower => &mut self.follower_tip,
        }
    }

    /// Checks what can be told of one rod by itself.
    fn check(&self, at: &str, eyes: usize) -> Result<(), Problem> {
        let length = self.name.trim().chars().count();
        if length == 0 || length > LONGEST_NAME {
            return Err(Problem::new(
                format!("{at}.name"),
                format!("`{at}` has no name, or one longer than {LONGEST_NAME} characters."),
                "Give it a short one.",
            ));
        }
        for (end, (moves, _)) in ["driver", "follower"].into_iter().zip(self.ends()) {
            if moves.eye() >= eyes {
                return Err(Problem::new(
                    format!("{at}.{end}.eye"),
                    format!(
                        "`{at}.{end}` is of eye {}, and there is none with that index.",
                        moves.eye()
                    ),
                    format!("Use an index from 0 to {}.", eyes.saturating_sub(1)),
                ));
            }
        }
        if self.driver.eye() == self.follower.eye() {
            return Err(Problem::new(
                format!("{at}.follower"),
                format!("`{at}` ties an eye to itself."),
                "Let it tie parts of two eyes.",
            ));
        }
        if !alike(self.driver, self.follower) {
            return Err(Problem::new(
                format!("{at}.follower"),
                format!("`{at}` ties two parts that turn in different ways."),
                "Let it tie two side turns, two lifts or two lids.",
            ));
        }
        problem::place(&format!("{at}.driver_tip"), self.driver_tip)?;
        problem::place(&format!("{at}.follower_tip"), self.follower_tip)?;
        problem::size(&format!("{at}.diameter"), self.diameter)
    }
}

/// Whether two parts turn about axes that lie alike.
fn alike(a: Moves, b: Moves) -> bool {
    match (a, b) {
        (Moves::Lid { .. }, Moves::Lid { .. }) => true,
        (Moves::Gaze { turn: a, .. }, Moves::Gaze { turn: b, .. }) => a == b,
        _ => false,
    }
}

/// Checks all rods of a project with so many eyes, each by itself and all together.
pub(crate) fn check_all(rods: &[Rod], eyes: usize) -> Result<(), Problem> {
    for (index, rod) in rods.iter().enumerate() {
        let at = format!("rods[{index}]");
        rod.check(&at, eyes)?;
        let mut before = rods[..index].iter();
        if let Some(other) = before.position(|other| other.follower == rod.follower) {
            return Err(Problem::new(
                format!("{at}.follower"),
                format!("`{at}` moves what `rods[{other}]` moves already."),
                "Let it move something else, or remove one of the two.",
            ));
        }
    }
    for index in 0..rods.len() {
        if place_in_chain(rods, index).is_none() {
            let at = format!("rods[{index}]");
            return Err(Problem::new(
                format!("{at}.driver"),
                format!("`{at}` belongs to a circle of rods: what drives it follows it."),
                "Remove one of them, or let something else drive it.",
            ));
        }
    }
    Ok(())
}

/// A part, what drives it by a rod, what drives that, and so on; a circle ends when each rod was passed.
pub(crate) fn chain(rods: &[Rod], part: Moves) -> impl Iterator<Item = Moves> {
    let up = move |part: &Moves| {
        let rod = rods.iter().find(|rod| rod.follower == *part)?;
        Some(rod.driver)
    };
    std::iter::successors(Some(part), up).take(rods.len() + 1)
}

/// How many parts of its chain come before what rod `index` moves; None if the chain is a circle.
pub(crate) fn place_in_chain(rods: &[Rod], index: usize) -> Option<usize> {
    let before = chain(rods, rods[index].driver).count();
    (before <= rods.len()).then_some(before)
}
