//! How near the levers of lids, bars that turn in their own plane, come to the guard.

use super::Rules;
use crate::beside_hand::BesideHand;
use crate::geometry::space::{Near, Off, Piece, Place, Way};
use crate::guard::{self, Guard};
use crate::lever::THICKNESS;
use crate::lever_sweep::LeverSweep;
use crate::simplex::Ground;
use crate::wording;

/// How far within the side of the hand's place a level of a lever is looked at first that passes it, mm; half of what
/// lies within where that is less.
const WITHIN: f64 = 1e-3;

/// The sides of the first simplex from where an edge was found to be deep where the hand is: a share of a piece of it,
/// and mm between the lever's faces.
const SIMPLEX: [f64; 2] = [0.1, 0.5];

impl Rules<'_> {
    /// The levers of lids, all over their turns.
    pub(super) fn bars_and_guard(&mut self, guard: &Guard) {
        for lever in &self.laid.levers {
            if let Some(near) = guard_near(guard, lever) {
                let name = lever.part(self.project);
                self.near_guard(name, near, wording::moved_and_guard);
            }
        }
    }
}

/// How near the lever of a lid comes to the guard, or how deep where the hand is; None of any other lever.
///
/// It comes nearest with the edge round a face of what it passes, or to the rim of the mesh.
fn guard_near(guard: &Guard, lever: &LeverSweep) -> Option<Near> {
    let (edge, axis) = lever.edge_of_bar()?;
    let of_edges = || {
        let faces = [-THICKNESS / 2.0, THICKNESS / 2.0];
        let edges = faces.map(|face| level(&edge, axis * face)).concat();
        guard.mesh_near(&edges)
    };
    let near = deepest(guard, &edge, axis).or_else(of_edges)?;
    let rim = lever.near(&guard.rim(), near.distance, guard::PASSED_OVER);
    Some(rim.unwrap_or(near))
}

/// How deep the lever of a lid comes where the hand is. Straight behind each place of it another is no less deep: the
/// deepest lies on the edge round it, at some level between its faces and within the sides of the hand's place.
fn deepest(guard: &Guard, edge: &[Piece], axis: Way) -> Option<Near> {
    let start = edge.first()?.at(0.0);
    let side = guard.half_along_x();
    let within = |most: f64| {
        let faces = [start.x - THICKNESS / 2.0, start.x + THICKNESS / 2.0];
        faces.map(|face| face.max(-most).min(most))
    };
    let [from, to] = within(side);
    if from >= to {
        return None;
    }
    let levels = within(side - WITHIN.min((to - from) / 2.0)).map(|x| (x - start.x) * axis.x);
    let place = |[along, beside]: [f64; 2]| {
        let mut pieces = edge.iter().enumerate();
        let piece = pieces.rfind(|(index, _)| *index as f64 <= along);
        piece.map_or(start, |(index, piece)| piece.at(along - index as f64)) + axis * beside
    };
    let off = |at: [f64; 2]| BesideHand(guard).off(place(at), f64::INFINITY);
    let [low, high] = levels;
    let longest = edge.iter().map(Piece::length).fold(0.0, f64::max);
    let ground = Ground {
        ranges: [[0.0, edge.len() as f64], [low.min(high), low.max(high)]],
        steepest: [longest, 1.0],
        of: off,
    };
    let from = |beside: f64| {
        let near = guard.behind(&level(edge, axis * beside))?;
        let along = along(edge, near.at - axis * beside)?;
        let start = ([along, beside], near.distance);
        let (at, distance) = ground.settled(start, SIMPLEX);
        Some(Near {
            distance,
            at: place(at),
        })
    };
    levels.into_iter().filter_map(from).reduce(Near::or_nearer)
}

/// A line at another level.
fn level(line: &[Piece], by: Way) -> Vec<Piece> {
    line.iter().map(|piece| piece.shifted(by)).collect()
}

/// How far along a line of pieces a place of it lies: the index of its piece, and the share of that.
fn along(line: &[Piece], place: Place) -> Option<f64> {
    let off = |piece: &Piece| (piece.nearest(place) - place).norm_squared();
    let pieces = line.iter().enumerate();
    let (index, piece) = pieces.min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)))?;
    Some(index as f64 + piece.nearest_share(place))
}
