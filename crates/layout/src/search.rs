//! The largest values of something smooth over a small range of two turns.

/// Places along each range that are looked at first. A quarter turn to both sides then has one every
/// 15°, and no function of a lever's pose has two peaks nearer together than that.
const PLACES: usize = 13;

/// How many of the highest places are climbed from: no function of a lever's pose has more peaks than
/// the corners of its range.
const CLIMBS: usize = 4;

/// Steps shorter than this, radians, are not taken: a peak's height is found to its square.
const SHORTEST: f64 = 5e-5;

/// Most steps of one climb: each time that the step becomes shorter it is followed by a few steps at most.
const MOST_STEPS: usize = 500;

/// Where in `ranges`, radians, `of` is largest, and its value there; see [`Search::largest`].
pub(crate) fn largest(ranges: [[f64; 2]; 2], of: impl Fn([f64; 2]) -> f64) -> ([f64; 2], f64) {
    Search::over(ranges, of).largest(|&value| value)
}

/// Something that depends on two turns, looked over once on a grid, for the largest of several figures
/// of it.
pub(crate) struct Search<T, F> {
    ranges: [[f64; 2]; 2],
    spacing: [f64; 2],
    count: [usize; 2],
    seen: Vec<T>,
    look: F,
}

impl<T, F: Fn([f64; 2]) -> T> Search<T, F> {
    /// Looks over `ranges`, radians.
    pub(crate) fn over(ranges: [[f64; 2]; 2], look: F) -> Self {
        let mut search = Self {
            ranges,
            spacing: ranges.map(|[low, high]| (high - low) / (PLACES - 1) as f64),
            count: ranges.map(|[low, high]| if high > low { PLACES } else { 1 }),
            seen: Vec::new(),
            look,
        };
        let places = 0..search.count[0] * search.count[1];
        search.seen = places
            .map(|index| (search.look)(search.place(index)))
            .collect();
        search
    }

    /// Where a figure is largest, and its value there.
    ///
    /// From the grid's highest peaks the value is followed upward, along the ranges and aslant, by steps
    /// that become shorter where none leads up. The answer is no place that was not looked at.
    pub(crate) fn largest(&self, of: impl Fn(&T) -> f64) -> ([f64; 2], f64) {
        let values: Vec<f64> = self.seen.iter().map(&of).collect();
        let mut peaks: Vec<usize> = (0..values.len())
            .filter(|&index| self.is_peak(&values, index))
            .collect();
        peaks.sort_by(|&a, &b| values[b].total_cmp(&values[a]));
        peaks.truncate(CLIMBS);
        let climb = |index: usize| {
            let start = (self.place(index), values[index]);
            climbed(&self.ranges, start, self.spacing, SHORTEST, |place| {
                of(&(self.look)(place))
            })
        };
        let first = (self.place(0), values[0]);
        peaks.into_iter().map(climb).fold(
            first,
            |best, other| {
                if other.1 > best.1 { other } else { best }
            },
        )
    }

    fn place(&self, index: usize) -> [f64; 2] {
        let steps = [index % self.count[0], index / self.count[0]];
        std::array::from_fn(|axis| self.ranges[axis][0] + self.spacing[axis] * steps[axis] as f64)
    }

    fn is_peak(&self, values: &[f64], index: usize) -> bool {
        let [across, up] = [index % self.count[0], index / self.count[0]];
        let beside = |place: usize, axis: usize| {
            place.saturating_sub(1)..=(place + 1).min(self.count[axis] - 1)
        };
        beside(up, 1)
            .flat_map(|up| beside(across, 0).map(move |across| up * self.count[0] + across))
            .all(|other| values[other] <= values[index])
    }
}

/// Where a value leads up to from a place within `ranges`, and the value there: by steps along the ranges and
/// aslant to two of them, a quarter as long where none leads up, until they are shorter than `shortest`.
pub(crate) fn climbed<const N: usize>(
    ranges: &[[f64; 2]; N],
    (mut at, mut value): ([f64; N], f64),
    mut step: [f64; N],
    shortest: f64,
    of: impl Fn([f64; N]) -> f64,
) -> ([f64; N], f64) {
    let ways = ways();
    for _ in 0..MOST_STEPS {
        let next = beside(&ways, ranges, at, step).find_map(|place| {
            let there = of(place);
            (there > value).then_some((place, there))
        });
        match next {
            Some(higher) => (at, value) = higher,
            None => step = step.map(|step| step / 4.0),
        }
        if step.iter().all(|&step| step < shortest) {
            break;
        }
    }
    (at, value)
}

/// The places one step away from a place, along some ways and within the ranges.
pub(crate) fn beside<const N: usize>(
    ways: &[[f64; N]],
    ranges: &[[f64; 2]; N],
    at: [f64; N],
    step: [f64; N],
) -> impl Iterator<Item = [f64; N]> {
    { ways.iter() }.filter_map(move |way| stepped(ranges, at, *way, step))
}

/// A step's end, held within the ranges; None where an end of a range holds one of its axes: along the
/// others alone, it was tried before.
fn stepped<const N: usize>(
    ranges: &[[f64; 2]; N],
    at: [f64; N],
    way: [f64; N],
    step: [f64; N],
) -> Option<[f64; N]> {
    let place: [f64; N] = std::array::from_fn(|axis| {
        let [low, high] = ranges[axis];
        (at[axis] + way[axis] * step[axis]).max(low).min(high)
    });
    let moves = |axis: usize| way[axis] == 0.0 || place[axis] != at[axis];
    (0..N).all(moves).then_some(place)
}

/// The ways of a step, along one axis before aslant.
pub(crate) fn ways<const N: usize>() -> Vec<[f64; N]> {
    let along = (0..N).flat_map(|axis| [1.0, -1.0].map(|way| (axis, way, axis, way)));
    let pairs = (0..N).flat_map(|first| (first + 1..N).map(move |second| (first, second)));
    let signs = [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]];
    let aslant = pairs.flat_map(move |(a, b)| signs.map(|[by_a, by_b]| (a, by_a, b, by_b)));
    let way = |(a, by_a, b, by_b): (usize, f64, usize, f64)| {
        let mut way = [0.0; N];
        (way[a], way[b]) = (by_a, by_b);
        way
    };
    along.chain(aslant).map(way).collect()
}
