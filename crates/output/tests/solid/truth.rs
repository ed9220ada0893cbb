//! Plates and rings as equations, from the project's own figures: nothing here is shared with what
//! makes the solids.

use std::f64::consts::PI;

use layout::geometry::bounded::Bounded;
use layout::geometry::outline::Outline;
use layout::geometry::{Point, Vector};
use layout::parts::Parts;
use layout::seat::Seat;
use layout::tie::TieSlot;
use layout::{Laid, Project};
use nalgebra::Point3;
use output::SolidOptions;

/// What a mesh may stray beyond its chord error, mm: rounding.
pub(super) const ROUNDING: f64 = 1e-6;

/// A hole through the plate.
pub(super) enum Hole {
    Plain {
        centre: Point,
        radius: f64,
    },
    Spherical {
        centre: Point,
        radius: f64,
        height: f64,
        wider: f64,
    },
    Slot {
        slot: TieSlot,
        wider: f64,
    },
    /// All that lies within a radius of a line from end to end.
    Cable {
        ends: [Point; 2],
        radius: f64,
    },
}

impl Hole {
    /// How far a point lies outside the hole, mm, at a depth behind the front; negative within.
    pub(super) fn outside(&self, at: Point, depth: f64) -> f64 {
        match self {
            Self::Plain { centre, radius } => (at - centre).norm() - radius,
            Self::Spherical {
                centre,
                radius,
                height,
                wider,
            } => {
                let radial = (at - centre).norm() - wider;
                // Within the axis, the sphere is far away.
                radial.max(0.0).hypot(height + depth) - radius
            }
            Self::Slot { slot, wider } => {
                let turn = slot.angle.radians();
                let offset = at - Point::from(slot.at);
                let along = offset.dot(&Vector::new(turn.cos(), turn.sin())).abs();
                let across = offset.dot(&Vector::new(-turn.sin(), turn.cos())).abs();
                let [length, width] = slot.size();
                let corner = slot.corner_radius();
                let beyond = [
                    along - (length / 2.0 - corner),
                    across - (width / 2.0 - corner),
                ];
                let out = beyond[0].max(0.0).hypot(beyond[1].max(0.0));
                out + beyond[0].max(beyond[1]).min(0.0) - corner - wider
            }
            Self::Cable {
                ends: [start, end],
                radius,
            } => {
                let along = end - start;
                let square = along.norm_squared().max(f64::MIN_POSITIVE);
                let share = ((at - start).dot(&along) / square).clamp(0.0, 1.0);
                (at - (start + along * share)).norm() - radius
            }
        }
    }

    /// The volume that it takes from a plate of a thickness, mm³.
    fn volume(&self, thickness: f64) -> f64 {
        match self {
            Self::Plain { radius, .. } => PI * radius * radius * thickness,
            Self::Spherical {
                radius,
                height,
                wider,
                ..
            } => zone_volume(*radius, [*height, height + thickness], *wider),
            Self::Slot { slot, wider } => {
                let [length, width] = slot.size().map(|side| side + 2.0 * wider);
                let corner = slot.corner_radius() + wider;
                (length * width - (4.0 - PI) * corner * corner) * thickness
            }
            Self::Cable { ends, radius } => {
                let between = (ends[1] - ends[0]).norm();
                (2.0 * radius * between + PI * radius * radius) * thickness
            }
        }
    }

    /// Points around the hole at the front, mm.
    pub(super) fn rim(&self) -> Vec<Point> {
        let (centre, reach) = match self {
            Self::Plain { centre, radius } => (*centre, *radius),
            Self::Spherical { centre, radius, .. } => (*centre, *radius),
            Self::Slot { slot, .. } => (Point::from(slot.at), slot.half_diagonal()),
            Self::Cable { ends, radius } => (
                nalgebra::center(&ends[0], &ends[1]),
                (ends[1] - ends[0]).norm() / 2.0 + radius,
            ),
        };
        let direction = |step: u32| {
            let angle = f64::from(step) * PI / 180.0;
            Vector::new(angle.cos(), angle.sin())
        };
        // The rim lies where the distance changes its sign along a ray: halved until it is found.
        let on_rim = |step: u32| {
            let (mut near, mut far) = (0.0, 2.0 * reach + 1.0);
            for _ in 0..50 {
                let middle = f64::midpoint(near, far);
                if self.outside(centre + direction(step) * middle, 0.0) < 0.0 {
                    near = middle;
                } else {
                    far = middle;
                }
            }
            centre + direction(step) * near
        };
        (0..360).map(on_rim).collect()
    }
}

/// ∫ π·(√(S² − z²) + h)² dz, mm³.
fn zone_volume(sphere: f64, [from, to]: [f64; 2], wider: f64) -> f64 {
    let cubes = |z: f64| sphere * sphere * z - z.powi(3) / 3.0;
    let root = |z: f64| {
        let level = (sphere * sphere - z * z).max(0.0).sqrt();
        (z * level + sphere * sphere * (z / sphere).min(1.0).asin()) / 2.0
    };
    PI * (cubes(to) - cubes(from)
        + 2.0 * wider * (root(to) - root(from))
        + wider * wider * (to - from))
}

/// The plate.
pub(super) struct Plate {
    pub(super) outline: Bounded,
    pub(super) holes: Vec<Hole>,
    area: f64,
    thickness: f64,
}

