//! The highest place under some planes over a box: a linear program in a shift along x, along y and a
//! turn, solved by the simplex method.

/// How many numbers a box has: shift along x and y, and turn.
pub(super) const AXES: usize = 3;

/// A plane: its height over the middle of the box, and how much it rises from there to the sides of
/// the box toward +, axis by axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plane {
    pub(super) height: f64,
    pub(super) rise: [f64; AXES],
}

impl Plane {
    /// Its height at a place, from −1 to 1 over the box, axis by axis.
    pub(super) fn at(&self, place: [f64; AXES]) -> f64 {
        let rises = self.rise.iter().zip(place);
        self.height + rises.map(|(rise, at)| rise * at).sum::<f64>()
    }

    /// Adds another plane as many times.
    fn add(&mut self, other: &Self, times: f64) {
        self.height += times * other.height;
        for (rise, other) in self.rise.iter_mut().zip(other.rise) {
            *rise += times * other;
        }
    }

    /// Its height where it is highest over the box.
    fn most(&self) -> f64 {
        self.height + self.rise.iter().map(|rise| rise.abs()).sum::<f64>()
    }
}

/// The highest place under some planes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Highest {
    /// Where it is: from −1 to 1 over the box, axis by axis.
    pub(super) at: [f64; AXES],
    /// A height that no place under all planes exceeds. It is that of a weighted mean of the planes,
    /// so that it holds however roughly the weights were found.
    pub(super) ceiling: f64,
    /// What each plane weighs in that mean.
    pub(super) weights: Vec<f64>,
}

/// Unknowns that are not in the basis: the height over the lowest plane's middle, and the part of each
/// axis toward + and toward −.
const FREE: usize = 1 + 2 * AXES;

/// More steps than such a small program takes; it is left as it stands after them.
const MOST_STEPS: usize = 100;

/// A coefficient below this is taken for 0.
const ZERO: f64 = 1e-11;

/// Finds the highest place under all `planes` over the box.
///
/// With h the lowest height over the middle, maximise t ≥ 0 where
/// t − Σ rise·(p − m) ≤ height − h for each plane, and 0 ≤ p, m ≤ 1 for each axis. All right sides
/// are ≥ 0, so that the middle is a place to start from.
pub(super) fn highest(planes: &[Plane]) -> Highest {
    let lowest = planes.iter().map(|plane| plane.height);
    let lowest = lowest.fold(f64::INFINITY, f64::min);
    let mut table = Table::of(planes, [0.0; AXES], lowest);
    table.rows[..planes.len()]
        .iter_mut()
        .for_each(|row| row[0] = 1.0);
    table.gain[0] = 1.0;
    table.solve();
    let weights = table.weights(planes.len());
    Highest {
        at: table.place(),
        ceiling: ceiling(planes, &weights),
        weights,
    }
}

/// How far toward − and +, axis by axis, the places reach at which all `planes` are as high as `level`, from −1 to 1
/// over the box. `from` is such a place.
///
/// Where p is the way along an axis and w ≥ 0, no such place has a larger p than p + Σ w·(plane − level) has over the
/// box, so that this holds, too, however roughly the weights were found.
pub(super) fn reach(planes: &[Plane], from: [f64; AXES], level: f64, axis: usize) -> [f64; 2] {
    let start = Table::of(planes, from, level);
    [-1.0, 1.0].map(|side| {
        let mut table = start.clone();
        table.gain[1 + axis] = side;
        table.gain[1 + AXES + axis] = -side;
        table.solve();
        let mut sum = Plane {
            height: 0.0,
            rise: [0.0; AXES],
        };
        sum.rise[axis] = side;
        for (plane, weight) in planes.iter().zip(table.weights(planes.len())) {
            sum.add(plane, weight);
            sum.height -= weight * level;
        }
        side * sum.most().min(1.0)
    })
}

/// The highest place of the mean of the planes by some weights; infinite if all weights are 0.
fn ceiling(planes: &[Plane], weights: &[f64]) -> f64 {
    let total: f64 = weights.iter().sum();
    if total <= 0.0 {
        return f64::INFINITY;
    }
    let mut mean = Plane {
        height: 0.0,
        rise: [0.0; AXES],
    };
    for (plane, weight) in planes.iter().zip(weights) {
        mean.add(plane, weight / total);
    }
    mean.most()
}

/// Each row: basic unknown = right side − Σ coefficient·free unknown. The right side stands last.
#[derive(Clone)]
struct Table {
    rows: Vec<[f64; FREE + 1]>,
    /// What t gains by each free unknown; the last entry is unused.
    gain: [f64; FREE + 1],
    /// Which unknown a row or a column stands for: the free ones of the start first, then the slack
    /// of each row.
    basic: Vec<usize>,
    free: [usize; FREE],
}

impl Table {
    /// Every axis counted from `from`, a place at which no plane is lower than `level`.
    fn of(planes: &[Plane], from: [f64; AXES], level: f64) -> Self {
        let mut rows = Vec::with_capacity(planes.len() + 2 * AXES);
        for plane in planes {
            let mut row = [0.0; FREE + 1];
            for (axis, rise) in plane.rise.into_iter().enumerate() {
                (row[1 + axis], row[1 + AXES + axis]) = (-rise, rise);
            }
            row[FREE] = (plane.at(from) - level).max(0.0);
            rows.push(row);
        }
        for side in 0..2 * AXES {
            let mut row = [0.0; FREE + 1];
            let from = if side < AXES {
                from[side]
            } else {
                -from[side - AXES]
            };
            (row[1 + side], row[FREE]) = (1.0, 1.0 - from);
            rows.push(row);
        }
        Self {
            basic: (FREE..FREE + rows.len()).collect(),
            rows,
            gain: [0.0; FREE + 1],
            free: std::array::from_fn(|column| column),
        }
    }

