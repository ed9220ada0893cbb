//! Plates from the shelf: which fits a head, and where.

mod grid;
mod heads;
mod search;
