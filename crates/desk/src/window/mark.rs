//! The marks of the states: a shape each, so that nothing hangs on colour alone.

use egui::{Painter, Pos2, Shape, Stroke, vec2};
use layout::State;

use super::theme::Palette;

/// Width of a cross's strokes as a share of the mark.
const STROKE: f32 = 0.17;

/// Paints a state's mark about `centre`, `size` points wide: a disc for clear, a triangle for
/// tight, a cross for fouls, a ring for what is not checked.
pub fn paint(painter: &Painter, centre: Pos2, size: f32, state: State, palette: &Palette) {
    let colour = palette.state(state);
    let half = size / 2.0;
    match state {
        State::Clear => {
            painter.circle_filled(centre, half * 0.86, colour);
        }
        State::NotChecked => {
            painter.circle_stroke(centre, half * 0.76, Stroke::new(size * 0.12, colour));
        }
        State::Tight => {
            // As high as a mark of its size, its weight a little low, as the eye wants it.
            let corners = [vec2(0.0, -0.96), vec2(1.0, 0.84), vec2(-1.0, 0.84)];
            let corners = corners.map(|corner| centre + corner * half);
            painter.add(Shape::convex_polygon(
                corners.to_vec(),
                colour,
                Stroke::NONE,
            ));
        }
        State::Fouls => {
            let stroke = Stroke::new(size * STROKE, colour);
            for arm in [vec2(0.82, 0.82), vec2(0.82, -0.82)].map(|arm| arm * half) {
                painter.line_segment([centre - arm, centre + arm], stroke);
            }
        }
    }
}
