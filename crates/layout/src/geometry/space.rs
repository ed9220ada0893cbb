//! Straight and round pieces of a curve in space, and how near it comes to things.

use std::f64::consts::TAU;
use std::ops::Range;

/// A point in the plate's frame, mm.
pub type Place = nalgebra::Point3<f64>;

/// A displacement in the plate's frame, mm, or a direction.
pub type Way = nalgebra::Vector3<f64>;

/// A straight piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straight {
    /// Where it starts.
    pub start: Place,
    /// Where it ends.
    pub end: Place,
}

/// A round piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Centre of its circle.
    pub centre: Place,
    /// Radius of its circle, mm.
    pub radius: f64,
    /// Direction from the centre to its start, a unit vector.
    pub out: Way,
    /// Direction in which it starts, a unit vector square to `out`; both span its plane.
    pub heading: Way,
    /// How far it turns, radians, from 0 to 2π.
    pub sweep: f64,
}

/// A piece of a curve in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// A straight piece.
    Straight(Straight),
    /// A round piece.
    Bend(Bend),
}

/// How near a curve comes to something, and where on the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// Distance, mm.
    pub distance: f64,
    /// The place on the curve.
    pub at: Place,
}

impl Straight {
    /// The place of the piece that is nearest to `place`.
    pub fn nearest(&self, place: Place) -> Place {
        self.start + (self.end - self.start) * self.nearest_share(place)
    }

    /// The share of its length at which it is nearest to `place`.
    fn nearest_share(&self, place: Place) -> f64 {
        let along = self.end - self.start;
        let length_squared = along.norm_squared();
        if length_squared == 0.0 {
            return 0.0;
        }
        ((place - self.start).dot(&along) / length_squared).clamp(0.0, 1.0)
    }

    /// Where this piece and another come nearest to each other, this one's place first.
    pub fn nearest_places(&self, other: &Self) -> [Place; 2] {
        let [from, to] = [self.start, self.end].map(|own| [own, other.nearest(own)]);
        let [first, last] = [other.start, other.end].map(|theirs| [self.nearest(theirs), theirs]);
        let all = [
            Some(from),
            Some(to),
            Some(first),
            Some(last),
            self.across(other),
        ];
        let nearer = |a: [Place; 2], b: [Place; 2]| {
            if (b[1] - b[0]).norm_squared() < (a[1] - a[0]).norm_squared() {
                b
            } else {
                a
            }
        };
        all.into_iter().flatten().reduce(nearer).unwrap_or(from)
    }

    /// Where the lines of this piece and another come nearest to each other, if both places lie within the pieces:
    /// s along this one and t along the other solve a·s − b·t = −d and c·t − b·s = e, as the way between is square to
    /// both.
    fn across(&self, other: &Self) -> Option<[Place; 2]> {
        let (own, theirs) = (self.end - self.start, other.end - other.start);
        let apart = self.start - other.start;
        let (a, b, c) = (own.norm_squared(), own.dot(&theirs), theirs.norm_squared());
        let (d, e) = (own.dot(&apart), theirs.dot(&apart));
        let askew = a * c - b * b;
        let [s, t] = [(b * e - c * d) / askew, (a * e - b * d) / askew];
        let within = |share: f64| (0.0..=1.0).contains(&share);
        (within(s) && within(t)).then(|| [self.start + own * s, other.start + theirs * t])
    }
}

impl Bend {
    /// The place after a turn of `angle`, radians, from the start.
    pub fn at(&self, angle: f64) -> Place {
        let (sin, cos) = angle.sin_cos();
        self.centre + (self.out * cos + self.heading * sin) * self.radius
    }

    /// The direction after a turn of `angle`, radians, from the start.
    pub fn heading_at(&self, angle: f64) -> Way {
        let (sin, cos) = angle.sin_cos();
        self.heading * cos - self.out * sin
    }

    /// The place of the piece that is nearest to `place`.
    pub fn nearest(&self, place: Place) -> Place {
        self.at(self.nearest_angle(place))
    }

