//! A flat body with holes straight through it, such as the plate.

use layout::geometry::bounded::Bounded;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::{Point, polygon};

use super::chords::{self, Chords};
use super::error::SolidError;
use super::mesh::{Crossed, Facing, Loop, Mesh, SHORTEST_EDGE};
use super::{Solid, SolidOptions};

/// Thinnest wall between two holes or a hole and the edge, mm: ten times the shortest edge, so that
/// single precision does not close it. What is thick enough to hold is for the rules to say.
pub(super) const THINNEST: f64 = 10.0 * SHORTEST_EDGE;

/// A flat body, in a plane of its own, with its front at z = 0 and its back behind it. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Slab {
    /// What it is called, without an article.
    pub name: String,
    /// Its edge, counter-clockwise.
    pub outline: Outline,
    /// Its thickness.
    pub thickness: f64,
    /// Its holes.
    pub holes: Vec<Hole>,
}

/// A hole through a slab.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// What it is called within a sentence: `slot 1`, `the opening of the left eye`.
    pub name: String,
    /// Its shape.
    pub wall: Wall,
}

/// The wall of a hole. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Wall {
    /// Square to the front, around all points of the convex hull of discs: one disc makes a round
    /// hole, four make a slot.
    Straight(Vec<Disc>),
    /// A zone of a sphere, widest at the front.
    Spherical {
        /// Where the sphere's centre stands in plan.
        centre: Point,
        /// Height of the sphere's centre over the front, 0 or more.
        height: f64,
        /// The sphere's radius.
        radius: f64,
    },
}

/// A hole as loops from the front to the back, clockwise, with their depths behind the front.
struct Lining {
    loops: Vec<(Vec<Point>, f64)>,
}

impl Slab {
    /// The slab as a solid. It lies on its back: its holes are widest at the front, so that their
    /// walls look upward and nothing overhangs.
    ///
    /// # Errors
    /// A [`SolidError`] that names the parts, if the options are out of range, nothing is left of the
    /// slab, its outline crosses itself, or a hole closes, breaks the edge or meets another.
    pub fn solid(&self, options: &SolidOptions) -> Result<Solid, SolidError> {
        options.check()?;
        let chords = Chords::within(options.chord_error);
        let edge = chords.corners(&self.outline);
        if edge.len() < 3 {
            return Err(SolidError::no_outline(&self.name));
        }
        if self.thickness < THINNEST {
            return Err(SolidError::too_thin(&self.name));
        }
        let line = |hole: &Hole| {
            Lining::of(&hole.wall, self.thickness, chords, options.hole_allowance)
                .ok_or_else(|| SolidError::closes(&hole.name))
        };
        let linings = self.holes.iter().map(line).collect::<Result<Vec<_>, _>>()?;
        self.check_webs(&edge, &linings)?;
        let mesh = self
            .mesh(edge, linings)
            .map_err(|Crossed| SolidError::crosses_itself(&self.name))?;
        Ok(Solid {
            name: self.name.clone(),
            count: 1,
            mesh,
        })
    }

    /// Refuses holes that leave less than [`THINNEST`] to each other or to the edge.
    fn check_webs(&self, edge: &[Point], linings: &[Lining]) -> Result<(), SolidError> {
        let outline = Bounded::of(&Outline::polygon(edge));
        let mouths: Vec<_> = linings.iter().map(Lining::mouth).collect();
        for (index, (hole, mouth)) in self.holes.iter().zip(&mouths).enumerate() {
            let room = outline
                .as_ref()
                .and_then(|outline| outline.room_around_polygon(&mouth.corners));
            if room.is_none_or(|room| room.distance < THINNEST) {
                return Err(SolidError::breaks_edge(&self.name, &hole.name));
            }
            for (other, earlier) in self.holes.iter().zip(&mouths).take(index) {
                if mouth.web(earlier) < THINNEST {
                    return Err(SolidError::meet(&other.name, &hole.name));
                }
            }
        }
        Ok(())
    }

    fn mesh(&self, edge: Vec<Point>, linings: Vec<Lining>) -> Result<Mesh, Crossed> {
        let mut mesh = Mesh::default();
        let bottom = mesh.add_loop(edge.iter().copied(), 0.0);
        let top = mesh.add_loop(edge, self.thickness);
        mesh.wall(&bottom, &top);
        let (mut fronts, mut backs) = (vec![top], vec![bottom]);
        for lining in linings {
            let place = |(corners, depth): (Vec<Point>, f64)| {
                mesh.add_loop(corners, self.thickness - depth)
            };
            let loops: Vec<Loop> = lining.loops.into_iter().map(place).collect();
            for pair in loops.windows(2) {
                mesh.wall(&pair[1], &pair[0]);
            }
            fronts.extend(loops.first().cloned());
            backs.extend(loops.last().cloned());
        }
        mesh.face(&fronts, Facing::Up)?;
        mesh.face(&backs, Facing::Down)?;
        Ok(mesh)
    }
}

impl Lining {
    /// None if the hole closes on its way through. Every layer is wider by `allowance`, mm.
    fn of(wall: &Wall, thickness: f64, chords: Chords, allowance: f64) -> Option<Self> {
        let mut loops: Vec<(Vec<Point>, f64)> = match wall {
            Wall::Straight(discs) => {
                let wider = discs.iter().map(|disc| Disc {
                    radius: disc.radius + allowance / 2.0,
                    ..*disc
                });
                let corners = chords.corners(&Outline::hull(&wider.collect::<Vec<_>>()));
                vec![(corners.clone(), 0.0), (corners, thickness)]
            }
            &Wall::Spherical {
                centre,
                height,
                radius,
            } => {
                let levels = chords.zone(radius, height, thickness);
                let count = chords.around(radius + allowance / 2.0);
                let corners =
                    |level_radius| chords::circle(centre, level_radius + allowance / 2.0, count);
                levels
                    .into_iter()
                    .map(|level| (corners(level.radius), level.behind))
                    .collect()
            }
        };
        for (corners, _) in &mut loops {
            let shortest = polygon::edges(corners)
                .map(|edge| (edge.end - edge.start).norm())
                .fold(f64::INFINITY, f64::min);
            if corners.len() < 3 || shortest < SHORTEST_EDGE {
                return None;
            }
            corners.reverse();
        }
        Some(Self { loops })
    }

    /// The hole where it is widest, at the front.
    fn mouth(&self) -> Mouth {
        let front = self.loops.first();
        let mut corners = front.map_or_else(Vec::new, |(corners, _)| corners.clone());
        corners.reverse();
        let [low, high] = corners
            .iter()
            .map(|&at| [at, at])
            .reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])])
            .unwrap_or_default();
        Mouth { corners, low, high }
    }
}

/// A hole at the front: a convex polygon, counter-clockwise, and the box around it.
struct Mouth {
    corners: Vec<Point>,
    low: Point,
    high: Point,
}

impl Mouth {
    /// What stands between this and another hole, mm; negative if they overlap, and a lower bound
    /// where they are far apart.
    fn web(&self, other: &Self) -> f64 {
        let beside = (self.low - other.high).sup(&(other.low - self.high)).max();
        if beside > THINNEST {
            return beside;
        }
        polygon::gap(&self.corners, &other.corners).map_or(f64::INFINITY, |gap| gap.distance)
    }
}
