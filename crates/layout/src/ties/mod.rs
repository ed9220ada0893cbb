//! Ties together: how long each must be, how far their slots spread, and where slots are proposed.
//!
//! Slots are sought among places along the edge of the plate as it is without those that make way
//! ([`places`]), just inside it and, in steps, outside, where a pad makes the plate larger. Of all sets that keep
//! their webs, have no anchor hole farther away than [`REACH`] and leave no rule worse off, the best one is, in this order:
//!
//! 1. the one whose hull holds every eye centre and sheath stop deepest, but no deeper than
//!    [`SPREAD_ENOUGH`] counts;
//! 2. the one with the least sum of ways to the anchor holes, none counted shorter than [`SHORT_ENOUGH`], each with
//!    [`GROWTH`] of what its pad adds to the plate. No two ties share a hole while there are enough.

mod along;
mod anchors;
pub mod length;
mod places;
mod search;
pub mod spread;
mod why_not;

pub use places::{Candidate, InTheWay, ROW, STEP, Unit, places};
pub(crate) use places::{in_the_way, upward};
pub use why_not::WhyNot;

use std::collections::BTreeMap;

use crate::evaluate::evaluate;
use crate::laid::Laid;
use crate::limits::{Rule, State};
use crate::project::Project;
use crate::tie::TieSlot;

use self::anchors::Anchors;
use self::search::Search;

/// How deep inside the slots' hull every eye centre and sheath stop should lie, mm: from there on, short ties
/// matter more. Own choice.
pub const SPREAD_ENOUGH: f64 = 3.0;

/// The shortest way from a slot to its anchor hole that counts, mm: over less, a strap is hard to thread
/// and no stiffer. Own choice.
pub const SHORT_ENOUGH: f64 = 10.0;

/// The longest way from a slot to its anchor hole, mm: over more, a tie lets the plate sway. Own choice; the
/// invented characters' longest is 31 mm.
pub const REACH: f64 = 40.0;

/// What a millimetre that a pad stands out of the plate costs against a millimetre of a tie's way. Own choice:
/// it pays to reach straight for a hole, but not to reach along the wall.
pub const GROWTH: f64 = 0.5;

/// Most ties that slots are proposed for. Own choice: nobody ties a plate by more.
pub const MOST_TIES: usize = 12;

/// What is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// How many slots there are to be, locked ones included.
    pub count: usize,
    /// Width and thickness of the ties, mm.
    pub tie: [f64; 2],
    /// Whether the new slots are to lie in mirrored pairs, or on the centre line.
    pub mirrored: bool,
}

/// Slots that are proposed.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The new slots, each led to its anchor hole if there is one; locked ones stay beside them.
    pub slots: Vec<TieSlot>,
    /// Least signed distance of an eye centre or sheath stop inside the hull of all slots, mm.
    pub spread: f64,
    /// How far the farthest pad stands out of the plate as it is without the new slots, mm.
    pub grows: f64,
    /// Whether every set was weighed: none among the places is better.
    pub proven: bool,
}

/// `project` with the unlocked slots replaced.
pub fn placed(project: &Project, slots: &[TieSlot]) -> Project {
    let mut next = project.clone();
    next.ties.retain(|slot| slot.locked);
    next.ties.extend(slots);
    next
}

/// Proposes slots. Total and without chance: the same project gets the same answer.
///
/// # Errors
/// [`WhyNot`] if there is no set of that many slots.
pub fn propose(project: &Project, wanted: &Wanted) -> Result<Proposal, WhyNot> {
    let bare = placed(project, &[]);
    let new = wanted.count.saturating_sub(bare.ties.len());
    if new == 0 {
        return Err(WhyNot::AllLocked);
    }
    if wanted.count > MOST_TIES {
        return Err(WhyNot::TooMany);
    }
    let laid = Laid::out(&bare);
    let (units, taken) = places(&bare, &laid, wanted);
    if laid.plate.is_empty() {
        return Err(WhyNot::NoPlate);
    }
    let lacks_single = |units: &[Unit]| {
        let is_odd = wanted.mirrored && new % 2 == 1;
        is_odd && units.iter().all(|unit| unit.len() == 2)
    };
    if lacks_single(&units) {
        return Err(WhyNot::Odd);
    }
    let before = worst_by_rule(&bare);
    let keeps = |chosen: &[&Candidate]| {
        let slots: Vec<TieSlot> = chosen.iter().map(|candidate| candidate.slot).collect();
        let next = placed(&bare, &slots);
        next.check().is_ok() && !is_worse(&before, &worst_by_rule(&next))
    };
    let held = spread::held(&bare, &laid);
    let anchors = Anchors::free(&bare, new);
    let gap = bare.limits.of(Rule::SlotGap, bare.plate.thickness).wanted;
    let reaches = |unit: &&Unit| unit.iter().all(|own| anchors.reaches(own));
    let near: Vec<Unit> = units.iter().filter(reaches).cloned().collect();
    let mut search = Search::new(&near, gap, &bare.ties, &held, &anchors);
    let led = |found: &[&Candidate]| {
        let holes = anchors.lead(found).1;
        let slots = found.iter().zip(holes);
        let led = slots.map(|(own, anchor)| TieSlot { anchor, ..own.slot });
        led.collect::<Vec<TieSlot>>()
    };
    if !search.has_room(new) {
        let mut all = Search::new(&units, gap, &bare.ties, &held, &anchors);
        all.beyond_reach();
        if !all.has_room(new) {
            let fit = bare.ties.len() + all.most(new);
            return Err(WhyNot::Fewer { fit, taken });
        }
        if lacks_single(&near) {
            return Err(WhyNot::OddTooFar);
        }
        let too_long = all.best(new, &keeps).ok_or(WhyNot::OthersSuffer)?;
        let anchor = anchors::farthest(&bare, &led(&too_long));
        return Err(anchor.map_or(WhyNot::OthersSuffer, |anchor| WhyNot::TooFar { anchor }));
    }
    let found = search.best(new, &keeps).ok_or(WhyNot::OthersSuffer)?;
    let slots = led(&found);
    Ok(Proposal {
        spread: spread::least(&placed(&bare, &slots).ties, &held).unwrap_or(f64::NEG_INFINITY),
        grows: found.iter().map(|own| own.out).fold(0.0, f64::max),
        proven: search.is_proven(),
        slots,
    })
}

/// The worst state that each rule has, by its id; how far the slots spread is weighed elsewhere.
fn worst_by_rule(project: &Project) -> BTreeMap<&'static str, State> {
    let mut worst = BTreeMap::new();
    for finding in evaluate(project).findings {
        if finding.id != Rule::TieSpread.info().id {
            let state = worst.entry(finding.id).or_insert(State::Clear);
            *state = finding.state.max(*state);
        }
    }
    worst
}

/// Whether any rule is worse off.
fn is_worse(before: &BTreeMap<&str, State>, after: &BTreeMap<&str, State>) -> bool {
    let was = |id: &str| before.get(id).copied().unwrap_or(State::Clear);
    after.iter().any(|(id, &state)| state > was(id))
}
