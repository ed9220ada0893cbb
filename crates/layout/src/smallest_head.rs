//! The smallest head that takes a plate: a wall to build round what is there already.
//!
//! It holds whatever a rule keeps from the wall in the plate's plane: plate, ring sweeps, lids, lugs and guard,
//! each with the clearance that is wanted. Two things do not count, since they are led to a wall that stands
//! and can be led anew: sheaths, and ties with their anchor holes.

use std::f64::consts::PI;

use crate::closed_curve::{self, CurveOf};
use crate::geometry::bounded::Bounded;
use crate::geometry::hull::Disc;
use crate::geometry::outline::{MOST_CHORDS, Outline};
use crate::geometry::{Point, polygon};
use crate::laid::{Laid, LaidEye};
use crate::lever_sweep::LeverSweep;
use crate::limits::Rule;
use crate::problem::Problem;
use crate::project::Project;

/// Radius, mm, of the wall's inward corners, between a lid and the plate's end, say. Papier-mâché, foam or felt
/// follows it without a crease; a larger one gives a rounder and larger head. Own choice.
pub const CLOSING: f64 = 20.0;

/// How much more than the wanted clearance is kept, mm, so that nothing that is laid or rounded anew makes a
/// margin tight: corners of the wall stay rounder than the clearance, and a plate that follows the head can be
/// laid in them. A tenth of what a saw wanders; own choice.
const SPARE: f64 = 0.05;

/// How far outside the curve its points may run, mm, in the finest of [`POINT_TRIES`]. Finer points turn so
/// little from one to the next that an offset of them, such as a plate that follows the head, loses its way
/// among their ends. Own choice.
const POINTS_WITHIN: f64 = 0.1;

/// How often the points are taken four times as coarsely until there are few enough: the last time they run
/// within 2 mm, and no plate that can be entered needs that.
const POINT_TRIES: usize = 3;

/// Places per mm that points keep: less is lost than [`SPARE`].
const ROUNDING: f64 = 10_000.0;

/// The smallest head outline for a plate, in the plate's frame, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SmallestHead {
    /// The inside wall at the plate: lines and arcs, counter-clockwise.
    pub outline: Outline,
    /// The same as straight pieces that run nowhere inside it: what the head's own outline can be.
    pub points: Vec<[f64; 2]>,
    /// Its width and height.
    pub size: [f64; 2],
}

/// One thing that the wall stands off.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The rule that keeps it from the wall.
    pub rule: Rule,
    /// Its shape in the plate's plane.
    pub outline: Outline,
    /// The clearance that the rule wants, mm; none where it is content with less than none.
    pub clearance: f64,
}

/// Finds the smallest head outline for the plate as it is laid: the least curve round everything in [`kept`]
/// whose inward corners have a radius of [`CLOSING`]; where things stand too far apart to be joined by that,
/// their hull. A plate that follows the head is taken as it is now.
///
/// # Errors
/// If there is no plate, or if the curve is none that a head can have.
pub fn smallest_head(project: &Project, laid: &Laid) -> Result<SmallestHead, Problem> {
    if laid.plate.is_empty() {
        return Err(Problem::new(
            "plate.outline",
            "There is no plate to build a head round.",
            "Change the outline's style or range, or seat an eye.",
        ));
    }
    let kept = kept(project, laid);
    let around = |outline: Outline| SmallestHead::around(outline, &kept);
    let closed = closed(&kept).and_then(around);
    closed
        .or_else(|| hull(&kept).and_then(around))
        .ok_or_else(|| {
            Problem::new(
                "plate.outline",
                "No head can be built round this plate and what stands on it.",
                "Look for a size or a wanted clearance that is far too large.",
            )
        })
}

