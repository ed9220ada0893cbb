//! Pure geometry and rules for laying out the plate that carries movable eyes.
//!
//! Inside, a length is in millimetres and an angle in radians; [`Degrees`] marks the angles that a
//! file holds. The frame is the plate's: x to the right as the audience sees it, y up, z toward the
//! audience, the plate's front face at z = 0.

pub mod angle;
mod bare;
pub mod cable_hole;
pub mod closed_curve;
pub mod draft;
pub mod drive;
mod drive_pair;
pub mod edit;
pub mod evaluate;
pub mod eye;
pub mod fewer_points;
pub mod field;
pub mod force;
pub mod four_bar;
mod fresh;
pub mod gaze;
pub mod geometry;
pub mod guard;
pub mod hand;
pub mod handle;
pub mod head;
pub mod history;
pub mod iris;
pub mod laid;
pub mod laid_drive;
pub mod lever;
mod lever_sweep;
pub mod lid;
pub mod limits;
pub mod linkage;
pub mod load;
pub mod lug;
mod obstacle;
pub mod parts;
pub mod plate;
pub mod plate_cut;
pub mod problem;
pub mod project;
pub mod propose;
pub mod pull;
pub mod ranges;
pub mod report;
pub mod ring;
pub mod ring_search;
pub mod rod;
mod rod_sweep;
pub mod route;
mod search;
pub mod seat;
pub mod seated;
pub mod shelf;
pub mod shortest_turn;
pub mod smallest_head;
pub mod spacing;
pub mod sweep;
pub mod tie;
pub mod ties;
pub mod title_block;
pub mod tracing;
pub mod turned;
pub mod wording;
pub mod workshop;

pub use angle::Degrees;
pub use edit::Edit;
pub use evaluate::{evaluate, evaluate_laid};
pub use history::History;
pub use laid::{Laid, LaidEye};
pub use limits::State;
pub use problem::Problem;
pub use project::Project;
pub use report::{Finding, Report};
