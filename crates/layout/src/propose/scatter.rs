//! Places that lie evenly scattered, the same each time.

/// The first `count` points of an additive recurrence in as many dimensions as its steps, each
/// coordinate from 0 to 1: point k is the fractional part of k times the steps (H. Weyl, 1916, showed
/// that they fill a cube evenly).
#[derive(Clone, Debug)]
pub(super) struct Scatter {
    steps: Vec<f64>,
}

impl Scatter {
    /// In a number of dimensions, at least 1. The steps are the powers of 1/φ with φ^(d + 1) = φ + 1,
    /// the golden ratio in one dimension, which no fraction comes near.
    pub(super) fn new(dimensions: usize) -> Self {
        let root = 1.0 / (dimensions as f64 + 1.0);
        // Each round adds a digit and more.
        let golden = (0..40).fold(2.0_f64, |golden, _| (1.0 + golden).powf(root));
        let power = |power: &f64| Some(power / golden);
        let powers = std::iter::successors(Some(1.0 / golden), power);
        Self {
            steps: powers.take(dimensions).collect(),
        }
    }

    /// Point `k`, from 1.
    pub(super) fn at(&self, k: u32) -> impl Iterator<Item = f64> + '_ {
        let k = f64::from(k);
        self.steps.iter().map(move |step| (0.5 + k * step).fract())
    }
}
