//! How far a piece of one outline sticks out of another.

use super::bounded::Bounded;
use super::segment::Segment;
use super::{Gap, Point};

/// How much farther out a point may lie that is passed over, mm: far less than any figure is shown to.
const PASSED_OVER: f64 = 1e-7;

/// Looks of one search: many times what any piece was seen to need. After them the best so far is the answer.
const MOST_LOOKS: usize = 4_000;

/// The point of a piece that sticks out of a closed curve farthest; None if none sticks out by more than one
/// that was found before, whose gap is `so_far`, mm, or 0.
///
/// Searched by halving: stretches that cannot hold a point farther out than the best are dropped.
pub(super) fn on(segment: &Segment, wall: &Bounded, so_far: f64) -> Option<Gap> {
    let look = |share: f64| Look {
        share,
        gap: wall.room_around(segment.at(share)),
    };
    let ends = [look(0.0), look(1.0)];
    let mut best = ends[0].gap.or_nearer(ends[1].gap);
    let mut open = vec![ends];
    for _ in 0..MOST_LOOKS {
        let Some(ends) = open.pop() else {
            break;
        };
        if least_room(segment, &ends) > best.distance.min(so_far) - PASSED_OVER {
            continue;
        }
        let middle = look(f64::midpoint(ends[0].share, ends[1].share));
        best = best.or_nearer(middle.gap);
        open.extend([[ends[0], middle], [middle, ends[1]]]);
    }
    (best.distance < so_far).then_some(best)
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
/// smaller one is largest at an end or where both are the same. A round piece is no farther from its chord
/// than its rise.
fn least_room(segment: &Segment, [a, b]: &[Look; 2]) -> f64 {
    let length = segment.length() * (b.share - a.share);
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
