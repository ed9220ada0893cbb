//! Parts sets that can be made, and their rings' meridians.

use layout::parts::Parts;
use layout::report::EyeFigures;
use layout::ring::Ring;
use layout::seat::Seat;
use layout::{Degrees, Project, evaluate};
use nalgebra::{Rotation3, Vector3};

use crate::common::{Random, eye, pair};

/// Nearer than this to a limit, mm, counts as near.
pub(super) const NEAR: f64 = 1e-3;

pub(super) const SETS: usize = 1_000;

/// A parts set in its plate, with the turns that its character uses.
pub(super) struct Case {
    pub(super) parts: Parts,
    pub(super) thickness: f64,
    pub(super) side: f64,
    pub(super) lift: f64,
}

impl Case {
    pub(super) fn project(&self) -> Project {
        let mut project = pair();
        project.parts = self.parts.clone();
        project.plate.thickness = self.thickness;
        project.eyes = vec![eye([0.0, 0.0])];
        project.eyes[0].iris_diameter = self.parts.ball_diameter / 3.0;
        project.eyes[0].pupil_diameter = self.parts.ball_diameter / 9.0;
        project.drives.clear();
        project.gaze.side = Degrees::from_radians(self.side);
        project.gaze.lift = Degrees::from_radians(self.lift);
        project
    }

    pub(super) fn figures(&self) -> EyeFigures {
        evaluate(&self.project()).figures.eyes.remove(0)
    }

    /// The rotation of both turns, as the drives of an eye make it.
    pub(super) fn turned(&self) -> Rotation3<f64> {
        Rotation3::from_axis_angle(&Vector3::y_axis(), self.side)
            * Rotation3::from_axis_angle(&Vector3::x_axis(), -self.lift)
    }

    /// Depth of the plate's back face behind the ball's centre, from what a seat is: a plain one
    /// touches the ball where the ball is as wide as the opening.
    pub(super) fn back(&self) -> f64 {
        let radius = self.parts.ball_diameter / 2.0;
        let height = match self.parts.seat {
            Seat::Plain { opening_diameter } => {
                radius * (opening_diameter / 2.0 / radius).acos().sin()
            }
            Seat::Spherical { centre_height, .. } => centre_height,
        };
        height + self.thickness
    }

    /// Points of the ring's meridian, (radius, depth): its corners, and what lies between them.
    pub(super) fn meridian(&self) -> Vec<[f64; 2]> {
        const STEPS: usize = 8;
        let Ring {
            depth,
            thickness,
            outer_diameter,
            bevel,
        } = self.parts.ring;
        let (outer, ball) = (outer_diameter / 2.0, self.parts.ball_diameter / 2.0);
        let bore = |z: f64| (ball.powi(2) - z.powi(2)).max(0.0).sqrt();
        let back = depth + thickness;
        let corners = [
            [bore(depth), depth],
            [outer - bevel, depth],
            [outer, depth + bevel],
            [outer, back],
            [bore(back), back],
        ];
        let share = |step: usize| step as f64 / STEPS as f64;
        let straight = corners.windows(2).flat_map(|ends| {
            (0..=STEPS).map(move |step| {
                [0, 1].map(|i| ends[0][i] + (ends[1][i] - ends[0][i]) * share(step))
            })
        });
        let round = (0..=STEPS).map(|step| {
            let z = depth + thickness * share(step);
            [bore(z), z]
        });
        straight.chain(round).collect()
    }
}

/// A random parts set that can be made, a third of them within [`NEAR`] of what can.
pub(super) fn random_case(random: &mut Random, index: usize) -> Case {
    loop {
        if let Some(case) = try_case(random, index) {
            return case;
        }
    }
}

pub(super) fn try_case(random: &mut Random, index: usize) -> Option<Case> {
    let near = index.is_multiple_of(3).then_some(index / 3 % 5);
    let ball = random.between(6.0, 40.0);
    let thickness = random.between(1.0, 0.25 * ball);
    let (seat, height, opening_back) = if index.is_multiple_of(2) {
        let opening = ball * random.between(0.6, 0.995);
        let height = (ball.powi(2) - opening.powi(2)).sqrt();
        (
            Seat::Plain {
                opening_diameter: 2.0 * opening,
            },
            height,
            opening,
        )
    } else {
        let clearance = random.between(0.0, 0.03 * ball);
        let height = if near == Some(0) {
            // The ball all but falls through.
            ((ball + clearance).powi(2) - ball.powi(2)).sqrt() - thickness
                + random.between(1e-9, NEAR)
        } else {
            random.between(0.0, 0.6 * ball)
        };
        let opening = ((ball + clearance).powi(2) - (height + thickness).powi(2)).sqrt();
        let seat = Seat::Spherical {
            centre_height: height,
            running_clearance: clearance,
        };
        (seat, height, opening)
    };
    let back = height + thickness;
    let room = ball - back;
    let play = if near == Some(1) {
        random.between(1e-9, NEAR)
    } else {
        room * random.between(0.02, 0.8)
    };
    let depth = back + play;
    let left = ball - depth;
    let ring = if near == Some(2) {
        left - random.between(1e-9, NEAR)
    } else {
        left * random.between(0.1, 0.95)
    };
    let bevel = if near == Some(3) {
        ring - random.between(1e-9, NEAR)
    } else {
        ring * random.between(0.0, 0.95)
    };
    let bore = (ball.powi(2) - depth.powi(2)).sqrt();
    let outer = if near == Some(4) {
        opening_back + random.between(-NEAR, NEAR)
    } else {
        bore + bevel + ball * random.between(0.01, 0.4)
    };
    let valid =
        height >= 0.0 && room > 0.0 && opening_back < ball && ring > 0.01 && outer - bevel > bore;
    valid.then(|| Case {
        parts: Parts {
            name: String::new(),
            ball_diameter: 2.0 * ball,
            ball_plus: 0.0,
            seat,
            ring: Ring {
                depth,
                thickness: ring,
                outer_diameter: 2.0 * outer,
                bevel,
            },
            lids: None,
            eye_mass_g: None,
        },
        thickness,
        side: random.between(0.0, 0.9),
        lift: if random.one_in(3) {
            0.0
        } else {
            random.between(0.0, 0.9)
        },
    })
}

pub(super) fn random_cases() -> impl Iterator<Item = Case> {
    let mut random = Random::new(2);
    (0..SETS).map(move |index| random_case(&mut random, index))
}