    fn solve(&mut self) {
        for _ in 0..MOST_STEPS {
            let Some((row, column)) = self.next_pivot() else {
                break;
            };
            self.pivot(row, column);
        }
    }

    /// The column that gains most, and the row that stops it first; None at the end.
    fn next_pivot(&self) -> Option<(usize, usize)> {
        let column = (0..FREE).max_by(|&a, &b| self.gain[a].total_cmp(&self.gain[b]))?;
        if self.gain[column] <= ZERO {
            return None;
        }
        let rows = self.rows.iter().enumerate();
        let stops = rows.filter(|(_, row)| row[column] > ZERO);
        let first = stops
            .map(|(index, row)| (index, row[FREE] / row[column]))
            .min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some((first.0, column))
    }

    /// Lets a free unknown and a basic one change places.
    fn pivot(&mut self, row: usize, column: usize) {
        std::mem::swap(&mut self.basic[row], &mut self.free[column]);
        let by = 1.0 / self.rows[row][column];
        self.rows[row].iter_mut().for_each(|entry| *entry *= by);
        self.rows[row][column] = by;
        let pivot = self.rows[row];
        let clear = |other: &mut [f64; FREE + 1]| {
            let share = other[column];
            other[column] = 0.0;
            for (entry, pivot) in other.iter_mut().zip(pivot) {
                *entry -= share * pivot;
            }
        };
        let others = self.rows.iter_mut().enumerate();
        for (_, other) in others.filter(|(index, _)| *index != row) {
            clear(other);
        }
        clear(&mut self.gain);
    }

    fn place(&self) -> [f64; AXES] {
        let value = |unknown: usize| {
            let row = self.basic.iter().position(|&basic| basic == unknown);
            row.map_or(0.0, |row| self.rows[row][FREE])
        };
        std::array::from_fn(|axis| (value(1 + axis) - value(1 + AXES + axis)).clamp(-1.0, 1.0))
    }

    /// What each of `count` planes weighs: what t would gain if it were a little higher.
    fn weights(&self, count: usize) -> Vec<f64> {
        let mut weights = vec![0.0; count];
        for (column, &unknown) in self.free.iter().enumerate() {
            if let Some(weight) = unknown
                .checked_sub(FREE)
                .and_then(|row| weights.get_mut(row))
            {
                *weight = (-self.gain[column]).max(0.0);
            }
        }
        weights
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plane(height: f64, rise: [f64; AXES]) -> Plane {
        Plane { height, rise }
    }

    #[test]
    fn two_planes_that_rise_against_each_other_meet_at_the_top() {
        let planes = [plane(1.0, [2.0, 0.0, 0.0]), plane(3.0, [-2.0, 0.0, 0.0])];
        let highest = highest(&planes);
        assert!((highest.ceiling - 2.0).abs() < 1e-12, "{highest:?}");
        assert!((highest.at[0] - 0.5).abs() < 1e-12, "{highest:?}");
    }

    #[test]
    fn a_single_plane_is_highest_in_a_corner() {
        let highest = highest(&[plane(1.0, [0.5, -2.0, 0.25])]);
        assert!((highest.ceiling - 3.75).abs() < 1e-12, "{highest:?}");
        assert_eq!(highest.at, [1.0, -1.0, 1.0]);
    }

    #[test]
    fn the_places_under_two_planes_reach_as_far_as_those_are_high() {
        // 1 − p ≥ 0.5 and 2 + 4·p ≥ 0.5.
        let planes = [plane(1.0, [-1.0, 0.0, 0.0]), plane(2.0, [4.0, 0.0, 0.0])];
        let [low, high] = reach(&planes, [0.25, 0.5, -0.5], 0.5, 0);
        assert!((low + 0.375).abs() < 1e-12, "{low}");
        assert!((high - 0.5).abs() < 1e-12, "{high}");
        assert_eq!(reach(&planes, [0.25, 0.5, -0.5], 0.5, 1), [-1.0, 1.0]);
    }

    #[test]
    fn the_place_reaches_the_ceiling_under_many_planes() {
        // Planes from a fixed sequence: multiples of the golden ratio's fraction (H. Weyl's sequence).
        let mut step = 0.0_f64;
        let mut next = |reach: f64| {
            step = (step + 0.618_033_988_749_894_9).fract();
            (2.0 * step - 1.0) * reach
        };
        for count in 1..60 {
            let planes: Vec<Plane> = (0..count)
                .map(|_| plane(next(3.0), [next(2.0), next(2.0), next(2.0)]))
                .collect();
            let highest = highest(&planes);
            let heights = planes.iter().map(|plane| plane.at(highest.at));
            let reached = heights.fold(f64::INFINITY, f64::min);
            assert!((highest.ceiling - reached).abs() < 1e-9, "{count} planes");
        }
    }
}
