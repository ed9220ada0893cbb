//! What must hold of every drawing that is read.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

mod common;

mod arcs;
mod blocks;
mod chains;
mod circles;
mod dxf;
mod hostile;
mod mutations;
mod outside;
mod points;
mod refusals;
mod splines;
mod svg;
mod units;
