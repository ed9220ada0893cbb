//! The core on its own: every file holds one topic, every test's name is a true sentence.

mod common;

mod draft;
mod edits;
mod fewer_points;
mod history;
mod hull;
mod limits;
mod margins;
mod outline;
mod pieces;
mod plate;
mod ring;
mod ring_search;
mod seated;
mod totality;
mod tracing;
mod workshop;
