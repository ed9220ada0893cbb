//! The edge of a plate that is moved about in a head, and how far inside the wall it stays.

use super::program::{AXES, Plane};
use super::wall::{Depth, STRAIGHT, Wall};
use crate::geometry::{Point, Vector, polygon};

/// How far apart the places are that an edge is looked at by at first, mm: about as far as a wall
/// bends little. Places are added where that is not enough.
const STEP: f64 = 8.0;

/// How far the least room of an edge may be off, mm: a tenth of what the search leaves open.
pub(super) const EXACT: f64 = 2e-4;

/// Most stretches that are looked at to find the least room: far more than it takes but where an edge
/// runs along a wall outside for long.
const MOST_STRETCHES: usize = 20_000;

/// Where a plate is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose {
    /// The place of its [`Rim::pivot`], mm.
    pub(super) at: Point,
    /// Its turn, radians, with its sine and cosine.
    pub(super) turn: f64,
    pub(super) sin_cos: (f64, f64),
}

impl Pose {
    pub(super) fn of(at: Point, turn: f64) -> Self {
        let sin_cos = turn.sin_cos();
        Self { at, turn, sin_cos }
    }

    /// A direction of the plate.
    fn turned(&self, way: Vector) -> Vector {
        let (sin, cos) = self.sin_cos;
        Vector::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos)
    }

    /// Where a place of the edge, from the pivot, comes to lie.
    pub(super) fn put(&self, at: Vector) -> Point {
        self.at + self.turned(at)
    }
}

/// Poses about a middle one: as far away along x, along y and in turn, to both sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Box3 {
    pub(super) middle: Pose,
    pub(super) half: [f64; AXES],
    /// 1 − cos τ and τ − sin τ of the farthest turn τ from the middle.
    bows: [f64; 2],
}

impl Box3 {
    pub(super) fn of(middle: Pose, half: [f64; AXES]) -> Self {
        let turn = half[AXES - 1];
        Self {
            middle,
            half,
            bows: [1.0 - turn.cos(), turn - turn.sin()],
        }
    }

    /// How much farther inward an arm can come within the box than each turn from the middle times the arm
    /// turned by a quarter says, mm: by τ, it comes to arm·cos τ + (arm turned by a quarter)·sin τ.
    fn bow(&self, arm: Vector, inward: Vector) -> f64 {
        let outward = (-arm.dot(&inward)).max(0.0);
        outward * self.bows[0] + arm.perp(&inward).abs() * self.bows[1]
    }

    /// The pose at a share of the way from the middle to the sides, from −1 to 1 along each axis.
    pub(super) fn at(&self, share: [f64; AXES]) -> Pose {
        let off: [f64; AXES] = std::array::from_fn(|axis| share[axis] * self.half[axis]);
        let at = self.middle.at + Vector::new(off[0], off[1]);
        Pose::of(at, self.middle.turn + off[2])
    }
}

/// A line that holds a place of the edge down: it has no more room than its distance from the line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut {
    /// The place.
    index: usize,
    /// The direction away from the line; zero for a bound that is the same everywhere.
    inward: Vector,
    /// How far the line lies from the origin along `inward`, mm.
    offset: f64,
    /// How much of that the wall's bend adds, mm.
    pub(super) bend: f64,
}

/// A place of the edge in a pose.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    pub(super) index: usize,
    pub(super) place: Point,
    pub(super) depth: Depth,
}

/// A plate's edge about its pivot.
pub(super) struct Rim {
    /// The middle of the box around it, in the plate's frame, mm.
    pub(super) pivot: Point,
    corners: Vec<Vector>,
    /// Places of the edge that are looked at.
    pub(super) places: Vec<Vector>,
    /// Distance from the pivot to the farthest corner, mm.
    pub(super) radius: f64,
}

impl Rim {
    /// The edge of a plate that is tried inside `wall`; None without corners. In a convex head, none of its
    /// places has less room than the corners of its hull.
    pub(super) fn of(outline: &[Point], wall: &Wall) -> Option<Self> {
        let hull = wall.is_convex().then(|| polygon::convex_hull(outline));
        let outline = hull.as_deref().unwrap_or(outline);
        let first = *outline.first()?;
        let fold = |(low, high): (Point, Point), at: &Point| (low.inf(at), high.sup(at));
        let (low, high) = outline.iter().fold((first, first), fold);
        let pivot = nalgebra::center(&low, &high);
        let corners: Vec<Vector> = outline.iter().map(|corner| corner - pivot).collect();
        let apart = if wall.is_convex() {
            f64::INFINITY
        } else {
            STEP
        };
        let mut places = Vec::with_capacity(2 * corners.len());
        for edge in polygon::edges(outline) {
            let along = edge.end - edge.start;
            let steps = (along.norm() / apart).ceil().max(1.0);
            let mut step = 0.0;
            while step < steps {
                places.push(edge.start - pivot + along * (step / steps));
                step += 1.0;
            }
        }
        Some(Self {
            radius: corners.iter().map(Vector::norm).fold(0.0, f64::max),
            pivot,
            corners,
            places,
        })
    }

