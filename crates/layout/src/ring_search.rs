//! Finding the ring that lets an eye turn as far as its character looks, with the least play.

use crate::parts::Parts;
use crate::problem;
use crate::ring::Ring;
use crate::seat::{Seat, SeatFit};

/// Least flat left on the ring's front face between bore and bevel, mm: two lines of a usual
/// 0.4 mm nozzle. Own choice.
pub const LEAST_LAND: f64 = 0.8;

/// Least edge left on the ring's outside below its bevel, mm: three layers of 0.2 mm. Own choice.
pub const LEAST_EDGE: f64 = 0.6;

/// Thinnest ring, mm: thinner ones warp and give the glue no hold. Own choice.
pub const LEAST_THICKNESS: f64 = 1.2;

/// What is asked of a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Tilt that it must take, radians.
    pub tilt: f64,
    /// Clearance from the plate at that tilt, mm.
    pub clearance: f64,
    /// How much wider than the opening's back it must be, on the radius, mm.
    pub overlap: f64,
}

/// Why no ring does what is asked: the smallest single change after which one does, each with
/// everything else kept.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct NoRing {
    /// The greatest tilt that a ring reaches, radians.
    pub tilt: Option<f64>,
    /// The thickest plate that leaves room for a ring, mm.
    pub plate_thickness: Option<f64>,
    /// The greatest height of the ball's centre that leaves room for a ring, mm; None also for a
    /// plain seat, which has no such height to choose.
    pub centre_height: Option<f64>,
}

/// Finds the ring for a parts set in a plate of `thickness`, mm: [`least_play`] of its seat.
///
/// # Errors
/// [`NoRing`] if there is none, with what would have to change.
pub fn find_ring(parts: &Parts, thickness: f64, wanted: &Wanted) -> Result<Ring, NoRing> {
    let found = |seat: Seat, thickness: f64, wanted: &Wanted| {
        let seat = seat.fit(parts.ball_diameter, thickness).ok()?;
        least_play(&seat, wanted)
    };
    if let Some(ring) = found(parts.seat, thickness, wanted) {
        return Ok(ring);
    }
    let tilt = |tilt: f64| found(parts.seat, thickness, &Wanted { tilt, ..*wanted }).is_some();
    let plate = |thickness: f64| found(parts.seat, thickness, wanted).is_some();
    let centre_height = match parts.seat {
        Seat::Plain { .. } => None,
        Seat::Spherical {
            centre_height,
            running_clearance,
        } => greatest_below(centre_height, |centre_height| {
            let seat = Seat::Spherical {
                centre_height,
                running_clearance,
            };
            found(seat, thickness, wanted).is_some()
        }),
    };
    Err(NoRing {
        tilt: greatest_below(wanted.tilt, tilt),
        plate_thickness: greatest_below(thickness, plate),
        centre_height,
    })
}

/// Of all rings for the ball in `seat` that have the wanted overlap and keep the wanted clearance at
/// the wanted tilt, the one with the least play; of those, the thinnest.
///
/// The nearest point of a ring is an end of its bevel: at tilt θ they lie at the depths
/// d·cos θ − (r_o − b)·sin θ and (d + b)·cos θ − r_o·sin θ. Both grow with the bevel b and shrink with
/// the outer radius, so the ring is as narrow as the overlap lets it be and its bevel as large as
/// its land and its edge do; what is left is the least depth d, found by stepping and halving.
pub fn least_play(seat: &SeatFit, wanted: &Wanted) -> Option<Ring> {
    ring_at(seat, wanted, least_depth(seat, wanted)?)
}

/// Finest step that a maker sets on a printer or a lathe, mm.
const STEP_AT_THE_BENCH: f64 = 0.01;

/// A found ring in hundredths of a millimetre: rounded toward what is wanted, and then set deeper
/// until it does that again.
pub fn in_hundredths(ring: &Ring, seat: &SeatFit, wanted: &Wanted) -> Ring {
    let up = |mm: f64| (mm / STEP_AT_THE_BENCH - 1e-6).ceil() * STEP_AT_THE_BENCH;
    let down = |mm: f64| (mm / STEP_AT_THE_BENCH + 1e-6).floor() * STEP_AT_THE_BENCH;
    let does = |ring: &Ring| {
        ring.fit(*seat).is_ok_and(|fit| {
            fit.clearance(wanted.tilt) >= wanted.clearance
                && fit.retention_overlap() >= wanted.overlap
        })
    };
    /// Steps deeper that make up for all that rounding takes.
    const STEPS: u32 = 5;
    (0..=STEPS)
        .map(|step| Ring {
            depth: up(ring.depth + f64::from(step) * STEP_AT_THE_BENCH),
            thickness: down(ring.thickness),
            outer_diameter: up(ring.outer_diameter),
            bevel: down(ring.bevel),
        })
        .find(does)
        .unwrap_or(*ring)
}

