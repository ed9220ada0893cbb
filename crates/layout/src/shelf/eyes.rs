//! Which opening of a shelf plate is whose eye.

use super::made::middle;
use super::plate::ShelfPlate;
use crate::project::Project;

/// The openings of a plate and the eyes of a project, both by index, that lie nearest to each other
/// once their middles lie on each other; what has no partner is left out. Never by their order, which
/// says nothing but of openings whose places are not known: those stand from left to right.
pub(super) fn partners(plate: &ShelfPlate, project: &Project) -> Vec<(usize, usize)> {
    let centred = |places: Vec<[f64; 2]>| {
        let origin = middle(places.iter().copied());
        let moved = places.into_iter();
        moved
            .map(move |[x, y]| [x - origin[0], y - origin[1]])
            .collect::<Vec<_>>()
    };
    let in_order = || (0..plate.eyes.len()).map(|index| [index as f64, 0.0]);
    let openings = plate.centres().unwrap_or_else(|| in_order().collect());
    let openings = centred(openings);
    let eyes = centred(project.eyes.iter().map(|eye| eye.centre).collect());
    let mut pairs: Vec<(f64, usize, usize)> = Vec::with_capacity(openings.len() * eyes.len());
    for (opening, a) in openings.iter().enumerate() {
        for (eye, b) in eyes.iter().enumerate() {
            pairs.push(((a[0] - b[0]).hypot(a[1] - b[1]), opening, eye));
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (_, opening, eye) in pairs {
        if !found.iter().any(|pair| pair.0 == opening || pair.1 == eye) {
            found.push((opening, eye));
        }
    }
    found.sort_by_key(|pair| pair.1);
    found
}
