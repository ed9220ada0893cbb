//! What must hold of every solid, on all demos and on random plates.

mod alike;
mod cable_holes;
mod cases;
mod closed;
mod flat_parts;
mod gauge;
mod lids;
mod lying;
mod moving;
mod refused;
mod stl;
mod surface;
mod threemf;
mod truth;
mod volume;

use std::collections::BTreeMap;

use nalgebra::Point3;
use output::Solid;

/// Corners as indices, whatever they were read from.
struct Body {
    vertices: Vec<Point3<f64>>,
    triangles: Vec<[usize; 3]>,
}

impl Body {
    fn of(solid: &Solid) -> Self {
        let mesh = solid.mesh();
        Self {
            vertices: mesh.vertices.clone(),
            triangles: mesh.triangles.clone(),
        }
    }

    fn facets(&self) -> impl Iterator<Item = [Point3<f64>; 3]> + '_ {
        let corners = |triangle: &[usize; 3]| triangle.map(|index| self.vertices[index]);
        self.triangles.iter().map(corners)
    }

    /// The volume by the divergence of (0, 0, z): each facet's area in plan times its mean height.
    fn volume(&self) -> f64 {
        let prism = |[a, b, c]: [Point3<f64>; 3]| {
            let plan = (b - a).xy().perp(&(c - a).xy()) / 2.0;
            plan * (a.z + b.z + c.z) / 3.0
        };
        self.facets().map(prism).sum()
    }

    /// Fails unless each edge belongs to exactly two facets, in opposite directions, no facet is
    /// degenerate, every corner is used, and the whole faces outward: the mesh rules of the 3MF Core
    /// Specification v1.4.0, 4.1 and 4.1.4.
    fn assert_sound(&self, name: &str) {
        let mut edges = BTreeMap::new();
        let mut used = vec![false; self.vertices.len()];
        for (&[a, b, c], corners) in self.triangles.iter().zip(self.facets()) {
            assert!(a != b && b != c && c != a, "{name}: corners of {a} {b} {c}");
            for (from, to) in [(a, b), (b, c), (c, a)] {
                used[from] = true;
                *edges.entry((from, to)).or_insert(0) += 1;
            }
            let [p, q, r] = corners;
            let sides = [q - p, r - q, p - r].map(|side| side.norm());
            let height = (q - p).cross(&(r - p)).norm() / sides.iter().copied().fold(0.0, f64::max);
            // In single precision, a place within 200 mm of the origin is known to 8 nm.
            assert!(height > 1e-4, "{name}: {height} mm high: {corners:?}");
        }
        assert!(used.iter().all(|&used| used), "{name}: a corner is unused");
        for (&(from, to), &count) in &edges {
            assert_eq!(count, 1, "{name}: {count} facets run along {from}–{to}");
            let back = edges.get(&(to, from)).copied();
            assert_eq!(back, Some(1), "{name}: across the edge {from}–{to}");
        }
        assert!(self.volume() > 0.0, "{name} is inside out");
    }
}
