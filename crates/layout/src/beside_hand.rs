//! Where the hand is: behind the guard, between its edges and between its ends.

use crate::geometry::Point;
use crate::geometry::space::{self, Off, Piece, Place};
use crate::guard::Guard;

/// Most steps to where the round of a guard and the sides of the hand's place lie as deep: each doubles the digits.
const MOST_STEPS: usize = 30;

/// What is no distance any more, mm.
const NOTHING: f64 = 1e-9;

/// How far places lie from being where the hand is, mm; negative there, by the least that they lie within.
pub(crate) struct BesideHand<'a>(pub(crate) &'a Guard);

impl Off for BesideHand<'_> {
    fn off(&self, place: Place, _: f64) -> f64 {
        let (section, along) = self.0.section(place.into());
        self.before(section).max(self.beyond(section, along))
    }

    /// Along a chord the distance before the guard is least at an end of it, and so is that from each plane beside
    /// the hand's place; a bend is no farther from its chord than it rises, and none of them changes faster.
    fn at_least(&self, piece: &Piece, shares: [f64; 2], _: [f64; 2]) -> f64 {
        let [(a, along_a), (b, along_b)] =
            shares.map(|share| self.0.section(piece.at(share).into()));
        let section = Point::new(space::least_of_line([a.x, b.x]), a.y.min(b.y));
        let beyond = self.beyond(section, space::least_of_line([along_a, along_b]));
        self.before(a).min(self.before(b)).max(beyond) - piece.rise(shares)
    }
}

impl BesideHand<'_> {
    /// How far before the guard's round a point of the section lies, mm; less than all of a flat one.
    fn before(&self, section: Point) -> f64 {
        self.0.before_round(section).unwrap_or(f64::NEG_INFINITY)
    }

    /// How far a point of the section lies before the guard's edges or beside them, or beyond an end, mm; no number
    /// where none of it is one.
    fn beyond(&self, section: Point, along: f64) -> f64 {
        let sides = self.sides(section, along);
        sides.into_iter().fold(f64::NAN, f64::max)
    }

    /// The same of each: the edges' plane, both edges and both ends.
    fn sides(&self, section: Point, along: f64) -> [f64; 5] {
        let (aside, end) = (self.0.half_chord, self.0.length / 2.0);
        [
            section.y - self.0.edge,
            section.x - aside,
            -section.x - aside,
            along - end,
            -along - end,
        ]
    }

    /// Where a straight piece comes deepest where the hand is, as a share of it, and how deep, a negative distance in
    /// mm; else where it lies the least beside that.
    ///
    /// How far it is beyond the sides is the largest of some lines. Where that is least, and no less than how far it is
    /// before the round there, it is that deep. Else how far it is before the round, which falls ever faster to a side
    /// if it falls there at all, is least where the two are alike, or at an end.
    pub(crate) fn deepest_of(&self, [from, to]: [Place; 2]) -> (f64, f64) {
        let ends = [from, to].map(|place| self.0.section(place.into()));
        let [at_from, at_to] = ends.map(|(section, along)| self.sides(section, along));
        let sides = std::array::from_fn(|side| Line {
            start: at_from[side],
            rise: at_to[side] - at_from[side],
        });
        let [(start, _), (end, _)] = ends;
        let before = |share: f64| self.before(start + (end - start) * share);
        let off = |share: f64| before(share).max(highest(&sides, share).at(share));
        let middle = lowest(&sides);
        let mut best = (middle, off(middle));
        let Some(centre) = self.0.arc_centre() else {
            return best;
        };
        if best.1 > highest(&sides, middle).at(middle) {
            let (out, way) = (start - centre, end - start);
            // How far before the round, and how fast that grows.
            let growing = |share: f64| {
                let from_centre = out + way * share;
                (before(share), -from_centre.dot(&way) / from_centre.norm())
            };
            for end in [0.0, 1.0] {
                let share = alike(&sides, growing, end);
                if off(share) < best.1 {
                    best = (share, off(share));
                }
            }
        }
        best
    }
}

/// A value that changes evenly over a piece.
#[derive(Clone, Copy)]
struct Line {
    start: f64,
    rise: f64,
}

impl Line {
    fn at(self, share: f64) -> f64 {
        self.start + self.rise * share
    }
}

/// The highest of some lines at a share.
fn highest(lines: &[Line; 5], share: f64) -> Line {
    let higher = |a: Line, b: &Line| if b.at(share) > a.at(share) { *b } else { a };
    lines.iter().fold(lines[0], higher)
}

/// Where the highest of some lines is lowest, as a share from 0 to 1: as long as it falls, the next that rises above it
/// takes its place.
fn lowest(lines: &[Line; 5]) -> f64 {
    let (mut share, mut top) = (0.0, highest(lines, 0.0));
    while top.rise < 0.0 {
        let meets = |line: &Line| {
            let share = (top.start - line.start) / (line.rise - top.rise);
            (line.rise > top.rise).then_some((share, *line))
        };
        let next = { lines.iter() }.filter_map(meets).min_by(|a, b| {
            let steeper = || b.1.rise.total_cmp(&a.1.rise);
            a.0.total_cmp(&b.0).then_with(steeper)
        });
        match next {
            Some((at, line)) if at < 1.0 => (share, top) = (at.max(share), line),
            _ => return 1.0,
        }
    }
    share
}

/// Where a value, with how fast it grows, becomes as low as the highest of some lines, on the way from where it is
/// higher to `end`; there, if it is higher still.
///
/// The difference bends downward: from where it is negative, Newton's steps come to where it is nothing without passing
/// that by.
fn alike(lines: &[Line; 5], growing: impl Fn(f64) -> (f64, f64), end: f64) -> f64 {
    let mut share = end;
    for _ in 0..MOST_STEPS {
        let (value, rise) = growing(share);
        let line = highest(lines, share);
        let higher = value - line.at(share);
        if higher > -NOTHING {
            break;
        }
        share = (share - higher / (rise - line.rise)).clamp(0.0, 1.0);
    }
    share
}
