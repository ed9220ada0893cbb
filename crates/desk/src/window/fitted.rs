//! Small pictures that show something whole: a sheet of paper, and the scale at which all fits on it.

use egui::{Painter, Pos2, Rect, Role, Sense, StrokeKind, Ui, WidgetInfo, vec2};
use layout::geometry::Point;

use super::theme::{FIELD_RADIUS, Palette};
use super::views::camera::points;

/// Room around what is shown, in points.
const ROOM: f32 = 10.0;

/// Puts places, mm, into a picture.
pub(super) struct Fitted {
    rect: Rect,
    middle: Point,
    scale: f64,
}

impl Fitted {
    /// So that all places fit; None if there is none.
    pub(super) fn around(rect: Rect, places: impl Iterator<Item = Point>) -> Option<Self> {
        let [low, high] = places.fold(None, |found: Option<[Point; 2]>, at| {
            let [low, high] = found.unwrap_or([at, at]);
            Some([low.inf(&at), high.sup(&at)])
        })?;
        let inner = rect.shrink(ROOM).size();
        let size = (high - low).map(|side| side.max(f64::MIN_POSITIVE));
        Some(Self {
            rect,
            middle: nalgebra::center(&low, &high),
            scale: (f64::from(inner.x) / size.x).min(f64::from(inner.y) / size.y),
        })
    }

    /// Where a place comes to lie.
    pub(super) fn at(&self, place: Point) -> Pos2 {
        let off = (place - self.middle) * self.scale;
        self.rect.center() + vec2(points(off.x), -points(off.y))
    }
}

/// Paper as wide as there is room and `height` points high; `spoken` is what the picture is called.
pub(super) fn paper(ui: &mut Ui, height: f32, spoken: &str) -> (Painter, Rect, Palette) {
    let palette = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), height);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, spoken));
    let painter = ui.painter_at(rect);
    let edge = palette.hairline();
    painter.rect(rect, FIELD_RADIUS, palette.field, edge, StrokeKind::Inside);
    (painter, rect, palette)
}
