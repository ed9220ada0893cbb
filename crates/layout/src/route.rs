//! The way of a sheath from its stop to its exit: straight legs joined by bends.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::geometry::space::{self, Bend, Near, Piece, Place, Straight, Way};

/// Turns smaller than this, radians, are none: over the longest leg they move a sheath by a
/// thousandth of what can be measured.
const STRAIGHT_ON: f64 = 1e-9;

/// Legs shorter than this, mm, have no direction.
const NO_LENGTH: f64 = 1e-9;

/// A sheath's way. Lengths in mm, angles in radians.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// The way itself, each piece starting where the one before ends, or straight lines from point
    /// to point if it cannot be laid.
    pub pieces: Vec<Piece>,
    /// Why it cannot be laid; empty if it can.
    pub faults: Vec<Fault>,
    /// The points that it is laid by: the stop, the lead's end, every corner, the exit.
    pub points: Vec<Place>,
}

/// Why a sheath cannot be laid with bends of its radius. Leg 0 leads from the lead's end to the first
/// corner, leg 1 on from there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The first point lies nearer to the centre of the first bend than its radius.
    TooNear {
        /// That point.
        at: Place,
        /// By how much, mm.
        lacks: f64,
    },
    /// A leg has no room for what the bends at its ends take of it.
    LegTooShort {
        /// Which leg.
        leg: usize,
        /// Its two ends.
        ends: [Place; 2],
        /// How much longer it would have to be, mm.
        lacks: f64,
    },
}

/// How a route starts: place, direction, and how it bends. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Start {
    /// The sheath's stop.
    pub stop: Place,
    /// The direction in which the sheath leaves it, a unit vector: −u.
    pub heading: Way,
    /// Length of the straight piece behind the stop.
    pub lead: f64,
    /// Radius of every bend.
    pub radius: f64,
}

impl Fault {
    /// What is missing, mm.
    pub fn lacks(&self) -> f64 {
        match *self {
            Self::TooNear { lacks, .. } | Self::LegTooShort { lacks, .. } => lacks,
        }
    }
}

impl Route {
    /// Lays a route from its start round the corners `via` to `exit`.
    ///
    /// The first bend lies in the plane of the lead and the next point and ends where it faces it. A
    /// corner that turns by α takes radius·tan(α/2) from both of its legs.
    pub fn lay(start: &Start, via: &[Place], exit: Place) -> Self {
        let lead_end = start.stop + start.heading * start.lead;
        let corners: Vec<Place> = via.iter().copied().chain([exit]).collect();
        let points: Vec<Place> = [start.stop, lead_end]
            .into_iter()
            .chain(corners.iter().copied())
            .collect();
        let laid = match first_bend(lead_end, start.heading, start.radius, corners[0]) {
            Ok(bend) => laid_from(start, bend, &corners),
            Err(fault) => Err(vec![fault]),
        };
        let (pieces, faults) = match laid {
            Ok(pieces) => (pieces, Vec::new()),
            Err(faults) => {
                let legs = points.windows(2);
                (
                    legs.map(|leg| Piece::straight(leg[0], leg[1])).collect(),
                    faults,
                )
            }
        };
        Self {
            pieces,
            faults,
            points,
        }
    }

    /// Whether it can be laid.
    pub fn is_laid(&self) -> bool {
        self.faults.is_empty()
    }

    /// Length of the sheath, mm.
    pub fn length(&self) -> f64 {
        self.pieces.iter().map(Piece::length).sum()
    }

    /// How far it bends in all, Φ, radians.
    pub fn total_bend(&self) -> f64 {
        self.bends().map(|bend| bend.sweep).sum()
    }

    /// The least radius of its bends, mm; None if it is straight.
    pub fn least_radius(&self) -> Option<f64> {
        self.bends().map(|bend| bend.radius).reduce(f64::min)
    }

    /// The distance from a place to its centre line, and where on it; None if it has no pieces.
    pub fn nearest(&self, place: Place) -> Option<Near> {
        space::nearest(&self.pieces, place)
    }

    /// Its pieces but for the lead, which has to start where the lever is.
    pub fn behind_lead(&self) -> &[Piece] {
        match (&self.pieces[..], &self.points[..]) {
            ([_, behind @ ..], [stop, lead_end, ..]) if (lead_end - stop).norm() > NO_LENGTH => {
                behind
            }
            (all, _) => all,
        }
    }

    /// The place that stands farthest in front of the plate's front face behind the lead, which has to start
    /// where the lever is; its exit if none does. None if it has no pieces.
    pub fn farthest_forward(&self) -> Option<Place> {
        let exit = self.pieces.last()?.at(1.0);
        let places = self
            .behind_lead()
            .iter()
            .map(Piece::highest)
            .filter(|at| at.z > 0.0);
        Some(places.fold(exit, |a, b| if b.z > a.z { b } else { a }))
    }

