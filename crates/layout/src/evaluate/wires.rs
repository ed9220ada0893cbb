//! The rule about the bare wire between a sheath's stop and its lever.

use super::Rules;
use super::drives::finite;
use super::on_way::{Moving, nearest_on_way};
use crate::drive::{Drive, Moves};
use crate::geometry::space::Place;
use crate::lever_sweep::{self, LeverSweep};
use crate::limits::Rule;
use crate::obstacle::{self, Body, Obstacle};
use crate::pull::Pull;
use crate::rod::RodEnd;
use crate::turned::{self, Pose};
use crate::wording;

/// Own turns of its lever that a wire is looked at first, and other turns: a wire is short, and moves little.
const POSES: [u32; 2] = [5, 5];

/// A bare wire, which follows its lever's tip; what that is on is its driver's end.
struct Wire<'a>(&'a Pull);

impl Moving for Wire<'_> {
    fn grids(&self) -> Vec<Vec<Vec<Pose>>> {
        let ranges = self.0.all_ranges().into_iter();
        ranges.map(|ranges| turned::grid(ranges, POSES)).collect()
    }

    fn ends_at(&self, pose: Pose) -> [Place; 2] {
        [self.0.stop, self.0.tip_at(pose)]
    }

    fn rest_of(&self, _: RodEnd, pose: Pose, place: Place) -> Place {
        self.0.rest_of(pose, place)
    }
}

impl Rules<'_> {
    /// What the bare wire of a drive, no longer than `longest`, mm, comes nearest to in any pose; the margin, mm.
    ///
    /// Ring and stalks of the eye that it turns move along with its tip; what else moves may stand anywhere on its
    /// way, but rods that the same eye takes along. The plate does not count, which gets a hole for the wire, nor
    /// what ends at the same tip.
    pub(super) fn wire(&mut self, drive: &Drive, pull: &Pull, longest: f64) -> Option<f64> {
        let (project, laid) = (self.project, self.laid);
        let turned = match drive.moves {
            Moves::Gaze { eye, .. } => Some(eye),
            Moves::Lid { .. } => None,
        };
        let is_own_ring = |obstacle: &Obstacle| {
            Some(obstacle.of) == turned && matches!(obstacle.body, Body::Ring { .. })
        };
        let of_eyes = self.obstacles.iter().copied();
        let of_eyes = of_eyes.filter(|obstacle| !is_own_ring(obstacle));
        let levers = laid.levers.iter().filter(|lever| {
            !lever.ends_at(drive.moves, drive.tip) && !turned.is_some_and(|eye| lever.is_on(eye))
        });
        let sheaths = laid.drives.iter().enumerate();
        let others = sheaths.filter(|(other, _)| project.drives[*other].name != drive.name);
        let sheaths = others.filter_map(|(other, laid)| Obstacle::sheath(other, laid));
        let levers = levers.map(|lever| Obstacle::only(Body::Lever(lever)));
        let standing = of_eyes.chain(levers).chain(sheaths);
        let standing = obstacle::near_place(standing, pull.stop, longest);

        let eye = turned.and_then(|eye| Some((eye, laid.eyes.get(eye)?)));
        let stalks: Vec<LeverSweep> = eye.map_or_else(Vec::new, |(of, eye)| {
            lever_sweep::stalks_at_rest(project, of, eye)
        });
        let stalks = stalks.iter();
        let stalks = stalks.filter(|stalk| !stalk.ends_at(drive.moves, drive.tip));
        let stalks = stalks.map(|stalk| Obstacle::only(Body::Lever(stalk)));
        let ring = eye.and_then(|(of, eye)| obstacle::ring_at_rest(of, eye));
        let turning: Vec<_> = { ring.into_iter().chain(stalks) }
            .map(|obstacle| (RodEnd::Driver, obstacle))
            .collect();

        let (near, what) = nearest_on_way(&Wire(pull), &standing, &turning)?;
        let margin = near.distance - drive.cable.inner_diameter / 2.0;
        let what = what.name(project);
        let say = |state, drive: &str| wording::wire(state, drive, &what);
        let place = vec![near.at.into()];
        self.find_saying(Rule::WireClear, drive.name.clone(), margin, place, say);
        finite(margin)
    }
}
