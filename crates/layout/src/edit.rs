//! The only way a project changes.

use crate::angle::Degrees;
use crate::drive::Moves;
use crate::eye::Eye;
use crate::field::{Field, PartsOf};
use crate::head::{self, AnchorHole};
use crate::limits::Rule;
use crate::plate::PlateOutline;
use crate::problem::Problem;
use crate::project::Project;
use crate::ring::Ring;
use crate::seat::Seat;
use crate::tie::TieSlot;
use crate::title_block::TitleBlock;

/// How far a partner may stand off the mirror image, mm, and still count as the other of a pair;
/// moving one then puts the other exactly opposite.
pub const MIRROR_REACH: f64 = 3.0;

/// Something that can be dragged on the front view, by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Handle {
    /// The centre of an eye.
    Eye(usize),
    /// A point of the head outline.
    OutlinePoint(usize),
    /// A slot for a tie.
    Slot(usize),
    /// A hole in the head's wall.
    AnchorHole(usize),
}

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
    /// Puts two eyes this far apart, about the point between them.
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
    /// Adds an anchor hole, and one opposite if `mirrored`.
    AddAnchorHole {
        /// Where.
        at: [f64; 2],
        /// Whether one opposite comes with it.
        mirrored: bool,
    },
    /// Adds a point to the head outline after the one with index `after`.
    AddOutlinePoint {
        /// The point before it.
        after: usize,
        /// Where.
        at: [f64; 2],
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
    /// Replaces one side of the head outline by the mirror image of the other.
    MirrorOutline {
        /// The side that stays.
        keep: HeadSide,
    },
    /// Smooths the head outline, or runs it straight between its points.
    Smooth(bool),
    /// Changes the kind of seat.
    SeatKind(PartsOf, Seat),
    /// Takes another ring.
    Ring(PartsOf, Ring),
    /// Says whether side and lift are used together.
    Together(bool),
    /// Changes the style of the plate's outline.
    PlateStyle(PlateOutline),
    /// Says whether the plate is cut to the head.
    TrimToHead(bool),
    /// Leads a slot's tie to an anchor hole, or to none.
    LeadTo {
        /// The slot.
        slot: usize,
        /// The hole.
        anchor: Option<usize>,
    },
    /// Gives a rule its starting limit again.
    ResetLimit(Rule),
    /// Fills in the title block.
    TitleBlock(TitleBlock),
}

impl Edit {
    /// What undo calls the change.
    pub fn label(&self) -> String {
        match self {
            Self::Rename(_) => "name".to_owned(),
            Self::Set(field, _) => lower_first(field.label()),
            Self::Spacing { .. } => "spacing".to_owned(),
            Self::Move { handle, .. } => format!("move {}", handle.noun()),
            Self::Remove { handle, .. } => format!("remove {}", handle.noun()),
            Self::AddEye(_) => "add eye".to_owned(),
            Self::AddSlot { .. } => "add slot".to_owned(),
            Self::AddAnchorHole { .. } => "add anchor hole".to_owned(),
            Self::AddOutlinePoint { .. } => "add outline point".to_owned(),
            Self::StartOutline { .. } => "start head outline".to_owned(),
            Self::MirrorOutline { .. } => "mirror head outline".to_owned(),
            Self::Smooth(_) => "smooth head outline".to_owned(),
            Self::SeatKind(..) => "seat".to_owned(),
            Self::Ring(..) => "ring".to_owned(),
            Self::Together(_) => "turns used together".to_owned(),
            Self::PlateStyle(_) => "plate outline".to_owned(),
            Self::TrimToHead(_) => "trim to head".to_owned(),
            Self::LeadTo { .. } => "lead tie".to_owned(),
            Self::ResetLimit(_) => "reset limit".to_owned(),
            Self::TitleBlock(_) => "title block".to_owned(),
        }
    }

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
            &Self::Spacing { eyes, distance } => return set_spacing(p, eyes, distance),
            &Self::Move {
                handle,
                to,
                mirrored,
            } => {
                let partner = handle.partner(p).filter(|_| mirrored);
                *handle.place(p)? = to;
                if let Some(partner) = partner {
                    *partner.place(p)? = opposite(to);
                } else if mirrored && handle.on_centre_line(p) {
                    handle.place(p)?[0] = 0.0;
                }
            }
            &Self::Remove { handle, mirrored } => {
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
                let tie = p.ties.last().map_or([2.5, 1.0], |slot| slot.tie);
                for at in pair(at, mirrored) {
                    p.ties.push(TieSlot {
                        at,
                        angle: Degrees(90.0),
                        tie,
                        anchor: None,
                    });
                }
            }
            &Self::AddAnchorHole { at, mirrored } => {
                let diameter = p.head.anchor_holes.last().map_or(5.0, |h| h.diameter);
                for at in pair(at, mirrored) {
                    p.head.anchor_holes.push(AnchorHole { at, diameter });
                }
            }
            &Self::AddOutlinePoint { after, at } => {
                (after < p.head.outline.len()).then(|| p.head.outline.insert(after + 1, at))?;
            }
            &Self::StartOutline {
                width,
                height,
                squareness,
            } => p.head.outline = head::start_outline(width, height, squareness),
            &Self::MirrorOutline { keep } => {
                p.head.outline = mirrored_outline(&p.head.outline, keep)?;
            }
            &Self::Smooth(smooth) => p.head.smooth = smooth,
            &Self::SeatKind(of, seat) => of.parts(p)?.seat = seat,
            &Self::Ring(of, ring) => of.parts(p)?.ring = ring,
            &Self::Together(together) => p.gaze.together = together,
            &Self::PlateStyle(outline) => p.plate.outline = outline,
            &Self::TrimToHead(trim) => p.plate.trim_to_head = trim,
            &Self::LeadTo { slot, anchor } => p.ties.get_mut(slot)?.anchor = anchor,
            &Self::ResetLimit(rule) => p.limits.set(rule, None),
            Self::TitleBlock(block) => p.title_block.clone_from(block),
        }
        Some(())
    }
}

