//! Where eyes and lids stand as they are worked.

use layout::drive::{Moves, Turn};
use layout::lid::Which;
use layout::turned;

use super::state::{Desk, Pose};

impl Desk {
    /// How an eye is turned when the look is as [`Desk::pose`] says: it toes in toward the point of
    /// gaze, as far as the gaze lets it turn, or follows its rods.
    pub fn pose_of(&self, eye: usize) -> Pose {
        self.pose_in(self.pose, eye)
    }

    /// The same when the look is another.
    pub(crate) fn pose_in(&self, look: Pose, eye: usize) -> Pose {
        let [side, lift] =
            [Turn::Side, Turn::Lift].map(|turn| self.turn_in(look, Moves::Gaze { eye, turn }));
        Pose { side, lift, ..look }
    }

    /// Where the leading edge of a lid stands, radians; 0 without such a lid.
    pub fn edge_of(&self, eye: usize, which: Which) -> f64 {
        self.edge_in(self.pose, eye, which)
    }

    /// The same when the look is another.
    pub(crate) fn edge_in(&self, look: Pose, eye: usize, which: Which) -> f64 {
        self.turn_in(look, Moves::Lid { eye, which })
    }

    /// Where a part stands with all of its eye's turns.
    pub fn stance_of(&self, moves: Moves) -> turned::Pose {
        self.stance_in(self.pose, moves)
    }

    fn stance_in(&self, look: Pose, moves: Moves) -> turned::Pose {
        let other = match moves {
            Moves::Gaze { eye, turn } => {
                let turn = turn.other();
                self.turn_in(look, Moves::Gaze { eye, turn })
            }
            Moves::Lid { .. } => 0.0,
        };
        turned::Pose {
            own: self.turn_in(look, moves),
            other,
        }
    }

    /// Where a part's own turn stands, radians: where a rod takes it, or as the look says.
    fn turn_in(&self, look: Pose, moves: Moves) -> f64 {
        let rods = self.project().rods.iter().zip(&self.laid().rods);
        let mut ties = rods.filter(|(rod, _)| rod.follower == moves);
        let followed = ties.next().and_then(|(rod, linkage)| {
            // No rod follows itself, by way of whatever others: the project would be refused.
            let driver = self.stance_in(look, rod.driver);
            linkage.as_ref().ok()?.at(driver)
        });
        followed.map_or_else(|| self.own_turn(look, moves), |followed| followed.own)
    }

    /// Where a part's own turn stands that follows no rod, radians.
    fn own_turn(&self, look: Pose, moves: Moves) -> f64 {
        match moves {
            Moves::Gaze {
                eye,
                turn: Turn::Side,
            } => {
                let most = self.project().gaze.side.radians();
                (look.side + self.toe_in(eye)).clamp(-most, most)
            }
            Moves::Gaze { .. } => look.lift,
            Moves::Lid { eye, which } => {
                let lids = self.project().parts_of(eye).lids.as_ref();
                let lid = lids.and_then(|lids| lids.lid(which));
                lid.map_or(0.0, |lid| {
                    let [open, closed] = [lid.open, lid.closed].map(layout::Degrees::radians);
                    open + (closed - open) * look.shut
                })
            }
        }
    }

    /// How far an eye turns in to look at the point of gaze, radians to the right.
    pub fn toe_in(&self, eye: usize) -> f64 {
        let project = self.project();
        let across = |eye: &layout::eye::Eye| eye.centre[0];
        let middle = project.eyes.iter().map(across).sum::<f64>() / project.eyes.len() as f64;
        let off = project.eyes.get(eye).map_or(0.0, across) - middle;
        -off.signum() * project.gaze.toe_in(2.0 * off.abs())
    }
}
