//! The plates of a shelf, tried on all cores, each by itself; and how it is said which of them serve.

use layout::Project;
use layout::shelf::{Fit, Shelf, Trial, Verdict, Work, ordered};
use rayon::prelude::*;

/// The plates of a shelf by their index, the best first: see [`Trial::fit`] and [`ordered`].
pub fn rank(project: &Project, shelf: &Shelf) -> Vec<(usize, Fit)> {
    let trial = Trial::of(project);
    let plates = shelf.plates.par_iter();
    ordered(plates.map(|plate| trial.fit(plate)).collect())
}

/// A plate by its index, as it is used, and what is to be done to it.
pub(crate) type WorkedOut = (usize, Fit, Option<Work>);

/// The plates of a shelf worked out as [`Trial::work_out`] does: those first that serve, and then those with the least
/// to do; of these, those with the largest margin where they are used.
pub(crate) fn work_out(project: &Project, shelf: &Shelf) -> Vec<WorkedOut> {
    let trial = Trial::of(project);
    let ranked = rank(project, shelf).into_par_iter();
    let worked_out = ranked.map(|(index, fit)| {
        let (fit, work) = trial.work_out(&shelf.plates[index], fit);
        (index, fit, work)
    });
    let mut worked_out: Vec<WorkedOut> = worked_out.collect();
    let down = |(_, fit, work): &WorkedOut| fit.verdict(work.as_ref()).map(Verdict::rank);
    let margin = |(_, fit, _): &WorkedOut| fit.margin().unwrap_or(f64::NEG_INFINITY);
    worked_out.sort_by(|a, b| {
        let by_margin = margin(b).total_cmp(&margin(a));
        down(a).cmp(&down(b)).then(by_margin)
    });
    worked_out
}

/// Most plates that are named where it is said which serve.
const MOST_NAMED: usize = 3;

/// How many plates serve, and which, by their names.
pub(crate) fn what_serves(names: &[&str]) -> String {
    let quoted = names.iter().take(MOST_NAMED);
    let quoted: Vec<_> = quoted.map(|name| format!("“{name}”")).collect();
    let named = quoted.join(", ");
    match (names.len(), names.len().saturating_sub(MOST_NAMED)) {
        (0, _) => "none serves".to_owned(),
        (1, _) => format!("1 serves: {named}"),
        (many, 0) => format!("{many} serve: {named}"),
        (many, more) => format!("{many} serve: {named} and {more} more"),
    }
}

/// So many plates.
pub(crate) fn counted(plates: usize) -> String {
    match plates {
        1 => "1 plate".to_owned(),
        many => format!("{many} plates"),
    }
}
