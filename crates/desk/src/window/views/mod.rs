//! The pictures that the maker works on: the front view, the side cut, and how the eyes look.

pub mod camera;
pub mod front;
pub mod side;

pub use camera::Camera;