    /// The turn from its start at which it is nearest to `place`, radians.
    fn nearest_angle(&self, place: Place) -> f64 {
        let from = place - self.centre;
        let (x, y) = (from.dot(&self.out), from.dot(&self.heading));
        let angle = y.atan2(x).rem_euclid(TAU);
        if angle <= self.sweep {
            return angle;
        }
        let ends = [0.0, self.sweep];
        let [to_start, to_end] = ends.map(|end| (self.at(end) - place).norm_squared());
        if to_start <= to_end { ends[0] } else { ends[1] }
    }
}

impl Piece {
    /// A straight piece.
    pub fn straight(start: Place, end: Place) -> Self {
        Self::Straight(Straight { start, end })
    }

    /// The same elsewhere.
    pub(crate) fn shifted(&self, by: Way) -> Self {
        match *self {
            Self::Straight(line) => Self::straight(line.start + by, line.end + by),
            Self::Bend(bend) => Self::Bend(Bend {
                centre: bend.centre + by,
                ..bend
            }),
        }
    }

    /// Length, mm.
    pub fn length(&self) -> f64 {
        match self {
            Self::Straight(line) => (line.end - line.start).norm(),
            Self::Bend(bend) => bend.radius * bend.sweep,
        }
    }

    /// The place at a share of its length, from 0 to 1.
    pub fn at(&self, share: f64) -> Place {
        match self {
            Self::Straight(line) => line.start + (line.end - line.start) * share,
            Self::Bend(bend) => bend.at(bend.sweep * share),
        }
    }

    /// The direction at a share of its length, from 0 to 1; None for a piece without length.
    pub fn heading(&self, share: f64) -> Option<Way> {
        match self {
            Self::Straight(line) => (line.end - line.start).try_normalize(0.0),
            Self::Bend(bend) => Some(bend.heading_at(bend.sweep * share)),
        }
    }

    /// The place of the piece that is nearest to `place`.
    pub fn nearest(&self, place: Place) -> Place {
        match self {
            Self::Straight(line) => line.nearest(place),
            Self::Bend(bend) => bend.nearest(place),
        }
    }

    /// The share of its length, from 0 to 1, at which it is nearest to `place`.
    pub(crate) fn nearest_share(&self, place: Place) -> f64 {
        match self {
            Self::Straight(line) => line.nearest_share(place),
            Self::Bend(bend) if bend.sweep > 0.0 => bend.nearest_angle(place) / bend.sweep,
            Self::Bend(_) => 0.0,
        }
    }

    /// A bound that its distance from another piece does not come below, mm: no place of either is farther from its
    /// middle than half of it is long.
    fn at_least_from(&self, other: &Self) -> f64 {
        let apart = (other.at(0.5) - self.at(0.5)).norm();
        apart - (self.length() + other.length()) / 2.0
    }

    /// A bound of how far it is anywhere from its chord between two shares, mm: r·(1 − cos(arc/2r)) ≤ arc²/8r.
    pub(crate) fn rise(&self, shares: [f64; 2]) -> f64 {
        match self {
            Self::Straight(_) => 0.0,
            Self::Bend(bend) => {
                let arc = bend.sweep * (shares[1] - shares[0]);
                bend.radius * arc * arc / 8.0
            }
        }
    }

    /// Its place farthest forward, where z is largest.
    pub fn highest(&self) -> Place {
        self.farthest(Way::z())
    }

    /// Its place farthest in a direction.
    pub fn farthest(&self, toward: Way) -> Place {
        let top = match self {
            Self::Straight(_) => None,
            Self::Bend(bend) => {
                let (out, ahead) = (bend.out.dot(&toward), bend.heading.dot(&toward));
                let angle = ahead.atan2(out).rem_euclid(TAU);
                (angle <= bend.sweep).then(|| bend.at(angle))
            }
        };
        let ends = [self.at(0.0), self.at(1.0)];
        let [first, last] = ends.map(|end| end.coords.dot(&toward));
        let end = if last > first { ends[1] } else { ends[0] };
        top.unwrap_or(end)
    }

