//! The rules about the hand, and the guard in the head.

use super::Rules;
use crate::geometry::bounded::Bounded;
use crate::guard::Guard;
use crate::hand::FOAM_CLEARANCE;
use crate::limits::Rule;
use crate::load::Supports;
use crate::wording;

impl Rules<'_> {
    pub(super) fn hand(&mut self) {
        let laid = self.laid;
        let guard = match &laid.guard {
            Ok(guard) => Some(guard),
            Err(problem) => {
                let edge = self.back() - self.project.hand.guard_edge;
                let (part, place) = ("guard".to_owned(), [0.0, 0.0, edge]);
                self.find_problem(Rule::GuardShape, problem, part, Some(place));
                None
            }
        };
        self.foam();
        if let Some(guard) = guard {
            self.guard(guard);
            self.guard_in_head(guard);
            self.guard_covers(guard);
            self.hand_room(guard);
        }
        self.loads(guard);
    }

    /// The holes that the foam gets if the maker asks for no others.
    fn foam(&mut self) {
        let figures = self.figures.eyes.iter_mut();
        for (eye, figures) in self.laid.eyes.iter().zip(figures) {
            figures.foam_hole_mm = eye.sweep().map(|sweep| sweep.radius + FOAM_CLEARANCE);
        }
    }

    /// The guard inside the head, seen from the front. The wall is only known at the plate: behind it, it
    /// counts as upright.
    fn guard_in_head(&mut self, guard: &Guard) {
        let wall = self.wall;
        let room = wall.and_then(|wall| guard.plan().room_inside(wall));
        self.find_gap(Rule::GuardWall, "guard".to_owned(), room, guard.edge);
    }

    /// The guard behind what each ring sweeps, seen from the front: a hand must not reach past an edge or an end of it
    /// to what turns.
    fn guard_covers(&mut self, guard: &Guard) {
        let Some(plan) = Bounded::of(&guard.plan()) else {
            return;
        };
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            let Ok(ring) = &eye.ring else {
                continue;
            };
            let reach = ring.sweep_reach(eye.working_tilt);
            let gap = plan.room_around(eye.centre).grown(reach);
            let (name, missing) = (
                self.project.eye_name(index),
                guard.missing(eye.centre, reach),
            );
            let say = |state, eye: &str| wording::guard_cover(state, eye, missing);
            self.find_gap_saying(Rule::GuardCover, name, Some(gap), guard.edge, say);
        }
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
        if let Some(load) = with_pad.or(bare) {
            let behind = if guard.is_some() { "pad" } else { "plate" };
            for (part, force) in [("fingers", load.front), (behind, load.rear)] {
                let place = vec![hand.mass_centre];
                self.find(Rule::HandBalance, part.to_owned(), force, place);
            }
        }
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
