//! What the view shows, in the plate's frame as it is seen: mirrored from the back.

use layout::cable_hole::CableHole;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::geometry::space::{self, Place};
use layout::geometry::{Point, Vector};
use layout::laid_drive::LaidDrive;
use layout::tie::TieSlot;
use layout::{Finding, Laid, Project, Report};

use super::cables::through;
use super::canvas::bounds_of;
use super::names;
use super::pieces::inside;
use super::view::SAME;
use crate::drawing::Bounds;
use crate::seen::Seen;

/// The shapes of the view.
#[derive(Default)]
pub(super) struct Scene {
    /// The outline of the plate, or of the part that is shown in its place before its holes are cut.
    pub(super) plate: Outline,
    /// Everything that is cut but the plate's openings: edges in front, then holes.
    pub(super) cut: Vec<Outline>,
    /// What to do where the part falls into several pieces.
    pub(super) falls_apart: Option<String>,
    /// The head's inside wall; empty where it is not shown.
    pub(super) wall: Vec<Point>,
    /// The eyes, in the project's order.
    pub(super) eyes: Vec<SceneEye>,
    /// The slots, in the project's order.
    pub(super) slots: Vec<SceneSlot>,
    /// The holes for cables, each with the index of its drive.
    pub(super) cable_holes: Vec<(String, SceneSlot)>,
    /// The passages of the foam for rods, each with the index of its rod.
    pub(super) rod_passages: Vec<(usize, Outline)>,
    /// The anchor holes, in the project's order.
    pub(super) holes: Vec<Disc>,
    /// The lugs' feet.
    pub(super) lugs: Vec<Outline>,
    /// The drives that can be worked out, in the project's order.
    pub(super) drives: Vec<SceneDrive>,
    /// The rods that can be worked out, in the project's order.
    pub(super) rods: Vec<SceneRod>,
    /// The least rim and the two points between which it lies.
    pub(super) rim: Option<(f64, [Point; 2])>,
}

/// An eye of the view.
pub(super) struct SceneEye {
    pub(super) centre: Point,
    /// The opening where it is widest; None if it has no seat.
    pub(super) opening: Option<Disc>,
    /// The opening's two edges; None if it has no seat.
    pub(super) edges: Option<Edges>,
}

/// The edges of an opening.
#[derive(Clone, Copy)]
pub(super) struct Edges {
    /// On the side that is seen.
    pub(super) near: Edge,
    /// On the other side.
    pub(super) far: Edge,
}

/// One edge of an opening.
#[derive(Clone, Copy)]
pub(super) struct Edge {
    /// mm.
    pub(super) radius: f64,
    /// The side of the plate that it is on: `front` or `back`.
    pub(super) side: &'static str,
}

/// A slot of the view.
pub(super) struct SceneSlot {
    /// A disc that holds it.
    pub(super) around: Disc,
    /// Direction of its long side, radians.
    pub(super) angle: f64,
    /// Its length and width, mm.
    pub(super) size: [f64; 2],
}

/// A drive of the view, with the lever at its end nearest the sheath.
pub(super) struct SceneDrive {
    /// Its index in the project.
    pub(super) index: usize,
    /// From the axis to the tip.
    pub(super) lever: [Point; 2],
    /// From the sheath's stop to the tip at its far end.
    pub(super) cable: [Point; 2],
    /// Places along the middle of the sheath.
    pub(super) sheath: Vec<Point>,
}

/// A rod of the view as it was fitted: both parts at rest.
pub(super) struct SceneRod {
    /// Both levers, each from its axis to its tip.
    pub(super) levers: [[Point; 2]; 2],
}

impl Scene {
    pub(super) fn of(project: &Project, laid: &Laid, report: &Report, seen: Seen) -> Self {
        let disc = |disc: Disc| Disc {
            centre: seen.point(disc.centre),
            ..disc
        };
        let eyes = laid.eyes.iter().map(|eye| SceneEye {
            centre: seen.point(eye.centre),
            opening: eye.opening().map(disc),
            edges: eye
                .seat
                .as_ref()
                .ok()
                .map(|seat| Edges::of(seat.opening_front, seat.opening_back, seen)),
        });
        let edge = std::iter::once(&laid.plate).chain(&laid.slots).cloned();
        let cable_holes = laid.cable_holes().map(CableHole::outline);
        let holes = project.head.anchor_holes.iter().map(|hole| {
            disc(Disc {
                centre: hole.at.into(),
                radius: hole.diameter / 2.0,
            })
        });
        let lugs = laid
            .eyes
            .iter()
            .filter_map(|eye| eye.lugs.as_ref())
            .flatten();
        let drives = laid.drives.iter().enumerate();
        let plan = |place: Place| seen.point(Point::new(place.x, place.y));
        let rods = laid.rods.iter().filter_map(|rod| rod.as_ref().ok());
        let rods = rods.map(|rod| SceneRod {
            levers: rod.levers_at(rod.fitted()).map(|ends| ends.map(plan)),
        });
        Self {
            rods: rods.collect(),
            lugs: lugs.map(|lug| seen.outline(&lug.plan())).collect(),
            drives: drives
                .filter_map(|(index, drive)| SceneDrive::of(index, drive, seen))
                .collect(),
            plate: seen.outline(&laid.plate),
            wall: seen
                .outline(&Outline::polygon(&laid.wall))
                .segments
                .iter()
                .map(Segment::start)
                .collect(),
            eyes: eyes.collect(),
            slots: project
                .ties
                .iter()
                .map(|slot| SceneSlot::of(slot, seen))
                .collect(),
            cable_holes: { cable_holes_of(laid).into_iter() }
                .map(|(name, hole)| (name, SceneSlot::of_cable(hole, 0.0, seen)))
                .collect(),
            rod_passages: Vec::new(),
            cut: edge
                .chain(cable_holes)
                .map(|own| seen.outline(&own))
                .collect(),
            falls_apart: None,
            holes: holes.collect(),
            rim: least_rim(&report.findings, seen),
        }
    }