    /// The shares of its length at which it passes the height `z`, mm, in order.
    pub fn passes(&self, z: f64) -> Vec<f64> {
        let within = |share: &f64| (0.0..=1.0).contains(share);
        let mut shares: Vec<f64> = match self {
            Self::Straight(line) => {
                let share = (z - line.start.z) / (line.end.z - line.start.z);
                [share].into_iter().filter(within).collect()
            }
            Self::Bend(bend) => {
                // Its height is c + r·m·cos(angle − lowest), m the slope of its plane.
                let slope = bend.out.z.hypot(bend.heading.z);
                let highest = bend.heading.z.atan2(bend.out.z);
                let half = ((z - bend.centre.z) / (bend.radius * slope)).acos();
                [highest - half, highest + half]
                    .map(|angle| angle.rem_euclid(TAU) / bend.sweep)
                    .into_iter()
                    .filter(within)
                    .collect()
            }
        };
        shares.sort_by(f64::total_cmp);
        shares
    }
}

/// The place of some pieces that is nearest to `place`; None without pieces.
pub fn nearest(pieces: &[Piece], place: Place) -> Option<Near> {
    let near = |piece: &Piece| {
        let at = piece.nearest(place);
        let distance = (at - place).norm();
        Near { distance, at }
    };
    pieces.iter().map(near).reduce(Near::or_nearer)
}

/// Where pieces come nearest to others and how near, if nearer than `below`, mm: of two straight ones in closed form,
/// else as [`least_within`] does.
pub(crate) fn nearest_pieces(pieces: &[Piece], others: &[Piece], below: f64) -> Option<Near> {
    let pairs = pieces
        .iter()
        .flat_map(|own| others.iter().map(move |other| (own, other)));
    pairs.fold(None, |best, (own, other)| {
        let below = best.map_or(below, |near: Near| near.distance);
        if own.at_least_from(other) >= below {
            return best;
        }
        let near = match (own, other) {
            (Piece::Straight(own), Piece::Straight(other)) => {
                let [at, there] = own.nearest_places(other);
                let distance = (there - at).norm();
                (distance < below).then_some(Near { distance, at })
            }
            _ => {
                let off = |at: Place, _: f64| (other.nearest(at) - at).norm();
                least_within(std::slice::from_ref(own), 0.0..below, PASSED_OVER, &off)
            }
        };
        near.or(best)
    })
}

/// Places along pieces that join, each bend by `steps` chords of even length.
pub fn flattened(pieces: &[Piece], steps: u32) -> Vec<Place> {
    let first = pieces.first().map(|piece| piece.at(0.0));
    let rest = pieces.iter().flat_map(|piece| {
        let steps = match piece {
            Piece::Straight(_) => 1,
            Piece::Bend(_) => steps,
        };
        (1..=steps).map(move |step| piece.at(f64::from(step) / f64::from(steps)))
    });
    first.into_iter().chain(rest).collect()
}

impl Near {
    /// The smaller of two distances; the first where they are equal.
    #[must_use]
    pub fn or_nearer(self, other: Self) -> Self {
        if other.distance < self.distance {
            other
        } else {
            self
        }
    }
}

/// How much nearer a place may lie that [`least_within`] passes over where a route's margins are looked for, mm: half
/// of what they are promised to.
pub const PASSED_OVER: f64 = 0.01;

/// Places no farther apart than this, mm, are one but for rounding.
const ONE_PLACE: f64 = 1e-9;

/// How many places [`least_within`] looks at before it answers with the best so far: enough for
/// [`PASSED_OVER`] along a metre that follows something at a tenth of a millimetre.
const MOST_LOOKS: usize = 10_000;

/// Stretches that [`least_within`] has room for at once without asking for more.
const USUALLY_OPEN: usize = 14;

/// How far places are off something, mm.
pub trait Off {
    /// How far a place is. Told a `best`, it may answer less than a distance above that, but no less than the best.
    fn off(&self, place: Place, best: f64) -> f64;

    /// A bound that it does not come below between two shares of a piece, if it is `ends` there.
    ///
    /// Unless told otherwise, where it is positive it must be the distance to a fixed set of places; where it is
    /// negative, it must not change faster than its place moves.
    fn at_least(&self, piece: &Piece, shares: [f64; 2], ends: [f64; 2]) -> f64 {
        least_between(piece, shares, ends)
    }
}

impl<F: Fn(Place, f64) -> f64> Off for F {
    fn off(&self, place: Place, best: f64) -> f64 {
        self(place, best)
    }
}

