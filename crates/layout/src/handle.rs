//! What can be dragged on the front view.

use crate::closed_curve::CurveOf;
use crate::drive::Moves;
use crate::laid::Laid;
use crate::linkage;
use crate::project::Project;
use crate::pull::Pull;
use crate::rod::{Rod, RodEnd};

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
    /// A place of a drive, seen along z.
    Drive(usize, Place),
    /// An end of a rod, seen along z: looking straight ahead, or with the lid shut.
    Rod(usize, RodEnd),
}

/// A place that a drive is drawn by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// The lever's tip, where the drive gives it: looking straight ahead, or with the lid shut.
    Tip,
    /// The sheath's end: moved off the cable line, it is the drive's own.
    Stop,
    /// A corner that the route cuts, by its index.
    Via(usize),
    /// Where the sheath leaves.
    Exit,
}

impl Place {
    /// What it is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Tip => "lever tip",
            Self::Stop => "sheath stop",
            Self::Via(_) => "route point",
            Self::Exit => "exit",
        }
    }

    /// Where it is in the plate's frame, mm.
    pub fn at(self, p: &Project, drive: usize) -> Option<[f64; 3]> {
        self.with_stop(p, drive, || stop_on_line(p, drive))
    }

    /// The same of a project that has been worked out already.
    pub fn laid_at(self, p: &Project, laid: &Laid, drive: usize) -> Option<[f64; 3]> {
        self.with_stop(p, drive, || {
            let pull = laid.drives.get(drive)?.pull.as_ref().ok()?;
            Some(pull.stop.into())
        })
    }

    /// Where it is, and a stop on the cable line where `stop_on_line` says.
    fn with_stop(
        self,
        p: &Project,
        drive: usize,
        stop_on_line: impl FnOnce() -> Option<[f64; 3]>,
    ) -> Option<[f64; 3]> {
        let own = p.drives.get(drive)?;
        match self {
            Self::Tip => {
                let [x, y, z] = ball_centre(p, own.moves.eye())?;
                Some([x + own.tip[0], y + own.tip[1], z + own.tip[2]])
            }
            Self::Stop => own.stop.or_else(stop_on_line),
            Self::Via(index) => own.via.get(index).copied(),
            Self::Exit => Some(own.exit),
        }
    }

    pub(crate) fn put(self, p: &mut Project, drive: usize, to: [f64; 3]) -> Option<()> {
        let centre = ball_centre(p, p.drives.get(drive)?.moves.eye());
        let own = p.drives.get_mut(drive)?;
        match self {
            Self::Tip => {
                let centre = centre?;
                own.tip = [0, 1, 2].map(|axis| to[axis] - centre[axis]);
            }
            Self::Stop => own.stop = Some(to),
            Self::Via(index) => *own.via.get_mut(index)? = to,
            Self::Exit => own.exit = to,
        }
        Some(())
    }
}

/// Centre of an eye's ball; on the plate's face where there is no seat.
fn ball_centre(p: &Project, eye: usize) -> Option<[f64; 3]> {
    let [x, y] = p.eyes.get(eye)?.centre;
    let seat = p.parts_of(eye).seat_fit(p.plate.thickness);
    Some([x, y, seat.map_or(0.0, |seat| seat.centre_height)])
}

/// Where an end of a rod is in the plate's frame, mm.
pub fn rod_end(p: &Project, rod: usize, end: RodEnd) -> Option<[f64; 3]> {
    let (moves, tip) = p.rods.get(rod)?.end(end);
    let centre = ball_centre(p, moves.eye())?;
    Some([0, 1, 2].map(|axis| centre[axis] + tip[axis]))
}

pub(crate) fn put_rod_end(p: &mut Project, rod: usize, end: RodEnd, to: [f64; 3]) -> Option<()> {
    let (moves, _) = p.rods.get(rod)?.end(end);
    let centre = ball_centre(p, moves.eye())?;
    *p.rods[rod].tip_mut(end) = [0, 1, 2].map(|axis| to[axis] - centre[axis]);
    Some(())
}

