//! Plates from the shelf: which fits a head, and where.

mod demo;
mod drawn;
mod failing;
mod file;
mod grid;
mod heads;
mod kept;
mod matching;
mod measured;
mod ordered;
mod report;
mod search;
mod taken;
mod unspaced;
