//! A project worked out: every shape that rules, views and drawings share.

use crate::cable_hole::{CableHole, PlateHole};
use crate::drive::Moves;
use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::guard::Guard;
use crate::laid_drive::LaidDrive;
use crate::lever_sweep::{self, LeverSweep};
use crate::lid::LidsFit;
use crate::limits::Rule;
use crate::linkage::{self, Linkage};
use crate::lug::Lug;
use crate::plate::Surroundings;
use crate::problem::Problem;
use crate::project::Project;
use crate::ranges::Ranges;
use crate::ring::{ProfilePoint, RingFit};
use crate::rod::Rod;
use crate::seat::SeatFit;
use crate::wording;

/// The shapes of one project, in the plate's frame, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// The inside wall of the head, counter-clockwise.
    pub wall: Vec<Point>,
    /// The plate's outline, counter-clockwise; empty if there is none.
    pub plate: Outline,
    /// The eyes, in the project's order.
    pub eyes: Vec<LaidEye>,
    /// Edge of each slot, in the project's order.
    pub slots: Vec<Outline>,
    /// The guard behind the plate, or why there is none.
    pub guard: Result<Guard, Problem>,
    /// The holes for cables that the plate has, in the project's order.
    pub plate_holes: Vec<CableHole>,
    /// The drives, in the project's order, with the holes in the plate that they need.
    pub drives: Vec<LaidDrive>,
    /// The rods, in the project's order, or why they can move nothing.
    pub rods: Vec<Result<Linkage, Problem>>,
    /// How far every part turns.
    pub ranges: Ranges,
    /// What levers and rods pass on their way.
    pub(crate) levers: Vec<LeverSweep>,
}

/// One eye, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidEye {
    /// Centre of the opening.
    pub centre: Point,
    /// The seat, or why there is none.
    pub seat: Result<SeatFit, Problem>,
    /// The ring on its ball, or why there is none.
    pub ring: Result<RingFit, Problem>,
    /// The tilt that the ring must be able to take, radians.
    pub working_tilt: f64,
    /// The tips of the levers that turn with the eye, as it looks straight ahead.
    pub tips: Vec<ProfilePoint>,
    /// The lids on the ball, if it has any and sits in a seat.
    pub lids: Option<LidsFit>,
    /// The left and the right lug, if there are lids.
    pub lugs: Option<[Lug; 2]>,
    opening: Option<Disc>,
    sweep: Option<Disc>,
}

impl LaidEye {
    fn out(project: &Project, index: usize, ranges: &Ranges) -> Self {
        let working_tilt = ranges.working_tilt(project, index);
        let (parts, thickness) = (project.parts_of(index), project.plate.thickness);
        let centre = project.eyes[index].at();
        let (seat, ring) = (parts.seat_fit(thickness), parts.ring_fit(thickness));
        let disc = |radius| Disc { centre, radius };
        let widest = |seat: &SeatFit| disc(seat.opening_front.max(seat.opening_back));
        let lids = ranges.lids(project, index).filter(|lids| lids.any());
        let seated = lids.as_ref().zip(seat.as_ref().ok());
        let lugs = seated.map(|(lids, seat)| Lug::pair(centre, lids, seat));
        let field = format!("{}.lids", project.parts_field(index));
        let name = project.eye_name(index);
        let lids = seated.map(|(lids, seat)| lids.fit(*seat, &field, &name));
        let tips = tips(project, index);
        let reach_of_tips = tips.iter().map(|tip| tip.swept_reach(working_tilt));
        let reach = |ring: &RingFit| reach_of_tips.fold(ring.sweep_reach(working_tilt), f64::max);
        Self {
            centre,
            opening: seat.as_ref().ok().map(widest),
            sweep: ring.as_ref().ok().map(reach).map(disc),
            seat,
            ring,
            working_tilt,
            tips,
            lids,
            lugs,
        }
    }

    /// How deep ring, ball and levers reach behind the plate's back face at the working tilt, mm; None
    /// without a ring.
    pub fn sweep_depth(&self) -> Option<f64> {
        let ring = self.ring.as_ref().ok()?;
        let depth = |tip: &ProfilePoint| tip.swept_depth(self.working_tilt) - ring.seat.back_depth;
        let tips = self.tips.iter().map(depth);
        Some(tips.fold(ring.sweep_depth(self.working_tilt), f64::max))
    }

    /// The tilt at which ring or a lever's tip meets the plate, radians; None if one stands in it, or
    /// without a ring.
    pub fn tilt_limit(&self) -> Option<f64> {
        let ring = self.ring.as_ref().ok()?;
        let back = ring.seat.back_depth;
        if self.tips.iter().any(|tip| tip.depth < back) {
            return None;
        }
        let tips = self.tips.iter().map(|tip| tip.tilt_to(back));
        Some(tips.fold(ring.tilt_limit()?, f64::min))
    }

