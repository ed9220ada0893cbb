//! Drives in pairs: the one that moves the same thing on the other side of the centre line.

use crate::drive::{Drive, End, Moves, Turn};
use crate::handle::MIRROR_REACH;
use crate::project::Project;

impl Project {
    /// The part across the centre line from one that a drive moves; None if there is no eye opposite.
    pub fn mirror_moves(&self, moves: Moves) -> Option<Moves> {
        let eye = self.mirror_eye(moves.eye(), MIRROR_REACH)?;
        Some(moves.of_eye(eye))
    }

    /// The drive that moves the part across the centre line from the one that drive `index` moves.
    /// Where several move one part, the first belongs to the first opposite, and so on.
    pub fn mirror_drive(&self, index: usize) -> Option<usize> {
        let own = self.drives.get(index)?.moves;
        let opposite = self.mirror_moves(own)?;
        let before = self.drives[..index].iter();
        let rank = before.filter(|drive| drive.moves == own).count();
        let theirs = self.drives.iter().enumerate();
        let mut theirs = theirs.filter(|(_, drive)| drive.moves == opposite);
        theirs.nth(rank).map(|(other, _)| other)
    }

    /// The drive whose sheath is the mirror image of that of drive `index`, from stop to exit, and that may
    /// follow it: its route is not locked.
    pub fn mirror_route(&self, index: usize) -> Option<usize> {
        let other = self.mirror_drive(index)?;
        let theirs = self.drives.get(other)?;
        let own = self.drives.get(index)?.mirrored(theirs.moves);
        let alike = near(&theirs.tip, &own.tip)
            && theirs.near == own.near
            && theirs.standoff == own.standoff
            && both_near(&theirs.stop, &own.stop)
            && theirs.lead == own.lead
            && all_near(&theirs.via, &own.via)
            && near(&theirs.exit, &own.exit)
            && theirs.cable == own.cable;
        (alike && !theirs.locked).then_some(other)
    }
}

impl Drive {
    /// The same drive, seen in a mirror along the centre line: it moves `moves`.
    #[must_use]
    pub fn mirrored(&self, moves: Moves) -> Self {
        let [x, y, z] = self.tip;
        Self {
            moves,
            tip: [-x, y, z],
            near: mirrored_end(self.near, moves),
            stop: self.stop.map(opposite),
            via: self.via.iter().copied().map(opposite).collect(),
            exit: opposite(self.exit),
            ..self.clone()
        }
    }
}

/// Lets the partner of drive `index` follow what was changed of the drive since it was `before`: each
/// thing of it that was the mirror image of the drive's own, places within [`MIRROR_REACH`]. What a
/// drive is called and what it moves is its own.
pub(crate) fn follow(p: &mut Project, index: usize, before: &Drive) {
    let Some(after) = p.drives.get(index).filter(|now| now.moves == before.moves) else {
        return;
    };
    let Some(other) = p.mirror_drive(index) else {
        return;
    };
    let moves = p.drives[other].moves;
    let (was, is) = (before.mirrored(moves), after.mirrored(moves));
    let theirs = &mut p.drives[other];
    carry(&mut theirs.tip, &was.tip, &is.tip, near);
    carry(&mut theirs.near, &was.near, &is.near, PartialEq::eq);
    carry(
        &mut theirs.standoff,
        &was.standoff,
        &is.standoff,
        PartialEq::eq,
    );
    carry(&mut theirs.stop, &was.stop, &is.stop, both_near);
    carry(&mut theirs.lead, &was.lead, &is.lead, PartialEq::eq);
    carry(&mut theirs.cable, &was.cable, &is.cable, PartialEq::eq);
    if !theirs.locked {
        carry(&mut theirs.via, &was.via, &is.via, |a, b| all_near(a, b));
    }
    carry(&mut theirs.locked, &was.locked, &is.locked, PartialEq::eq);
    carry(&mut theirs.exit, &was.exit, &is.exit, near);
    carry(
        &mut theirs.torque_nmm,
        &was.torque_nmm,
        &is.torque_nmm,
        PartialEq::eq,
    );
    carry(
        &mut theirs.returns,
        &was.returns,
        &is.returns,
        PartialEq::eq,
    );
}

fn carry<T: Clone + PartialEq>(theirs: &mut T, was: &T, is: &T, alike: impl Fn(&T, &T) -> bool) {
    if was != is && alike(theirs, was) {
        theirs.clone_from(is);
    }
}

fn near(a: &[f64; 3], b: &[f64; 3]) -> bool {
    (a[0] - b[0]).hypot(a[1] - b[1]).hypot(a[2] - b[2]) <= MIRROR_REACH
}

fn both_near(a: &Option<[f64; 3]>, b: &Option<[f64; 3]>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => near(a, b),
        (a, b) => a.is_none() && b.is_none(),
    }
}

fn all_near(a: &[[f64; 3]], b: &[[f64; 3]]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| near(a, b))
}

fn opposite([x, y, z]: [f64; 3]) -> [f64; 3] {
    [-x, y, z]
}

/// The end of a turn that a mirror makes of another: left and right change places.
fn mirrored_end(end: End, moves: Moves) -> End {
    let to_side = matches!(
        moves,
        Moves::Gaze {
            turn: Turn::Side,
            ..
        }
    );
    match end {
        End::Low if to_side => End::High,
        End::High if to_side => End::Low,
        end => end,
    }
}