/// Where along `pieces` places are the least off something, if they come below the end of a range, mm, anywhere; they
/// never come below the range's start. A place that is nearer by no more than `passed_over`, mm, may be passed over.
///
/// Stretches that cannot hold a nearer place than the best are dropped, the others halved.
pub fn least_within(
    pieces: &[Piece],
    range: Range<f64>,
    passed_over: f64,
    off: &impl Off,
) -> Option<Near> {
    let (mut best, mut found) = (range.end, None);
    let mut look = |at: Place, best: &mut f64| {
        let here = off.off(at, *best);
        if here < *best {
            (*best, found) = (here, Some(Near { distance: here, at }));
        }
        here
    };
    let mut open: Vec<Stretch> = Vec::with_capacity(pieces.len() + USUALLY_OPEN);
    let mut last = None::<(Place, f64)>;
    for piece in pieces {
        let [start, end] = [0.0, 1.0].map(|share| piece.at(share));
        // Most pieces start where the last one ends, and that has been looked at.
        let seen = last.filter(|(at, _)| (at - start).norm_squared() < ONE_PLACE * ONE_PLACE);
        let from = seen.map_or_else(|| look(start, &mut best), |(_, here)| here);
        let to = look(end, &mut best);
        last = Some((end, to));
        open.push(Stretch::of(piece, [0.0, 1.0], [from, to], off));
    }
    open.sort_by(|a, b| b.least.total_cmp(&a.least));
    let mut looks = 0;
    while let Some(stretch) = open.pop()
        && looks < MOST_LOOKS
    {
        if stretch.least.max(range.start) < best - passed_over {
            looks += 1;
            let middle = stretch.middle();
            let mut halves = stretch.halves(look(stretch.piece.at(middle), &mut best), off);
            if halves[0].least < halves[1].least {
                // The more promising one comes last and is taken first.
                halves.reverse();
            }
            open.extend(halves);
        }
    }
    found
}

/// A stretch of a piece, with what a distance is at its ends, mm.
#[derive(Clone, Copy)]
struct Stretch<'a> {
    piece: &'a Piece,
    shares: [f64; 2],
    ends: [f64; 2],
    /// A bound that the distance does not come below, mm.
    least: f64,
}

impl<'a> Stretch<'a> {
    fn of(piece: &'a Piece, shares: [f64; 2], ends: [f64; 2], off: &impl Off) -> Self {
        let least = off.at_least(piece, shares, ends);
        Self {
            piece,
            shares,
            ends,
            least,
        }
    }

    fn middle(&self) -> f64 {
        (self.shares[0] + self.shares[1]) / 2.0
    }

    fn halves(self, in_middle: f64, off: &impl Off) -> [Stretch<'a>; 2] {
        let ([start, end], middle) = (self.shares, self.middle());
        [
            Self::of(self.piece, [start, middle], [self.ends[0], in_middle], off),
            Self::of(self.piece, [middle, end], [in_middle, self.ends[1]], off),
        ]
    }
}

/// How little something comes to in amount that goes evenly from one value to another.
pub(crate) fn least_of_line([a, b]: [f64; 2]) -> f64 {
    if a * b <= 0.0 {
        0.0
    } else {
        a.abs().min(b.abs())
    }
}

/// A bound that a distance does not come below between two shares of a piece, if it is `ends` there, mm.
///
/// It changes no faster than its place moves. Where it is the distance to a set, its square less
/// s², s the way along a straight line, is the least of many straight lines over s, one for each
/// place of the set: between two ends it is nowhere less than the straight line between its values
/// there. A bend's chord is no longer than its arc.
pub(crate) fn least_between(piece: &Piece, shares: [f64; 2], [a, b]: [f64; 2]) -> f64 {
    let length = piece.length() * (shares[1] - shares[0]);
    let slow = (a + b - length) / 2.0;
    if slow <= 0.0 || length <= 0.0 {
        return slow;
    }
    let (a, b, c) = (a * a, b * b, length * length);
    let share = ((c + a - b) / (2.0 * c)).clamp(0.0, 1.0);
    let square = a + share * (b - a) - share * (1.0 - share) * c;
    slow.max(square.max(0.0).sqrt() - piece.rise(shares))
}
