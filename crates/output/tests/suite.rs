//! What must hold of every sheet and solid.

#![allow(
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    reason = "a test stops where it fails"
)]

mod arcs;
mod boxes;
mod joined;
mod margins;
mod measures;
mod outside;
mod overlap;
mod pages;
mod projects;
mod raster;
mod seam;
mod seen;
mod solid;
mod structure;
mod tiles;
mod words;
