//! The pictures that the maker works on: the front view, the side cut, and how the eyes look.

pub(crate) mod backdrop;
pub mod camera;
mod cut;
mod drives;
mod eye;
pub mod front;
mod gaze;
pub(crate) mod grid;
mod grips;
mod hand;
pub mod handles;
mod ink;
mod labels;
mod lids;
mod margins;
mod menu;
mod navigate;
pub(crate) mod outline_edit;
mod pen;
mod plan;
mod play;
pub mod pose;
mod rods;
mod shapes;
mod shelf_plate;
pub mod side;
mod slider;
pub(crate) mod spacing;

pub use camera::Camera;
pub use play::Play;
