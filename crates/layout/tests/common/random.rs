//! Random numbers that are the same in every run.

use std::f64::consts::TAU;

use layout::geometry::Point;

/// The splitmix64 generator (G. Steele, D. Lea, C. Flood: Fast splittable pseudorandom number
/// generators, 2014; constants from memory: any other mixing would serve as well here).
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From `low` up to, but not including, `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let unit = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * unit
    }

    /// From 0 to `count` − 1.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % count as u64).expect("a remainder of a usize is one")
    }

    pub(crate) fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    pub(crate) fn pick<T: Copy>(&mut self, among: &[T]) -> T {
        among[self.below(among.len())]
    }

    pub(crate) fn angle(&mut self) -> f64 {
        self.between(0.0, TAU)
    }

    /// A point of the square from −`half` to `half`.
    pub(crate) fn point(&mut self, half: f64) -> Point {
        Point::new(self.between(-half, half), self.between(-half, half))
    }
}
