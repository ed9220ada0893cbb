//! The rules about what comes near the guard.

use std::f64::consts::PI;

use super::Rules;
use super::drives::finite;
use crate::geometry::space::{Near, Piece};
use crate::guard::{Guard, GuardGap, Swept};
use crate::laid::LaidEye;
use crate::limits::{Rule, State};
use crate::ring::ProfilePoint;
use crate::wording;

impl Rules<'_> {
    /// Rings and balls.
    pub(super) fn guard(&mut self, guard: &Guard) {
        let laid = self.laid;
        let mut least = None::<f64>;
        for (index, eye) in laid.eyes.iter().enumerate() {
            let (name, swept) = (self.project.eye_name(index), swept(eye));
            let arcs = swept.iter().filter_map(|swept| guard.gap_of_arcs(swept));
            let arcs = self.find_guard(Rule::GuardClearance, &name, arcs);
            least = least.into_iter().chain(arcs).reduce(f64::min);
            let edges = swept.iter().filter_map(|swept| guard.gap_to_edges(swept));
            self.find_guard(Rule::GuardEdge, &name, edges);
        }
        let hand = &self.project.hand;
        let figures = &mut self.figures.hand;
        figures.guard_clearance_mm = least;
        figures.guard_radius_mm = guard.radius();
        figures.guard_flat_mm = Some(guard.flat_length());
        figures.foam_edge_mm = Some(hand.guard_edge);
        figures.foam_middle_mm = Some(hand.guard_edge + hand.guard_bow);
    }

    /// Finds the least of some gaps to the guard, and returns its figure, mm.
    fn find_guard(
        &mut self,
        rule: Rule,
        part: &str,
        gaps: impl Iterator<Item = GuardGap>,
    ) -> Option<f64> {
        let gap = gaps.reduce(GuardGap::or_nearer)?;
        let place = vec![gap.from, gap.to];
        self.find(rule, part.to_owned(), gap.distance, place);
        Some(gap.distance)
    }

    /// A sheath; the hand's figure is the least of all.
    pub(super) fn sheath_and_guard(&mut self, index: usize, pieces: &[Piece]) -> Option<f64> {
        let guard = self.laid.guard.as_ref().ok()?;
        let near = guard.behind(pieces).or_else(|| guard.mesh_near(pieces))?;
        let margin = near.distance - self.laid.drives[index].sheath_radius;
        let name = self.project.drives[index].name.clone();
        self.near_guard(
            name,
            Near {
                distance: margin,
                ..near
            },
            wording::sheath_and_guard,
        );
        finite(margin)
    }

    /// The levers of lids and gazes, all over their turns.
    pub(super) fn guard_and_levers(&mut self) {
        if let Ok(guard) = &self.laid.guard {
            self.stalks_and_guard(guard);
            self.bars_and_guard(guard);
        }
    }

    /// Finds how near something comes to the guard, as the rule is about rings, too.
    pub(super) fn near_guard(
        &mut self,
        part: String,
        near: Near,
        say: impl FnOnce(State, &str) -> String,
    ) {
        let place = vec![near.at.into()];
        self.find_saying(Rule::GuardClearance, part, near.distance, place, say);
        let least = &mut self.figures.hand.guard_clearance_mm;
        *least = least
            .iter()
            .copied()
            .chain([near.distance])
            .reduce(f64::min);
    }
}

/// What ring and ball of an eye sweep: each point of the ring's meridian over [φ − θ, φ + θ], and the ball all of its
/// own sphere. Nothing without a seat.
fn swept(eye: &LaidEye) -> Vec<Swept> {
    let Some((seat, centre)) = eye.seat.as_ref().ok().zip(eye.ball_centre()) else {
        return Vec::new();
    };
    let sweep = |reach, range| Swept {
        centre,
        reach,
        range,
        behind: seat.back_depth,
    };
    let turned = |point: ProfilePoint| {
        let (angle, tilt) = (point.angle(), eye.working_tilt);
        sweep(point.reach(), [angle - tilt, angle + tilt])
    };
    let profile = eye.ring.iter().flat_map(|ring| ring.profile);
    let ball = sweep(seat.ball_radius, [0.0, PI]);
    profile.map(turned).chain([ball]).collect()
}
