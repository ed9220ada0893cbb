//! What a rod passes on its way, and how far a place lies from it.

use crate::geometry::Point;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::space::{Place, Straight, Way};
use crate::linkage::Linkage;
use crate::search;

/// Largest turn from pose to pose, of driver or follower, radians. Between them the ends of a rod are told by a
/// polynomial of the second degree in each turn: of a circle of 40 mm it misses 0.0014 mm then, and eight times as
/// much with turns twice as large.
const TURN: f64 = 0.08;

/// Most steps from pose to pose over a range: half a turn by [`TURN`].
const MOST_STEPS: u32 = 40;

/// The shortest step, as a share of that from pose to pose, by which a rod is followed to where it is nearest: an end
/// 40 mm from its axis moves by 0.0125 mm, and its distance changes by that at most.
const SHORTEST: f64 = 1.0 / 256.0;

/// A round rod on its way. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RodSweep {
    pub(crate) radius: f64,
    grids: Vec<Grid>,
}

/// The ends of a rod in poses at even steps over its driver's turn and the other one.
#[derive(Clone, Debug, PartialEq)]
struct Grid {
    /// How many poses there are along each turn: one or at least three.
    count: [usize; 2],
    /// Row by row, each over the driver's turn.
    ends: Vec<[Place; 2]>,
    /// How far the rod moves from each pose till another is as near.
    strays: Vec<f64>,
    /// How far it moves at most from the pose in the middle.
    farthest: f64,
}

impl RodSweep {
    /// What a rod of a linkage passes.
    pub(crate) fn of(linkage: &Linkage, radius: f64) -> Self {
        let span = |[low, high]: [f64; 2]| high - low;
        let follower = linkage.follows.as_ref().map_or(0.0, |range| span(*range));
        let own = span(linkage.driver_range).max(follower);
        let poses = |span: f64| {
            let enough = |&steps: &u32| f64::from(steps) * TURN >= span;
            (2..MOST_STEPS).find(enough).unwrap_or(MOST_STEPS) + 1
        };
        let grids = linkage.grids(poses(own), poses(2.0 * linkage.other));
        let grid = |rows: Vec<Vec<_>>| {
            let count = [rows.first().map_or(0, Vec::len), rows.len()];
            let poses = rows.into_iter().flatten();
            Grid::of(count, poses.map(|pose| linkage.ends_at(pose)).collect())
        };
        Self {
            radius,
            grids: grids.into_iter().map(grid).collect(),
        }
    }

    /// A ball that all of it lies within: its centre and radius.
    pub(crate) fn within(&self) -> (Place, f64) {
        let Some([from, to]) = self.grids.first().and_then(Grid::middle) else {
            return (Place::origin(), 0.0);
        };
        let centre = nalgebra::center(&from, &to);
        let ends = self.grids.iter().flat_map(|grid| &grid.ends).flatten();
        let farthest = ends.map(|end| (end - centre).norm()).fold(0.0, f64::max);
        (centre, farthest + self.radius)
    }

    /// A hull of what it takes in plan between two heights, mm, the lower first, and of a clearance, mm, around it;
    /// empty where it does not pass there.
    pub(crate) fn plan_between(&self, [low, high]: [f64; 2], clearance: f64) -> Outline {
        let radius = self.radius + clearance;
        let poses = self.grids.iter().flat_map(|grid| &grid.ends);
        let within = poses.filter_map(|&[start, end]| {
            // As far as its skin is between them.
            between([start, end], [low - self.radius, high + self.radius])
        });
        let discs = within.flatten().map(|end| Disc {
            centre: Point::new(end.x, end.y),
            radius,
        });
        Outline::hull(&discs.collect::<Vec<_>>())
    }

    /// Distance of a place from it; 0 or less inside. Told a `best`, it may answer less than a distance above
    /// that, but no less than the best.
    pub(crate) fn distance(&self, place: Place, best: f64) -> f64 {
        let best = best + self.radius;
        let off = self.grids.iter().map(|grid| grid.distance(place, best));
        off.fold(f64::INFINITY, f64::min) - self.radius
    }

    /// A bound that the distance between its middle line and another's does not come below, mm.
    pub(crate) fn at_least(&self, other: &Self) -> f64 {
        let all = self
            .grids_with(other)
            .map(|(own, theirs)| own.at_least(theirs));
        all.fold(f64::INFINITY, f64::min)
    }

