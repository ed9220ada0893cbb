//! The largest value of a smooth function over a small range of two turns.

/// Places along each range that are looked at first. A quarter turn to both sides then has one every
/// 15°, and no function of a lever's pose has two peaks nearer together than that.
const PLACES: usize = 13;

/// How many of the highest places are climbed from: no function of a lever's pose has more peaks than
/// the corners of its range.
const CLIMBS: usize = 4;

/// Steps shorter than this, radians, are not taken: a peak's height is found to its square.
const SHORTEST: f64 = 1e-5;

/// Most steps of one climb: each halving of the step is followed by a few steps at most.
const MOST_STEPS: usize = 500;

/// Where in `ranges`, radians, `of` is largest, and its value there.
///
/// A grid is looked over, and from its highest peaks the value is followed upward, along the ranges
/// and aslant, by steps that are halved where none leads up. The answer is no place that was not
/// looked at.
pub(crate) fn largest(ranges: [[f64; 2]; 2], of: impl Fn([f64; 2]) -> f64) -> ([f64; 2], f64) {
    let count = ranges.map(|[low, high]| if high > low { PLACES } else { 1 });
    let spacing: [f64; 2] = std::array::from_fn(|axis| {
        let [low, high] = ranges[axis];
        (high - low) / (PLACES - 1) as f64
    });
    let at = |across: usize, up: usize| {
        let index = [across, up];
        std::array::from_fn(|axis| ranges[axis][0] + spacing[axis] * index[axis] as f64)
    };
    let values: Vec<f64> = (0..count[0] * count[1])
        .map(|index| of(at(index % count[0], index / count[0])))
        .collect();
    let is_peak = |index: usize| {
        let (across, up) = (index % count[0], index / count[0]);
        let beside =
            |place: usize, count: usize| place.saturating_sub(1)..=(place + 1).min(count - 1);
        beside(up, count[1])
            .flat_map(|up| beside(across, count[0]).map(move |across| up * count[0] + across))
            .all(|other| values[other] <= values[index])
    };
    let mut peaks: Vec<usize> = (0..values.len()).filter(|&index| is_peak(index)).collect();
    peaks.sort_by(|&a, &b| values[b].total_cmp(&values[a]));
    peaks.truncate(CLIMBS);
    let climb = |index: usize| {
        let start = (at(index % count[0], index / count[0]), values[index]);
        climbed(start, spacing, ranges, &of)
    };
    let first = (at(0, 0), values[0]);
    peaks.into_iter().map(climb).fold(
        first,
        |best, other| {
            if other.1 > best.1 { other } else { best }
        },
    )
}

fn climbed(
    (mut at, mut value): ([f64; 2], f64),
    spacing: [f64; 2],
    ranges: [[f64; 2]; 2],
    of: &impl Fn([f64; 2]) -> f64,
) -> ([f64; 2], f64) {
    const WAYS: [[f64; 2]; 8] = [
        [1.0, 0.0],
        [-1.0, 0.0],
        [0.0, 1.0],
        [0.0, -1.0],
        [1.0, 1.0],
        [-1.0, 1.0],
        [1.0, -1.0],
        [-1.0, -1.0],
    ];
    let mut step = spacing;
    for _ in 0..MOST_STEPS {
        let next = WAYS.iter().find_map(|way| {
            let place: [f64; 2] = std::array::from_fn(|axis| {
                let [low, high] = ranges[axis];
                (at[axis] + way[axis] * step[axis]).max(low).min(high)
            });
            let there = of(place);
            (there > value).then_some((place, there))
        });
        match next {
            Some(higher) => (at, value) = higher,
            None => step = step.map(|step| step / 2.0),
        }
        if step.iter().all(|&step| step < SHORTEST) {
            break;
        }
    }
    (at, value)
}
