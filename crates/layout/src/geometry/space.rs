//! Straight and round pieces of a curve in space, and how near it comes to things.

use std::f64::consts::TAU;

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
        let along = self.end - self.start;
        let length_squared = along.norm_squared();
        if length_squared == 0.0 {
            return self.start;
        }
        let share = ((place - self.start).dot(&along) / length_squared).clamp(0.0, 1.0);
        self.start + along * share
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
        let from = place - self.centre;
        let (x, y) = (from.dot(&self.out), from.dot(&self.heading));
        let angle = y.atan2(x).rem_euclid(TAU);
        if angle <= self.sweep {
            return self.at(angle);
        }
        let ends = [self.at(0.0), self.at(self.sweep)];
        let [to_start, to_end] = ends.map(|end| (end - place).norm_squared());
        if to_start <= to_end { ends[0] } else { ends[1] }
    }
}

impl Piece {
    /// A straight piece.
    pub fn straight(start: Place, end: Place) -> Self {
        Self::Straight(Straight { start, end })
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

/// How much nearer a place may lie that [`least_below`] passes over, mm: half of what a route's
/// margins are promised to.
pub const PASSED_OVER: f64 = 0.01;

/// How many places [`least_below`] looks at before it answers with the best so far: enough for
/// [`PASSED_OVER`] along a metre, but where the curve follows something at an even distance, and there
/// all places are as good.
const MOST_LOOKS: usize = 1_000;

/// Where along `pieces` a distance is least, if it is less than `below`, mm, anywhere.
///
/// `distance` must not change faster than its place moves, as no distance to a fixed thing does.
/// Then no place of a stretch is nearer than its middle by more than half its length: stretches that
/// cannot hold a nearer place than the best are dropped, the others halved. `distance` is told the best
/// so far; where the true distance is more, it may answer less than that, but no less than the best.
pub fn least_below(
    pieces: &[Piece],
    below: f64,
    distance: impl Fn(Place, f64) -> f64,
) -> Option<Near> {
    let (mut best, mut found) = (below, None);
    let mut open: Vec<(&Piece, f64, f64)> =
        pieces.iter().map(|p| (p, 0.5, p.length() / 2.0)).collect();
    let ends = pieces
        .iter()
        .flat_map(|piece| [piece.at(0.0), piece.at(1.0)]);
    let mut look = |at: Place, best: &mut f64| {
        let here = distance(at, *best);
        if here < *best {
            (*best, found) = (here, Some(Near { distance: here, at }));
        }
        here
    };
    for end in ends {
        look(end, &mut best);
    }
    let mut looks = 0;
    while !open.is_empty() && looks < MOST_LOOKS {
        looks += open.len();
        let heights: Vec<f64> = open
            .iter()
            .map(|&(piece, middle, _)| look(piece.at(middle), &mut best))
            .collect();
        let mut halves = Vec::with_capacity(2 * open.len());
        for (&(piece, middle, half), here) in open.iter().zip(heights) {
            if here - half < best - PASSED_OVER {
                let quarter = half / 2.0;
                let step = quarter / piece.length();
                halves.push((piece, middle - step, quarter));
                halves.push((piece, middle + step, quarter));
            }
        }
        open = halves;
    }
    found
}
