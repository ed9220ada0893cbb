//! The rules about rods.

use super::drives::finite;
use super::guard_on_way::guard_near;
use super::on_way::{Moving, nearest_on_way};
use super::{Rules, rod_pairs};
use crate::angle::Degrees;
use crate::drive::Moves;
use crate::geometry::space::{Near, Place};
use crate::laid::LaidEye;
use crate::lever_sweep::{self, LeverSweep};
use crate::limits::Rule;
use crate::linkage::Linkage;
use crate::obstacle::{self, Body, Obstacle};
use crate::report::RodFigures;
use crate::rod::{Rod, RodEnd};
use crate::turned::Pose;
use crate::wording;

/// Turns of its driver that a rod is looked at first, and other turns of its eyes: of a lever of 40 mm that turns by
/// 25° to both sides, half a step is 2.2 mm.
const POSES: [u32; 2] = [9, 5];

impl Rules<'_> {
    pub(super) fn rods(&mut self) {
        let (project, laid) = (self.project, self.laid);
        let rods = || project.rods.iter().zip(&laid.rods);
        let nearest = rods().map(|(rod, linkage)| {
            let follows = linkage.as_ref().ok().filter(|it| it.follows.is_ok());
            self.near_rod(rod, follows?)
        });
        let mut nearest: Vec<_> = nearest.collect();
        rod_pairs::find_nearer(project, laid, &mut nearest);
        for ((rod, linkage), near) in rods().zip(nearest) {
            let mut figures = RodFigures {
                name: rod.name.clone(),
                ..RodFigures::default()
            };
            match linkage {
                Ok(linkage) => self.rod(rod, linkage, near, &mut figures),
                Err(problem) => {
                    let eye = laid.eyes.get(rod.follower.eye());
                    let centre = eye.map_or([0.0; 2], |eye| eye.centre.into());
                    let place = [centre[0], centre[1], 0.0];
                    self.find_problem(Rule::RodShape, problem, rod.name.clone(), Some(place));
                }
            }
            self.figures.rods.push(figures);
        }
    }

    fn rod(
        &mut self,
        rod: &Rod,
        linkage: &Linkage,
        near: Option<(Near, String)>,
        figures: &mut RodFigures,
    ) {
        let ends = |pose| linkage.ends_at(pose).map(Into::into);
        figures.rod_length_mm = finite(linkage.length);
        if let Err(stuck) = &linkage.follows {
            let [driver, _] = ends(stuck.at);
            self.find_problem(
                Rule::RodShape,
                &stuck.problem,
                rod.name.clone(),
                Some(driver),
            );
            return;
        }
        let degrees = |radians| Degrees::from_radians(radians).0;
        let worst = linkage.worst();
        let out_of_step = degrees(worst.difference.value);
        figures.follower_difference_deg = finite(out_of_step);
        let place = ends(worst.difference.at).to_vec();
        self.find(Rule::RodFollow, rod.name.clone(), out_of_step, place);
        let angle = degrees(worst.transmission.value);
        figures.transmission_least_deg = finite(angle);
        let place = ends(worst.transmission.at).to_vec();
        self.find(Rule::RodAngle, rod.name.clone(), angle, place);
        figures.planar_difference_deg = finite(degrees(worst.planar_difference.value));
        if let Some((near, what)) = near {
            let margin = near.distance - rod.diameter / 2.0;
            figures.rod_clear_mm = finite(margin);
            let (name, place) = (rod.name.clone(), vec![near.at.into()]);
            let say = |state, part: &str| wording::rod_clear(state, part, &what);
            self.find_saying(Rule::RodClear, name, margin, place, say);
        }
        let guard = self.laid.guard.as_ref().ok();
        if let Some(near) = guard.and_then(|guard| guard_near(linkage, rod.diameter / 2.0, guard)) {
            self.near_guard(rod.name.clone(), near, wording::moved_and_guard);
        }
    }

    /// Where a rod comes nearest to what else is in the head but other rods, from its middle line, and what that is
    /// called.
    ///
    /// Rings and stalks of the eyes that it ties by a gaze turn along with it; all others, lids and their levers may
    /// stand anywhere on their way.
    fn near_rod(&self, rod: &Rod, linkage: &Linkage) -> Option<(Near, String)> {
        let tied: Vec<(RodEnd, usize, &LaidEye)> = RodEnd::ALL
            .into_iter()
            .filter_map(|end| match rod.end(end).0 {
                Moves::Gaze { eye, .. } => Some((end, eye, self.laid.eyes.get(eye)?)),
                Moves::Lid { .. } => None,
            })
            .collect();
        let stalks: Vec<(RodEnd, LeverSweep)> = tied
            .iter()
            .flat_map(|&(end, of, eye)| {
                let stalks = lever_sweep::stalks_at_rest(self.project, of, eye);
                stalks.into_iter().map(move |stalk| (end, stalk))
            })
            .filter(|(_, stalk)| !stalk.is_of_rod(rod))
            .collect();
        let rings = tied
            .iter()
            .filter_map(|&(end, of, eye)| Some((end, obstacle::ring_at_rest(of, eye)?)));
        let stalks = stalks
            .iter()
            .map(|(end, stalk)| (*end, Obstacle::only(Body::Lever(stalk))));
        let turning: Vec<(RodEnd, Obstacle)> = rings.chain(stalks).collect();
        let is_tied = |obstacle: &&Obstacle| {
            let mut tied = tied.iter();
            obstacle.rule() == Rule::SheathRing && tied.any(|(_, of, _)| *of == obstacle.of)
        };
        let standing = self.obstacles.iter().filter(|one| !is_tied(one)).copied();
        let levers = self.laid.levers.iter();
        let levers = levers.filter(|lever| !lever.is_of_rod(rod) && !lever.turns_along(rod));
        let plate = self.plate.as_ref().map(|outline| Body::Plate {
            outline,
            holes: &[],
            thickness: self.project.plate.thickness,
        });
        let bodies = plate
            .into_iter()
            .chain(self.wall.map(Body::Wall))
            .chain(levers.map(Body::Lever));
        let standing: Vec<Obstacle> = standing.chain(bodies.map(Obstacle::only)).collect();
        let (near, obstacle) = nearest_on_way(linkage, &standing, &turning)?;
        Some((near, obstacle.name(self.project)))
    }
}

impl Moving for Linkage {
    fn grids(&self) -> Vec<Vec<Vec<Pose>>> {
        let [own, other] = POSES;
        self.grids(own, other)
    }

    fn ends_at(&self, pose: Pose) -> [Place; 2] {
        self.ends_at(pose)
    }

    fn rest_of(&self, end: RodEnd, pose: Pose, place: Place) -> Place {
        self.rest_of(end, pose, place)
    }
}
