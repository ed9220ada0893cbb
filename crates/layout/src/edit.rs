//! The only way a project changes.

mod curves;
mod holes;
mod label;
mod mirror;

pub use self::holes::HoleChange;

use self::curves::{add_opposite, set_outline};
use self::mirror::{opposite, pair};
use crate::angle::Degrees;
use crate::closed_curve::CurveOf;
use crate::draft::Draft;
use crate::drive::Drive;
use crate::drive_pair;
use crate::eye::Eye;
use crate::field::{DriveField, Field, PartsOf};
use crate::gaze::SeatedBy;
use crate::hand::GuardAxis;
use crate::handle::{self, Handle, MIRROR_REACH, Place};
use crate::head::{self, AnchorHole};
use crate::lid::Lids;
use crate::limits::Rule;
use crate::plate::PlateOutline;
use crate::problem::Problem;
use crate::project::Project;
use crate::ring::Ring;
use crate::rod::{Rod, RodEnd};
use crate::seat::Seat;
use crate::shelf::TakenPlate;
use crate::spacing;
use crate::tie::{self, TieSlot};
use crate::ties;
use crate::title_block::TitleBlock;
use crate::tracing::Tracing;
use crate::workshop::Workshop;

/// The side of the centre line, as the audience sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadSide {
    /// x < 0.
    Left,
    /// x > 0.
    Right,
}

