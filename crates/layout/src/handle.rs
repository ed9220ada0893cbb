//! What can be dragged on the front view.

use crate::closed_curve::CurveOf;
use crate::drive::Moves;
use crate::project::Project;

/// How far a partner may stand off the mirror image, mm, and still count as the other of a pair;
/// moving one then puts the other exactly opposite.
pub const MIRROR_REACH: f64 = 3.0;

/// Something that can be dragged on the front view, by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Handle {
    /// The centre of an eye.
    Eye(usize),
    /// A point of a drawn curve.
    OutlinePoint(CurveOf, usize),
    /// A slot for a tie.
    Slot(usize),
    /// A hole in the head's wall.
    AnchorHole(usize),
}

impl Handle {
    /// What it is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Eye(_) => "eye",
            Self::OutlinePoint(CurveOf::Head, _) => "outline point",
            Self::OutlinePoint(CurveOf::Plate, _) => "plate point",
            Self::Slot(_) => "slot",
            Self::AnchorHole(_) => "anchor hole",
        }
    }

    /// Its index among its kind.
    pub fn index(self) -> usize {
        match self {
            Self::Eye(i) | Self::OutlinePoint(_, i) | Self::Slot(i) | Self::AnchorHole(i) => i,
        }
    }

    /// Where it is, if the project has it.
    pub fn at(self, p: &Project) -> Option<[f64; 2]> {
        match self {
            Self::Eye(i) => p.eyes.get(i).map(|eye| eye.centre),
            Self::OutlinePoint(curve, i) => curve.get(p)?.0.get(i).copied(),
            Self::Slot(i) => p.ties.get(i).map(|slot| slot.at),
            Self::AnchorHole(i) => p.head.anchor_holes.get(i).map(|hole| hole.at),
        }
    }

    /// The one of its kind that stands opposite, across the centre line.
    pub fn partner(self, p: &Project) -> Option<Self> {
        match self {
            Self::Eye(i) => p.mirror_eye(i, MIRROR_REACH).map(Self::Eye),
            Self::OutlinePoint(curve, i) => p
                .mirror_point(curve, i, MIRROR_REACH)
                .map(|other| Self::OutlinePoint(curve, other)),
            Self::Slot(i) => p.mirror_slot(i, MIRROR_REACH).map(Self::Slot),
            Self::AnchorHole(i) => p.mirror_anchor(i, MIRROR_REACH).map(Self::AnchorHole),
        }
    }

    pub(crate) fn place(self, p: &mut Project) -> Option<&mut [f64; 2]> {
        match self {
            Self::Eye(i) => p.eyes.get_mut(i).map(|eye| &mut eye.centre),
            Self::OutlinePoint(curve, i) => curve.of(p)?.0.get_mut(i),
            Self::Slot(i) => p.ties.get_mut(i).map(|slot| &mut slot.at),
            Self::AnchorHole(i) => p.head.anchor_holes.get_mut(i).map(|hole| &mut hole.at),
        }
    }

    pub(crate) fn on_centre_line(self, p: &Project) -> bool {
        self.at(p).is_some_and(|at| at[0].abs() <= MIRROR_REACH)
    }

    pub(crate) fn remove(self, p: &mut Project) -> Option<()> {
        self.at(p)?;
        match self {
            Self::Eye(gone) => {
                p.eyes.remove(gone);
                p.drives.retain(|drive| *eye_of(&drive.moves) != gone);
                for drive in &mut p.drives {
                    close_gap(eye_of_mut(&mut drive.moves), gone);
                }
            }
            Self::OutlinePoint(curve, gone) => {
                curve.of(p)?.0.remove(gone);
            }
            Self::Slot(gone) => {
                p.ties.remove(gone);
            }
            Self::AnchorHole(gone) => {
                p.head.anchor_holes.remove(gone);
                for slot in &mut p.ties {
                    slot.anchor = slot.anchor.filter(|&anchor| anchor != gone);
                    if let Some(anchor) = &mut slot.anchor {
                        close_gap(anchor, gone);
                    }
                }
            }
        }
        Some(())
    }
}

fn eye_of(moves: &Moves) -> &usize {
    match moves {
        Moves::Lid { eye, .. } | Moves::Gaze { eye, .. } => eye,
    }
}

fn eye_of_mut(moves: &mut Moves) -> &mut usize {
    match moves {
        Moves::Lid { eye, .. } | Moves::Gaze { eye, .. } => eye,
    }
}

/// Lets an index follow its entry after the one at `gone` was removed.
fn close_gap(index: &mut usize, gone: usize) {
    if *index > gone {
        *index -= 1;
    }
}
