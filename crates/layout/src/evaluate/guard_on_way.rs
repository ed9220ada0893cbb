//! How near a straight round piece that moves from pose to pose, a rod or the lever of a gaze, comes to the guard.

use super::on_way::Moving;
use crate::beside_hand::BesideHand;
use crate::geometry::space::{Near, Place};
use crate::guard::Guard;
use crate::simplex::Ground;
use crate::turned::Pose;

/// Places along a piece that are looked at first.
const SHARES: usize = 4;

/// The sides of the last simplex: two turns, radians, and a share of a piece's length.
const LAST: [f64; 3] = [0.05, 0.05, 0.1];

/// How near a round piece of a radius, mm, comes to the guard's mesh on its way; or how deep where the hand is.
pub(super) fn guard_near(moving: &impl Moving, radius: f64, guard: &Guard) -> Option<Near> {
    let grids = moving.grids().into_iter();
    let of_middle = grids
        .filter_map(|rows| nearest_over(moving, &rows, guard))
        .reduce(Near::or_nearer)?;
    let distance = of_middle.distance - radius;
    Some(Near {
        distance,
        ..of_middle
    })
}

/// Where the middle of a piece comes deepest where the hand is over a grid of poses; else where it comes nearest to the
/// mesh.
fn nearest_over(moving: &impl Moving, rows: &[Vec<Pose>], guard: &Guard) -> Option<Near> {
    let grid = Grid::of(moving, rows)?;
    grid.deepest(guard).or_else(|| grid.nearest(guard))
}

/// A piece in the poses that are looked at first: its ends in rows of poses.
struct Grid<'a, M> {
    moving: &'a M,
    ends: Vec<Vec<[Place; 2]>>,
    /// Its own turns, the other ones, and shares of its length.
    ranges: [[f64; 2]; 3],
    /// About how far an end moves for a radian of each turn, and how long the piece is, mm: the most of all that was
    /// looked at.
    steepest: [f64; 3],
}

impl<'a, M: Moving> Grid<'a, M> {
    fn of(moving: &'a M, rows: &[Vec<Pose>]) -> Option<Self> {
        let (first, last) = (*rows.first()?.first()?, *rows.last()?.last()?);
        let row = |row: &Vec<Pose>| row.iter().map(|pose| moving.ends_at(*pose)).collect();
        let ends: Vec<Vec<[Place; 2]>> = rows.iter().map(row).collect();
        let ranges = [[first.own, last.own], [first.other, last.other], [0.0, 1.0]];
        Some(Self {
            steepest: steepest(&ends, &ranges),
            moving,
            ends,
            ranges,
        })
    }

    /// Where it comes deepest where the hand is; None where it comes there in no pose.
    fn deepest(&self, guard: &Guard) -> Option<Near> {
        let deepest = |ends: [Place; 2]| BesideHand(guard).deepest_of(ends);
        let [own, other, _] = self.ranges;
        let [for_own, for_other, _] = self.steepest;
        let ground = Ground {
            ranges: [own, other],
            steepest: [for_own, for_other],
            of: |at| deepest(self.ends_at(at)).1,
        };
        let looked: Vec<f64> = { self.ends.iter().flatten() }
            .map(|ends| deepest(*ends).1)
            .collect();
        let counts = [self.ends[0].len(), self.ends.len()];
        let [own, other, _] = LAST;
        let (at, distance) = ground.least_from(counts, &looked, 0.0, [own, other])?;
        let ends = self.ends_at(at);
        let at = along(ends, deepest(ends).0);
        Some(Near { distance, at })
    }

    /// Where it comes nearest to the mesh.
    fn nearest(&self, guard: &Guard) -> Option<Near> {
        let off = |place: Place| guard.distance(place.into());
        let ground = Ground {
            ranges: self.ranges,
            steepest: self.steepest,
            of: |at| off(self.place(at)),
        };
        let shares = (0..SHARES).map(|index| index as f64 / (SHARES - 1) as f64);
        let all = || self.ends.iter().flatten();
        let looked: Vec<f64> = shares
            .flat_map(|share| all().map(move |ends| off(along(*ends, share))))
            .collect();
        let counts = [self.ends[0].len(), self.ends.len(), SHARES];
        let (at, distance) = ground.least_from(counts, &looked, f64::INFINITY, LAST)?;
        let at = self.place(at);
        Some(Near { distance, at })
    }

    fn ends_at(&self, [own, other]: [f64; 2]) -> [Place; 2] {
        self.moving.ends_at(Pose { own, other })
    }

    fn place(&self, [own, other, share]: [f64; 3]) -> Place {
        along(self.ends_at([own, other]), share)
    }
}

/// See [`Grid::steepest`], of a piece whose ends lie in rows of poses over some ranges.
fn steepest(ends: &[Vec<[Place; 2]>], ranges: &[[f64; 2]; 3]) -> [f64; 3] {
    let apart = |a: &[Place; 2], b: &[Place; 2]| (a[0] - b[0]).norm().max((a[1] - b[1]).norm());
    let rows = ends.iter();
    let owns = rows.flat_map(|row| row.windows(2).map(|pair| apart(&pair[0], &pair[1])));
    let others =
        { ends.windows(2) }.flat_map(|rows| rows[0].iter().zip(&rows[1]).map(|(a, b)| apart(a, b)));
    let lengths = ends.iter().flatten().map(|[from, to]| (to - from).norm());
    let of_turn = |[low, high]: [f64; 2], apart: f64, count: usize| {
        if high > low {
            apart * (count - 1) as f64 / (high - low)
        } else {
            0.0
        }
    };
    [
        of_turn(ranges[0], owns.fold(0.0, f64::max), ends[0].len()),
        of_turn(ranges[1], others.fold(0.0, f64::max), ends.len()),
        lengths.fold(0.0, f64::max),
    ]
}

fn along([from, to]: [Place; 2], share: f64) -> Place {
    from + (to - from) * share
}
