//! What keeps an eye seated: how far it can still move forward, and what holds it back.

use crate::gaze::SeatedBy;
use crate::lid::Lids;
use crate::limits::{Limit, Sense, State};
use crate::parts::Parts;
use crate::project::Project;
use crate::ranges::Ranges;
use crate::ring::RingFit;

/// How many times the weight of eye and ring an elastic must pull, so that a nod or a jolt does not
/// unseat the eye. Own choice.
pub const RESERVE: f64 = 3.0;

/// Standard gravity, N/g: 9.80665 m/s² (3rd CGPM, 1901; from memory).
pub const GRAVITY: f64 = 9.806_65e-3;

/// One eye in its seat. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seated {
    /// How far the eye can move forward: not at all where an elastic holds it, else to the plate, or
    /// to a lid before it.
    pub play_left: f64,
    /// Least clearance at the working tilt of what turns with the eye.
    pub clearance: f64,
    /// Pull that an elastic needs to hold the eye, N; no number where a cable pulls without end.
    pub pull_needed: f64,
    /// Whether an elastic holds the eye.
    pub held: bool,
    /// Whether the way forward ends at a lid, and not where the ring meets the plate.
    pub stopped_by_lid: bool,
}

impl Seated {
    /// An eye whose ring has a `clearance` at the working tilt, mm, and whose cables pull it forward
    /// with `pulls`, N, in all.
    pub(crate) fn out(
        project: &Project,
        index: usize,
        ranges: &Ranges,
        ring: &RingFit,
        clearance: f64,
        pulls: f64,
    ) -> Self {
        let parts = project.parts_of(index);
        let pull_needed = RESERVE * GRAVITY * parts.eye_mass(ring) + pulls;
        let (held, lids) = match project.seated_by {
            SeatedBy::Elastic { pull_n } => (pull_n >= pull_needed, None),
            SeatedBy::Lids => (false, ranges.lids(project, index)),
            SeatedBy::Nothing => (false, None),
        };
        let before_lids = lids.and_then(|lids| play_to_lids(&lids, parts.ball_diameter / 2.0));
        let at_lid = before_lids.filter(|&play| play < ring.play());
        let free = at_lid.unwrap_or(ring.play());
        Self {
            play_left: if held { 0.0 } else { free },
            held,
            stopped_by_lid: at_lid.is_some(),
            clearance,
            pull_needed,
        }
    }

    /// Whether the eye stays seated, under the limit of the play left.
    pub(crate) fn state(&self, limit: Limit) -> State {
        match limit.state(self.play_left, Sense::AtMost) {
            State::Clear => State::Clear,
            State::Tight if self.play_left > self.clearance + crate::limits::TOLERANCE => {
                State::Fouls
            }
            state => state,
        }
    }
}

/// How far a ball of `radius`, mm, can move forward before it meets a lid in its most open pose:
/// where its surface reaches the lid's inner sphere at the leading edge α,
/// (R + g)·cos α − √(R² − (R + g)²·sin² α) for a gap g. None if it meets no lid.
fn play_to_lids(lids: &Lids, radius: f64) -> Option<f64> {
    let inner = radius + lids.gap;
    let to_edge = |angle: f64| {
        // A lid that reaches beyond straight ahead is met there, after its gap.
        let angle = angle.max(0.0);
        let (across, ahead) = (inner * angle.sin(), inner * angle.cos());
        (across <= radius && ahead > 0.0)
            .then(|| ahead - (radius * radius - across * across).sqrt())
    };
    let edges = [lids.upper, lids.lower].into_iter().flatten();
    edges
        .filter_map(|lid| to_edge(lid.open.radians()))
        .reduce(f64::min)
}

/// Mass of a table-tennis ball's shell over its area, g/mm²: 2.7 g for 40 mm (ITTF Laws 2.03.01 and
/// 2.03.02).
const SHELL: f64 = 2.7 / (std::f64::consts::PI * 40.0 * 40.0);

/// Density of printed PLA, g/mm³ (from memory: 1.24 g/cm³).
const PRINTED: f64 = 1.24e-3;

impl Parts {
    /// Mass of ball and ring, g: as weighed, or that of a hollow ball with a shell like a
    /// table-tennis ball's and of a printed ring.
    pub fn eye_mass(&self, ring: &RingFit) -> f64 {
        self.eye_mass_g.unwrap_or_else(|| {
            let ball = SHELL * std::f64::consts::PI * self.ball_diameter * self.ball_diameter;
            ball + PRINTED * ring.volume()
        })
    }
}
