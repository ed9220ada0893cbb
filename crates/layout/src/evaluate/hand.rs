//! The rules about the guard and the hand (DESIGN 8).

use std::f64::consts::PI;

use super::Rules;
use crate::guard::{Guard, GuardGap};
use crate::laid::LaidEye;
use crate::limits::Rule;
use crate::load::Supports;

impl Rules<'_> {
    pub(super) fn hand(&mut self) {
        let laid = self.laid;
        let guard = match &laid.guard {
            Ok(guard) => Some(guard),
            Err(problem) => {
                let edge = self.back() - self.project.hand.guard_edge;
                let place = [0.0, 0.0, edge];
                self.find_problem(Rule::GuardShape, problem, "guard".to_owned(), place);
                None
            }
        };
        self.foam();
        if let Some(guard) = guard {
            self.guard(guard);
            self.hand_room(guard);
        }
        self.loads(guard);
    }

    /// Anything that stands behind the plate must clear every sweep, and so must the foam.
    fn foam(&mut self) {
        let clearance = self.limit(Rule::Hardware).wanted;
        let figures = self.figures.eyes.iter_mut();
        for (eye, figures) in self.laid.eyes.iter().zip(figures) {
            figures.foam_hole_mm = eye.sweep().map(|sweep| sweep.radius + clearance);
        }
    }

    fn guard(&mut self, guard: &Guard) {
        let laid = self.laid;
        let mut least = None::<f64>;
        for (index, eye) in laid.eyes.iter().enumerate() {
            if let Some(gap) = gap_of_eye(guard, eye) {
                let name = self.project.eye_name(index);
                self.find(
                    Rule::GuardClearance,
                    name,
                    gap.distance,
                    vec![gap.from, gap.to],
                );
                least = least.into_iter().chain([gap.distance]).reduce(f64::min);
            }
        }
        let hand = &self.project.hand;
        let figures = &mut self.figures.hand;
        figures.guard_clearance_mm = least;
        figures.guard_radius_mm = guard.radius();
        figures.guard_flat_mm = Some(guard.flat_length());
        figures.foam_edge_mm = Some(hand.guard_edge);
        figures.foam_middle_mm = Some(hand.guard_edge + hand.guard_bow);
    }

    /// Room behind the guard: cavity depth − plate − guard depth. The rule is about what the hand
    /// leaves of it.
    fn hand_room(&mut self, guard: &Guard) {
        let cavity = self.project.head.cavity_depth;
        let room = cavity + guard.deepest();
        let left = room - self.project.hand.thickness_mm;
        self.figures.hand.hand_room_mm = Some(room);
        let place = vec![[0.0, 0.0, left - cavity], [0.0, 0.0, -cavity]];
        self.find(Rule::HandRoom, "hand".to_owned(), left, place);
    }

    /// What the head weighs on fingers and pad, and on fingers and plate where there is no pad.
    fn loads(&mut self, guard: Option<&Guard>) {
        let seats = self
            .laid
            .eyes
            .iter()
            .filter_map(|eye| eye.seat.as_ref().ok());
        let fronts = seats.map(|seat| seat.centre_height + seat.ball_radius);
        let Some(front) = fronts.reduce(f64::max) else {
            return;
        };
        let hand = &self.project.hand;
        let with_pad = guard.and_then(|guard| Supports::with_pad(front, guard).load(hand));
        let bare = Supports::without_pad(front, self.project.plate.thickness).load(hand);
        let figures = &mut self.figures.hand;
        figures.hand_front_n = with_pad.map(|load| load.front);
        figures.hand_rear_n = with_pad.map(|load| load.rear);
        figures.hand_front_kpa = with_pad.and_then(|load| load.front_pressure);
        figures.hand_rear_kpa = with_pad.and_then(|load| load.rear_pressure);
        figures.bare_front_n = bare.map(|load| load.front);
        figures.bare_rear_n = bare.map(|load| load.rear);
        figures.bare_front_kpa = bare.and_then(|load| load.front_pressure);
        figures.bare_rear_kpa = bare.and_then(|load| load.rear_pressure);
    }
}

/// The least gap from what an eye sweeps behind the plate to the guard. A point of the ring sweeps
/// a zone over [φ − θ, φ + θ] from the ball's axis, the ball all of its own sphere. None without a
/// seat, or if nothing stands out behind the plate.
fn gap_of_eye(guard: &Guard, eye: &LaidEye) -> Option<GuardGap> {
    let seat = eye.seat.as_ref().ok()?;
    let (centre, behind, tilt) = (eye.ball_centre()?, seat.back_depth, eye.working_tilt);
    let zone = |reach: f64, range: [f64; 2]| guard.gap_of_zone(centre, reach, range, behind);
    let profile = eye.ring.iter().flat_map(|ring| ring.profile);
    let ring = profile.map(|point| {
        let angle = point.angle();
        zone(point.reach(), [angle - tilt, angle + tilt])
    });
    let ball = zone(seat.ball_radius, [0.0, PI]);
    ring.chain([ball]).flatten().reduce(GuardGap::or_nearer)
}