    /// Where its middle line and that of another, which moves without regard to it, come nearest to each other, its
    /// own place first: from poses on that are nearer than all beside them, both are followed.
    pub(crate) fn nearest_places(&self, other: &Self) -> Option<[Place; 2]> {
        let mut found = None::<(f64, [Place; 2])>;
        for (own, theirs) in self.grids_with(other) {
            let below = found.map_or(f64::INFINITY, |(off, _)| off);
            found = own.nearest_places(theirs, below).or(found);
        }
        found.map(|(_, places)| places)
    }

    fn grids_with<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (&'a Grid, &'a Grid)> {
        let own = self.grids.iter();
        own.flat_map(|own| other.grids.iter().map(move |theirs| (own, theirs)))
    }
}

impl Grid {
    fn of(count: [usize; 2], ends: Vec<[Place; 2]>) -> Self {
        let mut grid = Self {
            count,
            ends,
            strays: Vec::new(),
            farthest: 0.0,
        };
        grid.strays = (0..grid.ends.len()).map(|pose| grid.stray(pose)).collect();
        let middle = grid.middle();
        let moved = |ends| middle.map_or(0.0, |middle| moved(middle, ends));
        grid.farthest = grid.ends.iter().copied().map(moved).fold(0.0, f64::max);
        grid
    }

    fn middle(&self) -> Option<[Place; 2]> {
        self.ends.get(self.ends.len() / 2).copied()
    }

    /// Where a pose is along both turns.
    fn steps(&self, pose: usize) -> [usize; 2] {
        [pose % self.count[0], pose / self.count[0]]
    }

    /// Of a pose, itself and what is beside it, along one turn.
    fn beside(&self, pose: usize, axis: usize) -> impl Iterator<Item = usize> + use<> {
        let (at, count) = (self.steps(pose)[axis], self.count[axis]);
        let apart = if axis == 0 { 1 } else { self.count[0] };
        let steps = at.saturating_sub(1)..=(at + 1).min(count - 1);
        steps.map(move |step| pose + step * apart - at * apart)
    }

    fn stray(&self, pose: usize) -> f64 {
        let along = |axis| {
            let beside = self.beside(pose, axis);
            let far = beside.map(|other| moved(self.ends[pose], self.ends[other]));
            far.fold(0.0, f64::max) / 2.0
        };
        along(0) + along(1)
    }

    /// Distance of a place from the rod's middle line in its nearest pose: from those poses on that are nearer than
    /// all beside them, the rod is followed to where it is nearest.
    fn distance(&self, place: Place, best: f64) -> f64 {
        let off = |ends: [Place; 2]| off_rod(ends, place);
        let about = self.middle().map_or(f64::INFINITY, off) - self.farthest;
        if about >= best {
            return about;
        }
        let offs: Vec<f64> = self.ends.iter().copied().map(off).collect();
        let bound = |pose: usize| offs[pose] - self.strays[pose];
        let least = (0..offs.len()).map(bound).fold(f64::INFINITY, f64::min);
        if least >= best {
            return least;
        }
        let mut found = offs.iter().copied().fold(f64::INFINITY, f64::min);
        for pose in self.least(&offs) {
            if bound(pose) < found.min(best) {
                let (patch, from) = Patch::about(self, pose);
                let off = |at: [f64; 2]| off(patch.ends(at));
                found = found.min(followed(patch.ranges, from, off).1);
            }
        }
        found
    }

    /// Those poses in which something is no more than in all beside them.
    fn least(&self, of: &[f64]) -> impl Iterator<Item = usize> {
        (0..of.len()).filter(|&pose| {
            let rows = self.beside(pose, 1);
            let mut beside = rows.flat_map(|pose| self.beside(pose, 0));
            beside.all(|other| of[pose] <= of[other])
        })
    }

    fn at_least(&self, other: &Self) -> f64 {
        let middles = self.middle().zip(other.middle());
        middles.map_or(f64::INFINITY, |(own, theirs)| {
            apart(places(own, theirs)) - self.farthest - other.farthest
        })
    }

    /// Where rods of both come nearest to each other, and how near, if that is less than `below`.
    fn nearest_places(&self, other: &Self, below: f64) -> Option<(f64, [Place; 2])> {
        // Of each pose the nearest of the other's, and how near it is.
        let nearest_of = |&own: &[Place; 2]| {
            let all = other.ends.iter().map(|theirs| apart(places(own, *theirs)));
            let all = all.enumerate();
            all.reduce(|a, b| if b.1 < a.1 { b } else { a })
        };
        let nearest: Vec<(usize, f64)> = self.ends.iter().filter_map(nearest_of).collect();
        let offs: Vec<f64> = nearest.iter().map(|(_, off)| *off).collect();
        let (mut below, mut found) = (below, None);
        for pose in self.least(&offs) {
            let (theirs, off) = nearest[pose];
            if off - self.strays[pose] - other.strays[theirs] >= below {
                continue;
            }
            let ((own, [a, b]), (theirs, [c, d])) =
                (Patch::about(self, pose), Patch::about(other, theirs));
            let [[own_a, own_b], [their_c, their_d]] = [own.ranges, theirs.ranges];
            let between = |[a, b, c, d]: [f64; 4]| places(own.ends([a, b]), theirs.ends([c, d]));
            let ranges = [own_a, own_b, their_c, their_d];
            let (at, off) = followed(ranges, [a, b, c, d], |at| apart(between(at)));
            if off < below {
                (below, found) = (off, Some((off, between(at))));
            }
        }
        found
    }
}

