//! The plates of a shelf, tried on all cores: each is tried by itself.

use layout::Project;
use layout::shelf::{Fit, Shelf, Trial, ordered};
use rayon::prelude::*;

/// What [`layout::shelf::rank`] says, sooner.
pub(crate) fn rank(project: &Project, shelf: &Shelf) -> Vec<(usize, Fit)> {
    let trial = Trial::of(project);
    let plates = shelf.plates.par_iter();
    ordered(plates.map(|plate| trial.fit(plate)).collect())
}
