//! Polylines of both kinds: corners, each with the bulge of the piece that follows it.

use kurbo::{PathSeg, Point};

use super::entities::bulged;
use super::pairs::Pair;
use super::sections::Entity;
use crate::IntakeError;

/// The flag of a polyline that is closed.
const CLOSED: i64 = 1;
/// The flags of a polyline that is a mesh or a body of faces.
const MESH: i64 = 16 | 64;
/// The flag of a corner that only pulls a smoothed curve.
const PULLS: i64 = 16;

/// A corner and the bulge of the piece that follows it.
type Corner = (Point, f64);

/// An `LWPOLYLINE`, whose corners stand in a row, and whether it is closed.
pub(super) fn light(entity: &Entity<'_>) -> Result<(Vec<PathSeg>, bool), IntakeError> {
    let mut corners: Vec<Corner> = Vec::new();
    for pair in entity.pairs {
        match (pair.code, corners.last_mut()) {
            (10, _) => corners.push((Point::new(pair.number()?, 0.0), 0.0)),
            (20, Some(corner)) => corner.0.y = pair.number()?,
            (42, Some(corner)) => corner.1 = pair.number()?,
            _ => {}
        }
    }
    Ok(pieces(&corners, entity.whole(70)? & CLOSED != 0))
}

/// A `POLYLINE`, whose corners are entities of their own, and whether it is closed.
pub(super) fn heavy(entity: &Entity<'_>) -> Result<(Vec<PathSeg>, bool), IntakeError> {
    let flags = entity.whole(70)?;
    if flags & MESH != 0 {
        return Ok((Vec::new(), false));
    }
    let mut corners = Vec::with_capacity(entity.corners.len());
    for pairs in &entity.corners {
        let number = |code: i32| {
            let pair = pairs.iter().find(|pair| pair.code == code);
            pair.map_or(Ok(0.0), Pair::number)
        };
        let pulls = pairs
            .iter()
            .find(|pair| pair.code == 70)
            .map_or(Ok(0), Pair::whole)?
            & PULLS;
        if pulls == 0 {
            corners.push((Point::new(number(10)?, number(20)?), number(42)?));
        }
    }
    Ok(pieces(&corners, flags & CLOSED != 0))
}

fn pieces(corners: &[Corner], closed: bool) -> (Vec<PathSeg>, bool) {
    let count = corners.len();
    let ends = if closed {
        count
    } else {
        count.saturating_sub(1)
    };
    let piece = |index: usize| {
        let ((from, bulge), (to, _)) = (corners[index], corners[(index + 1) % count]);
        bulged(from, to, bulge)
    };
    ((0..ends).flat_map(piece).collect(), closed)
}