/// Three by three poses that stand beside each other in a grid; where it has one along a turn, that one thrice.
struct Patch {
    /// The ends in them, row by row.
    ends: [[[Way; 2]; 3]; 3],
    /// How far it reaches along each turn from its middle, in steps of the grid.
    ranges: [[f64; 2]; 2],
}

impl Patch {
    /// One about a pose of a grid, and where the pose is in it, in steps of the grid from its middle.
    fn about(grid: &Grid, pose: usize) -> (Self, [f64; 2]) {
        let [own, row] = [0, 1].map(|axis| three(grid.steps(pose)[axis], grid.count[axis]));
        let ends = |own: usize, row: usize| grid.ends[row * grid.count[0] + own];
        let patch = Self {
            ends: row.map(|row| own.map(|own| ends(own, row).map(|end| end.coords))),
            ranges: grid
                .count
                .map(|count| if count > 1 { [-1.0, 1.0] } else { [0.0; 2] }),
        };
        let [at, up] = grid.steps(pose);
        let from_middle = |at: usize, [first, _, last]: [usize; 3]| {
            f64::from(u8::from(at == last)) - f64::from(u8::from(at == first))
        };
        (patch, [from_middle(at, own), from_middle(up, row)])
    }

    /// The ends between its poses, as a polynomial of the second degree in each turn tells them.
    fn ends(&self, at: [f64; 2]) -> [Place; 2] {
        let [own, other] =
            at.map(|at| [at * (at - 1.0) / 2.0, 1.0 - at * at, at * (at + 1.0) / 2.0]);
        let mut ends = [Way::zeros(); 2];
        for (row, other) in self.ends.iter().zip(other) {
            for (pose, own) in row.iter().zip(own) {
                for (sum, end) in ends.iter_mut().zip(pose) {
                    *sum += end * (own * other);
                }
            }
        }
        ends.map(Place::from)
    }
}

/// Where something comes to from a place within `ranges`, in steps of a grid, followed to where it is least; and how
/// much it is there.
fn followed<const N: usize>(
    ranges: [[f64; 2]; N],
    from: [f64; N],
    of: impl Fn([f64; N]) -> f64,
) -> ([f64; N], f64) {
    let value = |at| -of(at);
    let start = (from, value(from));
    let (at, value) = search::climbed(&ranges, start, [1.0; N], SHORTEST, value);
    (at, -value)
}

/// The middle of three steps that are nearest to one of some, and those beside it.
fn three(at: usize, count: usize) -> [usize; 3] {
    if count < 3 {
        return [at; 3];
    }
    let middle = at.clamp(1, count - 2);
    [middle - 1, middle, middle + 1]
}

/// How far any place of a rod moves at most from some ends to others.
fn moved(from: [Place; 2], to: [Place; 2]) -> f64 {
    let [one, other] = [0, 1].map(|end| (to[end] - from[end]).norm());
    one.max(other)
}

fn off_rod([start, end]: [Place; 2], place: Place) -> f64 {
    (Straight { start, end }.nearest(place) - place).norm()
}

/// Where two rods come nearest to each other.
fn places([start, end]: [Place; 2], [from, to]: [Place; 2]) -> [Place; 2] {
    let theirs = Straight {
        start: from,
        end: to,
    };
    Straight { start, end }.nearest_places(&theirs)
}

fn apart([from, to]: [Place; 2]) -> f64 {
    (to - from).norm()
}

/// What of a straight way lies between two heights, mm.
fn between([start, end]: [Place; 2], [low, high]: [f64; 2]) -> Option<[Place; 2]> {
    let (lowest, highest) = (start.z.min(end.z), start.z.max(end.z));
    if lowest > high || highest < low {
        return None;
    }
    let rise = end.z - start.z;
    let cut = |at: Place| {
        let z = at.z.max(low).min(high);
        if z == at.z {
            return at;
        }
        start + (end - start) * ((z - start.z) / rise)
    };
    Some([cut(start), cut(end)])
}