/// Everything that a rule keeps from the wall, but for sheaths: what cannot be made does not count.
pub fn kept(project: &Project, laid: &Laid) -> Vec<Kept> {
    let of = |rule: Rule, outline: Outline| {
        let limit = project.limits.of(rule, project.plate.thickness);
        Kept {
            rule,
            outline,
            clearance: limit.wanted.max(0.0),
        }
    };
    let of_eye = |eye: &LaidEye| {
        let sweep = eye.sweep().map(|disc| (Rule::SweepWall, disc));
        let lids = eye.lids.as_ref().map(|lids| {
            let (centre, radius) = (eye.centre, lids.outer_radius);
            (Rule::LidWall, Disc { centre, radius })
        });
        let discs = sweep.into_iter().chain(lids);
        let discs = discs.map(|(rule, disc)| of(rule, Outline::hull(&[disc])));
        let lugs = eye.lugs.iter().flatten();
        let lugs = lugs.map(|lug| of(Rule::LugWall, lug.plan()));
        discs.chain(lugs).collect::<Vec<_>>()
    };
    let levers = laid.levers.iter().filter_map(LeverSweep::plan_of_bar);
    let levers = levers.map(|(_, plan)| of(Rule::LidWall, plan));
    let guard = laid.guard.iter();
    [of(Rule::PlateWall, laid.plate.clone())]
        .into_iter()
        .chain(laid.eyes.iter().flat_map(of_eye))
        .chain(levers)
        .chain(guard.map(|guard| of(Rule::GuardWall, guard.plan())))
        .collect()
}

/// The union of all with their clearances, closed by [`CLOSING`]: grown by that and shrunk again. None if it
/// stays in pieces.
fn closed(kept: &[Kept]) -> Option<Outline> {
    let mut pieces: Vec<Outline> = Vec::new();
    for one in kept {
        let mut whole = one.outline.inset(-(one.clearance + SPARE + CLOSING));
        let mut apart = Vec::new();
        for piece in pieces {
            match only(whole.with(&piece).edges) {
                Some(both) => whole = both,
                None => apart.push(piece),
            }
        }
        pieces = apart;
        pieces.push(whole);
    }
    let whole = only(pieces)?;
    only(whole.grown(-CLOSING).edges)
}

/// The hull of all with their clearances, with straight pieces for the arcs between them.
fn hull(kept: &[Kept]) -> Option<Outline> {
    let grown = |one: &Kept| one.outline.inset(-(one.clearance + SPARE)).flattened();
    let corners: Vec<Point> = kept.iter().flat_map(grown).collect();
    let hull = Outline::polygon(&polygon::convex_hull(&corners));
    // What flattening took off.
    only(hull.grown(polygon::FLATTENING).edges)
}

fn only(pieces: Vec<Outline>) -> Option<Outline> {
    let mut pieces = pieces.into_iter();
    pieces.next().filter(|_| pieces.next().is_none())
}

impl SmallestHead {
    /// The head with this outline; None unless a head can have it, and it keeps off everything by what is
    /// wanted.
    fn around(outline: Outline, kept: &[Kept]) -> Option<Self> {
        let [low, high] = outline.bounds()?;
        let size = [high.x - low.x, high.y - low.y];
        // Finer points would take more chords than an arc gets: they cut off up to r·(π/chords)²/2.
        let finest = POINTS_WITHIN.max(size[0].max(size[1]) * (PI / MOST_CHORDS).powi(2));
        let mut tries = (0..POINT_TRIES).scan(finest, |within, _| {
            let points = points_outside(&outline, *within);
            *within *= 4.0;
            Some(points)
        });
        let sound = |points: &Vec<[f64; 2]>| {
            let wall = Bounded::of(&Outline::polygon(&polygon::through(points, false)));
            let holds = |one: &Kept| {
                let room = wall.as_ref().and_then(|wall| one.outline.room_inside(wall));
                room.is_some_and(|room| room.distance >= one.clearance)
            };
            closed_curve::check(CurveOf::Head, "head.outline", points, false).is_ok()
                && kept.iter().all(holds)
        };
        let points = tries.find(sound)?;
        Some(Self {
            outline,
            points,
            size,
        })
    }
}

/// Points round the outline whose straight connections run nowhere inside it, and at most `within` mm outside.
fn points_outside(outline: &Outline, within: f64) -> Vec<[f64; 2]> {
    // Chords cut off a quarter, and as much goes with corners that are left out: both may go either way.
    let quarter = within / 4.0;
    let outside = outline.inset(-2.0 * quarter);
    let corners = polygon::thinned(&outside.flattened_within(quarter), quarter);
    let rounded = |along: f64| (along * ROUNDING).round() / ROUNDING;
    let rounded = |at: &Point| [rounded(at.x), rounded(at.y)];
    corners.iter().map(rounded).collect()
}