    /// Its bends, in order.
    pub fn bends(&self) -> impl Iterator<Item = &Bend> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Bend(bend) => Some(bend),
            Piece::Straight(_) => None,
        })
    }
}

/// The bend from the lead's end until it faces `next`.
fn first_bend(from: Place, heading: Way, radius: f64, next: Place) -> Result<Bend, Fault> {
    let to = next - from;
    let ahead = to.dot(&heading);
    let aside = to - heading * ahead;
    // A point straight ahead or behind lies in every plane of the lead: any will do.
    let toward = aside
        .try_normalize(NO_LENGTH)
        .unwrap_or_else(|| square_to(heading));
    let centre = from + toward * radius;
    let beside = to.dot(&toward);
    let (x, y) = (ahead, beside - radius);
    // x² + y² − radius², but without loss of digits where the point lies nearly straight ahead.
    let leg = ahead * ahead + beside * (beside - 2.0 * radius);
    if leg < -NO_LENGTH * radius {
        let lacks = radius - x.hypot(y);
        return Err(Fault::TooNear { at: next, lacks });
    }
    // The direction of the next point seen from the centre, and what the leg's end lies before it.
    let turn = (y.atan2(x) + radius.atan2(leg.max(0.0).sqrt())).rem_euclid(TAU);
    let sweep = if turn > TAU - STRAIGHT_ON { 0.0 } else { turn };
    Ok(Bend {
        centre,
        radius,
        out: -toward,
        heading,
        sweep,
    })
}

/// Any direction square to another.
fn square_to(heading: Way) -> Way {
    let least = heading.map(f64::abs).imin();
    let axis = Way::from_fn(|row, _| if row == least { 1.0 } else { 0.0 });
    heading
        .cross(&axis)
        .try_normalize(0.0)
        .unwrap_or_else(Way::x)
}

/// The whole way, from a first bend on, or which legs are too short for it.
fn laid_from(start: &Start, first: Bend, corners: &[Place]) -> Result<Vec<Piece>, Vec<Fault>> {
    let radius = start.radius;
    let lead_end = first.at(0.0);
    let points: Vec<Place> = [first.at(first.sweep)]
        .into_iter()
        .chain(corners.iter().copied())
        .collect();
    let directions: Vec<Option<Way>> = points
        .windows(2)
        .map(|leg| (leg[1] - leg[0]).try_normalize(NO_LENGTH))
        .collect();
    let turns: Vec<f64> = directions
        .windows(2)
        .map(|pair| pair[0].zip(pair[1]).map_or(0.0, |(a, b)| angle(a, b)))
        .collect();
    let trim = |turn: f64| {
        if turn > STRAIGHT_ON {
            radius * (turn.min(2.0 * FRAC_PI_2) / 2.0).tan()
        } else {
            0.0
        }
    };
    let before = |leg: usize| leg.checked_sub(1).map_or(0.0, |corner| trim(turns[corner]));
    let after = |leg: usize| turns.get(leg).copied().map_or(0.0, trim);
    let too_short = |leg: usize| {
        let length = (points[leg + 1] - points[leg]).norm();
        let lacks = before(leg) + after(leg) - length;
        // The first leg may end where the bend already does; any other needs a direction.
        let no_way = leg > 0 && directions[leg].is_none();
        (no_way || lacks > NO_LENGTH).then_some(Fault::LegTooShort {
            leg,
            ends: [points[leg], points[leg + 1]],
            lacks,
        })
    };
    let faults: Vec<Fault> = (0..directions.len()).filter_map(too_short).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut pieces = vec![Piece::straight(start.stop, lead_end)];
    pieces.push(Piece::Bend(first));
    for (leg, direction) in directions.iter().enumerate() {
        let along = direction.unwrap_or_else(|| first.heading_at(first.sweep));
        let end = points[leg + 1] - along * after(leg);
        pieces.push(Piece::straight(points[leg] + along * before(leg), end));
        let next = directions.get(leg + 1).copied().flatten();
        if let Some(next) = next.filter(|_| after(leg) > 0.0)
            && let Some(toward) = (next - along * next.dot(&along)).try_normalize(0.0)
        {
            pieces.push(Piece::Bend(Bend {
                centre: end + toward * radius,
                radius,
                out: -toward,
                heading: along,
                sweep: turns[leg],
            }));
        }
    }
    pieces.retain(has_length);
    Ok(pieces)
}

/// The angle between two unit vectors, without loss of digits where it is small.
fn angle(a: Way, b: Way) -> f64 {
    a.cross(&b).norm().atan2(a.dot(&b))
}

fn has_length(piece: &Piece) -> bool {
    match piece {
        Piece::Straight(Straight { start, end }) => (end - start).norm() > NO_LENGTH,
        Piece::Bend(bend) => bend.sweep > STRAIGHT_ON,
    }
}