/// One change to a project. Lengths in mm, indices from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Names the character.
    Rename(String),
    /// Types a number.
    Set(Field, f64),
    /// Puts two eyes this far apart, about the point between them, with their slots and drives: see
    /// [`spacing::spaced`].
    Spacing {
        /// The two eyes.
        eyes: [usize; 2],
        /// The distance between their centres.
        distance: f64,
    },
    /// Puts a handle somewhere, and its partner opposite if `mirrored`.
    Move {
        /// What moves.
        handle: Handle,
        /// Where to.
        to: [f64; 2],
        /// Whether its partner across the centre line moves with it.
        mirrored: bool,
    },
    /// Puts a place of a drive somewhere in the plate's frame, mm, and its partner opposite if
    /// `mirrored`.
    MovePlace {
        /// The drive's index.
        drive: usize,
        /// Which of its places.
        place: Place,
        /// Where to.
        to: [f64; 3],
        /// Whether its partner across the centre line moves with it.
        mirrored: bool,
    },
    /// Takes a handle away, and its partner if `mirrored`.
    Remove {
        /// What goes.
        handle: Handle,
        /// Whether its partner across the centre line goes with it.
        mirrored: bool,
    },
    /// Adds an eye like the first one.
    AddEye([f64; 2]),
    /// Adds a slot, and one opposite if `mirrored`.
    AddSlot {
        /// Where.
        at: [f64; 2],
        /// Whether one opposite comes with it.
        mirrored: bool,
    },
    /// Puts slots in the place of those that are not locked: what [`ties::propose`] gives.
    PlaceSlots(Vec<TieSlot>),
    /// Locks a slot, so that it stays when slots are placed, or unlocks it; if `mirrored`, its partner, too.
    LockSlot {
        /// The slot.
        slot: usize,
        /// Whether it is locked then.
        locked: bool,
        /// Whether its partner across the centre line follows.
        mirrored: bool,
    },
    /// Adds an anchor hole, and one opposite if `mirrored`.
    AddAnchorHole {
        /// Where.
        at: [f64; 2],
        /// Whether one opposite comes with it.
        mirrored: bool,
    },
    /// Adds a point to a drawn curve after the one with index `after`, and one opposite if
    /// `mirrored` and the curve passes there, too.
    AddOutlinePoint {
        /// The curve.
        curve: CurveOf,
        /// The point before it.
        after: usize,
        /// Where.
        at: [f64; 2],
        /// Whether one opposite comes with it.
        mirrored: bool,
    },
    /// Sets the points of a curve that is being drawn, or drops them.
    Draft(Option<Draft>),
    /// Closes the curve that is being drawn: a smooth outline of its points.
    CloseDraft {
        /// Whether its mirror image completes it.
        mirrored: bool,
    },
    /// Replaces the head outline by a starting shape.
    StartOutline {
        /// Width of the head.
        width: f64,
        /// Height of the head.
        height: f64,
        /// 0 for an ellipse, toward 1 for a rectangle.
        squareness: f64,
    },
    /// Replaces the points of a drawn curve; a plate of another style becomes a drawn one.
    Outline {
        /// The curve.
        curve: CurveOf,
        /// Its points, counter-clockwise.
        points: Vec<[f64; 2]>,
        /// Whether it runs smoothly through them.
        smooth: bool,
    },
    /// Replaces one side of a drawn curve by the mirror image of the other.
    MirrorOutline {
        /// The curve.
        curve: CurveOf,
        /// The side that stays.
        keep: HeadSide,
    },
    /// Smooths a drawn curve, or runs it straight between its points.
    Smooth(CurveOf, bool),
    /// Changes the kind of seat.
    SeatKind(PartsOf, Seat),
    /// Takes another ring.
    Ring(PartsOf, Ring),
    /// Gives lids of this kind, or none.
    Lids(PartsOf, Option<Lids>),
    /// Adds a drive, and its mirror image if `mirrored` and the part opposite has none yet.
    AddDrive {
        /// The drive.
        drive: Drive,
        /// Whether one opposite comes with it.
        mirrored: bool,
    },
    /// Replaces a drive. If `mirrored`, what changes takes along what was its mirror image.
    Drive {
        /// The drive's index.
        index: usize,
        /// What takes its place.
        drive: Drive,
        /// Whether its partner across the centre line follows.
        mirrored: bool,
    },
    /// Types a number of a drive. If `mirrored`, what changes takes along what was its mirror image.
    SetDrive {
        /// The drive's index.
        index: usize,
        /// Which number.
        field: DriveField,
        /// What it is to be, in the field's unit.
        value: f64,
        /// Whether its partner across the centre line follows.
        mirrored: bool,
    },
    /// Leads a drive's sheath round other corners: what [`propose::route`](crate::propose::route()) gives,
    /// or none. If `mirrored`, a sheath that was its mirror image follows.
    SetRoute {
        /// The drive's index.
        index: usize,
        /// The corners, in the plate's frame, mm.
        via: Vec<[f64; 3]>,
        /// Whether its partner across the centre line follows.
        mirrored: bool,
    },
    /// Locks a drive's route, so that none is proposed for it, or unlocks it; if `mirrored`, its
    /// partner's, too.
    LockRoute {
        /// The drive's index.
        index: usize,
        /// Whether it is locked then.
        locked: bool,
        /// Whether its partner across the centre line follows.
        mirrored: bool,
    },
    /// Takes a drive away, and its partner if `mirrored`.
    RemoveDrive {
        /// The drive's index.
        index: usize,
        /// Whether its partner across the centre line goes with it.
        mirrored: bool,
    },
    /// Adds a rod.
    AddRod(Rod),
    /// Replaces the rod with this index.
    Rod(usize, Rod),
    /// Puts an end of a rod somewhere in the plate's frame, mm: looking straight ahead, or with the lid
    /// shut.
    MoveRodEnd {
        /// The rod's index.
        rod: usize,
        /// Which of its ends.
        end: RodEnd,
        /// Where to.
        to: [f64; 3],
    },
    /// Takes the rod with this index away.
    RemoveRod(usize),
    /// Turns the guard.
    GuardAxis(GuardAxis),
    /// Says whether side and lift are used together.
    Together(bool),
    /// Changes the style of the plate's outline.
    PlateStyle(PlateOutline),
    /// Says whether the plate is cut to the head.
    TrimToHead(bool),
    /// Says whether a drawn plate gets pads.
    Padded(bool),
    /// Changes a hole for cables that the plate has.
    PlateHole(usize, HoleChange),
    /// Leads a slot's tie to an anchor hole, or to none.
    LeadTo {
        /// The slot.
        slot: usize,
        /// The hole.
        anchor: Option<usize>,
    },
    /// Gives a rule its starting limit again.
    ResetLimit(Rule),
    /// Says what takes up the eyes' play.
    SeatedBy(SeatedBy),
    /// Puts a picture under the front view to trace, or takes it away.
    Tracing(Option<Tracing>),
    /// Notes what the maker's tools do, or forgets it.
    Workshop(Option<Workshop>),
    /// Fills in the title block.
    TitleBlock(TitleBlock),
    /// Lays the project out round a plate from the shelf.
    TakePlate(Box<TakenPlate>),
}

