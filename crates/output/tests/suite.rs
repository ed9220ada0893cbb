//! What must hold of every sheet, cut file and solid.

#![allow(
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    reason = "a test stops where it fails"
)]

mod arcs;
mod boxes;
mod contours;
mod cut_again;
mod cut_errors;
mod cut_files;
mod cut_raster;
mod drives;
mod foam_rods;
mod joined;
mod kerf;
mod margins;
mod measures;
mod outside;
mod overlap;
mod pages;
mod parts;
mod projects;
mod raster;
mod seam;
mod seen;
mod side;
mod solid;
mod structure;
mod templates;
mod tiles;
mod words;
