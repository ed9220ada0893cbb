//! Lids, lugs and levers as equations, from the project's own figures: nothing here is shared with
//! what makes the solids.

use std::f64::consts::PI;

use layout::Project;
use layout::drive::Moves;
use layout::geometry::{Point, Vector};
use layout::lid::{Lids, Which};
use nalgebra::Point3;
use output::SolidOptions;

use super::Body;

/// A band of a lid about its pivot axis, at both ends: between two spheres about the ball's centre,
/// and between two distances from the axis. Lengths in mm.
#[derive(Clone, Copy)]
struct Band {
    spheres: [f64; 2],
    levels: [f64; 2],
}

impl Band {
    /// ∫ 2πρ·(√(t² − ρ²) − √(s² − ρ²)) dρ at both ends, mm³.
    fn volume(self) -> f64 {
        let cap = |sphere: f64, level: f64| (sphere * sphere - level * level).max(0.0).powf(1.5);
        let under = |sphere: f64| cap(sphere, self.levels[0]) - cap(sphere, self.levels[1]);
        4.0 * PI / 3.0 * (under(self.spheres[1]) - under(self.spheres[0]))
    }

    /// Its sides by name, each with how far a place lies outside of it, mm.
    fn sides(self, radius: f64, away: f64) -> [(String, f64); 4] {
        let [[inner, outer], [low, high]] = [self.spheres, self.levels];
        [
            (format!("sphere {inner:.6}"), inner - radius),
            (format!("sphere {outer:.6}"), radius - outer),
            (format!("cylinder {low:.6}"), low - away),
            (format!("cylinder {high:.6}"), away - high),
        ]
    }
}

/// A lid, with its pivot axis along x and its trailing edge down.
pub(super) struct Lid {
    /// What is turned over the lid; bands overlap.
    bands: Vec<Band>,
    /// What is turned all the way round.
    boss: Band,
    /// Volume of a lid that goes all the way round, mm³.
    whole: f64,
    extent: f64,
    /// Angle of the trailing edge below the bed.
    lean: f64,
}

impl Lid {
    pub(super) fn of(ball: f64, lids: &Lids, which: Which, options: &SolidOptions) -> Self {
        let inside = ball / 2.0 + lids.gap;
        let outside = inside + lids.shell;
        let hole = (lids.pivot_hole + options.hole_allowance) / 2.0;
        let round = lids.pivot_hole / 2.0 + lids.shell;
        let band = |spheres, levels| Band { spheres, levels };
        let (bands, boss, whole) = if lids.upper.is_some() && which == Which::Lower {
            let play = lids.shell / 8.0;
            let [low, high] = [outside + play, outside + lids.shell];
            let clear = round + play;
            let thick = clear + lids.shell;
            let shell = band([inside, outside], [clear, f64::INFINITY]);
            let between = band([outside, low], [clear, thick]);
            let cap = band([low, high], [hole, thick]);
            (
                vec![cap, band([inside, high], [clear, thick]), shell],
                band([low, high], [hole, round]),
                cap.volume() + between.volume() + shell.volume(),
            )
        } else {
            let shell = band([inside, outside], [hole, f64::INFINITY]);
            let boss = band([inside, outside], [hole, round]);
            (vec![shell], boss, shell.volume())
        };
        Self {
            bands,
            boss,
            whole,
            extent: lids.lid(which).unwrap().extent.radians(),
            lean: (round / outside).asin(),
        }
    }

    pub(super) fn volume(&self) -> f64 {
        let share = self.extent / (2.0 * PI);
        self.whole * share + self.boss.volume() * (1.0 - share)
    }

    /// Height of the pivot axis over the bed, mm: between the bosses, all of a lid lies on one side of
    /// the plane of its trailing edge.
    pub(super) fn axis(&self, body: &Body) -> f64 {
        let near_middle = self.boss.spheres[0] / 4.0;
        let between = body.vertices.iter().filter(|at| at.x.abs() < near_middle);
        let heights = between.map(|at| at.z + at.y * self.lean.tan());
        heights.fold(f64::INFINITY, f64::min)
    }

    /// Radius of the bosses, mm.
    pub(super) fn boss_radius(&self) -> f64 {
        self.boss.levels[1]
    }

    /// How far a place lies outside the lid, mm, negative inside; and the sides that it lies on within
    /// an error, mm. The pivot axis is so high over the bed.
    pub(super) fn place(&self, at: Point3<f64>, axis: f64, error: f64) -> (f64, Vec<String>) {
        let (y, z) = (at.y, at.z - axis);
        let away = y.hypot(z);
        let radius = at.x.hypot(away);
        let turn = (z.atan2(y) + self.lean).rem_euclid(2.0 * PI);
        // Out of an edge's plane, or, where the edge has been left behind, from the axis.
        let beyond = |angle: f64| {
            let ahead = angle.cos() > 0.0;
            let square = away * angle.sin();
            if ahead { square } else { away.copysign(square) }
        };
        let edges = [
            ("trailing edge".to_owned(), -beyond(turn)),
            ("leading edge".to_owned(), -beyond(self.extent - turn)),
        ];
        let in_lid = |band: &Band| {
            let sides = band.sides(radius, away).into_iter();
            sides.chain(edges.clone()).collect::<Vec<_>>()
        };
        let mut bodies: Vec<Vec<(String, f64)>> = self.bands.iter().map(in_lid).collect();
        bodies.push(self.boss.sides(radius, away).to_vec());
        let outside = |sides: &Vec<(String, f64)>| {
            let each = sides.iter().map(|side| side.1);
            each.fold(f64::NEG_INFINITY, f64::max)
        };
        let least = bodies.iter().map(outside).fold(f64::INFINITY, f64::min);
        let sides = bodies.into_iter().flatten();
        let on = sides.filter(|side| side.1.abs() < error);
        (least, on.map(|side| side.0).collect())
    }

