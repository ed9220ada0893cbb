//! The plate cut by an upright plane across x: depth behind the front face to the right, y up, mm.

use crate::cable_hole::CableHole;
use crate::geometry::{Point, polygon};
use crate::laid::{Laid, LaidEye};
use crate::project::Project;
use crate::seat::Seat;

/// Steps through the plate's thickness in which a round wall is drawn: over a plate as thick as a ball's
/// radius they stay within a thousandth of that radius.
const STEPS: u32 = 16;

/// A piece of the plate: its lower and its upper wall, each from the front face to the back face.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The lower wall.
    pub lower: Vec<Point>,
    /// The upper wall.
    pub upper: Vec<Point>,
}

impl Piece {
    /// Its whole edge.
    pub fn edge(&self) -> Vec<Point> {
        self.lower
            .iter()
            .chain(self.upper.iter().rev())
            .copied()
            .collect()
    }
}

/// A hole in the plate: where it begins and ends along y at each depth.
type Hole = Vec<[f64; 2]>;

/// The pieces of the plate in the plane at `x`, mm, from the lowest up, with openings, slots and cable holes
/// cut out; `edge` is the plate's edge, by its corners.
pub fn pieces(project: &Project, laid: &Laid, edge: &[Point], x: f64) -> Vec<Piece> {
    let thickness = project.plate.thickness;
    let depths: Vec<f64> = (0..=STEPS)
        .map(|step| thickness * f64::from(step) / f64::from(STEPS))
        .collect();
    let openings = laid.eyes.iter().enumerate();
    let openings =
        openings.filter_map(|(index, eye)| opening(eye, &project.parts_of(index).seat, x, &depths));
    let cable_holes = laid.cable_holes().map(CableHole::outline);
    let straight = laid.slots.iter().cloned().chain(cable_holes);
    let straight = straight.flat_map(|hole| polygon::spans(&hole.flattened(), x));
    let mut holes: Vec<Hole> = openings
        .chain(straight.map(|span| vec![span; depths.len()]))
        .collect();
    holes.sort_by(|a, b| a[0][0].total_cmp(&b[0][0]));
    polygon::spans(edge, x)
        .into_iter()
        .flat_map(|span| without(span, &holes, &depths))
        .collect()
}

/// The opening of an eye in the plane at `x`; None if the plane misses it.
fn opening(eye: &LaidEye, seat: &Seat, x: f64, depths: &[f64]) -> Option<Hole> {
    let fit = eye.seat.as_ref().ok()?;
    let off = x - eye.centre.x;
    let radius = |depth: f64| match seat {
        Seat::Plain { .. } => fit.opening_front,
        // A zone of a sphere about the ball's centre.
        Seat::Spherical { .. } => {
            let (front, below) = (fit.opening_front, fit.centre_height + depth);
            let square = front * front + fit.centre_height * fit.centre_height - below * below;
            square.max(0.0).sqrt()
        }
    };
    let half = |depth: &f64| (radius(*depth).powi(2) - off * off).max(0.0).sqrt();
    let hole: Hole = depths
        .iter()
        .map(half)
        .map(|half| [eye.centre.y - half, eye.centre.y + half])
        .collect();
    hole.iter().any(|[low, high]| high > low).then_some(hole)
}

/// What holes leave of a span of the plate.
fn without([bottom, top]: [f64; 2], holes: &[Hole], depths: &[f64]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut lower = vec![bottom; depths.len()];
    let mut close = |lower: &[f64], upper: &[f64]| {
        let wall = |ys: &[f64]| {
            depths
                .iter()
                .zip(ys)
                .map(|(&depth, &y)| Point::new(depth, y))
                .collect()
        };
        if lower.iter().zip(upper).any(|(lower, upper)| upper > lower) {
            let upper: Vec<f64> = lower
                .iter()
                .zip(upper)
                .map(|(lower, upper)| upper.max(*lower))
                .collect();
            pieces.push(Piece {
                lower: wall(lower),
                upper: wall(&upper),
            });
        }
    };
    for hole in holes {
        let upper: Vec<f64> = hole.iter().map(|[low, _]| low.min(top)).collect();
        close(&lower, &upper);
        for (lower, [_, high]) in lower.iter_mut().zip(hole) {
            *lower = lower.max(*high);
        }
    }
    close(&lower, &vec![top; depths.len()]);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_leave_the_pieces_between_them() {
        let depths = [0.0, 3.0];
        let hole = vec![[-5.0, 5.0], [-4.0, 4.0]];
        let pieces = without([-20.0, 9.0], &[hole, vec![[6.0, 7.0]; 2]], &depths);
        let ends: Vec<_> = pieces
            .iter()
            .map(|piece| (piece.lower[0].y, piece.upper[0].y, piece.upper[1].y))
            .collect();
        assert_eq!(
            ends,
            [(-20.0, -5.0, -4.0), (5.0, 6.0, 6.0), (7.0, 9.0, 9.0)]
        );
    }

    #[test]
    fn a_hole_that_breaks_the_edge_leaves_no_piece_there() {
        let pieces = without([-20.0, 4.0], &[vec![[-5.0, 5.0]; 2]], &[0.0, 3.0]);
        assert_eq!(pieces.len(), 1);
        assert_eq!(pieces[0].upper[0].y, -5.0);
    }

    #[test]
    fn a_polygon_is_crossed_in_pairs() {
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0), (0.0, 4.0)];
        let corners = corners.map(|(x, y)| Point::new(x, y));
        assert_eq!(polygon::spans(&corners, 1.0), [[0.0, 2.5]]);
        assert!(polygon::spans(&corners, 9.0).is_empty());
    }
}