    /// Least distance from the plane of the plate's back face at the working tilt, mm, of what turns
    /// with the eye, and the point that comes as near; None without a ring.
    pub fn clearance(&self) -> Option<(f64, ProfilePoint)> {
        let ring = self.ring.as_ref().ok()?;
        let of = |point: ProfilePoint| {
            (
                point.depth_at(self.working_tilt) - ring.seat.back_depth,
                point,
            )
        };
        let nearest = of(ring.nearest(self.working_tilt));
        let nearer = |a: (f64, ProfilePoint), b: (f64, ProfilePoint)| if b.0 < a.0 { b } else { a };
        Some(self.tips.iter().copied().map(of).fold(nearest, nearer))
    }

    /// The opening where it is widest.
    pub fn opening(&self) -> Option<Disc> {
        self.opening
    }

    /// The disc that ring and levers sweep in plan at the working tilt.
    pub fn sweep(&self) -> Option<Disc> {
        self.sweep
    }

    /// The ball's centre in the plate's frame, mm; None without a seat.
    pub fn ball_centre(&self) -> Option<[f64; 3]> {
        let height = self.seat.as_ref().ok()?.centre_height;
        Some([self.centre.x, self.centre.y, height])
    }
}

impl Laid {
    /// Works a project out. Total: what cannot be made is missing.
    pub fn out(project: &Project) -> Self {
        Self::out_in(project, project.head.wall())
    }

    /// [`Self::out`] within the wall of the project's head, which is known.
    pub(crate) fn out_in(project: &Project, wall: Vec<Point>) -> Self {
        let thickness = project.plate.thickness;
        let limit = |rule| project.limits.of(rule, thickness).wanted;
        let (rods, ranges) = linkage::of_project(project);
        let eyes: Vec<LaidEye> = (0..project.eyes.len())
            .map(|index| LaidEye::out(project, index, &ranges))
            .collect();
        let openings: Vec<Disc> = eyes.iter().filter_map(LaidEye::opening).collect();
        let pad = limit(Rule::SlotEdge).max(0.0);
        let slots = project.ties.iter().map(|slot| slot.discs(pad));
        let lugs = eyes.iter().filter_map(|eye| eye.lugs).flatten();
        let pads: Vec<_> = slots.chain(lugs.map(|lug| lug.pad())).collect();
        let lay_out = |pads: &[[Disc; 4]]| {
            project.plate.lay_out(&Surroundings {
                openings: &openings,
                pads,
                wall: &wall,
                fit_clearance: limit(Rule::PlateWall).max(0.0),
            })
        };
        let mut drives: Vec<LaidDrive> = (0..project.drives.len())
            .map(|index| LaidDrive::out(project, index, &eyes, &ranges))
            .collect();
        let mut plate = lay_out(&pads);
        let around_hole = limit(Rule::HoleEdge).max(0.0);
        let holes = project.plate.cable_holes.iter();
        let plate_holes: Vec<CableHole> = holes.map(PlateHole::shape).collect();
        let more = hole_pads(&plate_holes, &mut drives, &plate, around_hole);
        if !more.is_empty() {
            plate = lay_out(&[pads, more].concat());
        }
        let slots = project.ties.iter().map(|slot| slot.outline()).collect();
        let linkages: Vec<Option<&Linkage>> = rods.iter().map(|rod| rod.as_ref().ok()).collect();
        let levers = lever_sweep::of_project(project, &eyes, &linkages, &ranges);
        Self {
            wall,
            plate,
            eyes,
            slots,
            guard: Guard::of(&project.hand, thickness),
            drives,
            rods,
            ranges,
            levers,
            plate_holes,
        }
    }

    /// The holes of the foam behind the plate, one for each eye with a ring, mm: its sweep in plan
    /// and `clearance` round it. The foam is the plate's outline less these, less the passages of the
    /// cables, with as much round each, and less [`Self::foam_passages`]; it reaches from the back face to the
    /// guard.
    pub fn foam_holes(&self, clearance: f64) -> Vec<Disc> {
        let sweeps = self.eyes.iter().filter_map(LaidEye::sweep);
        let holes = sweeps.map(|sweep| Disc {
            radius: sweep.radius + clearance,
            ..sweep
        });
        holes.collect()
    }

    /// The passages of the foam for rods, each with the index of its rod, mm: what of a rod's way lies between the
    /// plate's back face and the deepest place of the guard, in plan, and `clearance` round it.
    pub fn foam_passages(&self, project: &Project, clearance: f64) -> Vec<(usize, Outline)> {
        let deepest = self.guard.as_ref();
        let deepest = deepest.map_or(f64::NEG_INFINITY, |guard| guard.deepest());
        let depth = [deepest, -project.plate.thickness];
        let passage = |lever: &LeverSweep| {
            let (rod, sweep) = lever.rod()?;
            let passage = sweep.plan_between(depth, clearance);
            (!passage.is_empty()).then_some((rod, passage))
        };
        self.levers.iter().filter_map(passage).collect()
    }