    /// All sides of the lid's surface.
    pub(super) fn all_sides(&self) -> Vec<String> {
        let sides = |band: &Band| band.sides(0.0, 0.0).map(|side| side.0);
        let bands = self.bands.iter().chain([&self.boss]).flat_map(sides);
        let edges = ["trailing edge", "leading edge"].map(str::to_owned);
        let named = bands.chain(edges);
        named.filter(|name| !name.ends_with("inf")).collect()
    }
}

/// A flat part with round holes.
pub(super) struct Flat {
    /// How far a place lies outside the edge, mm; negative inside.
    outside: Box<dyn Fn(Point) -> f64>,
    /// Area within the edge, mm².
    area: f64,
    /// Centre and radius of each hole.
    holes: Vec<(Point, f64)>,
    thickness: f64,
}

impl Flat {
    /// A lug on its side.
    pub(super) fn lug(project: &Project, eye: usize, options: &SolidOptions) -> Self {
        let parts = project.parts_of(eye);
        let lids = parts.lids.unwrap();
        let top = parts
            .seat_fit(project.plate.thickness)
            .unwrap()
            .centre_height;
        let half = lids.lug_width / 2.0;
        let bar = move |at: Point| (at.x.abs() - half).max(-at.y).max(at.y - top);
        let round = move |at: Point| ((at.x.hypot(at.y - top)) - half).max(-at.y);
        let hole = (lids.pivot_hole + options.hole_allowance) / 2.0;
        Self {
            // A bar that reaches down from the pivot and the disc about it overlap.
            outside: Box::new(move |at| bar(at).min(round(at))),
            area: lids.lug_width * top + PI * half * half / 2.0,
            holes: vec![(Point::new(0.0, top), hole)],
            thickness: lids.lug_thickness,
        }
    }

    /// The lever of a drive, flat.
    pub(super) fn lever(project: &Project, drive: usize, options: &SolidOptions) -> Self {
        let drive = &project.drives[drive];
        let parts = project.parts_of(drive.moves.eye());
        let width = parts.lids.map_or(5.0, |lids| lids.lever_width);
        let half = width / 2.0;
        let [x, y, z] = drive.tip;
        let allowance = options.hole_allowance;
        let wire = (drive.cable.inner_diameter + 0.5 + allowance) / 2.0;
        let rod = move |from: f64, tip: f64, at: Point| {
            let nearest = Point::new(at.x.clamp(from, tip), 0.0);
            (at - nearest).norm() - half
        };
        // ∫ √(r² − y²) dy from 0.
        let under = |r: f64, y: f64| (y * (r * r - y * y).sqrt() + r * r * (y / r).asin()) / 2.0;
        let thickness = 3.0;
        if let Moves::Lid { .. } = drive.moves {
            let lids = parts.lids.unwrap();
            let tip = y.hypot(z);
            let boss = lids.pivot_hole / 2.0 + lids.shell;
            let hole = (lids.pivot_hole + allowance) / 2.0;
            let bar = 2.0 * (half * tip - under(boss.max(half), half));
            return Self {
                outside: Box::new(move |at| (at.coords.norm() - boss).min(rod(0.0, tip, at))),
                area: PI * boss.max(half).powi(2) + bar + PI * half * half / 2.0,
                holes: vec![(Point::origin(), hole), (Point::new(tip, 0.0), wire)],
                thickness,
            };
        }
        let tip = x.hypot(y).hypot(z);
        let ball = parts.ball_diameter / 2.0 + options.glue_gap;
        let neck = ball + 3.0;
        let foot = move |at: Point| (at.y.abs() - width).max(at.x - neck).max(-at.x);
        let bar = 2.0 * (half * tip - under(ball, half)) + PI * half * half / 2.0;
        let wings = (width - half) * neck - (under(ball, width) - under(ball, half));
        Self {
            outside: Box::new(move |at| {
                let solid = foot(at).min(rod(0.0, tip, at));
                solid.max(ball - at.coords.norm())
            }),
            area: bar + 2.0 * wings,
            holes: vec![(Point::new(tip, 0.0), wire)],
            thickness,
        }
    }

    pub(super) fn volume(&self) -> f64 {
        let holes = self.holes.iter().map(|(_, radius)| PI * radius * radius);
        (self.area - holes.sum::<f64>()) * self.thickness
    }

    /// How far a place lies outside the part, mm, negative inside; and the sides that it lies on within
    /// an error, mm.
    pub(super) fn place(&self, at: Point3<f64>, error: f64) -> (f64, Vec<String>) {
        let plan = at.xy();
        let mut sides = vec![
            ("bottom".to_owned(), -at.z),
            ("top".to_owned(), at.z - self.thickness),
            ("edge".to_owned(), (self.outside)(plan)),
        ];
        for (index, &(centre, radius)) in self.holes.iter().enumerate() {
            let off: Vector = plan - centre;
            sides.push((format!("hole {index}"), radius - off.norm()));
        }
        let each = sides.iter().map(|side| side.1);
        let outside = each.fold(f64::NEG_INFINITY, f64::max);
        let on = sides.into_iter().filter(|side| side.1.abs() < error);
        (outside, on.map(|side| side.0).collect())
    }

    /// All sides of its surface.
    pub(super) fn all_sides(&self) -> Vec<String> {
        let holes = (0..self.holes.len()).map(|index| format!("hole {index}"));
        let faces = ["bottom", "top", "edge"].map(str::to_owned);
        faces.into_iter().chain(holes).collect()
    }
}