impl Edit {
    /// The project with this change made.
    ///
    /// # Errors
    /// A [`Problem`] if no plate could be laid out any more, or if there is no such thing to
    /// change. `project` stays as it was.
    pub fn apply(&self, project: &Project) -> Result<Project, Problem> {
        let mut next = project.clone();
        self.change(&mut next)
            .ok_or_else(|| Problem::new("project", "There is nothing to change there.", ""))?;
        next.check()?;
        Ok(next)
    }

    fn change(&self, p: &mut Project) -> Option<()> {
        match self {
            Self::Rename(name) => p.name.clone_from(name),
            &Self::Set(field, value) => return field.set(p, value).then_some(()),
            &Self::Spacing { eyes, distance } => return spacing::set(p, eyes, distance),
            &Self::Move {
                handle,
                to,
                mirrored,
            } => {
                if let Handle::Drive(drive, _) = handle {
                    return change_drive(p, drive, mirrored, |p| handle.put(p, to));
                }
                let partner = handle.partner(p).filter(|_| mirrored);
                handle.put(p, to)?;
                if let Some(partner) = partner {
                    partner.put(p, opposite(to))?;
                } else if mirrored && handle.on_centre_line(p) {
                    handle.put(p, [0.0, to[1]])?;
                }
            }
            &Self::MovePlace {
                drive,
                place,
                to,
                mirrored,
            } => {
                change_drive(p, drive, mirrored, |p| place.put(p, drive, to))?;
            }
            &Self::Remove { handle, mirrored } => {
                if let Handle::Drive(drive, _) = handle {
                    return change_drive(p, drive, mirrored, |p| handle.remove(p));
                }
                let partner = handle.partner(p).filter(|_| mirrored);
                // The later one first: removing shifts what follows.
                let mut gone: Vec<Handle> = partner.into_iter().chain([handle]).collect();
                gone.sort_by_key(|h| std::cmp::Reverse(h.index()));
                for handle in gone {
                    handle.remove(p)?;
                }
            }
            &Self::AddEye(centre) => {
                let first = p.eyes.first()?.clone();
                p.eyes.push(Eye { centre, ..first });
            }
            &Self::AddSlot { at, mirrored } => {
                let tie = p.ties.last().map_or(tie::USUAL, |slot| slot.tie);
                for at in pair(at, mirrored) {
                    p.ties.push(TieSlot {
                        at,
                        angle: Degrees(90.0),
                        tie,
                        anchor: None,
                        locked: false,
                    });
                }
            }
            Self::PlaceSlots(slots) => *p = ties::placed(p, slots),
            &Self::LockSlot {
                slot,
                locked,
                mirrored,
            } => {
                let partner = p.mirror_slot(slot, MIRROR_REACH).filter(|_| mirrored);
                for slot in [slot].into_iter().chain(partner) {
                    p.ties.get_mut(slot)?.locked = locked;
                }
            }
            &Self::AddAnchorHole { at, mirrored } => {
                let diameter = p.head.anchor_holes.last().map_or(5.0, |h| h.diameter);
                for at in pair(at, mirrored) {
                    p.head.anchor_holes.push(AnchorHole { at, diameter });
                }
            }
            &Self::AddOutlinePoint {
                curve,
                after,
                at,
                mirrored,
            } => {
                let before = curve.nearest(p, at.into())?;
                let (points, _) = curve.of(p)?;
                (after < points.len()).then(|| points.insert(after + 1, at))?;
                if mirrored && at[0].abs() > MIRROR_REACH {
                    add_opposite(p, curve, at, before.off)?;
                }
            }
            Self::Draft(draft) => p.draft.clone_from(draft),
            &Self::CloseDraft { mirrored } => {
                let draft = p.draft.take()?;
                set_outline(p, draft.curve, draft.outline(mirrored), true);
            }
            &Self::StartOutline {
                width,
                height,
                squareness,
            } => p.head.outline = head::start_outline(width, height, squareness),
            Self::Outline {
                curve,
                points,
                smooth,
            } => set_outline(p, *curve, points.clone(), *smooth),
            &Self::MirrorOutline { curve, keep } => {
                let (points, _) = curve.of(p)?;
                *points = mirror::outline(points, keep)?;
            }
            &Self::Smooth(curve, smooth) => *curve.of(p)?.1 = smooth,
            &Self::SeatKind(of, seat) => of.parts(p)?.seat = seat,
            &Self::Ring(of, ring) => of.parts(p)?.ring = ring,
            &Self::Lids(of, lids) => of.parts(p)?.lids = lids,
            Self::AddDrive { drive, mirrored } => {
                let opposite = p.mirror_moves(drive.moves).filter(|_| *mirrored);
                p.drives.push(drive.clone());
                if let Some(moves) = opposite
                    && !p.drives.iter().any(|drive| drive.moves == moves)
                {
                    p.drives.push(drive.moved_to(p, moves));
                }
            }
            Self::Drive {
                index,
                drive,
                mirrored,
            } => {
                let replace = |p: &mut Project| {
                    p.drives.get_mut(*index)?.clone_from(drive);
                    Some(())
                };
                change_drive(p, *index, *mirrored, replace)?;
            }
            &Self::SetDrive {
                index,
                field,
                value,
                mirrored,
            } => {
                let set = |p: &mut Project| Field::Drive(index, field).set(p, value).then_some(());
                change_drive(p, index, mirrored, set)?;
            }
            Self::SetRoute {
                index,
                via,
                mirrored,
            } => {
                let set = |p: &mut Project| {
                    p.drives.get_mut(*index)?.via.clone_from(via);
                    Some(())
                };
                let mirrored = *mirrored && p.mirror_route(*index).is_some();
                change_drive(p, *index, mirrored, set)?;
            }
            &Self::LockRoute {
                index,
                locked,
                mirrored,
            } => {
                let lock = |p: &mut Project| {
                    p.drives.get_mut(index)?.locked = locked;
                    Some(())
                };
                change_drive(p, index, mirrored, lock)?;
            }
            &Self::RemoveDrive { index, mirrored } => {
                let partner = p.mirror_drive(index).filter(|_| mirrored);
                (index < p.drives.len()).then_some(())?;
                let mut at = 0..;
                let goes = |at| at == index || Some(at) == partner;
                p.drives.retain(|_| !at.next().is_some_and(goes));
            }
            Self::AddRod(rod) => p.rods.push(rod.clone()),
            Self::Rod(index, rod) => p.rods.get_mut(*index)?.clone_from(rod),
            &Self::MoveRodEnd { rod, end, to } => handle::put_rod_end(p, rod, end, to)?,
            &Self::RemoveRod(index) => {
                (index < p.rods.len()).then(|| p.rods.remove(index))?;
            }
            &Self::GuardAxis(axis) => p.hand.guard_axis = axis,
            &Self::Together(together) => p.gaze.together = together,
            Self::PlateStyle(outline) => {
                p.plate.outline.clone_from(outline);
                p.plate.padded = true;
                p.plate.cable_holes.clear();
            }
            &Self::TrimToHead(trim) => p.plate.trim_to_head = trim,
            &Self::Padded(padded) => p.plate.padded = padded,
            &Self::PlateHole(index, change) => change.make(p, index)?,
            &Self::LeadTo { slot, anchor } => p.ties.get_mut(slot)?.anchor = anchor,
            &Self::ResetLimit(rule) => p.limits.set(rule, None),
            &Self::SeatedBy(seated_by) => p.seated_by = seated_by,
            Self::Tracing(tracing) => p.tracing.clone_from(tracing),
            Self::Workshop(workshop) => p.workshop.clone_from(workshop),
            Self::TitleBlock(block) => p.title_block.clone_from(block),
            Self::TakePlate(taken) => *p = taken.taken_over(p)?,
        }
        Some(())
    }
}

/// Makes a change of one drive, which its partner follows if `mirrored`.
fn change_drive(
    p: &mut Project,
    index: usize,
    mirrored: bool,
    change: impl FnOnce(&mut Project) -> Option<()>,
) -> Option<()> {
    let before = p.drives.get(index)?.clone();
    change(p)?;
    if mirrored {
        drive_pair::follow(p, index, &before);
    }
    Some(())
}
