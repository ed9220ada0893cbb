//! Single entities as straight and cubic pieces.

use std::f64::consts::TAU;

use kurbo::{Affine, Line, PathSeg, Point, Vec2};

use super::polyline;
use super::sections::Entity;
use super::spline;
use crate::IntakeError;
use crate::curve::round;

/// What an entity comes to in the drawing's plane.
pub(super) enum Drawn {
    /// Pieces in a row; none for what has no outline, such as a text.
    Pieces {
        /// The pieces.
        pieces: Vec<PathSeg>,
        /// Whether the last is joined to the first.
        closed: bool,
    },
    /// It lies aslant in space.
    Aslant,
}

/// The pieces of one entity.
pub(super) fn draw_one(entity: &Entity<'_>) -> Result<Drawn, IntakeError> {
    // These are in the plane that their extrusion direction says, the others in the world's.
    let in_own_plane = ["CIRCLE", "ARC", "LWPOLYLINE", "POLYLINE", "ELLIPSE"];
    let facing = if in_own_plane.contains(&entity.kind) {
        facing(entity)?
    } else {
        Some(Affine::IDENTITY)
    };
    let Some(facing) = facing else {
        return Ok(Drawn::Aslant);
    };
    let (pieces, closed) = match entity.kind {
        "LINE" => {
            let line = Line::new(entity.point(10)?, entity.point(11)?);
            (vec![PathSeg::Line(line)], false)
        }
        "CIRCLE" => (circle(entity, 0.0, TAU)?, true),
        "ARC" => (arc(entity)?, false),
        "ELLIPSE" => return ellipse(entity, facing.determinant()),
        "LWPOLYLINE" => polyline::light(entity)?,
        "POLYLINE" => polyline::heavy(entity)?,
        "SPLINE" => (spline::pieces(entity)?, false),
        _ => (Vec::new(), false),
    };
    let pieces = pieces.into_iter().map(|piece| facing * piece).collect();
    Ok(Drawn::Pieces { pieces, closed })
}

/// From the plane that an entity's extrusion direction says to the world's: the same seen from the
/// front, mirrored from the back, None for a plane that lies aslant.
pub(super) fn facing(entity: &Entity<'_>) -> Result<Option<Affine>, IntakeError> {
    /// Cosine of the greatest lean that rounding explains.
    const UPRIGHT: f64 = 1.0 - 1e-6;
    let [x, y] = [entity.number_or(210, 0.0)?, entity.number_or(220, 0.0)?];
    let z = entity.number_or(230, 1.0)?;
    let lean = z / x.hypot(y).hypot(z);
    Ok(if lean >= UPRIGHT {
        Some(Affine::IDENTITY)
    } else if lean <= -UPRIGHT {
        Some(Affine::FLIP_X)
    } else {
        None
    })
}

fn circle(entity: &Entity<'_>, start: f64, sweep: f64) -> Result<Vec<PathSeg>, IntakeError> {
    let radius = entity.needed(40)?;
    let (along, across) = (Vec2::new(radius, 0.0), Vec2::new(0.0, radius));
    Ok(round(entity.point(10)?, along, across, start, sweep))
}

/// An arc runs counter-clockwise from its start to its end angle, degrees.
fn arc(entity: &Entity<'_>) -> Result<Vec<PathSeg>, IntakeError> {
    let (start, end) = (
        entity.needed(50)?.to_radians(),
        entity.needed(51)?.to_radians(),
    );
    circle(entity, start, turn(start, end))
}

/// An ellipse is in the world's coordinates; its extrusion direction only says which way it runs.
fn ellipse(entity: &Entity<'_>, way: f64) -> Result<Drawn, IntakeError> {
    let along = Vec2::new(entity.needed(11)?, entity.needed(21)?);
    let across = along.turn_90() * (entity.needed(40)? * way);
    let (start, end) = (entity.number_or(41, 0.0)?, entity.number_or(42, TAU)?);
    let sweep = turn(start, end);
    let pieces = round(entity.point(10)?, along, across, start, sweep);
    Ok(Drawn::Pieces {
        pieces,
        closed: TAU - sweep < 1e-6,
    })
}

/// How far it is from one angle counter-clockwise to another, radians; all the way round if they are
/// the same.
fn turn(start: f64, end: f64) -> f64 {
    let turn = (end - start).rem_euclid(TAU);
    if turn < 1e-9 { TAU } else { turn }
}

/// The straight piece between two corners, or the arc that a bulge makes of it: the tangent of a
/// quarter of its turn, positive counter-clockwise.
pub(super) fn bulged(from: Point, to: Point, bulge: f64) -> Vec<PathSeg> {
    /// A flatter bulge stands less than a nanometre off a line a metre long.
    const STRAIGHT: f64 = 1e-9;
    if from == to {
        return Vec::new();
    }
    if bulge.abs() < STRAIGHT {
        return vec![PathSeg::Line(Line::new(from, to))];
    }
    let to_centre = (to - from).turn_90() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let centre = from.midpoint(to) + to_centre;
    let out = from - centre;
    round(centre, out, out.turn_90(), 0.0, 4.0 * bulge.atan())
}
