//! Holes in the plate for cables and their sheaths.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::geometry::bounded::Bounded;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::space::{Piece, Place, Way};
use crate::geometry::{Gap, Point, Vector, polygon};
use crate::limits::TOLERANCE;
use crate::lug::Lug;
use crate::problem::{self, Problem};
use crate::tie::TieSlot;
use crate::ties::upward;

/// How much wider a hole is than its sheath, mm: printed holes come out 0.1 to 0.2 mm small, as
/// reported, and the sheath must still slide in. Own choice.
pub const CLEARANCE: f64 = 0.5;

/// The least cosine of a lean from square that a slot is made for, that of about 84°: beyond, the
/// sheath lies along the plate, and no slot would lead it through.
const LEAST_COS: f64 = 0.1;

/// How far a measured length may be off, mm: what callipers leave open. Own choice.
pub(crate) const MEASURED: f64 = 0.1;

/// A hole for a cable that a plate has: a slot with round ends, or a round hole. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlateHole {
    /// The centres of its round ends, one and the same for a round hole.
    pub ends: [[f64; 2]; 2],
    /// Its width.
    pub width: f64,
}

impl PlateHole {
    /// The hole in its plate.
    pub fn shape(&self) -> CableHole {
        CableHole {
            ends: self.ends.map(Point::from),
            radius: self.width / 2.0,
            lean: 0.0,
        }
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        for end in self.ends {
            problem::place(&format!("{at}.ends"), end)?;
        }
        problem::size(&format!("{at}.width"), self.width)
    }
}

impl From<&CableHole> for PlateHole {
    fn from(hole: &CableHole) -> Self {
        Self {
            ends: hole.ends.map(Into::into),
            width: 2.0 * hole.radius,
        }
    }
}

/// A slot along the lean of what passes it, mm. It passes the plate square to its faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CableHole {
    /// The centres of its two round ends, the same for a round hole.
    pub ends: [Point; 2],
    /// Half of its width.
    pub radius: f64,
    /// The lean of what passes it from square to the plate, radians.
    pub lean: f64,
}

impl CableHole {
    /// The holes that a sheath of a diameter needs on its way through a plate of a thickness, both mm,
    /// in the order of its `pieces`, which include the bare wire: for each stretch between the faces a
    /// slot (diameter + clearance) wide and that/cos i + (length of the stretch in plan) long; a
    /// straight stretch is t·tan i long there.
    pub fn along(pieces: &[Piece], sheath_diameter: f64, thickness: f64) -> Vec<Self> {
        let stretches = stretches(pieces, thickness);
        let hole = |stretch: &Stretch| Self::through(stretch, sheath_diameter + CLEARANCE);
        stretches.iter().map(hole).collect()
    }

    fn through(stretch: &Stretch, width: f64) -> Self {
        let plan = |place: Place| Point::new(place.x, place.y);
        let ends = stretch.ends.map(plan);
        let least_cos = stretch.headings.map(|way| way.z.abs());
        let cos = least_cos[0].min(least_cos[1]).clamp(LEAST_COS, 1.0);
        let leaning = stretch.headings[0];
        let along = (ends[1] - ends[0])
            .try_normalize(TOLERANCE)
            .or_else(|| Vector::new(leaning.x, leaning.y).try_normalize(0.0))
            .unwrap_or_else(Vector::x);
        let length = (ends[1] - ends[0]).norm() + width / cos;
        let to_end = along * ((length - width) / 2.0).max(0.0);
        let middle = nalgebra::center(&ends[0], &ends[1]);
        Self {
            ends: [middle - to_end, middle + to_end],
            radius: width / 2.0,
            lean: cos.acos(),
        }
    }

    /// Its middle.
    pub fn middle(&self) -> Point {
        nalgebra::center(&self.ends[0], &self.ends[1])
    }

    /// Length and width, mm.
    pub fn size(&self) -> [f64; 2] {
        let between = (self.ends[1] - self.ends[0]).norm();
        [between + 2.0 * self.radius, 2.0 * self.radius]
    }

    /// The direction of its long side, upward or to the right; None of a round hole.
    pub fn direction(&self) -> Option<Degrees> {
        let along = self.ends[1] - self.ends[0];
        let is_round = along.norm() <= TOLERANCE;
        (!is_round).then(|| upward(along.y.atan2(along.x).to_degrees()))
    }

    /// Area in plan, mm².
    pub fn area(&self) -> f64 {
        let [length, width] = self.size();
        (length - width) * width + PI * self.radius * self.radius
    }

    /// Its edge, counter-clockwise.
    pub fn outline(&self) -> Outline {
        self.outline_around(0.0)
    }

    /// Its edge with `margin`, mm, of room around it, counter-clockwise.
    pub fn outline_around(&self, margin: f64) -> Outline {
        Outline::hull(&self.discs(margin))
    }

    /// Its ends grown by `margin`, mm; their hull is the hole with that much around it.
    pub fn discs(&self, margin: f64) -> [Disc; 4] {
        let [a, b] = self.ends;
        let radius = self.radius + margin;
        [a, a, b, b].map(|centre| Disc { centre, radius })
    }

    /// The web between it and an opening, mm, negative if they overlap.
    pub(crate) fn gap_to_opening(&self, opening: Disc) -> Option<Gap> {
        let gap = polygon::gap_to_point(&self.ends, opening.centre)?;
        Some(gap.grown(self.radius).grown_to(opening.radius))
    }

