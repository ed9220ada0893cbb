//! What the topics share: random numbers with a fixed seed, and projects to try.

mod projects;
mod random;

pub(crate) use projects::{around, eye, finding, lidded_pair, pair, random_lids, star};
pub(crate) use random::Random;