impl Handle {
    /// What it is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Eye(_) => "eye",
            Self::OutlinePoint(_) => "outline point",
            Self::Slot(_) => "slot",
            Self::AnchorHole(_) => "anchor hole",
        }
    }

    /// Its index among its kind.
    pub fn index(self) -> usize {
        match self {
            Self::Eye(i) | Self::OutlinePoint(i) | Self::Slot(i) | Self::AnchorHole(i) => i,
        }
    }

    /// Where it is, if the project has it.
    pub fn at(self, p: &Project) -> Option<[f64; 2]> {
        match self {
            Self::Eye(i) => p.eyes.get(i).map(|eye| eye.centre),
            Self::OutlinePoint(i) => p.head.outline.get(i).copied(),
            Self::Slot(i) => p.ties.get(i).map(|slot| slot.at),
            Self::AnchorHole(i) => p.head.anchor_holes.get(i).map(|hole| hole.at),
        }
    }

    /// The one of its kind that stands opposite, across the centre line.
    pub fn partner(self, p: &Project) -> Option<Self> {
        match self {
            Self::Eye(i) => p.mirror_eye(i, MIRROR_REACH).map(Self::Eye),
            Self::OutlinePoint(i) => p.mirror_point(i, MIRROR_REACH).map(Self::OutlinePoint),
            Self::Slot(i) => p.mirror_slot(i, MIRROR_REACH).map(Self::Slot),
            Self::AnchorHole(i) => p.mirror_anchor(i, MIRROR_REACH).map(Self::AnchorHole),
        }
    }

    fn place(self, p: &mut Project) -> Option<&mut [f64; 2]> {
        match self {
            Self::Eye(i) => p.eyes.get_mut(i).map(|eye| &mut eye.centre),
            Self::OutlinePoint(i) => p.head.outline.get_mut(i),
            Self::Slot(i) => p.ties.get_mut(i).map(|slot| &mut slot.at),
            Self::AnchorHole(i) => p.head.anchor_holes.get_mut(i).map(|hole| &mut hole.at),
        }
    }

    fn on_centre_line(self, p: &Project) -> bool {
        self.at(p).is_some_and(|at| at[0].abs() <= MIRROR_REACH)
    }

    fn remove(self, p: &mut Project) -> Option<()> {
        self.at(p)?;
        match self {
            Self::Eye(gone) => {
                p.eyes.remove(gone);
                p.drives.retain(|drive| *eye_of(&drive.moves) != gone);
                for drive in &mut p.drives {
                    close_gap(eye_of_mut(&mut drive.moves), gone);
                }
            }
            Self::OutlinePoint(gone) => {
                p.head.outline.remove(gone);
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

fn opposite([x, y]: [f64; 2]) -> [f64; 2] {
    [-x, y]
}

fn pair(at: [f64; 2], mirrored: bool) -> impl Iterator<Item = [f64; 2]> {
    let other = (mirrored && at[0] != 0.0).then(|| opposite(at));
    [at].into_iter().chain(other)
}

fn set_spacing(p: &mut Project, [a, b]: [usize; 2], distance: f64) -> Option<()> {
    if a == b {
        return None;
    }
    let (from, to) = (p.eyes.get(a)?.at(), p.eyes.get(b)?.at());
    let middle = nalgebra::center(&from, &to);
    let along = (to - from)
        .try_normalize(0.0)
        .unwrap_or_else(nalgebra::Vector2::x);
    p.eyes[a].centre = (middle - along * (distance / 2.0)).into();
    p.eyes[b].centre = (middle + along * (distance / 2.0)).into();
    Some(())
}

/// Points nearer to the centre line than this, mm, lie on it.
const ON_LINE: f64 = 0.5;

/// The outline whose other side mirrors the one that is kept; None if nothing lies there. The kept
/// side must be one run of points.
fn mirrored_outline(outline: &[[f64; 2]], keep: HeadSide) -> Option<Vec<[f64; 2]>> {
    let sign = match keep {
        HeadSide::Left => -1.0,
        HeadSide::Right => 1.0,
    };
    let kept = |p: &[f64; 2]| p[0] * sign > ON_LINE;
    let count = outline.len();
    // The run starts where the outline comes over from the other side.
    let start =
        (0..count).find(|&i| kept(&outline[i]) && !kept(&outline[(i + count - 1) % count]))?;
    let run: Vec<_> = (0..count)
        .map(|step| outline[(start + step) % count])
        .take_while(kept)
        .collect();
    let on_line = |p: [f64; 2]| (p[0].abs() <= ON_LINE).then_some([0.0, p[1]]);
    let before = on_line(outline[(start + count - 1) % count]);
    let after = on_line(outline[(start + run.len()) % count]);
    let mirror = run.iter().rev().map(|&p| opposite(p));
    Some(
        before
            .into_iter()
            .chain(run.iter().copied())
            .chain(after)
            .chain(mirror)
            .collect(),
    )
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_lowercase().chain(chars).collect())
        .unwrap_or_default()
}
