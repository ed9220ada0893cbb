//! A project worked out: every shape that rules, views and drawings share.

use crate::geometry::Point;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::limits::Rule;
use crate::plate::Surroundings;
use crate::problem::Problem;
use crate::project::Project;
use crate::ring::RingFit;
use crate::seat::SeatFit;

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
    opening: Option<Disc>,
    sweep: Option<Disc>,
}

impl LaidEye {
    fn out(project: &Project, index: usize, working_tilt: f64) -> Self {
        let (parts, thickness) = (project.parts_of(index), project.plate.thickness);
        let centre = project.eyes[index].at();
        let (seat, ring) = (parts.seat_fit(thickness), parts.ring_fit(thickness));
        let disc = |radius| Disc { centre, radius };
        let widest = |seat: &SeatFit| disc(seat.opening_front.max(seat.opening_back));
        Self {
            centre,
            opening: seat.as_ref().ok().map(widest),
            sweep: ring
                .as_ref()
                .ok()
                .map(|ring| disc(ring.sweep_reach(working_tilt))),
            seat,
            ring,
            working_tilt,
        }
    }

    /// The opening where it is widest.
    pub fn opening(&self) -> Option<Disc> {
        self.opening
    }

    /// The disc that the ring sweeps in plan at the working tilt.
    pub fn sweep(&self) -> Option<Disc> {
        self.sweep
    }
}

impl Laid {
    /// Works a project out. Total: what cannot be made is missing.
    pub fn out(project: &Project) -> Self {
        let thickness = project.plate.thickness;
        let limit = |rule| project.limits.of(rule, thickness).wanted;
        let working_tilt = project.gaze.working_tilt();
        let eyes: Vec<LaidEye> = (0..project.eyes.len())
            .map(|index| LaidEye::out(project, index, working_tilt))
            .collect();
        let wall = project.head.wall();
        let openings: Vec<Disc> = eyes.iter().filter_map(LaidEye::opening).collect();
        let pad = limit(Rule::SlotEdge).max(0.0);
        let pads: Vec<_> = project.ties.iter().map(|slot| slot.discs(pad)).collect();
        let plate = project.plate.lay_out(&Surroundings {
            openings: &openings,
            pads: &pads,
            wall: &wall,
            fit_clearance: limit(Rule::PlateWall).max(0.0),
        });
        let slots = project.ties.iter().map(|slot| slot.outline()).collect();
        Self {
            wall,
            plate,
            eyes,
            slots,
        }
    }
}
