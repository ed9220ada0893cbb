//! The scale of spacings, and the guides on it.

use egui::{Align2, FontId, Label, Rect, RichText, Shape, Ui, pos2, vec2};
use layout::spacing::Guide;
use output::unit::LengthUnit;

use super::Scale;
use crate::window::theme::{PADDING, Palette, size};

/// Shows the ticks with their figures.
pub(super) fn show(ui: &Ui, unit: LengthUnit, scale: &Scale) {
    let palette = Palette::of(ui.ctx());
    let y = scale.track.bottom() + 6.0;
    let step = round_step((scale.span.high - scale.span.low) / 8.0);
    let mut at = (scale.span.low / step).ceil() * step;
    while at <= scale.span.high {
        let x = scale.x(at);
        let tick = [pos2(x, y), pos2(x, y + 4.0)];
        ui.painter().line_segment(tick, palette.hairline());
        let font = FontId::proportional(size::SMALL);
        ui.painter().text(
            pos2(x, y + 5.0),
            Align2::CENTER_TOP,
            unit.format(at),
            font,
            palette.faint,
        );
        at += step;
    }
}

/// A step of 1, 2 or 5 times a power of ten that is at least this, mm.
fn round_step(least: f64) -> f64 {
    let tenth = 10.0_f64.powf(least.max(1e-3).log10().floor());
    let steps = [1.0, 2.0, 5.0].map(|times| times * tenth);
    let found = steps.into_iter().find(|step| *step >= least);
    found.unwrap_or(10.0 * tenth)
}

/// Shows a guide: a line with its name and figure about `y`, or these alone at the edge that it lies beyond.
pub(super) fn guide(ui: &mut Ui, unit: LengthUnit, scale: &Scale, guide: &Guide, y: f32) {
    let palette = Palette::of(ui.ctx());
    let length = unit.format_with_symbol(guide.spacing);
    let said = format!("convention: {}, {length}", guide.label);
    let said = if guide.spacing < scale.span.low {
        format!("← {said}")
    } else if guide.spacing > scale.span.high {
        format!("{said} →")
    } else {
        said
    };
    let x = scale.x(guide.spacing);
    if scale.span.contains(guide.spacing) {
        let line = [pos2(x, scale.track.top()), pos2(x, y - size::SMALL / 2.0)];
        let dashes = Shape::dashed_line(&line, palette.hairline(), 3.0, 3.0);
        ui.painter().extend(dashes);
    }
    let font = FontId::proportional(size::SMALL);
    let galley = ui
        .painter()
        .layout_no_wrap(said.clone(), font, palette.faint);
    let half = galley.size().x / 2.0 + 1.0;
    let (left, right) = (
        scale.track.left() + half,
        scale.track.right() + PADDING - half,
    );
    let middle = pos2(x.min(right).max(left), y);
    let room = Rect::from_center_size(middle, vec2(2.0 * half, galley.size().y));
    let text = RichText::new(said).size(size::SMALL).color(palette.faint);
    ui.put(room, Label::new(text).selectable(false).extend());
}
