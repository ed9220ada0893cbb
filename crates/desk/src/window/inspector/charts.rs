//! How charts look: axes with figures, a key beside them, nothing to drag.

use egui::{Color32, FontId, Rangef, Response, Role, Sense, Stroke, Ui, Vec2b, WidgetInfo, vec2};
use egui_plot::{AxisHints, GridInput, GridMark, Plot, PlotPoint, PlotPoints};

use crate::window::pieces;
use crate::window::theme::size;
use crate::window::views::grid;

/// Height of a chart, in points.
const HEIGHT: f32 = 150.0;

/// How many points a curve is drawn through.
const POINTS: usize = 96;

/// A chart that only shows.
pub(super) fn plot(name: &str) -> Plot<'static> {
    let font = FontId::proportional(size::SMALL);
    // Wherever two figures of the axis find room side by side.
    let across = AxisHints::new_x().label_spacing(Rangef::new(22.0, 30.0));
    let up = AxisHints::new_y().label_spacing(Rangef::new(14.0, 18.0));
    Plot::new(name.to_owned())
        .height(HEIGHT)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_zoom(false)
        .allow_boxed_zoom(false)
        .show_grid(Vec2b::FALSE)
        .show_crosshair(false)
        .set_margin_fraction(vec2(0.0, 0.06))
        .x_grid_spacer(even_marks)
        .y_grid_spacer(even_marks)
        .custom_x_axes(vec![across.tick_label_font(font.clone())])
        .custom_y_axes(vec![up.tick_label_font(font)])
}

/// About how many figures stand along an axis.
const MARKS: f64 = 8.0;

/// Marks along an axis at steps of 1, 2 or 5 times a power of ten.
#[allow(
    clippy::needless_pass_by_value,
    reason = "the signature is egui_plot's"
)]
fn even_marks(input: GridInput) -> Vec<GridMark> {
    let (low, high) = input.bounds;
    let rough = (high - low) / MARKS;
    if !rough.is_normal() {
        return Vec::new();
    }
    let (step_size, _) = grid::round_step(rough);
    grid::multiples(step_size, low, high)
        .map(|value| GridMark {
            // No minus before a zero.
            value: value + 0.0,
            step_size,
        })
        .collect()
}

/// How something looks on a chart.
#[derive(Clone, Copy)]
pub(super) enum Look {
    /// A line.
    Line,
    /// A dashed line.
    Dashes,
}

/// Says what the colours of a chart mean.
pub(super) fn key(ui: &mut Ui, entries: &[(Color32, Look, &str)]) {
    /// The sample of a line and the room around it, in points.
    const SAMPLE: egui::Vec2 = vec2(18.0, 14.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 0.0);
        for &(colour, look, name) in entries {
            let (rect, _) = ui.allocate_exact_size(SAMPLE, Sense::hover());
            let ends = [rect.left_center(), rect.right_center()];
            let stroke = Stroke::new(2.0, colour);
            match look {
                Look::Line => {
                    ui.painter().line_segment(ends, stroke);
                }
                Look::Dashes => {
                    ui.painter()
                        .extend(egui::Shape::dashed_line(&ends, stroke, 4.0, 3.0));
                }
            }
            let text = pieces::small(ui, name);
            ui.label(text);
            ui.add_space(6.0);
        }
    });
}

/// A curve through evenly spaced points.
pub(super) fn curve(
    from: f64,
    to: f64,
    mut at: impl FnMut(f64) -> Option<[f64; 2]>,
) -> PlotPoints<'static> {
    let share = |step: usize| from + (to - from) * step as f64 / POINTS as f64;
    (0..=POINTS).filter_map(|step| at(share(step))).collect()
}

/// What a chart shows, for those who cannot see it: something, from where to where it goes, and over what.
pub(super) fn in_words(what: &str, points: &PlotPoints<'_>) -> String {
    let range = |of: fn(&PlotPoint) -> f64| {
        let values = || points.points().iter().map(of);
        let least = values().fold(f64::INFINITY, f64::min);
        let most = values().fold(f64::NEG_INFINITY, f64::max);
        // No minus before a zero.
        format!("{:.1} to {:.1}", least + 0.0, most + 0.0)
    };
    let (up, across) = (range(|at| at.y), range(|at| at.x));
    format!("{what}: {up} over {across}")
}

/// Gives a chart its words.
pub(super) fn tell(chart: &Response, words: String) {
    chart.widget_info(|| WidgetInfo::labeled(Role::Image, true, words.clone()));
}
