//! The grid behind the front view, its scale, and the centre lines.

use egui::{Align2, Pos2, Rect, Stroke, pos2, vec2};
use layout::geometry::Point;
use output::LengthUnit;

use super::ink::{FINE, Ink};

/// Least distance of two grid lines, in points: nearer ones are a grey haze.
const LEAST_APART: f64 = 11.0;

/// Distances of grid lines: the fine ones, and the strong ones as a multiple of them.
struct Steps {
    fine: f64,
    strong: f64,
}

/// Draws the grid, mm or inches as the maker has it.
pub(super) fn lines(ink: &Ink<'_>, unit: LengthUnit) {
    let rect = ink.camera.rect();
    let Steps { fine, strong } = steps(unit, ink.camera.scale());
    let palette = &ink.palette;
    let strong_colour = palette.grid.lerp_to_gamma(palette.line, 0.55);
    for (step, colour) in [(fine, palette.grid), (strong, strong_colour)] {
        let stroke = Stroke::new(FINE, colour);
        let (one, other) = (
            ink.camera.to_plate(rect.left_bottom()),
            ink.camera.to_plate(rect.right_top()),
        );
        let (low, high) = (one.inf(&other), one.sup(&other));
        for x in multiples(step, low.x, high.x) {
            let x = ink.camera.to_screen(Point::new(x, 0.0)).x;
            let x = ink.painter.round_to_pixel_center(x);
            ink.painter.vline(x, rect.y_range(), stroke);
        }
        for y in multiples(step, low.y, high.y) {
            let y = ink.camera.to_screen(Point::new(0.0, y)).y;
            let y = ink.painter.round_to_pixel_center(y);
            ink.painter.hline(rect.x_range(), y, stroke);
        }
    }
}

/// Draws the lines x = 0 and y = 0.
pub(super) fn centre_lines(ink: &Ink<'_>) {
    let rect = ink.camera.rect();
    let stroke = Stroke::new(FINE, ink.palette.faint.gamma_multiply(0.7));
    let middle = ink.camera.to_screen(Point::origin());
    let x = ink.painter.round_to_pixel_center(middle.x);
    let y = ink.painter.round_to_pixel_center(middle.y);
    ink.centre_line(&[pos2(x, rect.top()), pos2(x, rect.bottom())], stroke);
    ink.centre_line(&[pos2(rect.left(), y), pos2(rect.right(), y)], stroke);
}

/// Draws a bar that is one strong step of the grid long and says how much that is; returns what it
/// covers.
pub(super) fn scale_bar(ink: &Ink<'_>, unit: LengthUnit, left_bottom: Pos2) -> Rect {
    /// Half the height of the bar's ends, in points.
    const END: f32 = 3.0;
    let strong = steps(unit, ink.camera.scale()).strong;
    let length = ink.camera.length(strong);
    let y = ink.painter.round_to_pixel_center(left_bottom.y - END);
    let left = ink.painter.round_to_pixel_center(left_bottom.x);
    let right = ink.painter.round_to_pixel_center(left + length);
    let stroke = Stroke::new(FINE, ink.palette.ink);
    ink.painter.hline(left..=right, y, stroke);
    for x in [left, right] {
        ink.painter.vline(x, y - END..=y + END, stroke);
    }
    let text = format!("{} {}", plain(unit.from_mm(strong)), unit.symbol());
    let text = ink.text(
        pos2(right + 6.0, y),
        Align2::LEFT_CENTER,
        &text,
        ink.palette.ink,
    );
    text.union(Rect::from_min_max(
        pos2(left, y - END),
        pos2(right, y + END),
    ))
    .expand2(vec2(4.0, 2.0))
}

/// The finest steps, mm, whose lines stand far enough apart at `scale` points per mm: 1, 2 or 5
/// times a power of ten, or a power of two of an inch, as rules have them.
fn steps(unit: LengthUnit, scale: f64) -> Steps {
    let least = unit.from_mm(LEAST_APART / scale);
    let (fine, times) = match unit {
        LengthUnit::Millimetre => round_step(least),
        LengthUnit::Inch => (2_f64.powf(least.log2().ceil()), 8.0),
    };
    Steps {
        fine: unit.to_mm(fine),
        strong: unit.to_mm(fine * times),
    }
}

/// The least step from `least` on that is 1, 2 or 5 times a power of ten, and how many of it make the
/// next coarser one that is marked.
pub(crate) fn round_step(least: f64) -> (f64, f64) {
    let power = 10_f64.powf(least.log10().floor());
    [(1.0, 10.0), (2.0, 5.0), (5.0, 10.0), (10.0, 10.0)]
        .map(|(lead, times)| (lead * power, times))
        .into_iter()
        .find(|(step, _)| *step >= least)
        .unwrap_or((10.0 * power, 10.0))
}

/// The multiples of `step` from `low` to `high`.
pub(crate) fn multiples(step: f64, low: f64, high: f64) -> impl Iterator<Item = f64> {
    let first = (low / step).ceil();
    std::iter::successors(Some(first), |index| Some(index + 1.0))
        .map(move |index| index * step)
        .take_while(move |value| *value <= high)
}

/// A step's length without idle decimals.
fn plain(length: f64) -> String {
    let text = format!("{length:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grid_lines_stand_apart_and_are_round_numbers() {
        for scale in [0.3, 1.0, 2.9, 11.0, 60.0] {
            let Steps { fine, strong } = steps(LengthUnit::Millimetre, scale);
            assert!(
                (LEAST_APART..LEAST_APART * 2.6).contains(&(fine * scale)),
                "{scale}: {fine}"
            );
            assert!(
                ["1", "2", "5"].contains(&plain(strong).trim_matches(['0', '.'])),
                "{strong}"
            );
            let Steps { fine, .. } = steps(LengthUnit::Inch, scale);
            approx::assert_abs_diff_eq!((fine / 25.4).log2().fract(), 0.0);
            assert!(
                (LEAST_APART..LEAST_APART * 2.1).contains(&(fine * scale)),
                "{scale}: {fine}"
            );
        }
    }

    #[test]
    fn multiples_hold_both_ends() {
        assert_eq!(
            multiples(2.0, -4.0, 4.0).collect::<Vec<_>>(),
            [-4.0, -2.0, 0.0, 2.0, 4.0]
        );
    }

    #[test]
    fn a_bar_reads_plainly() {
        assert_eq!(plain(10.0), "10");
        assert_eq!(plain(0.125), "0.125");
    }
}
