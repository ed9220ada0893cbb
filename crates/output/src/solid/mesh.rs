//! Triangles that share their corners.

use std::ops::Range;

use layout::geometry::Point;
use nalgebra::Point3;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

/// No edge along a curve is shorter, mm: files of single precision hold a place within 2 m to 0.12 µm,
/// and corners must not fall together in them.
pub(super) const SHORTEST_EDGE: f64 = 1e-3;

/// A surface of triangles. Two triangles that meet share the corners where they do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// The corners, mm.
    pub vertices: Vec<Point3<f64>>,
    /// Three indices of corners each, counter-clockwise as seen from outside.
    pub triangles: Vec<[usize; 3]>,
}

/// A closed line of a mesh, in a plane of its own z, with the material to its left.
#[derive(Clone, Debug)]
pub(super) struct Loop(Range<usize>);

/// Which way a face looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Facing {
    Up,
    Down,
}

/// That loops cross or touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Crossed;

impl Mesh {
    /// The corners of every triangle, mm.
    pub fn facets(&self) -> impl Iterator<Item = [Point3<f64>; 3]> + '_ {
        let corners = |triangle: &[usize; 3]| triangle.map(|index| self.vertices[index]);
        self.triangles.iter().map(corners)
    }

    /// The volume that it encloses, mm³.
    pub fn volume(&self) -> f64 {
        let sixth = |[a, b, c]: [Point3<f64>; 3]| a.coords.dot(&b.coords.cross(&c.coords)) / 6.0;
        self.facets().map(sixth).sum()
    }

    /// The least and the greatest corner of the box around it, mm; None if it is empty.
    pub fn bounds(&self) -> Option<[Point3<f64>; 2]> {
        let corners = self.vertices.iter().map(|&at| [at, at]);
        corners.reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])])
    }

    /// The length of its shortest edge, mm.
    pub(super) fn shortest_edge(&self) -> f64 {
        let sides = |[a, b, c]: [Point3<f64>; 3]| [b - a, c - b, a - c];
        let lengths = self.facets().flat_map(sides).map(|side| side.norm());
        lengths.fold(f64::INFINITY, f64::min)
    }

    /// Adds a closed line of corners at a height, mm.
    pub(super) fn add_loop(&mut self, corners: impl IntoIterator<Item = Point>, z: f64) -> Loop {
        let start = self.vertices.len();
        let at = |corner: Point| Point3::new(corner.x, corner.y, z);
        self.vertices.extend(corners.into_iter().map(at));
        Loop(start..self.vertices.len())
    }

    /// Joins two loops of as many corners. Seen along the loops with the second one above, the wall
    /// looks to the right.
    pub(super) fn wall(&mut self, lower: &Loop, upper: &Loop) {
        let count = lower.0.len();
        for step in 0..count {
            let next = (step + 1) % count;
            let [a, b] = [step, next].map(|step| lower.0.start + step);
            let [c, d] = [next, step].map(|step| upper.0.start + step);
            self.triangles.extend([[a, b, c], [a, c, d]]);
        }
    }

    /// Fills the area that the loops enclose with a flat face.
    ///
    /// # Errors
    /// [`Crossed`] if the loops cross or touch themselves or each other.
    pub(super) fn face(&mut self, loops: &[Loop], facing: Facing) -> Result<(), Crossed> {
        let corners: Vec<usize> = loops.iter().flat_map(|line| line.0.clone()).collect();
        let lines: Vec<Vec<Point>> = loops.iter().map(|line| self.plan(line)).collect();
        for [a, b, c] in filled(&lines)? {
            let triangle = match facing {
                Facing::Up => [a, b, c],
                Facing::Down => [a, c, b],
            };
            self.triangles.push(triangle.map(|index| corners[index]));
        }
        Ok(())
    }

    fn plan(&self, line: &Loop) -> Vec<Point> {
        let corners = self.vertices[line.0.clone()].iter();
        corners.map(|at| at.xy()).collect()
    }
}

/// Triangles, counter-clockwise, that fill the area which closed lines enclose. Their indices count the
/// corners of all lines through.
///
/// The triangulation is Delaunay's with the lines kept as edges, so that every corner is used, no
/// corner lies on another triangle's edge, and no triangle is needlessly thin.
///
/// # Errors
/// [`Crossed`] if the lines cross or touch themselves or each other.
pub(super) fn filled(lines: &[Vec<Point>]) -> Result<Vec<[usize; 3]>, Crossed> {
    let mut edges = Vec::new();
    for line in lines {
        let (start, count) = (edges.len(), line.len());
        edges.extend((0..count).map(|step| [start + step, start + (step + 1) % count]));
    }
    let corners = lines.iter().flatten();
    let places: Vec<_> = corners.map(|at| Point2::new(at.x, at.y)).collect();
    let wanted = (places.len(), edges.len());
    let plane: Plane = ConstrainedDelaunayTriangulation::try_bulk_load_cdt(places, edges, |_| {})
        .map_err(|_| Crossed)?;
    if (plane.num_vertices(), plane.num_constraints()) != wanted {
        return Err(Crossed);
    }
    Ok(enclosed(&plane))
}

type Plane = ConstrainedDelaunayTriangulation<Point2<f64>>;

/// The triangles, counter-clockwise, that an odd number of loops enclose: from the outside inward,
/// each edge of a loop that is crossed leads in or out.
fn enclosed(plane: &Plane) -> Vec<[usize; 3]> {
    let outside = plane.outer_face().index();
    let mut within = vec![None; plane.num_all_faces()];
    within[outside] = Some(false);
    let hull = plane.convex_hull().flat_map(|edge| [edge, edge.rev()]);
    let mut open: Vec<_> = hull.filter(|edge| edge.face().index() == outside).collect();
    while let Some(edge) = open.pop() {
        let beyond = edge.rev().face();
        let here = within[edge.face().index()];
        if let (None, Some(here), Some(face)) = (within[beyond.index()], here, beyond.as_inner()) {
            within[beyond.index()] = Some(here != edge.is_constraint_edge());
            open.extend(face.adjacent_edges());
        }
    }
    let enclosed = plane
        .inner_faces()
        .filter(|face| within[face.index()] == Some(true));
    enclosed
        .map(|face| face.vertices().map(|vertex| vertex.index()))
        .collect()
}
