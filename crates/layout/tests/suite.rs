//! The core on its own: every file holds one topic, every test's name is a true sentence.

mod common;

mod crosstalk;
mod draft;
mod drive_pairs;
mod edits;
mod fewer_points;
mod following;
mod force;
mod guard;
mod hand;
mod history;
mod hull;
mod iris;
mod lids;
mod limits;
mod linkage;
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
mod rods;
mod route;
mod seated;
mod sheaths;
mod shortest_turn;
mod totality;
mod tracing;
mod workshop;
