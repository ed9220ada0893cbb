//! The spacing window, looked for on all cores.

use layout::Project;
use layout::spacing::{Search, SpacingWindow};
use rayon::prelude::*;

/// Stretches for each core: some take longer than others.
const STRETCHES: usize = 8;

/// See [`layout::spacing::window`].
pub fn window(project: &Project, eyes: [usize; 2]) -> Option<SpacingWindow> {
    let search = Search::of(project, eyes)?;
    let stretches = search.stretches(STRETCHES * rayon::current_num_threads());
    let looked = stretches.par_iter();
    let looked = looked.map(|stretch| search.look_over(stretch)).collect();
    Some(search.window(looked))
}
