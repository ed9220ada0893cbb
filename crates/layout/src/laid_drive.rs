//! One drive, worked out: its pull, its sheath's route and its holes in the plate.

use crate::cable_hole::CableHole;
use crate::drive::{Drive, Moves, Turn};
use crate::force;
use crate::geometry::bounded::Bounded;
use crate::geometry::space::{Piece, Place};
use crate::laid::LaidEye;
use crate::lid::Which;
use crate::problem::Problem;
use crate::project::Project;
use crate::pull::{Pull, Worst};
use crate::ranges::Ranges;
use crate::rod;
use crate::route::{Route, Start};
use crate::sweep::LidSweep;

/// One drive. Lengths in mm, in the plate's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidDrive {
    /// The lever, its cable line and its stop, or why there are none.
    pub pull: Result<Pull, Problem>,
    /// How it pulls at its worst over all poses; None without a pull.
    pub worst: Option<Worst>,
    /// The sheath's route; None without a pull.
    pub route: Option<Route>,
    /// The holes that wire and sheath need in the plate, from the lever on.
    pub holes: Vec<CableHole>,
    /// Radius of the sheath's tube about the route.
    pub sheath_radius: f64,
}

impl LaidDrive {
    /// Works drive `index` out; `holes` are then all that a plate without end would need.
    pub(crate) fn out(project: &Project, index: usize, eyes: &[LaidEye], ranges: &Ranges) -> Self {
        let drive = &project.drives[index];
        let pull = pull(project, index, eyes, ranges);
        let route = pull.as_ref().ok().map(|pull| route(drive, pull));
        let holes = pull
            .as_ref()
            .ok()
            .zip(route.as_ref())
            .map_or_else(Vec::new, |(pull, route)| {
                holes(project, drive, pull, &route.pieces)
            });
        Self {
            worst: pull.as_ref().ok().map(Pull::worst),
            pull,
            route,
            holes,
            sheath_radius: drive.cable.sheath_diameter / 2.0,
        }
    }

    /// Keeps only the holes that lie in a plate, wholly or in part: beside it, none is cut.
    pub(crate) fn keep_holes_in(&mut self, plate: &Bounded) {
        self.holes.retain(|hole| hole.lies_in(plate));
    }

    /// Force at the lever tip where its arm is least, N; None without a pull.
    pub(crate) fn lever_force(&self, drive: &Drive) -> Option<f64> {
        let (pull, worst) = (self.pull.as_ref().ok()?, self.worst?);
        let arm = worst.arm_share * pull.radius;
        Some(force::lever_force(drive.torque_nmm, arm))
    }

    /// The sheath, if it can be laid.
    pub fn sheath(&self) -> Option<&Route> {
        self.route.as_ref().filter(|route| route.is_laid())
    }
}

fn pull(
    project: &Project,
    index: usize,
    eyes: &[LaidEye],
    ranges: &Ranges,
) -> Result<Pull, Problem> {
    let drive = &project.drives[index];
    let Some(laid) = eyes.get(drive.moves.eye()) else {
        return Err(drive.moves_no_eye(&format!("drives[{index}]"), eyes.len()));
    };
    let seat = laid.seat.as_ref().map_err(Problem::clone)?;
    Pull::of(project, index, seat, ranges)
}

fn route(drive: &Drive, pull: &Pull) -> Route {
    let via: Vec<Place> = drive.via.iter().map(|&via| via.into()).collect();
    Route::lay(&start(drive, pull), &via, drive.exit.into())
}

/// How a drive's route starts.
pub(crate) fn start(drive: &Drive, pull: &Pull) -> Start {
    Start {
        stop: pull.stop,
        heading: -pull.along,
        lead: drive.lead,
        radius: drive.cable.least_bend_radius,
    }
}

/// The holes that a plate without end would get for a drive's wire and for its sheath along `pieces`.
pub(crate) fn holes(
    project: &Project,
    drive: &Drive,
    pull: &Pull,
    pieces: &[Piece],
) -> Vec<CableHole> {
    let wire = Piece::straight(pull.far, pull.stop);
    let way = [&[wire], pieces].concat();
    CableHole::along(&way, drive.cable.sheath_diameter, project.plate.thickness)
}

/// What the lids of an eye sweep, in the plate's frame.
pub(crate) fn lid_sweeps(
    project: &Project,
    eye: usize,
    laid: &LaidEye,
    ranges: &Ranges,
) -> Vec<LidSweep> {
    let Some((lids, seat)) = project.parts_of(eye).lids.zip(laid.seat.as_ref().ok()) else {
        return Vec::new();
    };
    let sweep = |which: Which| {
        let lid = lids.lid(which)?;
        let ends = ranges.of(project, Moves::Lid { eye, which })?;
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        Some(LidSweep {
            centre: Place::new(laid.centre.x, laid.centre.y, seat.centre_height),
            radius: seat.ball_radius + lids.gap + lids.shell,
            range: [low, high + lid.extent.radians()],
            up: which.sign(),
        })
    };
    [Which::Upper, Which::Lower]
        .into_iter()
        .filter_map(sweep)
        .collect()
}

/// The turns that the character uses and that no drive moves, itself or by way of rods.
pub fn undriven(project: &Project) -> Vec<Moves> {
    let gaze = &project.gaze;
    let mut used = Vec::new();
    for eye in 0..project.eyes.len() {
        for (turn, angle) in [(Turn::Side, gaze.side), (Turn::Lift, gaze.lift)] {
            if angle.0 != 0.0 {
                used.push(Moves::Gaze { eye, turn });
            }
        }
        for which in Which::ALL {
            let lids = project.parts_of(eye).lids.as_ref();
            if lids
                .and_then(|lids| lids.lid(which))
                .is_some_and(|lid| lid.open != lid.closed)
            {
                used.push(Moves::Lid { eye, which });
            }
        }
    }
    let driven = |moves: &Moves| {
        rod::chain(&project.rods, *moves)
            .any(|part| project.drives.iter().any(|drive| drive.moves == part))
    };
    used.retain(|moves| !driven(moves));
    used
}