/// The largest overlap of a ring with this bevel and its front at `depth`, both mm, that still keeps
/// the wanted clearance at the wanted tilt, mm: how far the outer radius may grow until an end of the
/// bevel meets the plate. None without a tilt, where nothing limits it.
pub fn largest_overlap(seat: &SeatFit, bevel: f64, wanted: &Wanted, depth: f64) -> Option<f64> {
    let (sin, cos) = wanted.tilt.sin_cos();
    let kept = seat.back_depth + wanted.clearance;
    let inner_end = (depth * cos - kept) / sin + bevel;
    let outer_end = ((depth + bevel) * cos - kept) / sin;
    let outer = inner_end.min(outer_end);
    outer.is_finite().then_some(outer - seat.opening_back)
}

/// The greatest bevel of a ring whose front lies at `depth`, mm; None if no ring can be made there.
fn greatest_bevel(seat: &SeatFit, wanted: &Wanted, depth: f64) -> Option<f64> {
    let ball = seat.ball_radius;
    let outer = seat.opening_back + wanted.overlap;
    let bore = (ball * ball - depth * depth).max(0.0).sqrt();
    let bevel = (outer - LEAST_LAND - bore).min(ball - depth - LEAST_EDGE);
    (bevel >= 0.0 && ball - depth >= LEAST_THICKNESS).then_some(bevel)
}

/// The clearance beyond the wanted one that the best ring at `depth` has, mm.
fn spare(seat: &SeatFit, wanted: &Wanted, depth: f64) -> Option<f64> {
    let bevel = greatest_bevel(seat, wanted, depth)?;
    let outer = seat.opening_back + wanted.overlap;
    let (sin, cos) = wanted.tilt.sin_cos();
    let inner_end = depth * cos - (outer - bevel) * sin;
    let outer_end = (depth + bevel) * cos - outer * sin;
    Some(inner_end.min(outer_end) - seat.back_depth - wanted.clearance)
}

/// The least depth at which a ring does what is wanted, mm.
fn least_depth(seat: &SeatFit, wanted: &Wanted) -> Option<f64> {
    /// Step of the search, mm: far below what a ring's range of depths can be missed by.
    const STEP: f64 = 0.02;
    let enough = |depth: f64| spare(seat, wanted, depth).is_some_and(|spare| spare >= 0.0);
    let (start, end) = (seat.back_depth, seat.ball_radius - LEAST_THICKNESS);
    let steps = ((end - start) / STEP)
        .ceil()
        .clamp(0.0, problem::LARGEST / STEP);
    let (mut step, mut before) = (0.0, start);
    loop {
        let depth = (start + step * STEP).min(end);
        if depth >= start && enough(depth) {
            return Some(first_true(before, depth, enough));
        }
        before = depth;
        step += 1.0;
        if step > steps {
            return None;
        }
    }
}

/// The thinnest ring at `depth` that has the greatest bevel.
fn ring_at(seat: &SeatFit, wanted: &Wanted, depth: f64) -> Option<Ring> {
    let bevel = greatest_bevel(seat, wanted, depth)?;
    let thickness = (bevel + LEAST_EDGE).max(LEAST_THICKNESS);
    Some(Ring {
        depth,
        thickness: thickness.min(seat.ball_radius - depth),
        outer_diameter: 2.0 * (seat.opening_back + wanted.overlap),
        bevel,
    })
}

/// The greatest value below `from` that `holds`, found by stepping down and then halving.
fn greatest_below(from: f64, holds: impl Fn(f64) -> bool) -> Option<f64> {
    /// Steps from `from` to 0.
    const STEPS: u32 = 200;
    let at = |step: u32| from * f64::from(STEPS - step) / f64::from(STEPS);
    let step = (1..STEPS).find(|&step| holds(at(step)))?;
    Some(first_true(at(step - 1), at(step), holds))
}

/// Where a condition that is false at `low` and true at `high` becomes true, on its true side.
pub(crate) fn first_true(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    // Sixty halvings take any range of this program below the last digit.
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}
