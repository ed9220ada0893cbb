//! How near the levers of gazes, which turn with their eyes, come to the guard.

use super::Rules;
use super::guard_on_way::guard_near;
use super::levers::named_levers;
use super::on_way::Moving;
use crate::drive::{Moves, Turn};
use crate::geometry::space::{Near, Place, Way};
use crate::guard::Guard;
use crate::lever;
use crate::rod::RodEnd;
use crate::turned::{self, Pose, Turned};
use crate::wording;

/// Lifts that a stalk is looked at first, and turns to the side: half a step of a lever of 40 mm that turns by 25° to
/// both sides is 4.4 mm.
const POSES: [u32; 2] = [5, 5];

/// The round lever of a gaze, from the ball outward. Its own turn is the lift, the other one that to the side.
#[derive(PartialEq)]
struct Stalk {
    centre: Place,
    tip: Way,
    /// Where it starts on the way from the centre to its tip, as a share.
    from: f64,
    /// The lifts and the turns to the side that are used together.
    ranges: Vec<[[f64; 2]; 2]>,
}

impl Moving for Stalk {
    fn grids(&self) -> Vec<Vec<Vec<Pose>>> {
        let ranges = self.ranges.iter();
        ranges.map(|&ranges| turned::grid(ranges, POSES)).collect()
    }

    fn ends_at(&self, pose: Pose) -> [Place; 2] {
        let tip = Turned::Lift.turn(pose, self.tip);
        [self.centre + tip * self.from, self.centre + tip]
    }

    fn rest_of(&self, _: RodEnd, _: Pose, place: Place) -> Place {
        place
    }
}

impl Rules<'_> {
    /// The levers of gazes, all over the turns of their eyes. One that cables and rods share is looked at once.
    pub(super) fn stalks_and_guard(&mut self, guard: &Guard) {
        let mut looked: Vec<(Stalk, Option<Near>)> = Vec::new();
        for (name, moves, tip) in named_levers(self.project) {
            let Some(stalk) = self.stalk(moves, tip) else {
                continue;
            };
            let known = looked.iter().find(|(other, _)| *other == stalk);
            let near = known.map(|(_, near)| *near);
            let near = near.unwrap_or_else(|| {
                let near = guard_near(&stalk, lever::WIDTH / 2.0, guard);
                looked.push((stalk, near));
                near
            });
            if let Some(near) = near {
                self.near_guard(wording::lever(name), near, wording::moved_and_guard);
            }
        }
    }

    /// The lever of a gaze, as far as it stands out of the ball.
    fn stalk(&self, moves: Moves, tip: [f64; 3]) -> Option<Stalk> {
        let Moves::Gaze { eye: index, .. } = moves else {
            return None;
        };
        let eye = self.laid.eyes.get(index)?;
        let (centre, tip) = (eye.ball_centre()?, Way::from(tip));
        let ball = eye.seat.as_ref().ok()?.ball_radius;
        if tip.norm() <= ball {
            return None;
        }
        let range = |turn| {
            let moves = Moves::Gaze { eye: index, turn };
            self.laid.ranges.of(self.project, moves)
        };
        let (side, lift) = (range(Turn::Side)?, range(Turn::Lift)?);
        let ranges = if self.project.gaze.together {
            vec![[lift, side]]
        } else {
            vec![[lift, [0.0; 2]], [[0.0; 2], side]]
        };
        Some(Stalk {
            centre: centre.into(),
            from: ball / tip.norm(),
            tip,
            ranges,
        })
    }
}
