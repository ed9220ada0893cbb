//! A section that is turned about the pivot axis: how a lid becomes a body.
//!
//! A lid is its own section along the pivot axis, turned about that axis over the lid's extent; the
//! section of each boss is turned on, all the way round. Where the bosses leave the lid, it ends in two
//! flat edges. Sections share the corners where they meet, so that nothing need be cut or joined.

use std::collections::BTreeMap;
use std::ops::Range;

use layout::geometry::Point;
use nalgebra::Point3;

use super::chords::{Chords, Station};
use super::mesh::{Crossed, Mesh, filled};

/// A place in the right half of a lid's section, by the sphere about the ball's centre on which it
/// lies and its distance from the pivot axis, both in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Knot {
    /// Radius of the sphere.
    pub(super) sphere: f64,
    /// Distance from the axis.
    pub(super) level: f64,
}

/// The right half of a lid's section; the left one is its mirror image. From knot to knot it runs
/// along the sphere if both lie on the same one, else straight.
pub(super) struct Section {
    /// The boss, counter-clockwise from the inside of the pivot hole.
    pub(super) boss: [Knot; 4],
    /// From the boss to the middle of the lid's outside.
    pub(super) over: Vec<Knot>,
    /// From the middle of the lid's inside to the boss.
    pub(super) under: Vec<Knot>,
}

/// How often and how far a section is turned on: over the lid, and over the rest of the way round.
pub(super) struct Turns {
    /// Over the lid.
    pub(super) lid: Vec<Station>,
    /// Over the rest.
    pub(super) rest: Vec<Station>,
    /// Angle of the trailing edge from the bed, radians.
    pub(super) start: f64,
}

/// A place in either half: a knot, and whether it is mirrored.
type Place = (Knot, bool);

impl Section {
    /// How far from the pivot axis its straight walls reach, mm.
    pub(super) fn widest(&self) -> f64 {
        let knots = self.boss.iter().chain(&self.over).chain(&self.under);
        knots.map(|knot| knot.level).fold(0.0, f64::max)
    }

    /// The body, lying on the bed.
    pub(super) fn turned(&self, turns: &Turns, meridian: Chords) -> Result<Mesh, Crossed> {
        let mut corners = Corners::new(meridian);
        let bosses = [
            corners.line(&self.boss.map(right)),
            corners.line(&mirrored(&self.boss)),
        ];
        // What is found so far goes all the way round.
        let around = corners.places.len();
        let over = [rightward(&self.over), mirrored(&self.over)].concat();
        let under = [mirrored(&self.under), rightward(&self.under)].concat();
        let edge = corners.line(&[over.clone(), under.clone()].concat());
        let ends = &self.boss[..2];
        let whole = corners.line(&[rightward(ends), over, mirrored(ends), under].concat());
        let body = Turned {
            turns,
            around,
            places: corners.places,
        };
        body.mesh(&whole, &bosses, &edge)
    }
}

fn right(knot: Knot) -> Place {
    (knot, false)
}

fn rightward(knots: &[Knot]) -> Vec<Place> {
    knots.iter().copied().map(right).collect()
}

/// The mirror image, which runs the other way so that it stays counter-clockwise.
fn mirrored(knots: &[Knot]) -> Vec<Place> {
    knots.iter().rev().map(|&knot| (knot, true)).collect()
}

/// The corners of a section as (along the pivot axis, away from it), mm. Lines that run along the same
/// part of a sphere share those between its ends.
struct Corners {
    meridian: Chords,
    places: Vec<Point>,
    knots: BTreeMap<[u64; 2], usize>,
    arcs: BTreeMap<[usize; 2], Vec<usize>>,
}

impl Corners {
    fn new(meridian: Chords) -> Self {
        Self {
            meridian,
            places: Vec::new(),
            knots: BTreeMap::new(),
            arcs: BTreeMap::new(),
        }
    }

    fn knot(&mut self, (Knot { sphere, level }, mirrored): Place) -> usize {
        let right = (sphere * sphere - level * level).sqrt();
        let place = Point::new(if mirrored { -right } else { right }, level);
        let key = [place.x, place.y].map(f64::to_bits);
        if let Some(&known) = self.knots.get(&key) {
            return known;
        }
        self.places.push(place);
        self.knots.insert(key, self.places.len() - 1);
        self.places.len() - 1
    }

    /// A closed line through places.
    fn line(&mut self, places: &[Place]) -> Vec<usize> {
        let mut line = Vec::new();
        for (index, &place) in places.iter().enumerate() {
            let next = places[(index + 1) % places.len()];
            line.push(self.knot(place));
            if place.0.sphere == next.0.sphere {
                line.extend(self.arc(place, next));
            }
        }
        line
    }