    /// The plate's holes for cables: those that it has, and then, drive by drive, those that it gets.
    pub fn cable_holes(&self) -> impl Iterator<Item = &CableHole> {
        let made = (0..self.drives.len()).flat_map(|drive| self.holes_made(drive));
        self.plate_holes.iter().chain(made.map(|(_, hole)| hole))
    }

    /// The holes of a drive that the plate gets, each with its place along the cable: those that pass one which it has
    /// need none.
    pub fn holes_made(&self, drive: usize) -> impl Iterator<Item = (usize, &CableHole)> {
        let holes = self.drives.get(drive).map(|drive| &drive.holes);
        let holes = holes.into_iter().flatten().enumerate();
        holes.filter(|(_, hole)| !self.has_hole_for(hole))
    }

    /// What the cables of all drives pass through plate and foam.
    pub fn cable_passages(&self) -> impl Iterator<Item = &CableHole> {
        self.drives.iter().flat_map(|drive| &drive.holes)
    }

    /// The lugs of all eyes, each with its eye.
    pub(crate) fn lugs(&self) -> impl Iterator<Item = (&Lug, usize)> {
        let eyes = self.eyes.iter().enumerate();
        eyes.flat_map(|(eye, laid)| laid.lugs.iter().flatten().map(move |lug| (lug, eye)))
    }

    /// Whether what needs a hole passes one that the plate has.
    pub(crate) fn has_hole_for(&self, hole: &CableHole) -> bool {
        self.plate_holes.iter().any(|there| there.takes(hole))
    }

    /// A hole that the plate has as it must be for the cables that pass too near beside it; None where none do.
    pub fn widened_hole(&self, project: &Project, index: usize) -> Option<CableHole> {
        let limit = project.limits.of(Rule::HoleGap, project.plate.thickness);
        let own = self.plate_holes.get(index)?;
        let made = (0..self.drives.len()).flat_map(|drive| self.holes_made(drive));
        let near = made.filter(|(_, hole)| {
            let gap = own.gap_to(hole);
            gap.is_some_and(|gap| gap.distance < limit.least)
        });
        near.fold(None, |wider: Option<CableHole>, (_, hole)| {
            wider.unwrap_or(*own).joined(hole).first().copied()
        })
    }

    /// [`Self::cable_holes`] with what each is called.
    pub fn named_cable_holes(&self, project: &Project) -> Vec<(String, &CableHole)> {
        let there = self.plate_holes.iter().enumerate();
        let there = there.map(|(index, hole)| (wording::plate_hole(index), hole));
        let drives = project.drives.iter().enumerate();
        let made = drives.flat_map(|(of, drive)| {
            let made = self.holes_made(of);
            made.map(|(index, hole)| (wording::cable_hole(index, &drive.name), hole))
        });
        there.chain(made).collect()
    }
}

/// The tips of an eye's gaze levers, of drives and of rods.
fn tips(project: &Project, eye: usize) -> Vec<ProfilePoint> {
    let drives = project.drives.iter().map(|drive| (drive.moves, drive.tip));
    let rods = project.rods.iter().flat_map(Rod::ends);
    let turns =
        |(moves, _): &(Moves, _)| matches!(moves, Moves::Gaze { eye: own, .. } if *own == eye);
    let tips = drives.chain(rods).filter(turns);
    tips.map(|(_, [x, y, z])| ProfilePoint {
        radius: x.hypot(y),
        depth: -z,
    })
    .collect()
}

/// Keeps those holes of the drives that lie in the plate, and gives the pads, with a width around each hole, mm, that
/// the plate does not hold yet; the holes that it has get pads, too.
fn hole_pads(
    there: &[CableHole],
    drives: &mut [LaidDrive],
    plate: &Outline,
    width: f64,
) -> Vec<[Disc; 4]> {
    let Some(bounded) = Bounded::of(plate) else {
        drives.iter_mut().for_each(|drive| drive.holes.clear());
        return Vec::new();
    };
    for drive in &mut *drives {
        drive.keep_holes_in(&bounded);
    }
    let holes = drives.iter().flat_map(|drive| &drive.holes);
    let sticks_out = |hole: &&CableHole| {
        let room = bounded.room_around_polygon(&hole.ends);
        room.is_none_or(|room| room.distance < hole.radius + width)
    };
    { there.iter().chain(holes) }
        .filter(sticks_out)
        .map(|hole| hole.discs(width))
        .collect()
}
