//! The rules about each eye in its seat, and about two neighbours.

use nalgebra::{Point3, Vector3};

use super::Rules;
use super::drives::finite;
use crate::angle::Degrees;
use crate::drive::Drive;
use crate::geometry::hull::Disc;
use crate::geometry::{Gap, Point};
use crate::laid::LaidEye;
use crate::laid_drive::LaidDrive;
use crate::limits::Rule;
use crate::report::{EyeFigures, PairFigures};
use crate::ring::RingFit;
use crate::seated::Seated;
use crate::wording;

impl Rules<'_> {
    pub(super) fn eyes(&mut self) {
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            let name = self.project.eye_name(index);
            let mut figures = EyeFigures {
                working_tilt_deg: Some(Degrees::from_radians(eye.working_tilt).0),
                ..EyeFigures::default()
            };
            if let Ok(seat) = &eye.seat {
                figures.centre_height_mm = Some(seat.centre_height);
                figures.opening_front_mm = Some(seat.opening_front);
                figures.opening_back_mm = Some(seat.opening_back);
                figures.ball_behind_mm = Some(seat.ball_behind());
            }
            match &eye.ring {
                Ok(ring) => {
                    self.ring(ring, eye, name.clone(), &mut figures);
                    self.seated(index, ring, name.clone(), &mut figures);
                }
                Err(problem) => {
                    let at = [eye.centre.x, eye.centre.y, 0.0];
                    self.find_problem(Rule::RingShape, problem, name.clone(), Some(at));
                }
            }
            self.running_clearance(index, eye, name);
            self.figures.eyes.push(figures);
        }
    }

    fn ring(&mut self, ring: &RingFit, eye: &LaidEye, name: String, figures: &mut EyeFigures) {
        let tilt = eye.working_tilt;
        figures.retention_overlap_mm = Some(ring.retention_overlap());
        figures.ring_play_mm = Some(ring.play());
        figures.tilt_limit_deg = eye.tilt_limit().map(|limit| Degrees::from_radians(limit).0);
        figures.sweep_depth_mm = eye.sweep_depth();
        figures.sweep_reach_mm = eye.sweep().map(|sweep| sweep.radius);
        figures.glue_area_mm2 = Some(ring.glue_area());

        let Point { coords: at } = eye.centre;
        let back = self.back();
        if let Some((clearance, nearest)) = eye.clearance() {
            let out = nearest.depth * tilt.sin() + nearest.radius * tilt.cos();
            let place = [back - clearance, back].map(|z| [at.x, at.y + out, z]);
            figures.ring_clearance_mm = Some(clearance);
            if eye.tips.contains(&nearest) {
                let (place, say) = (place.into(), wording::lever_turned);
                self.find_saying(Rule::RingClearance, name.clone(), clearance, place, say);
            } else {
                self.find(Rule::RingClearance, name.clone(), clearance, place.into());
            }
        }
        self.find(
            Rule::RetentionOverlap,
            name,
            ring.retention_overlap(),
            vec![
                [at.x, at.y + ring.seat.opening_back, back],
                [
                    at.x,
                    at.y + ring.seat.opening_back + ring.retention_overlap(),
                    back,
                ],
            ],
        );
    }

    fn seated(&mut self, index: usize, ring: &RingFit, name: String, figures: &mut EyeFigures) {
        let clearance = self.laid.eyes[index].clearance();
        let clearance = clearance.map_or(ring.play(), |(clearance, _)| clearance);
        let pulls = self.forward_pulls(index);
        let ranges = &self.laid.ranges;
        let seated = Seated::out(self.project, index, ranges, ring, clearance, pulls);
        figures.play_left_mm = Some(seated.play_left);
        figures.pull_needed_n = finite(seated.pull_needed);
        let [x, y] = self.project.eyes[index].centre;
        let front = ring.seat.centre_height + ring.seat.ball_radius;
        let limit = self.limit(Rule::Seated);
        let state = seated.state(limit);
        let sentence = wording::seated(state, self.project.seated_by, &seated, &name);
        let place = vec![[x, y, front], [x, y, front + seated.play_left]];
        let found = (state, seated.play_left, limit.wanted);
        self.push(Rule::Seated, found, sentence, name, place);
    }

    /// With what the cables that turn an eye pull it forward in all, each where it does so most, N.
    fn forward_pulls(&self, eye: usize) -> f64 {
        let drives = self.project.drives.iter().zip(&self.laid.drives);
        let pull = |(drive, laid): (&Drive, &LaidDrive)| {
            let pull = laid.pull.as_ref().ok()?;
            if pull.moves_lid() || drive.moves.eye() != eye {
                return None;
            }
            let force = laid.lever_force(drive)?;
            let share = pull.forward(drive.returned_by());
            // No share of no end of force is none.
            Some(if share > 0.0 { share * force } else { 0.0 })
        };
        drives.filter_map(pull).sum()
    }

    /// A ball at the upper end of its tolerance must still turn in a spherical seat.
    fn running_clearance(&mut self, index: usize, eye: &LaidEye, name: String) {
        let parts = self.project.parts_of(index);
        if let crate::seat::Seat::Spherical {
            running_clearance, ..
        } = parts.seat
        {
            self.find(
                Rule::RunningClearance,
                name,
                running_clearance - parts.ball_plus / 2.0,
                vec![[eye.centre.x, eye.centre.y, 0.0]],
            );
        }
    }

    pub(super) fn pairs(&mut self) {
        let eyes = &self.laid.eyes;
        for a in 0..eyes.len() {
            for b in a + 1..eyes.len() {
                let figures = self.pair(a, b);
                self.figures.pairs.push(figures);
            }
        }
    }

    fn pair(&mut self, a: usize, b: usize) -> PairFigures {
        let laid = self.laid;
        let (one, other) = (&laid.eyes[a], &laid.eyes[b]);
        let part = wording::pair(&self.project.eye_name(a), &self.project.eye_name(b));
        let spacing = (other.centre - one.centre).norm();
        let gaze = &self.project.gaze;
        let seats = one.seat.as_ref().ok().zip(other.seat.as_ref().ok());
        let mean_radius = seats.map(|(a, b)| (a.ball_radius + b.ball_radius) / 2.0);
        let balls = between_balls(one, other);
        if let Some((gap, place)) = balls {
            self.find(Rule::BallGap, part.clone(), gap, place.into());
        }
        let sweeps = between_discs(one.sweep(), other.sweep());
        let openings = between_discs(one.opening(), other.opening());
        let back = self.back();
        PairFigures {
            a,
            b,
            spacing_mm: Some(spacing),
            toe_in_deg: Some(Degrees::from_radians(gaze.toe_in(spacing)).0),
            pupil_spacing_mm: mean_radius.map(|r| spacing - gaze.pupils_nearer(spacing, r)),
            ball_gap_mm: balls.map(|balls| balls.0),
            lid_gap_mm: self.lid_gap(one, other, &part),
            lug_gap_mm: self.lug_gap(one, other, &part),
            sweep_gap_mm: self.find_gap(Rule::SweepGap, part.clone(), sweeps, back),
            opening_ligament_mm: self.find_gap(Rule::OpeningLigament, part, openings, 0.0),
        }
    }
}

/// The gap between the edges of two discs; negative by as much as they overlap.
fn between_discs(a: Option<Disc>, b: Option<Disc>) -> Option<Gap> {
    let (a, b) = (a?, b?);
    let gap = Gap::between(a.centre, b.centre);
    Some(gap.grown(a.radius).grown_to(b.radius))
}

/// The gap between two balls, which stand at the heights of their seats, and its two places.
fn between_balls(a: &LaidEye, b: &LaidEye) -> Option<(f64, [[f64; 3]; 2])> {
    let ball = |eye: &LaidEye| {
        let radius = eye.seat.as_ref().ok()?.ball_radius;
        Some((eye.ball_centre()?.into(), radius))
    };
    Some(between_spheres(ball(a)?, ball(b)?))
}

/// The gap between two spheres, and its two places.
pub(super) fn between_spheres(
    (from, radius): (Point3<f64>, f64),
    (to, other_radius): (Point3<f64>, f64),
) -> (f64, [[f64; 3]; 2]) {
    let along = (to - from).try_normalize(0.0).unwrap_or_else(Vector3::x);
    let places = [from + along * radius, to - along * other_radius];
    let distance = (to - from).norm() - radius - other_radius;
    (distance, places.map(Into::into))
}
