//! Charts of what the chosen eye's ring does.

use egui::{Color32, FontId, Rangef, Sense, Stroke, Ui, Vec2b, vec2};
use egui_plot::{
    AxisHints, GridInput, GridMark, HLine, Line, LineStyle, Plot, PlotPoints, Points, VLine,
};
use layout::ring::RingFit;
use layout::{Degrees, ring_search};

use super::ring::wanted;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::{Palette, size};
use crate::window::views::grid;

/// Both charts of the chosen eye's ring.
pub(super) fn show(ui: &mut Ui, desk: &Desk) {
    let Some(Ok(ring)) = desk.laid().eyes.get(desk.chosen_eye).map(|eye| &eye.ring) else {
        pieces::hint(ui, "There is no ring to draw.");
        return;
    };
    let palette = Palette::of(ui.ctx());
    pieces::hint(
        ui,
        &format!("Ring to plate, {}, over the tilt, °", desk.unit.symbol()),
    );
    clearance_over_tilt(ui, desk, ring, &palette);
    ui.add_space(6.0);
    pieces::hint(
        ui,
        &format!("Over the ring's depth, {0}, in {0}", desk.unit.symbol()),
    );
    play_over_depth(ui, desk, ring, &palette);
}

/// Height of a chart, in points.
const HEIGHT: f32 = 150.0;

/// How many points a curve is drawn through.
const POINTS: usize = 96;

/// A chart that only shows.
fn plot(name: &str) -> Plot<'static> {
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
enum Look {
    Line,
    Dashes,
}

/// Says what the colours of a chart mean.
fn key(ui: &mut Ui, entries: &[(Color32, Look, &str)]) {
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

/// A curve through evenly spaced points, its values in the maker's unit.
fn curve(from: f64, to: f64, mut at: impl FnMut(f64) -> Option<[f64; 2]>) -> PlotPoints<'static> {
    let share = |step: usize| from + (to - from) * step as f64 / POINTS as f64;
    (0..=POINTS).filter_map(|step| at(share(step))).collect()
}

fn clearance_over_tilt(ui: &mut Ui, desk: &Desk, ring: &RingFit, palette: &Palette) {
    let working = desk.project().gaze.working_tilt();
    let limit = ring.tilt_limit();
    let unit = desk.unit;
    // A quarter beyond the farther of the two marks, and never nothing.
    let end = 1.25 * limit.unwrap_or(0.0).max(working).max(0.1);
    let degrees = |radians: f64| Degrees::from_radians(radians).0;
    let points = curve(0.0, end, |tilt| {
        Some([degrees(tilt), unit.from_mm(ring.clearance(tilt))])
    });
    plot("clearance over tilt").show(ui, |plot| {
        plot.hline(HLine::new("", 0.0).color(palette.line).width(1.0));
        plot.line(
            Line::new("clearance", points)
                .color(palette.accent)
                .width(2.0),
        );
        if let Some(limit) = limit {
            let mark = VLine::new("tilt limit", degrees(limit)).color(palette.fouls);
            plot.vline(mark.style(LineStyle::dashed_dense()));
        }
        plot.vline(VLine::new("working tilt", degrees(working)).color(palette.ink));
    });
    let mut entries = vec![
        (palette.accent, Look::Line, "clearance"),
        (palette.ink, Look::Line, "working tilt"),
    ];
    if limit.is_some() {
        entries.push((palette.fouls, Look::Dashes, "tilt limit"));
    }
    key(ui, &entries);
}

fn play_over_depth(ui: &mut Ui, desk: &Desk, ring: &RingFit, palette: &Palette) {
    let (seat, unit, wanted) = (ring.seat, desk.unit, wanted(desk));
    let [front, bevelled, ..] = ring.profile;
    let bevel = ring.profile[2].depth - bevelled.depth;
    let thickness = ring.profile[4].depth - front.depth;
    let show = |depth: f64, mm: f64| [unit.from_mm(depth), unit.from_mm(mm)];
    let (start, end) = (seat.back_depth, seat.ball_radius - thickness);
    let play = curve(start, end, |depth| Some(show(depth, depth - start)));
    let overlap = curve(start, end, |depth| {
        let mm = ring_search::largest_overlap(&seat, bevel, &wanted, depth)?;
        // Below nothing there is no ring, and far above the play none is wanted.
        (0.0..=end - start).contains(&mm).then(|| show(depth, mm))
    });
    let chosen = vec![
        show(front.depth, ring.play()),
        show(front.depth, ring.retention_overlap()),
    ];
    plot("play and overlap over depth").show(ui, |plot| {
        plot.line(Line::new("play", play).color(palette.tight).width(2.0));
        let most = Line::new("most overlap that clears", overlap);
        plot.line(most.color(palette.accent).width(2.0));
        plot.vline(VLine::new("chosen ring", unit.from_mm(front.depth)).color(palette.ink));
        plot.points(
            Points::new("chosen ring", chosen)
                .color(palette.ink)
                .radius(4.0),
        );
    });
    let entries = [
        (palette.tight, Look::Line, "play"),
        (palette.accent, Look::Line, "overlap that clears"),
        (palette.ink, Look::Line, "chosen ring"),
    ];
    key(ui, &entries);
}
