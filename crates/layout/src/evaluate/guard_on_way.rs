//! How near a straight round piece that moves from pose to pose, a rod or the lever of a gaze, comes to the guard.

use super::Rules;
use super::on_way::Moving;
use crate::geometry::space::{Near, Off, Place};
use crate::guard::{BesideHand, Guard};
use crate::simplex::{Found, Ground};
use crate::turned::Pose;
use crate::wording;

/// Places along a piece that are looked at first.
const SHARES: usize = 4;

/// The sides of the last simplex: two turns, radians, and a share of a piece's length.
const LAST: [f64; 3] = [0.05, 0.05, 0.1];

impl Rules<'_> {
    /// How near a round piece of a radius, mm, comes to the guard's mesh on its way; or how far behind the guard,
    /// where the hand is.
    pub(super) fn moving_and_guard(
        &mut self,
        part: String,
        moving: &impl Moving,
        radius: f64,
        guard: &Guard,
    ) {
        let near = { moving.grids().into_iter() }
            .filter_map(|rows| nearest_over(moving, &rows, guard))
            .reduce(Near::or_nearer);
        if let Some(near) = near {
            let distance = near.distance - radius;
            self.near_guard(part, Near { distance, ..near }, wording::moved_and_guard);
        }
    }
}

/// Where the middle of a piece comes nearest to the guard over a grid of poses, or deepest where the hand is.
///
/// Where it comes there, it is led on by how deep it is alone: that has creases, where the nearest way out changes, but
/// no leaps as beside the hand's place.
fn nearest_over(moving: &impl Moving, rows: &[Vec<Pose>], guard: &Guard) -> Option<Near> {
    let grid = Grid::of(moving, rows)?;
    let off = |place: Place| guard.off(place);
    let deep = |place: Place| BesideHand(guard).off(place, 0.0);
    let looked = grid.looked(off);
    let starts = if looked.iter().any(|off| *off < 0.0) {
        let ground = grid.ground(deep);
        ground.least_from(grid.counts(), &grid.looked(deep))
    } else {
        grid.ground(off).least_from(grid.counts(), &looked)
    };
    let led_on = |start: Found<3>| {
        grid.near(if start.1 < 0.0 {
            grid.ground(deep).settled(start, LAST)
        } else {
            grid.ground(off).descended(start, LAST)
        })
    };
    starts.into_iter().map(led_on).reduce(Near::or_nearer)
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

    fn counts(&self) -> [usize; 3] {
        [self.ends[0].len(), self.ends.len(), SHARES]
    }

    /// How far all places that are looked at are off something.
    fn looked(&self, off: impl Fn(Place) -> f64) -> Vec<f64> {
        let shares = (0..SHARES).map(|index| index as f64 / (SHARES - 1) as f64);
        let at = |share| {
            self.ends
                .iter()
                .flatten()
                .map(move |ends| along(*ends, share))
        };
        shares.flat_map(at).map(off).collect()
    }

    fn place(&self, [own, other, share]: [f64; 3]) -> Place {
        along(self.moving.ends_at(Pose { own, other }), share)
    }

    fn ground(&self, off: impl Fn(Place) -> f64) -> Ground<3, impl Fn([f64; 3]) -> f64> {
        Ground {
            ranges: self.ranges,
            steepest: self.steepest,
            of: move |at| off(self.place(at)),
        }
    }

    fn near(&self, (at, distance): Found<3>) -> Near {
        let at = self.place(at);
        Near { distance, at }
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