    /// The openings where they are widest.
    pub(super) fn openings(&self) -> impl Iterator<Item = Disc> + '_ {
        self.eyes.iter().filter_map(|eye| eye.opening)
    }

    /// The slots for ties and for cables.
    pub(super) fn slots(&self) -> impl Iterator<Item = &SceneSlot> {
        let holes = self.cable_holes.iter().map(|(_, hole)| hole);
        self.slots.iter().chain(holes)
    }

    /// The box around everything that is cut, mm.
    pub(super) fn cut_bounds(&self) -> Bounds {
        let boxes = self.cut.iter().filter_map(Outline::bounds);
        let discs = self.openings().map(|disc| {
            let by = Vector::repeat(disc.radius);
            [disc.centre - by, disc.centre + by]
        });
        bounds_of(boxes.chain(discs).flatten())
    }

    /// Corners of what lies around everything: the head, or the part alone.
    pub(super) fn around(&self) -> Vec<Point> {
        if self.wall.is_empty() {
            self.plate.flattened()
        } else {
            self.wall.clone()
        }
    }

    /// The box around the head and everything that is cut, mm.
    pub(super) fn bounds(&self) -> Bounds {
        bounds_of(self.around()).with(self.cut_bounds())
    }
}

impl Edges {
    fn of(front: f64, back: f64, seen: Seen) -> Self {
        let edge = |radius, side| Edge { radius, side };
        let (front, back) = (edge(front, "front"), edge(back, "back"));
        match seen {
            Seen::Front => Self {
                near: front,
                far: back,
            },
            Seen::Back => Self {
                near: back,
                far: front,
            },
        }
    }
}

impl SceneSlot {
    fn of(slot: &TieSlot, seen: Seen) -> Self {
        Self {
            around: Disc {
                centre: seen.point(slot.at.into()),
                radius: slot.half_diagonal(),
            },
            angle: seen.angle(slot.angle.radians()),
            size: slot.size(),
        }
    }

    /// A hole for a cable with a margin, mm, around it.
    fn of_cable(hole: &CableHole, margin: f64, seen: Seen) -> Self {
        let along = hole.ends[1] - hole.ends[0];
        let size = hole.size().map(|side| side + 2.0 * margin);
        Self {
            around: Disc {
                centre: seen.point(hole.middle()),
                radius: size[0] / 2.0,
            },
            angle: seen.angle(along.y.atan2(along.x)),
            size,
        }
    }
}

/// The plate's holes for cables by their short names: those that it has, and those that it gets for the drives.
pub(super) fn cable_holes_of(laid: &Laid) -> Vec<(String, &CableHole)> {
    let there = laid.plate_holes.iter().enumerate();
    let there = there.map(|(index, hole)| (names::plate_hole(index), hole));
    let made = (0..laid.drives.len()).flat_map(|index| {
        let made = laid.holes_made(index);
        made.map(move |(_, hole)| (names::drive(index), hole))
    });
    there.chain(made).collect()
}

/// What the cables pass, with a margin, mm, around each, by their drives' short names.
pub(super) fn cable_passages_of(laid: &Laid, margin: f64, seen: Seen) -> Vec<(String, SceneSlot)> {
    let drives = laid.drives.iter().enumerate();
    let passages = drives.flat_map(|(index, drive)| {
        let own = drive.holes.iter();
        own.map(move |hole| (names::drive(index), SceneSlot::of_cable(hole, margin, seen)))
    });
    passages.collect()
}

/// Places along the middle of a drive's sheath, from its stop to its exit, as a projection shows them.
pub(super) fn sheath(drive: &LaidDrive, shown: impl Fn(Place) -> Point) -> Vec<Point> {
    /// Steps in which a bend is drawn: over a half turn of 30 mm they stay within 0.05 mm of it.
    const STEPS: u32 = 32;
    let along = drive.route.iter();
    let along = along.flat_map(|route| space::flattened(&route.pieces, STEPS));
    let mut places: Vec<Point> = along.map(shown).collect();
    places.dedup_by(|a, b| (*a - *b).norm() < SAME);
    places
}

impl SceneDrive {
    /// None if the drive has no pull.
    fn of(index: usize, drive: &LaidDrive, seen: Seen) -> Option<Self> {
        let pull = drive.pull.as_ref().ok()?;
        let plan = |place: Place| seen.point(Point::new(place.x, place.y));
        Some(Self {
            index,
            lever: [pull.lever_root(), pull.near].map(plan),
            cable: [pull.stop, pull.far].map(plan),
            sheath: sheath(drive, plan),
        })
    }
}

impl SceneDrive {
    /// The place by which a view within a box shows whose the line is: where it ends there, at the exit
    /// if the box holds it. None where it shows nothing.
    pub(super) fn end_within(&self, within: &Bounds) -> Option<Point> {
        let lines = [&self.lever[..], &self.cable, &self.sheath].map(through);
        let pieces = lines.iter().flatten().rev();
        let mut ends = pieces.filter_map(|piece| Some(inside(piece, within).last()?.end()));
        ends.next()
    }
}

fn least_rim(findings: &[Finding], seen: Seen) -> Option<(f64, [Point; 2])> {
    let rims = findings.iter().filter(|finding| finding.id == "rim");
    let (value, place) = rims
        .filter_map(|finding| Some((finding.value?, finding.place.as_slice())))
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    let &[from, to] = place else {
        return None;
    };
    let point = |[x, y, _]: [f64; 3]| seen.point(Point::new(x, y));
    Some((value, [from, to].map(point)))
}