    /// The corners between two places of one sphere.
    fn arc(&mut self, from: Place, to: Place) -> Vec<usize> {
        let ends = [self.knot(from), self.knot(to)];
        if let Some(known) = self.arcs.get(&ends) {
            return known.clone();
        }
        if let Some(known) = self.arcs.get(&[ends[1], ends[0]]) {
            return known.iter().rev().copied().collect();
        }
        let radius = from.0.sphere;
        let [start, end] = ends.map(|end| self.places[end].y.atan2(self.places[end].x));
        let stations = self.meridian.stations(radius, end - start);
        let inner = stations[1..stations.len() - 1].iter();
        let corners = inner.map(|Station { turn, reach }| {
            let (sin, cos) = (start + turn).sin_cos();
            self.places.push(Point::new(cos, sin) * (radius * reach));
            self.places.len() - 1
        });
        let corners: Vec<usize> = corners.collect();
        self.arcs.insert(ends, corners.clone());
        corners
    }
}

/// A section's corners, turned about the pivot axis. The first ones, of bosses, go all the way round; the
/// others over the lid only.
struct Turned<'a> {
    turns: &'a Turns,
    around: usize,
    places: Vec<Point>,
}

impl Turned<'_> {
    /// How many steps the lid takes.
    fn lid_steps(&self) -> usize {
        self.turns.lid.len() - 1
    }

    /// How many steps lead all the way round.
    fn all_steps(&self) -> usize {
        self.lid_steps() + self.turns.rest.len() - 1
    }

    /// The index of a corner after some steps.
    fn at(&self, corner: usize, step: usize) -> usize {
        let (lid, all) = (self.lid_steps() + 1, self.all_steps());
        let before = corner.min(self.around) * all + corner.saturating_sub(self.around) * lid;
        before + step % all
    }

    fn vertices(&self) -> Vec<Point3<f64>> {
        let extent = self.turns.lid[self.lid_steps()].turn;
        let rest = self.turns.rest.iter().skip(1).map(|station| Station {
            turn: station.turn + extent,
            ..*station
        });
        let stations: Vec<Station> = self.turns.lid.iter().copied().chain(rest).collect();
        let mut vertices = Vec::new();
        for (corner, place) in self.places.iter().enumerate() {
            let count = if corner < self.around {
                self.all_steps()
            } else {
                self.lid_steps() + 1
            };
            vertices.extend(stations.iter().take(count).map(|Station { turn, reach }| {
                let (sin, cos) = (self.turns.start + turn).sin_cos();
                let away = place.y * reach;
                Point3::new(place.x, away * cos, away * sin)
            }));
        }
        let lowest = vertices.iter().map(|at| at.z).fold(f64::INFINITY, f64::min);
        vertices.iter_mut().for_each(|at| at.z -= lowest);
        vertices
    }

    /// The surface that a closed line leaves behind from one step to another. Lines run
    /// counter-clockwise with the pivot axis to the right.
    fn wall(&self, line: &[usize], steps: Range<usize>, mesh: &mut Mesh) {
        for (index, &from) in line.iter().enumerate() {
            let to = line[(index + 1) % line.len()];
            for step in steps.clone() {
                let [a, b] = [from, to].map(|corner| self.at(corner, step));
                let [c, d] = [to, from].map(|corner| self.at(corner, step + 1));
                mesh.triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
    }

    /// The body of a whole section over the lid and those of bosses over the rest, with `edge` around
    /// what ends flat between.
    fn mesh(
        &self,
        whole: &[usize],
        bosses: &[Vec<usize>],
        edge: &[usize],
    ) -> Result<Mesh, Crossed> {
        let mut mesh = Mesh {
            vertices: self.vertices(),
            triangles: Vec::new(),
        };
        let (lid, all) = (self.lid_steps(), self.all_steps());
        self.wall(whole, 0..lid, &mut mesh);
        for boss in bosses {
            self.wall(boss, lid..all, &mut mesh);
        }
        let flat = edge.iter().map(|&corner| self.places[corner]).collect();
        for triangle in filled(&[flat])? {
            let [a, b, c] = triangle.map(|index| edge[index]);
            mesh.triangles
                .push([a, c, b].map(|corner| self.at(corner, 0)));
            mesh.triangles
                .push([a, b, c].map(|corner| self.at(corner, lid)));
        }
        Ok(mesh)
    }
}
