//! How one page of several is divided: a window for its piece of the view over a foot with what every
//! page has.

use layout::geometry::{Point, Vector};

use super::foot;
use crate::drawing::Bounds;
use crate::sheet::arrange;
use crate::sheet::paper::Page;
use crate::sheet::style::PART_GAP;

/// Room around the window for the names of the neighbouring pages, mm.
pub(super) const GUTTER: f64 = 3.5;

/// The window's box on a page.
pub(super) fn window(page: &Page) -> Bounds {
    let mut window = arrange::frame(page.size);
    window.low.y += foot::HEIGHT + PART_GAP;
    window.grown(-GUTTER)
}

/// The foot's box on a page.
pub(super) fn foot(page: &Page) -> Bounds {
    let frame = arrange::frame(page.size);
    let [width, _] = frame.size();
    let low: Point = frame.low + Vector::new(GUTTER, 0.0);
    Bounds::of_size(low, [width - 2.0 * GUTTER, foot::HEIGHT])
}
