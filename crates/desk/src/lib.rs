//! The Gazewright program: its window, its commands and its files.

pub mod commands;
pub mod files;
pub mod keep;
pub mod parts;
pub mod picture;
pub mod ranking;
pub mod samples;
pub mod spacing_search;
pub mod window;