    /// The web between it and a slot, mm, negative if they overlap.
    pub(crate) fn gap_to_slot(&self, slot: &TieSlot) -> Option<Gap> {
        let gap = polygon::gap(&self.ends, &slot.core())?;
        Some(gap.grown(self.radius).grown_to(slot.corner_radius()))
    }

    /// The gap between it and a lug's foot, mm, negative if they overlap.
    pub(crate) fn gap_to_lug(&self, lug: &Lug) -> Option<Gap> {
        let gap = polygon::gap(&self.ends, &lug.foot())?;
        Some(gap.grown(self.radius))
    }

    /// The web between it and another, mm, negative if they overlap.
    pub(crate) fn gap_to(&self, other: &Self) -> Option<Gap> {
        let gap = polygon::gap(&self.ends, &other.ends)?;
        Some(gap.grown(self.radius).grown_to(other.radius))
    }

    /// Whether what needs another hole passes this one, which a plate has, as far as callipers tell.
    pub(crate) fn takes(&self, other: &Self) -> bool {
        let room = |end| self.room_around(end) - other.radius;
        other.ends.iter().all(|&end| room(end) >= -MEASURED)
    }

    /// Slots that it and another both lie in, the smallest first: each along the line between their middles, or along
    /// one of them, and no wider than they are together across it. Never none.
    pub(crate) fn joined(&self, other: &Self) -> Vec<Self> {
        let lengthwise = |hole: &Self| (hole.ends[1] - hole.ends[0]).try_normalize(MEASURED);
        let between = (other.middle() - self.middle()).try_normalize(MEASURED);
        let mut ways: Vec<Vector> = [between, lengthwise(other), lengthwise(self)]
            .into_iter()
            .flatten()
            .collect();
        if ways.is_empty() {
            ways.push(Vector::x());
        }
        let mut slots: Vec<Self> = { ways.into_iter() }
            .map(|along| joined_along(along, self, other))
            .collect();
        slots.sort_by(|a, b| a.area().total_cmp(&b.area()));
        slots
    }

    /// Whether it lies in a plate, wholly or in part: beside it, none is cut.
    pub(crate) fn lies_in(&self, plate: &Bounded) -> bool {
        let [a, b] = self.ends;
        let mut places = [a, self.middle(), b].into_iter();
        places.any(|place| plate.room_around(place).distance > -self.radius)
    }

    /// Distance of a point inside from its edge in plan, mm; negative outside.
    pub fn room_around(&self, point: Point) -> f64 {
        let [start, end] = self.ends;
        let nearest = crate::geometry::segment::Line { start, end }.nearest(point);
        self.radius - (point - nearest).norm()
    }
}

/// The shortest slot along a direction that two holes both lie in, no wider than they are together across it.
fn joined_along(along: Vector, one: &CableHole, other: &CableHole) -> CableHole {
    let origin = one.middle();
    let discs = [one, other].into_iter().flat_map(|hole| {
        let seen = |end| {
            let off: Vector = end - origin;
            (off.dot(&along), along.perp(&off), hole.radius)
        };
        hole.ends.map(seen)
    });
    let least = |figures: &mut dyn Iterator<Item = f64>| figures.fold(f64::INFINITY, f64::min);
    let low = least(&mut discs.clone().map(|(_, across, radius)| across - radius));
    let high = -least(&mut discs.clone().map(|(_, across, radius)| -across - radius));
    let (middle, radius) = (f64::midpoint(low, high), (high - low) / 2.0);
    // How far before the middle of a round end a disc may lie that touches it from within.
    let before = |across: f64, own: f64| {
        let left = (radius - own).powi(2) - (across - middle).powi(2);
        left.max(0.0).sqrt()
    };
    let start = least(
        &mut discs
            .clone()
            .map(|(at, across, own)| at + before(across, own)),
    );
    let end = -least(&mut discs.map(|(at, across, own)| before(across, own) - at));
    let [start, end] = if start <= end {
        [start, end]
    } else {
        [f64::midpoint(start, end); 2]
    };
    let across = Vector::new(-along.y, along.x);
    CableHole {
        ends: [start, end].map(|at| origin + along * at + across * middle),
        radius,
        lean: 0.0,
    }
}

/// A part of a way that lies between the plate's faces.
struct Stretch {
    ends: [Place; 2],
    headings: [Way; 2],
}

fn stretches(pieces: &[Piece], thickness: f64) -> Vec<Stretch> {
    let within = |place: Place| -thickness < place.z && place.z < 0.0;
    let mut found = Vec::new();
    let mut entered: Option<(Place, Way)> = None;
    for piece in pieces {
        let mut shares = piece.passes(0.0);
        shares.extend(piece.passes(-thickness));
        shares.extend([0.0, 1.0]);
        shares.sort_by(f64::total_cmp);
        for pair in shares.windows(2) {
            let at = |share: f64| (piece.at(share), piece.heading(share).unwrap_or_else(Way::z));
            let inside = pair[0] < pair[1] && within(piece.at((pair[0] + pair[1]) / 2.0));
            if inside {
                entered = entered.or_else(|| Some(at(pair[0])));
            } else if pair[0] < pair[1]
                && let Some((from, heading)) = entered.take()
            {
                let (to, leaving) = at(pair[0]);
                found.push(Stretch {
                    ends: [from, to],
                    headings: [heading, leaving],
                });
            }
        }
    }
    if let (Some((from, heading)), Some(last)) = (entered, pieces.last()) {
        found.push(Stretch {
            ends: [from, last.at(1.0)],
            headings: [heading, last.heading(1.0).unwrap_or(heading)],
        });
    }
    found
}
