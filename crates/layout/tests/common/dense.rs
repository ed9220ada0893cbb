//! Proposed routes held against a dense random search.

use approx::assert_abs_diff_eq;
use layout::force;
use layout::propose::{self, Blocked, Proposal};
use layout::route::Route;
use layout::{Laid, Project, State};

use super::Random;
use super::routes::{SOUGHT, laid_round, led_round, random_corners, worst};

/// How much more than that of the best route that a dense search finds a proposal's gain may be.
pub(crate) const GAIN: f64 = 1.1;

pub(crate) fn proposed(project: &Project) -> Result<Proposal, Blocked> {
    propose::route(project, &Laid::out(project), SOUGHT, false)
}

pub(crate) fn gain(project: &Project, route: &Route) -> f64 {
    force::pull_gain(project.drives[SOUGHT].cable.friction, route.total_bend())
}

/// The least gain of clear routes that a random search finds while it may go on: corners anywhere, or near
/// those of the best so far. It shares no code with the proposal but `evaluate`.
pub(crate) fn dense_search(
    random: &mut Random,
    project: &Project,
    planted: &Route,
    mut goes_on: impl FnMut() -> bool,
) -> f64 {
    let laid = Laid::out(project);
    let mut best = gain(project, planted);
    let mut via = Vec::<[f64; 3]>::new();
    while goes_on() {
        let corners = if via.is_empty() || random.one_in(3) {
            let count = random.below(4);
            random_corners(random, count)
        } else {
            let reach = random.pick(&[1.0, 4.0, 15.0]);
            let near = |at: &f64| at + random.between(-reach, reach);
            let mut near = near;
            via.iter()
                .map(|corner| [near(&corner[0]), near(&corner[1]), near(&corner[2])])
                .collect()
        };
        let route = laid_round(project, &laid, &corners).filter(Route::is_laid);
        let less = route
            .map(|route| gain(project, &route))
            .filter(|gain| *gain < best);
        if let Some(gain) = less
            && worst(&led_round(project, &corners)) == State::Clear
        {
            (best, via) = (gain, corners);
        }
    }
    best
}

/// The proposal of a head with a planted route, which must be clear as it says.
pub(crate) fn clear_proposal(project: &Project) -> Result<Proposal, String> {
    let found = proposed(project).map_err(|blocked| blocked.to_string())?;
    let taken = led_round(project, &found.via);
    if (found.state, worst(&taken)) != (State::Clear, State::Clear) {
        return Err(format!("it is {:?}", worst(&taken)));
    }
    let laid = Laid::out(&taken);
    let route = laid.drives[SOUGHT].sheath().ok_or("it cannot be laid")?;
    assert_abs_diff_eq!(found.gain, gain(project, route), epsilon = 1e-12);
    Ok(found)
}
