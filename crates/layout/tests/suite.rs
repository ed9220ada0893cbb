//! The core on its own: every file holds one topic, every test's name is a true sentence.

mod common;

mod draft;
mod drive_checks;
mod edits;
mod fewer_points;
mod force;
mod guard;
mod hand;
mod history;
mod hull;
mod in_front;
mod iris;
mod lids;
mod limits;
mod lugs;
mod margins;
mod mechanism;
mod outline;
mod pieces;
mod plate;
mod plate_cut;
mod pull;
mod ring;
mod ring_search;
mod route;
mod seated;
mod sheaths;
mod shut_lids;
mod totality;
mod tracing;
mod workshop;
