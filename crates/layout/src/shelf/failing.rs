//! What fouls with a plate in the head, and what of it is the plate's doing.

use std::cmp::Ordering;

use crate::cable_hole::MEASURED;
use crate::evaluate;
use crate::limits::{Rule, State};
use crate::project::Project;
use crate::report::Finding;

/// What the place's margin and the plate's lacks say already. Here it would be said of an edge with the pads
/// that a layout adds, and before it is filed.
const TOLD_ELSEWHERE: [Rule; 4] = [Rule::PlateWall, Rule::Rim, Rule::SlotEdge, Rule::HoleEdge];

/// The findings that foul with a plate taken over, the worst first: those that the plate brings about or
/// makes worse, and those that foul as much in the project without it.
pub(super) fn parted(project: &Project, findings: Vec<Finding>) -> [Vec<Finding>; 2] {
    let told = TOLD_ELSEWHERE.map(|rule| rule.info().id);
    let mut fouls = findings;
    fouls.retain(|found| found.state == State::Fouls && !told.contains(&found.id));
    if fouls.is_empty() {
        return [fouls, Vec::new()];
    }
    fouls.sort_by(worse_first);
    let before = evaluate(project).findings;
    let was_there = |found: &Finding| {
        let same = |old: &&Finding| old.id == found.id && old.part == found.part;
        let mut old = before.iter().filter(same);
        old.any(|old| old.state == State::Fouls && !is_worse(found, old))
    };
    let (anyway, own) = fouls.into_iter().partition(was_there);
    [own, anyway]
}

/// How far a figure is from what is wanted of it, in its own unit; more than any if it has none.
fn short(finding: &Finding) -> f64 {
    let figures = finding.value.zip(finding.wanted);
    figures.map_or(f64::INFINITY, |(value, wanted)| (value - wanted).abs())
}

fn worse_first(a: &Finding, b: &Finding) -> Ordering {
    short(b).total_cmp(&short(a))
}

/// Whether a figure is worse than it was, by more than what measuring leaves open, which is taken in every
/// unit.
fn is_worse(now: &Finding, before: &Finding) -> bool {
    let at_most = now.is_at_most();
    match (now.value, before.value) {
        (Some(now), Some(before)) if at_most => now > before + MEASURED,
        (Some(now), Some(before)) => now < before - MEASURED,
        (None, Some(_)) => true,
        (_, None) => false,
    }
}
