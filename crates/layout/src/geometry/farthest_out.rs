//! How far one outline sticks out of another.

use super::bounded::Bounded;
use super::segment::Segment;
use super::{Gap, Point};

/// How much farther out a point may lie that is passed over, mm: far less than any figure is shown to.
const PASSED_OVER: f64 = 1e-7;

/// Looks of one search: many times what any outline was seen to need. After them the best so far is the answer.
const MOST_LOOKS: usize = 20_000;

/// The point of a closed curve, given by its pieces one after the other, that sticks out of another one farthest; None
/// if none sticks out.
///
/// All ends are looked at first. Then pieces are halved, those first that can hold the farthest point, and stretches
/// that cannot hold one farther out than the best are dropped.
pub(super) fn on<'a>(pieces: impl Iterator<Item = &'a Segment>, wall: &Bounded) -> Option<Gap> {
    let look = |segment: &Segment, share: f64| Look {
        share,
        gap: wall.room_around(segment.at(share)),
    };
    let pieces: Vec<&Segment> = pieces.collect();
    let starts: Vec<Look> = pieces.iter().map(|piece| look(piece, 0.0)).collect();
    let mut best = starts.iter().map(|look| look.gap).reduce(Gap::or_nearer)?;
    let ends = starts.iter().cycle().skip(1);
    let stretches = pieces.iter().zip(&starts).zip(ends);
    let mut open: Vec<Stretch> = stretches
        .map(|((segment, &start), &end)| {
            Stretch::of(segment, [start, Look { share: 1.0, ..end }], wall)
        })
        .collect();
    open.sort_by(|a, b| b.least.total_cmp(&a.least));
    for _ in 0..MOST_LOOKS {
        let Some(next) = open.pop() else {
            break;
        };
        if next.least > best.distance.min(0.0) - PASSED_OVER {
            continue;
        }
        let Stretch { segment, ends, .. } = next;
        let middle = look(segment, f64::midpoint(ends[0].share, ends[1].share));
        best = best.or_nearer(middle.gap);
        let halves = [[ends[0], middle], [middle, ends[1]]];
        open.extend(halves.map(|ends| Stretch::of(segment, ends, wall)));
    }
    (best.distance < 0.0).then_some(best)
}

/// A stretch of a piece.
struct Stretch<'a> {
    segment: &'a Segment,
    ends: [Look; 2],
    /// No place of it has less room, mm.
    least: f64,
}

impl<'a> Stretch<'a> {
    fn of(segment: &'a Segment, ends: [Look; 2], wall: &Bounded) -> Self {
        Self {
            segment,
            least: least_room(segment, &ends, wall.is_convex()),
            ends,
        }
    }
}

/// A place on a piece, and its room within the wall.
#[derive(Clone, Copy)]
struct Look {
    /// Its share of the piece's length.
    share: f64,
    gap: Gap,
}

/// A bound that the room between two places does not come below, mm; negative outside.
///
/// The room changes no faster than its place moves. And no place is farther from the wall than from the
/// point of it that is nearest to either end: of two squares of such distances along a straight line the
/// smaller one is largest at an end or where both are the same. In a convex wall, the room along a straight line is
/// least at an end. A round piece is no farther from its chord than its rise.
fn least_room(segment: &Segment, [a, b]: &[Look; 2], in_convex: bool) -> f64 {
    let length = segment.length() * (b.share - a.share);
    if in_convex {
        return a.gap.distance.min(b.gap.distance) - rise(segment, length);
    }
    let slow = (a.gap.distance + b.gap.distance - length) / 2.0;
    let chord = b.gap.from - a.gap.from;
    if slow >= 0.0 || chord.norm_squared() == 0.0 {
        return slow;
    }
    let square = |at: Point, foot: Point| (at - foot).norm_squared();
    let at_ends = [a, b].map(|look| square(look.gap.from, look.gap.to));
    let crosswise = [square(a.gap.from, b.gap.to), square(b.gap.from, a.gap.to)];
    let mut farthest = at_ends[0].max(at_ends[1]);
    // Less the square of the way, both change evenly along the chord.
    let [at_start, at_end] = [crosswise[0] - at_ends[0], crosswise[1] - at_ends[1]];
    if at_start + at_end > 0.0 {
        let share = at_start / (at_start + at_end);
        let even = at_ends[0] + (crosswise[1] - at_ends[0]) * share;
        farthest = farthest.max(even - share * (1.0 - share) * chord.norm_squared());
    }
    slow.max(-farthest.sqrt() - rise(segment, length))
}

/// How far a stretch of a piece with this length rises over its chord, mm.
fn rise(segment: &Segment, length: f64) -> f64 {
    match segment {
        Segment::Line(_) => 0.0,
        Segment::Arc(arc) => arc.radius * (1.0 - (length / arc.radius / 2.0).cos()),
    }
}