    /// The least room of the whole edge in a pose, mm, to within [`EXACT`], and the place of the edge
    /// where it occurs. `so_far` is a place that is known to be near the wall.
    ///
    /// In a convex head it occurs at a corner. Else it is found by halving edges: no place of a stretch has less room than its middle less half its
    /// length, nor less than the plane through the middle says less the wall's bend.
    pub(super) fn least_room(&self, wall: &Wall, pose: &Pose, so_far: Vector) -> (f64, Vector) {
        let mut best = (wall.depth(pose.put(so_far)).room, so_far);
        if wall.is_convex() {
            for &corner in &self.corners {
                let room = wall.depth(pose.put(corner)).room;
                if room < best.0 {
                    best = (room, corner);
                }
            }
            return best;
        }
        let count = self.corners.len();
        let edge = |index: usize| (self.corners[index], self.corners[(index + 1) % count]);
        let mut open: Vec<_> = (0..count).map(edge).collect();
        for _ in 0..MOST_STRETCHES {
            let Some((from, to)) = open.pop() else {
                break;
            };
            let middle = (from + to) / 2.0;
            let (place, half) = (pose.put(middle), (to - from).norm() / 2.0);
            let depth = wall.depth(place);
            if depth.room < best.0 {
                best = (depth.room, middle);
            }
            if depth.room - half >= best.0 - EXACT {
                continue;
            }
            let along = pose.turned(to - middle).dot(&depth.inward).abs();
            let bend = wall.bend(place, depth, half);
            if depth.room - along - bend < best.0 - EXACT {
                open.extend([(from, middle), (middle, to)]);
            }
        }
        best
    }

    /// Places of the edge in a pose, by their index, with their depth there.
    pub(super) fn looks(&self, wall: &Wall, pose: &Pose, places: &[usize]) -> Vec<Look> {
        let look = |&index: &usize| {
            let place = pose.put(self.places[index]);
            let depth = wall.depth(place);
            Look {
                index,
                place,
                depth,
            }
        };
        places.iter().map(look).collect()
    }

    /// How far place `index` moves at most within a box of poses, mm.
    pub(super) fn reach(&self, index: usize, half: [f64; 3]) -> f64 {
        half[0].hypot(half[1]) + self.places[index].norm() * half[2]
    }

    /// What holds the room of a place down wherever the plate is; None where the wall comes out beyond its own
    /// line.
    pub(super) fn everywhere(look: &Look, wall: &Wall) -> Option<Cut> {
        let beyond = wall.beyond(&look.depth);
        (beyond <= STRAIGHT).then(|| Cut::of(look.index, look.place, look.depth, beyond))
    }

    /// What holds the room of a place down over a box of poses, looked at in one of them.
    pub(super) fn nearby(&self, look: &Look, wall: &Wall, poses: &Box3) -> Cut {
        let Look {
            index,
            place,
            depth,
        } = *look;
        let reach = self.reach(index, poses.half);
        let about = poses.middle.put(self.places[index]);
        let bend = wall.beyond_near(place, &depth, about, reach);
        let far = (place - about).norm() + reach;
        if bend < far {
            return Cut::of(index, place, depth, bend);
        }
        Cut {
            index,
            inward: Vector::zeros(),
            offset: -(depth.room + far),
            bend: far,
        }
    }

    /// What a cut says of a box of poses.
    pub(super) fn plane(&self, cut: &Cut, poses: &Box3) -> Plane {
        let [x, y, turn] = poses.half;
        let arm = poses.middle.turned(self.places[cut.index]);
        let place = poses.middle.at + arm;
        Plane {
            height: cut.inward.dot(&place.coords) - cut.offset + poses.bow(arm, cut.inward),
            rise: [
                cut.inward.x * x,
                cut.inward.y * y,
                arm.perp(&cut.inward) * turn,
            ],
        }
    }

    /// How much of that is owed to the turn's bow, mm.
    pub(super) fn bow(&self, cut: &Cut, poses: &Box3) -> f64 {
        poses.bow(poses.middle.turned(self.places[cut.index]), cut.inward)
    }
}

impl Cut {
    fn of(index: usize, place: Point, depth: Depth, above: f64) -> Self {
        Self {
            index,
            inward: depth.inward,
            offset: depth.inward.dot(&place.coords) - depth.room - above,
            bend: above,
        }
    }
}