/// Where a drive's standoff puts its stop.
fn stop_on_line(p: &Project, drive: usize) -> Option<[f64; 3]> {
    let eye = p.drives.get(drive)?.moves.eye();
    let seat = p.parts_of(eye).seat_fit(p.plate.thickness).ok()?;
    let (_, ranges) = linkage::of_project(p);
    let pull = Pull::of(p, drive, &seat, &ranges).ok()?;
    Some(pull.stop.into())
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
            Self::Drive(_, place) => place.noun(),
            Self::Rod(..) => "end of rod",
        }
    }

    /// Its index among its kind.
    pub fn index(self) -> usize {
        match self {
            Self::Eye(i)
            | Self::OutlinePoint(_, i)
            | Self::Slot(i)
            | Self::AnchorHole(i)
            | Self::Drive(_, Place::Via(i))
            | Self::Drive(i, _)
            | Self::Rod(i, _) => i,
        }
    }

    /// Where it is, if the project has it.
    pub fn at(self, p: &Project) -> Option<[f64; 2]> {
        self.with_places(p, |drive, place| place.at(p, drive))
    }

    /// The same of a project that has been worked out already.
    pub fn laid_at(self, p: &Project, laid: &Laid) -> Option<[f64; 2]> {
        self.with_places(p, |drive, place| place.laid_at(p, laid, drive))
    }

    /// Where it is, and a place of a drive where `of_drive` says.
    fn with_places(
        self,
        p: &Project,
        of_drive: impl FnOnce(usize, Place) -> Option<[f64; 3]>,
    ) -> Option<[f64; 2]> {
        match self {
            Self::Eye(i) => p.eyes.get(i).map(|eye| eye.centre),
            Self::OutlinePoint(curve, i) => curve.get(p)?.0.get(i).copied(),
            Self::Slot(i) => p.ties.get(i).map(|slot| slot.at),
            Self::AnchorHole(i) => p.head.anchor_holes.get(i).map(|hole| hole.at),
            Self::Drive(drive, place) => of_drive(drive, place).map(|[x, y, _]| [x, y]),
            Self::Rod(rod, end) => rod_end(p, rod, end).map(|[x, y, _]| [x, y]),
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
            Self::Drive(drive, place) => {
                let [x, y, z] = place.at(p, drive)?;
                let other = p.mirror_drive(drive)?;
                let [ox, oy, oz] = place.at(p, other)?;
                let off = (ox + x).hypot(oy - y).hypot(oz - z);
                (off <= MIRROR_REACH).then_some(Self::Drive(other, place))
            }
            // The two ends of one rod are no pair: each is free for its lever's sake.
            Self::Rod(..) => None,
        }
    }

    /// Puts it somewhere; None if the project does not have it.
    pub(crate) fn put(self, p: &mut Project, to: [f64; 2]) -> Option<()> {
        let place = match self {
            Self::Eye(i) => &mut p.eyes.get_mut(i)?.centre,
            Self::OutlinePoint(curve, i) => curve.of(p)?.0.get_mut(i)?,
            Self::Slot(i) => &mut p.ties.get_mut(i)?.at,
            Self::AnchorHole(i) => &mut p.head.anchor_holes.get_mut(i)?.at,
            Self::Drive(drive, place) => {
                let [_, _, z] = place.at(p, drive)?;
                return place.put(p, drive, [to[0], to[1], z]);
            }
            Self::Rod(rod, end) => {
                let [_, _, z] = rod_end(p, rod, end)?;
                return put_rod_end(p, rod, end, [to[0], to[1], z]);
            }
        };
        *place = to;
        Some(())
    }

    pub(crate) fn on_centre_line(self, p: &Project) -> bool {
        // Cables and rods may run where they like: they are no part of the plate's symmetry.
        !matches!(self, Self::Drive(..) | Self::Rod(..))
            && self.at(p).is_some_and(|at| at[0].abs() <= MIRROR_REACH)
    }

    /// Whether it can be taken away by itself: a drive or a rod without an end is none, and a stop that is not the
    /// drive's own stands where the cable line has it.
    pub fn can_be_removed(self, p: &Project) -> bool {
        match self {
            Self::Drive(_, Place::Tip | Place::Exit) | Self::Rod(..) => false,
            Self::Drive(drive, Place::Stop) => {
                { p.drives.get(drive) }.is_some_and(|drive| drive.stop.is_some())
            }
            Self::Eye(_)
            | Self::OutlinePoint(..)
            | Self::Slot(_)
            | Self::AnchorHole(_)
            | Self::Drive(_, Place::Via(_)) => true,
        }
    }

    pub(crate) fn remove(self, p: &mut Project) -> Option<()> {
        self.at(p)?;
        match self {
            Self::Eye(gone) => {
                p.eyes.remove(gone);
                p.drives.retain(|drive| drive.moves.eye() != gone);
                for drive in &mut p.drives {
                    close_gap(eye_of_mut(&mut drive.moves), gone);
                }
                let stays = |rod: &Rod| [rod.driver, rod.follower].iter().all(|m| m.eye() != gone);
                p.rods.retain(stays);
                for moves in p.rods.iter_mut().flat_map(Rod::parts_mut) {
                    close_gap(eye_of_mut(moves), gone);
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
            Self::Drive(drive, Place::Via(gone)) => {
                p.drives.get_mut(drive)?.via.remove(gone);
            }
            Self::Drive(drive, Place::Stop) => p.drives.get_mut(drive)?.stop = None,
            // A drive or a rod without these is none.
            Self::Drive(_, Place::Tip | Place::Exit) | Self::Rod(..) => return None,
        }
        Some(())
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