impl Plate {
    pub(super) fn of(project: &Project, laid: &Laid, options: &SolidOptions) -> Self {
        let wider = options.hole_allowance / 2.0;
        let opening = |index: usize| {
            let (parts, centre) = (project.parts_of(index), project.eyes[index].at());
            match parts.seat {
                Seat::Plain { opening_diameter } => Hole::Plain {
                    centre,
                    radius: opening_diameter / 2.0 + wider,
                },
                Seat::Spherical {
                    centre_height,
                    running_clearance,
                } => Hole::Spherical {
                    centre,
                    radius: parts.ball_diameter / 2.0 + running_clearance,
                    height: centre_height,
                    wider,
                },
            }
        };
        let slots = project.ties.iter().map(|&slot| Hole::Slot { slot, wider });
        let cables = laid.cable_holes().map(|hole| Hole::Cable {
            ends: hole.ends,
            radius: hole.radius + wider,
        });
        let openings = (0..project.eyes.len()).map(opening);
        let holes = openings.chain(slots).chain(cables).collect();
        Self::with(&laid.plate, holes, project.plate.thickness)
    }

    pub(super) fn with(outline: &Outline, holes: Vec<Hole>, thickness: f64) -> Self {
        Self {
            outline: Bounded::of(outline).unwrap(),
            holes,
            area: outline.area(),
            thickness,
        }
    }

    pub(super) fn volume(&self) -> f64 {
        let holes = self.holes.iter().map(|hole| hole.volume(self.thickness));
        self.area * self.thickness - holes.sum::<f64>()
    }

    /// What a point of the surface lies on, within `error`, mm: each wall that it satisfies, or a face.
    pub(super) fn surfaces(&self, at: Point3<f64>, error: f64) -> Vec<String> {
        let (plan, depth) = (at.xy(), self.thickness - at.z);
        let holes: Vec<f64> = self
            .holes
            .iter()
            .map(|hole| hole.outside(plan, depth))
            .collect();
        let room = self.outline.room_around(plan).distance;
        let mut found = Vec::new();
        if room < -error || holes.iter().any(|&outside| outside < -error) {
            return found;
        }
        if at.z.abs() < ROUNDING {
            found.push("back".to_owned());
        }
        if depth.abs() < ROUNDING {
            found.push("front".to_owned());
        }
        if room < error {
            found.push("edge".to_owned());
        }
        let walls = holes
            .iter()
            .enumerate()
            .filter(|(_, outside)| **outside < error);
        found.extend(walls.map(|(index, _)| format!("hole {index}")));
        found
    }

    /// Every name that [`Plate::surfaces`] can give.
    pub(super) fn all_surfaces(&self) -> Vec<String> {
        let holes = (0..self.holes.len()).map(|index| format!("hole {index}"));
        ["back", "front", "edge"]
            .into_iter()
            .map(str::to_owned)
            .chain(holes)
            .collect()
    }
}

/// A ring on its back.
pub(super) struct Ring {
    sphere: f64,
    depth: f64,
    thickness: f64,
    outer: f64,
    bevel: f64,
    wider: f64,
}

impl Ring {
    /// Each distinct ring of a project once, in the order of the eyes.
    pub(super) fn all_of(project: &Project, options: &SolidOptions) -> Vec<Self> {
        let mut kinds: Vec<&Parts> = Vec::new();
        for index in 0..project.eyes.len() {
            let parts = project.parts_of(index);
            let same = |kind: &&Parts| {
                kind.ring == parts.ring && kind.ball_diameter == parts.ball_diameter
            };
            if !kinds.iter().any(same) {
                kinds.push(parts);
            }
        }
        kinds
            .into_iter()
            .map(|parts| Self::of(parts, options))
            .collect()
    }

    fn of(parts: &Parts, options: &SolidOptions) -> Self {
        Self {
            sphere: parts.ball_diameter / 2.0 + options.glue_gap,
            depth: parts.ring.depth,
            thickness: parts.ring.thickness,
            outer: parts.ring.outer_diameter / 2.0,
            bevel: parts.ring.bevel,
            wider: options.hole_allowance / 2.0,
        }
    }

    pub(super) fn volume(&self) -> f64 {
        let (r, b) = (self.outer, self.bevel);
        // A frustum under the bevel: ∫ (r − s)² ds from 0 to b.
        let frustum = (r.powi(3) - (r - b).powi(3)) / 3.0;
        let body = PI * (r * r * (self.thickness - b) + frustum);
        body - zone_volume(
            self.sphere,
            [self.depth, self.depth + self.thickness],
            self.wider,
        )
    }

    pub(super) fn surfaces(&self, at: Point3<f64>, error: f64) -> Vec<String> {
        let radius = at.xy().coords.norm();
        let depth = self.depth + self.thickness - at.z;
        let bore = (radius - self.wider).hypot(depth) - self.sphere;
        let rim = self.outer - radius;
        // Square to a bevel of 45°.
        let bevel = (rim - (self.bevel - (self.thickness - at.z))) / std::f64::consts::SQRT_2;
        let mut found = Vec::new();
        if bore < -error || rim < -error || bevel < -error {
            return found;
        }
        let satisfied = [
            ("back", at.z.abs() < ROUNDING),
            ("front", (at.z - self.thickness).abs() < ROUNDING),
            ("bore", bore < error),
            ("rim", rim < error),
            ("bevel", bevel < error),
        ];
        found.extend(
            satisfied
                .into_iter()
                .filter(|s| s.1)
                .map(|s| s.0.to_owned()),
        );
        found
    }

    pub(super) fn all_surfaces(&self) -> Vec<String> {
        let bevel = (self.bevel > 0.1).then_some("bevel");
        let others = ["back", "front", "bore", "rim"].into_iter();
        others.chain(bevel).map(str::to_owned).collect()
    }
}
