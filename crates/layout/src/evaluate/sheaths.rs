//! The rules about sheaths: their routes, what they come near, and their holes in the plate.

use super::drives::finite;
use super::{Rules, nearest, outside};
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
use crate::drive::Drive;
use crate::geometry::bounded::Bounded;
use crate::geometry::space::{self, Near, Piece, Place};
use crate::geometry::{Gap, Point, polygon};
use crate::laid::LaidEye;
use crate::laid_drive::{self, LaidDrive};
use crate::limits::{Rule, State};
use crate::report::DriveFigures;
use crate::route::{Fault, Route};
use crate::sweep::RingSweep;
use crate::wording;

impl Rules<'_> {
    pub(super) fn sheath(&mut self, index: usize, figures: &mut DriveFigures) {
        let (project, laid) = (self.project, self.laid);
        let (drive, worked_out) = (&project.drives[index], &laid.drives[index]);
        self.holes(index);
        let Some(route) = &worked_out.route else {
            return;
        };
        for fault in &route.faults {
            self.fault(drive, fault);
        }
        let Some(route) = worked_out.sheath() else {
            return;
        };
        figures.sheath_mm = finite(route.length());
        figures.bend_total_deg = finite(Degrees::from_radians(route.total_bend()).0);
        figures.bend_least_mm = route.least_radius().and_then(finite);
        if let Some(bend) = route.bends().next() {
            let share = bend.radius / drive.cable.inner_diameter;
            let place = vec![bend.at(bend.sweep / 2.0).into()];
            self.find(Rule::BendRadius, drive.name.clone(), share, place);
        }
        self.margins(index, route, figures);
    }

    /// The margins of a sheath's tube along its whole length.
    fn margins(&mut self, index: usize, route: &Route, figures: &mut DriveFigures) {
        let pieces = &route.pieces[..];
        let plate = self.plate_near(index, pieces);
        figures.sheath_plate_mm = self.find_margin(Rule::SheathPlate, index, plate);
        let ball = self.nearest_ball(pieces);
        figures.sheath_ball_mm = self.find_margin(Rule::SheathBall, index, ball);
        let ring = self.nearest_ring(pieces).map(|(near, _)| near);
        figures.sheath_ring_mm = self.find_margin(Rule::SheathRing, index, ring);
        let lid = self.nearest_lid(pieces);
        figures.sheath_lid_mm = self.find_margin(Rule::SheathLid, index, lid);
        let wall = self.wall_near(pieces);
        figures.sheath_wall_mm = self.find_margin(Rule::SheathWall, index, wall);
        figures.sheath_guard_mm = self.guard_margin(index, pieces);
    }

    fn find_margin(&mut self, rule: Rule, index: usize, near: Option<Near>) -> Option<f64> {
        let near = near?;
        let margin = near.distance - self.laid.drives[index].sheath_radius;
        let name = self.project.drives[index].name.clone();
        self.find(rule, name, margin, vec![near.at.into()]);
        finite(margin)
    }

    /// The plate with the drive's own holes in it; its openings, slots and other holes count as
    /// filled.
    fn plate_near(&self, index: usize, pieces: &[Piece]) -> Option<Near> {
        let (plate, back) = (self.plate.as_ref()?, self.back());
        let holes = &self.laid.drives[index].holes;
        let distance = |place: Place, best: f64| {
            let upright = place.z.max(back - place.z).max(0.0);
            if upright < best {
                upright.hypot(beside_plate(plate, holes, place))
            } else {
                upright
            }
        };
        space::least_within(pieces, 0.0..f64::INFINITY, distance)
    }

    fn nearest_ball(&self, pieces: &[Piece]) -> Option<Near> {
        let near = |eye: &LaidEye| {
            let seat = eye.seat.as_ref().ok()?;
            let near = space::nearest(pieces, eye.ball_centre()?.into())?;
            let distance = near.distance - seat.ball_radius;
            Some(Near { distance, ..near })
        };
        let eyes = self.laid.eyes.iter().filter_map(near);
        eyes.reduce(Near::or_nearer)
    }

    /// The nearest ring sweep, and its eye.
    pub(super) fn nearest_ring(&self, pieces: &[Piece]) -> Option<(Near, usize)> {
        let mut best = None::<(Near, usize)>;
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            let (Ok(ring), Some(centre)) = (&eye.ring, eye.ball_centre()) else {
                continue;
            };
            let sweep = RingSweep::of(ring, centre.into(), eye.working_tilt);
            let below = best.map_or(f64::INFINITY, |(near, _)| near.distance);
            let to_centre = space::nearest(pieces, centre.into())?.distance;
            if to_centre - sweep.farthest() < below
                && let Some(near) =
                    space::least_within(pieces, 0.0..below, |at, _| sweep.distance(at))
            {
                best = Some((near, index));
            }
        }
        best
    }

    fn nearest_lid(&self, pieces: &[Piece]) -> Option<Near> {
        let mut best = None::<Near>;
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            for sweep in laid_drive::lid_sweeps(self.project, index, eye, &self.laid.ranges) {
                let below = best.map_or(f64::INFINITY, |near| near.distance);
                let to_centre = space::nearest(pieces, sweep.centre)?.distance;
                if to_centre - sweep.radius < below {
                    let near = space::least_within(pieces, 0.0..below, |at, _| sweep.distance(at));
                    best = near.or(best);
                }
            }
        }
        best
    }

    /// The head's wall, as upright as at the plate.
    fn wall_near(&self, pieces: &[Piece]) -> Option<Near> {
        let wall = self.wall.as_ref()?;
        space::least_within(pieces, f64::NEG_INFINITY..f64::INFINITY, |at, _| {
            wall.room_around(Point::new(at.x, at.y)).distance
        })
    }

    /// The rule about the guard, as it is about rings; the hand's figure is the least of all.
    fn guard_margin(&mut self, index: usize, pieces: &[Piece]) -> Option<f64> {
        let near = self.guard_near(pieces)?;
        let margin = near.distance - self.laid.drives[index].sheath_radius;
        let name = self.project.drives[index].name.clone();
        let (place, say) = (vec![near.at.into()], wording::sheath_and_guard);
        self.find_saying(Rule::GuardClearance, name, margin, place, say);
        let least = &mut self.figures.hand.guard_clearance_mm;
        *least = least.iter().copied().chain([margin]).reduce(f64::min);
        finite(margin)
    }

    /// The guard's mesh, round whose ends and edges a sheath may go; or how far behind the guard, where
    /// the hand is, it comes.
    fn guard_near(&self, pieces: &[Piece]) -> Option<Near> {
        let guard = self.laid.guard.as_ref().ok()?;
        let behind = space::least_within(pieces, f64::NEG_INFINITY..0.0, |at, _| {
            guard.beside_hand(at.into())
        });
        behind.or_else(|| {
            space::least_within(pieces, 0.0..f64::INFINITY, |at, _| {
                guard.distance(at.into())
            })
        })
    }

    /// Finds the gap of every sheath to the nearest of later drives, and gives each the figure of the
    /// nearest of all.
    pub(super) fn sheath_gaps(&mut self) {
        let (project, laid) = (self.project, self.laid);
        let mut least = vec![f64::INFINITY; laid.drives.len()];
        for (index, drive) in laid.drives.iter().enumerate() {
            let mut best = None::<(Near, usize)>;
            for (other, theirs) in laid.drives.iter().enumerate().skip(index + 1) {
                let of_best = best.map_or(f64::INFINITY, |(near, _)| near.distance);
                let Some(near) = between_sheaths(drive, theirs, of_best.max(least[other])) else {
                    continue;
                };
                for figure in [index, other] {
                    least[figure] = least[figure].min(near.distance);
                }
                if near.distance < of_best {
                    best = Some((near, other));
                }
            }
            if let Some((near, other)) = best {
                let [one, other] = [index, other].map(|drive| &project.drives[drive].name);
                let part = wording::pair(one, other);
                self.find(Rule::SheathGap, part, near.distance, vec![near.at.into()]);
            }
        }
        for (figures, least) in self.figures.drives.iter_mut().zip(least) {
            figures.sheath_gap_mm = finite(least);
        }
    }

    fn fault(&mut self, drive: &Drive, fault: &Fault) {
        let place = match *fault {
            Fault::TooNear { at } => vec![at.into()],
            Fault::LegTooShort { ends, .. } => ends.map(Into::into).to_vec(),
        };
        let sentence = wording::route_fault(fault, &drive.name, !drive.via.is_empty());
        let part = drive.name.clone();
        self.find_without_figure(Rule::RouteShape, State::Fouls, sentence, part, place);
    }

    /// The webs round the holes of a drive.
    fn holes(&mut self, index: usize) {
        let (project, laid) = (self.project, self.laid);
        let name = &project.drives[index].name;
        for hole in &laid.drives[index].holes {
            let (core, radius) = (&hole.ends, hole.radius);
            let plate = self.plate.as_ref();
            let edge = plate.and_then(|plate| plate.room_around_polygon(core));
            let edge = edge.map(|gap| gap.grown(radius));
            self.find_gap(Rule::HoleEdge, name.clone(), edge, 0.0);

            let to_opening = |(eye, laid): (usize, &LaidEye)| {
                let opening = laid.opening()?;
                let gap = outside(core, opening.centre)?;
                Some((gap.grown(radius).grown_to(opening.radius), eye))
            };
            let openings = laid.eyes.iter().enumerate().filter_map(to_opening);
            if let Some((gap, eye)) = nearest(openings) {
                let part = wording::pair(name, &project.eye_name(eye));
                self.find_gap(Rule::HoleOpening, part, Some(gap), 0.0);
            }

            let to_slot = |(slot, tie): (usize, &crate::tie::TieSlot)| {
                let gap = polygon::gap(core, &tie.core())?;
                Some((gap.grown(radius).grown_to(tie.corner_radius()), slot))
            };
            if let Some((gap, slot)) = nearest(project.ties.iter().enumerate().filter_map(to_slot))
            {
                let part = wording::pair(name, &wording::slot(slot));
                self.find_gap(Rule::HoleSlot, part, Some(gap), 0.0);
            }

            let later = laid.drives.iter().enumerate().skip(index + 1);
            let others = later.flat_map(|(drive, laid)| laid.holes.iter().map(move |h| (h, drive)));
            let gaps = others.filter_map(|(other, drive)| Some((between(hole, other)?, drive)));
            if let Some((gap, drive)) = nearest(gaps) {
                let part = wording::pair(name, &project.drives[drive].name);
                self.find_gap(Rule::HoleGap, part, Some(gap), 0.0);
            }
        }
    }
}

fn between(one: &CableHole, other: &CableHole) -> Option<Gap> {
    let gap = polygon::gap(&one.ends, &other.ends)?;
    Some(gap.grown(one.radius).grown_to(other.radius))
}

/// The gap between two sheaths and where on the first, if it is less than `below`, mm.
fn between_sheaths(one: &LaidDrive, other: &LaidDrive, below: f64) -> Option<Near> {
    let (own, theirs) = (one.sheath()?, other.sheath()?);
    let radii = one.sheath_radius + other.sheath_radius;
    let to_theirs = |at: Place, _| {
        theirs
            .nearest(at)
            .map_or(f64::INFINITY, |near| near.distance)
    };
    let near = space::least_within(&own.pieces, 0.0..below + radii, to_theirs)?;
    let distance = near.distance - radii;
    Some(Near { distance, ..near })
}

/// Distance in plan from a place to a plate with some holes; 0 in it.
fn beside_plate(plate: &Bounded, holes: &[CableHole], place: Place) -> f64 {
    let point = Point::new(place.x, place.y);
    let outside = -plate.room_around(point).distance;
    let in_holes = holes.iter().map(|hole| hole.room_around(point));
    in_holes.fold(outside, f64::max).max(0.0)
}
