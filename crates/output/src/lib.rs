//! Turns a plate that has been laid out into drawings and solids, and these into bytes.
//!
//! Decides no geometry, reads no file and asks no clock: every length comes from `layout`, and the
//! same project and options give the same bytes.

pub mod cut;
pub mod drawing;
pub mod dxf;
pub mod font;
pub mod pdf;
mod seen;
pub mod sheet;
pub mod solid;
pub mod stl;
pub mod svg;
pub mod threemf;
pub mod unit;
mod xml;

pub use drawing::Drawing;
pub use seen::Seen;
pub use solid::{Solid, SolidError, SolidOptions};
pub use unit::LengthUnit;
