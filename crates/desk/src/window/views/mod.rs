//! The pictures that the maker works on: the front view, the side cut, and how the eyes look.

pub(crate) mod backdrop;
pub mod camera;
mod cut;
mod eye;
pub mod front;
mod gaze;
mod grid;
mod grips;
pub mod handles;
mod ink;
mod labels;
mod margins;
mod menu;
pub(crate) mod outline_edit;
mod pen;
mod plan;
mod shapes;
pub mod side;
mod slider;

pub use camera::Camera;
