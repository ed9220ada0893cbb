//! Where a value that has creases is least: the method of Nelder and Mead, whose simplex lies down along a crease,
//! where no step along the ranges leads lower.

use std::array;

use crate::search;

/// Values that differ by less are the same, mm: at last, and while it is open from where to lead down.
const ENOUGH: f64 = 1e-5;
const ENOUGH_AT_FIRST: f64 = 1e-4;

/// Most simplexes that set out one after another: one that has become flat comes to a stand.
const MOST_SIMPLEXES: usize = 4;

/// Steps along the ranges that are shorter, in their units, are not taken.
const SHORTEST: f64 = 1e-5;

/// How near to the least of all another one may be, mm, for both to be led down to their ends.
const CLOSE: f64 = 0.1;

/// Most steps of one.
const MOST_STEPS: usize = 200;

/// How many of the least places that are looked at are led down from.
const STARTS: usize = 4;

/// A place in some ranges, and the value there.
type Found<const N: usize> = ([f64; N], f64);

/// A value over some ranges, mm.
pub(crate) struct Ground<const N: usize, F> {
    pub(crate) ranges: [[f64; 2]; N],
    /// About how much it changes at most along each range, mm for one of its unit.
    pub(crate) steepest: [f64; N],
    pub(crate) of: F,
}

impl<const N: usize, F: Fn([f64; N]) -> f64> Ground<N, F> {
    /// Where it is least, if that is less than `below`, from what it is at even steps over all ranges, so many along each
    /// and the first range first: led down to from the least that have none less beside them, as long as it may become
    /// less than what is known, and to its end, by simplexes of the size `last`, from what comes close to the least.
    pub(crate) fn least_from(
        &self,
        counts: [usize; N],
        values: &[f64],
        below: f64,
        last: [f64; N],
    ) -> Option<Found<N>> {
        let spacing: [f64; N] = array::from_fn(|axis| {
            let [low, high] = self.ranges[axis];
            (high - low) / counts[axis].saturating_sub(1).max(1) as f64
        });
        let half = spacing.map(|step| step / 2.0);
        let (mut found, mut least): (Vec<Found<N>>, f64) = (Vec::new(), below);
        for (steps, value) in starts(counts, values) {
            let enough = least + CLOSE;
            if value - self.change(half) >= enough {
                continue;
            }
            let at =
                array::from_fn(|axis| self.ranges[axis][0] + spacing[axis] * steps[axis] as f64);
            let simplex = Simplex::beside(self, (at, value), half);
            let led = simplex.descended(enough, ENOUGH_AT_FIRST);
            least = least.min(led.1);
            found.push(led);
        }
        let close = { found.into_iter() }.filter(|(_, value)| *value < least + CLOSE);
        close
            .map(|found| self.settled(found, last))
            .filter(|(_, value)| *value < below)
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Where it leads down to from a place and a simplex of `size` beside it.
    fn descended(&self, start: Found<N>, size: [f64; N]) -> Found<N> {
        let mut best = start;
        for _ in 0..MOST_SIMPLEXES {
            let next = Simplex::beside(self, best, size).descended(f64::INFINITY, ENOUGH);
            let gained = best.1 - next.1;
            best = next;
            if gained < ENOUGH {
                break;
            }
        }
        best
    }

    /// The same, by simplexes and by steps along the ranges in turn until neither leads lower: a simplex may come to a
    /// stand beside the ends of ranges, and steps at a crease.
    pub(crate) fn settled(&self, start: Found<N>, size: [f64; N]) -> Found<N> {
        let mut best = start;
        for round in 0..MOST_SIMPLEXES {
            // Every other simplex lies to the other side.
            let side = if round % 2 == 0 { 1.0 } else { -0.5 };
            let (at, value) = self.descended(best, size.map(|of| side * of));
            if round > 0 && best.1 - value < ENOUGH {
                break;
            }
            let up = |at| -(self.of)(at);
            let (at, up) = search::climbed(&self.ranges, (at, -value), size, SHORTEST, up);
            best = (at, -up);
        }
        best
    }

    /// How much it changes at most over a part of each range.
    fn change(&self, parts: [f64; N]) -> f64 {
        let parts = parts.iter().zip(self.steepest);
        parts.map(|(part, steepest)| part * steepest).sum()
    }

    fn look(&self, at: [f64; N]) -> Found<N> {
        (at, (self.of)(at))
    }
}

/// The least values that have none less beside them, each with its steps along the ranges, the least first; see
/// [`Ground::least_from`].
fn starts<const N: usize>(counts: [usize; N], values: &[f64]) -> Vec<([usize; N], f64)> {
    let steps_of = |mut index: usize| -> [usize; N] {
        counts.map(|count| {
            let step = index % count;
            index /= count;
            step
        })
    };
    let looked: Vec<([usize; N], f64)> = { values.iter().enumerate() }
        .map(|(index, value)| (steps_of(index), *value))
        .collect();
    let beside = |a: &[usize; N], b: &[usize; N]| {
        let mut both = a.iter().zip(b);
        both.all(|(a, b)| a.abs_diff(*b) <= 1)
    };
    let is_least = |(steps, value): &&([usize; N], f64)| {
        let mut all = looked.iter();
        all.all(|(other, theirs)| value <= theirs || !beside(steps, other))
    };
    let mut starts: Vec<_> = looked.iter().filter(is_least).copied().collect();
    starts.sort_by(|a, b| a.1.total_cmp(&b.1));
    starts.truncate(STARTS);
    starts
}

struct Simplex<'a, const N: usize, F> {
    ground: &'a Ground<N, F>,
    /// One more than there are ranges that have a length.
    corners: Vec<Found<N>>,
}

