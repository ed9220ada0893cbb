//! What the topics share: random numbers with a fixed seed, and projects to try.

pub(crate) mod dense;
mod projects;
mod random;
pub(crate) mod routes;
pub(crate) mod space;

pub(crate) use projects::{
    around, chained_eyes, eye, finding, lidded_pair, pair, random_lids, rod, rodded_pair, side_of,
    star,
};
pub(crate) use random::Random;
