//! A shape's outline as a few corners.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use layout::geometry::segment::Line;
use layout::geometry::{Point, polygon};
use layout::problem::{LARGEST, SMALLEST};

use crate::{IntakeError, Shape};

/// How far thinned corners may lie off the flattened outline without need, mm. Together with
/// [`polygon::FLATTENING`] it is a twentieth of a millimetre, which no saw keeps to.
const THINNING: f64 = 0.03;

/// Most corners that are looked at before a shape is given up: a few seconds' work, and ten times what
/// a shape with as many corners as are read takes.
const MOST_LOOKS: usize = 1_000_000_000;

impl Shape {
    /// The corners of the outline, mm, counter-clockwise, for a shape that is in mm: within 0.05 mm of
    /// it, or farther where fewer than that needs are wanted, and never more than `most` (at least 3).
    /// The polygon through them does not cross itself.
    ///
    /// # Errors
    /// The shape crosses itself, is too small or too large for a head, or too intricate to be thinned.
    pub fn points(&self, most: usize) -> Result<Vec<[f64; 2]>, IntakeError> {
        let [low, high] = self.outline.bounds().unwrap_or_default();
        let size = high - low;
        if !(SMALLEST..=LARGEST).contains(&size.x) || !(SMALLEST..=LARGEST).contains(&size.y) {
            return Err(IntakeError::wrong_size(size, SMALLEST, LARGEST));
        }
        if let Some(at) = self.crosses_at {
            return Err(IntakeError::crosses(at - low));
        }
        let corners = thinned(self.outline.flattened(), most.max(3))
            .ok_or_else(|| IntakeError::too_fine(most))?;
        // So narrow a place that 0.05 mm bridge it.
        if let Some(at) = polygon::self_crossing(&corners) {
            return Err(IntakeError::crosses(at - low));
        }
        Ok(corners.into_iter().map(|p| [p.x, p.y]).collect())
    }
}

/// Takes the corners out that are missed least, as long as they are not missed by [`THINNING`] or more
/// than `most` are left, and never one across which the polygon would come to cross itself.
///
/// None if its corners stand in each other's way too much.
fn thinned(corners: Vec<Point>, most: usize) -> Option<Vec<Point>> {
    let mut ring = Ring::of(corners);
    let mut heap: BinaryHeap<_> = (0..ring.corners.len())
        .map(|at| ring.candidate(at))
        .collect();
    let (mut blocked, mut removed_since, mut looks) = (Vec::new(), false, MOST_LOOKS);
    while ring.count > 3 {
        let Some(Reverse((cost, at))) = heap.pop() else {
            // What stood in the way may be gone.
            if !removed_since || ring.count <= most {
                break;
            }
            removed_since = false;
            heap.extend(blocked.drain(..).map(|at| ring.candidate(at)));
            continue;
        };
        if f64::from_bits(cost) > THINNING && ring.count <= most {
            break;
        }
        if ring.removed[at] || ring.cost(at).to_bits() != cost {
            continue;
        }
        looks = looks.checked_sub(ring.count)?;
        if ring.is_blocked(at) {
            blocked.push(at);
            continue;
        }
        removed_since = true;
        for neighbour in ring.remove(at) {
            heap.push(ring.candidate(neighbour));
        }
    }
    Some(ring.left())
}

/// What stands in the heap for a corner: what it costs to take out (as bits, which sort as lengths do),
/// and its index; the least first.
type Candidate = Reverse<(u64, usize)>;

/// Corners in a ring, some of them taken out.
struct Ring {
    corners: Vec<Point>,
    next: Vec<usize>,
    last: Vec<usize>,
    removed: Vec<bool>,
    count: usize,
}

impl Ring {
    fn of(corners: Vec<Point>) -> Self {
        let count = corners.len();
        Self {
            next: (1..=count).map(|at| at % count).collect(),
            last: (0..count).map(|at| (at + count - 1) % count).collect(),
            removed: vec![false; count],
            count,
            corners,
        }
    }

    fn candidate(&self, at: usize) -> Candidate {
        Reverse((self.cost(at).to_bits(), at))
    }

    /// How far the corners between the neighbours of this one, gone ones included, would lie off, mm.
    fn cost(&self, at: usize) -> f64 {
        let chord = Line {
            start: self.corners[self.last[at]],
            end: self.corners[self.next[at]],
        };
        let off = |corner: Point| (corner - chord.nearest(corner)).norm();
        let step = |&at: &usize| Some((at + 1) % self.corners.len());
        std::iter::successors(step(&self.last[at]), step)
            .take_while(|&between| between != self.next[at])
            .map(|between| off(self.corners[between]))
            .fold(0.0, f64::max)
    }

    /// Whether another corner lies in the triangle that would be cut off or filled in.
    fn is_blocked(&self, at: usize) -> bool {
        let (before, after) = (self.last[at], self.next[at]);
        let [a, b, c] = [before, at, after].map(|corner| self.corners[corner]);
        let (low, high) = (a.inf(&b).inf(&c), a.sup(&b).sup(&c));
        let turn = |from: Point, to: Point, p: Point| (to - from).perp(&(p - from));
        let within = |p: Point| {
            let turns = [turn(a, b, p), turn(b, c, p), turn(c, a, p)];
            turns.iter().all(|&turn| turn >= 0.0) || turns.iter().all(|&turn| turn <= 0.0)
        };
        let mut other = self.next[after];
        while other != before {
            let p = self.corners[other];
            let in_box = p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y;
            if in_box && within(p) {
                return true;
            }
            other = self.next[other];
        }
        false
    }

    /// Takes a corner out, and names its neighbours.
    fn remove(&mut self, at: usize) -> [usize; 2] {
        let (before, after) = (self.last[at], self.next[at]);
        self.next[before] = after;
        self.last[after] = before;
        self.removed[at] = true;
        self.count -= 1;
        [before, after]
    }

    fn left(self) -> Vec<Point> {
        let corners = self.corners.into_iter().zip(self.removed);
        corners
            .filter_map(|(corner, gone)| (!gone).then_some(corner))
            .collect()
    }
}
