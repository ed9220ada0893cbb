//! The rules about sheaths: their routes, what they come near, and their holes in the plate.

use super::Rules;
use super::drives::finite;
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
use crate::drive::Drive;
use crate::geometry::space::Near;
use crate::laid_drive::LaidDrive;
use crate::limits::{Rule, State};
use crate::obstacle::{self, Body, Obstacle};
use crate::report::DriveFigures;
use crate::route::{Fault, Route};
use crate::wording;

impl Rules<'_> {
    pub(super) fn sheath(&mut self, index: usize, figures: &mut DriveFigures) {
        let (project, laid) = (self.project, self.laid);
        let (drive, worked_out) = (&project.drives[index], &laid.drives[index]);
        self.drive_holes(index);
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
        let (laid, thickness) = (self.laid, self.project.plate.thickness);
        let pieces = &route.pieces[..];
        let made = laid.holes_made(index).map(|(_, hole)| *hole);
        let holes: Vec<CableHole> = { laid.plate_holes.iter().copied() }.chain(made).collect();
        let plate = self.plate.as_ref().and_then(|outline| {
            let plate = Body::Plate {
                outline,
                holes: &holes,
                thickness,
            };
            Obstacle::only(plate).near(pieces, f64::INFINITY)
        });
        let of_rule = |rule: Rule| {
            let obstacles = self.obstacles.iter().filter(move |one| one.rule() == rule);
            obstacle::nearest(obstacles, |_| pieces).map(|(near, _)| near)
        };
        let lug = of_rule(Rule::SheathPlate);
        let of_eyes = [Rule::SheathBall, Rule::SheathRing, Rule::SheathLid];
        let nearest = of_eyes.map(|rule| (rule, of_rule(rule)));
        let plate = plate.into_iter().chain(lug).reduce(Near::or_nearer);
        figures.sheath_plate_mm = self.find_margin(Rule::SheathPlate, index, plate);
        let [ball, ring, lid] = nearest.map(|(rule, near)| self.find_margin(rule, index, near));
        figures.sheath_ball_mm = ball;
        figures.sheath_ring_mm = ring;
        figures.sheath_lid_mm = lid;
        let drive = &self.project.drives[index];
        let levers: Vec<Obstacle> = obstacle::levers(laid, drive).collect();
        let lever = obstacle::nearest(&levers, |one| one.pieces_of(route));
        figures.sheath_lever_mm = lever.and_then(|(near, lever)| {
            let lever = lever.name(self.project);
            let say = |state, part: &str| wording::sheath_and_lever(state, part, &lever);
            self.find_margin_saying(Rule::SheathLever, index, near, say)
        });
        let wall = self
            .wall
            .and_then(|wall| Obstacle::only(Body::Wall(wall)).near(pieces, f64::INFINITY));
        figures.sheath_wall_mm = self.find_margin(Rule::SheathWall, index, wall);
        figures.sheath_guard_mm = self.sheath_and_guard(index, pieces);
    }

    fn find_margin(&mut self, rule: Rule, index: usize, near: Option<Near>) -> Option<f64> {
        let say = |state, part: &str| wording::sentence(rule, state, part);
        self.find_margin_saying(rule, index, near?, say)
    }

    fn find_margin_saying(
        &mut self,
        rule: Rule,
        index: usize,
        near: Near,
        say: impl FnOnce(State, &str) -> String,
    ) -> Option<f64> {
        let margin = near.distance - self.laid.drives[index].sheath_radius;
        let name = self.project.drives[index].name.clone();
        self.find_saying(rule, name, margin, vec![near.at.into()], say);
        finite(margin)
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
                let below = of_best.max(least[other]);
                let Some(near) = between_sheaths(drive, other, theirs, below) else {
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
            Fault::TooNear { at, .. } => vec![at.into()],
            Fault::LegTooShort { ends, .. } => ends.map(Into::into).to_vec(),
        };
        let sentence = wording::route_fault(fault, &drive.name, !drive.via.is_empty());
        let part = drive.name.clone();
        self.find_without_figure(Rule::RouteShape, State::Fouls, sentence, part, place);
    }
}

/// The gap between two sheaths and where on the first, if it is less than `below`, mm.
fn between_sheaths(one: &LaidDrive, other: usize, theirs: &LaidDrive, below: f64) -> Option<Near> {
    let own = one.sheath()?;
    let theirs = Obstacle::sheath(other, theirs)?;
    let near = theirs.near(&own.pieces, below + one.sheath_radius)?;
    let distance = near.distance - one.sheath_radius;
    Some(Near { distance, ..near })
}