impl<'a, const N: usize, F: Fn([f64; N]) -> f64> Simplex<'a, N, F> {
    /// One with a corner at `start`, and another along each range.
    fn beside(ground: &'a Ground<N, F>, start: Found<N>, size: [f64; N]) -> Self {
        let corner = |axis: usize| {
            let ([low, high], mut at) = (ground.ranges[axis], start.0);
            let fits = (low..=high).contains(&(at[axis] + size[axis]));
            let step = if fits { size[axis] } else { -size[axis] };
            at[axis] = (at[axis] + step).max(low).min(high);
            (high > low).then(|| ground.look(at))
        };
        let others = (0..N).filter_map(corner);
        let corners = [start].into_iter().chain(others).collect();
        Self { ground, corners }
    }

    /// The least corner that it comes to, as long as that may come below `below`: until all are alike, and so is their
    /// middle, which lies lower where they lie around what is least.
    fn descended(mut self, below: f64, enough: f64) -> Found<N> {
        for _ in 0..MOST_STEPS {
            self.corners.sort_unstable_by(|a, b| a.1.total_cmp(&b.1));
            let [best, .., worst] = self.corners[..] else {
                break;
            };
            if best.1 - self.most_to_gain(below) >= below {
                break;
            }
            if worst.1 - best.1 >= enough {
                self.step(best, worst);
                continue;
            }
            let middle = self.ground.look(middle(&self.corners));
            if best.1 - middle.1 < enough {
                break;
            }
            let last = self.corners.len() - 1;
            self.corners[last] = middle;
        }
        self.corners[0]
    }

    /// Puts the worst corner, or all but the best, elsewhere.
    fn step(&mut self, best: Found<N>, worst: Found<N>) {
        let last = self.corners.len() - 1;
        let others = &self.corners[..last];
        let middle = middle(others);
        let second = others[last - 1].1;
        let mirrored = self.beyond(middle, worst.0, 1.0);
        let next = if mirrored.1 < best.1 {
            let farther = self.beyond(middle, worst.0, 2.0);
            Some(if farther.1 < mirrored.1 {
                farther
            } else {
                mirrored
            })
        } else if mirrored.1 < second {
            Some(mirrored)
        } else {
            let by = if mirrored.1 < worst.1 { 0.5 } else { -0.5 };
            let nearer = self.beyond(middle, worst.0, by);
            (nearer.1 < worst.1.min(mirrored.1)).then_some(nearer)
        };
        match next {
            Some(next) => self.corners[last] = next,
            None => self.shrink(best.0),
        }
    }

    /// So many times as far beyond the middle as the worst corner is before it; what would lie beyond an end of a range
    /// lies as far within it, so that a simplex does not become flat there.
    fn beyond(&self, middle: [f64; N], worst: [f64; N], by: f64) -> Found<N> {
        self.ground.look(array::from_fn(|axis| {
            let [low, high] = self.ground.ranges[axis];
            let to = middle[axis] + (middle[axis] - worst[axis]) * by;
            let within = if to < low { 2.0 * low - to } else { to };
            let within = if within > high {
                2.0 * high - within
            } else {
                within
            };
            within.max(low).min(high)
        }))
    }

    /// Halves the way of all corners to the best.
    fn shrink(&mut self, best: [f64; N]) {
        for corner in &mut self.corners[1..] {
            let at = array::from_fn(|axis| (corner.0[axis] + best[axis]) / 2.0);
            *corner = self.ground.look(at);
        }
    }

    /// How much less than its best corner it may still find; nothing is asked where any value will do.
    fn most_to_gain(&self, below: f64) -> f64 {
        if below == f64::INFINITY {
            return f64::INFINITY;
        }
        2.0 * self.ground.change(self.extent())
    }

    /// How far its corners are apart along each range.
    fn extent(&self) -> [f64; N] {
        array::from_fn(|axis| {
            let along = || self.corners.iter().map(|(at, _)| at[axis]);
            along().fold(f64::NEG_INFINITY, f64::max) - along().fold(f64::INFINITY, f64::min)
        })
    }
}

/// The mean of some places.
fn middle<const N: usize>(corners: &[Found<N>]) -> [f64; N] {
    let mut middle = [0.0; N];
    for (at, _) in corners {
        for (middle, at) in middle.iter_mut().zip(at) {
            *middle += at / corners.len() as f64;
        }
    }
    middle
}
