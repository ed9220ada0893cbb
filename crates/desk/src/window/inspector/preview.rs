//! A drawing painted small, true to its page.

use egui::epaint::TextShape;
use egui::{
    Color32, CornerRadius, FontFamily, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui,
    WidgetInfo,
};
use egui::{pos2, vec2};
use layout::geometry::Point;
use output::Drawing;
use output::drawing::{self, Direction};
use output::font::Weight;

use crate::window::theme::{self, LIGHT, Palette};
use crate::window::views::camera::points;

/// Highest preview, as a share of its width: an upright page is then not taller than the panel.
const HIGHEST: f64 = 1.1;

/// Thinnest line, in points: the sheet's narrow lines would fade away.
const THINNEST: f32 = 0.45;

/// Height of a capital letter in one em of the typeface.
const CAPITALS: f32 = 0.727;

/// Paints the drawing in the width that is there. Paper is light and ink dark in both themes.
pub(super) fn show(ui: &mut Ui, drawing: &Drawing, name: &str) {
    let [width, height] = drawing.page;
    let room = f64::from(ui.available_width());
    let scale = (room / width).min(HIGHEST * room / height);
    let size = vec2(ui.available_width(), points(height * scale) + 2.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    let page = Rect::from_center_size(
        rect.center(),
        vec2(points(width * scale), points(height * scale)),
    );
    let painter = ui.painter_at(page.expand(1.0));
    let edge = Palette::of(ui.ctx()).hairline();
    painter.rect(
        page,
        CornerRadius::ZERO,
        LIGHT.field,
        edge,
        egui::StrokeKind::Outside,
    );
    Preview {
        painter,
        page,
        scale,
        ink: LIGHT.ink,
    }
    .paint(drawing);
}

struct Preview {
    painter: Painter,
    page: Rect,
    scale: f64,
    ink: Color32,
}

impl Preview {
    fn paint(&self, drawing: &Drawing) {
        for stroke in &drawing.strokes {
            self.stroke(stroke);
        }
        for fill in &drawing.fills {
            let corners = fill.corners.iter().map(|&corner| self.at(corner));
            self.painter.add(Shape::convex_polygon(
                corners.collect(),
                self.ink,
                Stroke::NONE,
            ));
        }
        for text in &drawing.texts {
            self.text(text);
        }
    }

    fn at(&self, place: Point) -> Pos2 {
        self.page.left_bottom() + vec2(self.length(place.x), -self.length(place.y))
    }

    fn length(&self, mm: f64) -> f32 {
        points(mm * self.scale)
    }

    fn stroke(&self, stroke: &drawing::Stroke) {
        let mut path: Vec<Pos2> = stroke
            .flattened()
            .into_iter()
            .map(|place| self.at(place))
            .collect();
        if let (true, Some(&first)) = (stroke.closed, path.first()) {
            path.push(first);
        }
        let pen = Stroke::new(self.length(stroke.width).max(THINNEST), self.ink);
        let elements = stroke.line.elements(stroke.width);
        let part = |skip: usize| {
            elements
                .iter()
                .skip(skip)
                .step_by(2)
                .map(|&mm| self.length(mm))
                .collect::<Vec<_>>()
        };
        if elements.is_empty() {
            self.painter.add(Shape::line(path, pen));
        } else {
            self.painter.extend(Shape::dashed_line_with_offset(
                &path,
                pen,
                &part(0),
                &part(1),
                0.0,
            ));
        }
    }

    fn text(&self, text: &drawing::Text) {
        let family = match text.weight {
            Weight::Regular => FontFamily::Proportional,
            Weight::SemiBold => theme::strong(),
        };
        let font = FontId::new(self.length(text.cap_height) / CAPITALS, family);
        let galley = self
            .painter
            .layout_no_wrap(text.text.clone(), font, self.ink);
        let glyph = galley.rows.first().and_then(|row| row.glyphs.first());
        let baseline = glyph.map_or(0.0, |glyph| glyph.pos.y);
        let start = self.at(text.start());
        let (at, angle) = match text.direction {
            Direction::Level => (start - vec2(0.0, baseline), 0.0),
            Direction::Upward => (
                pos2(start.x - baseline, start.y),
                -std::f32::consts::FRAC_PI_2,
            ),
        };
        self.painter
            .add(TextShape::new(at, galley, self.ink).with_angle(angle));
    }
}
