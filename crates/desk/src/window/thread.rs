//! The steps of the job on one line, each with the mark of its worst finding.

use egui::{Color32, CornerRadius, FontId, Role, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::command::Command;
use super::controls;
use super::mark;
use super::state::Desk;
use super::step::Step;
use super::theme::{self, GUTTER, Palette};

/// Height of the thread, in points.
const HEIGHT: f32 = 36.0;

/// Space at both ends of a step's pill, in points.
const MARGIN: f32 = 12.0;

/// Width of a mark, and of the space behind it, in points.
const MARK: f32 = 11.0;

/// Space between a pill and the line that leads to it, in points.
const BREATH: f32 = 6.0;

/// Shows the thread; gives the command of a step that was clicked.
pub(crate) fn show(ui: &mut Ui, desk: &Desk) -> Option<Command> {
    let palette = Palette::of(ui.ctx());
    let names: Vec<_> = Step::ALL
        .iter()
        .map(|&step| {
            let family = if step == desk.step {
                theme::strong()
            } else {
                egui::FontFamily::Proportional
            };
            let font = FontId::new(theme::size::BODY + 1.0, family);
            ui.painter()
                .layout_no_wrap(step.name().to_owned(), font, Color32::PLACEHOLDER)
        })
        .collect();
    let width = |name: &egui::Galley| name.size().x + 2.0 * MARGIN + 2.0 * MARK;
    let taken: f32 = names.iter().map(|name| width(name)).sum();
    let gaps = names.len().saturating_sub(1).max(1);
    let line = ((ui.available_width() - taken) / gaps as f32).max(2.0 * BREATH);
    let mut asked = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        for (index, (step, name)) in Step::ALL.into_iter().zip(names).enumerate() {
            if index > 0 {
                let (rect, _) = ui.allocate_exact_size(vec2(line, HEIGHT), egui::Sense::hover());
                let reach = rect.x_range().shrink(BREATH);
                ui.painter()
                    .hline(reach, rect.center().y, Stroke::new(1.0, palette.line));
            }
            let (state, current) = (desk.state_of(step), step == desk.step);
            let spoken = format!("{}, {}", step.name(), state.word());
            let response = controls::clickable(ui, vec2(width(&name), HEIGHT), || {
                WidgetInfo::selected(Role::Tab, true, current, &spoken)
            });
            let rect = response.rect;
            let radius = CornerRadius::same(18);
            if current {
                let edge = Stroke::new(1.5, palette.accent);
                ui.painter()
                    .rect(rect, radius, palette.paper, edge, StrokeKind::Inside);
            } else if response.hovered() {
                ui.painter().rect_filled(rect, radius, palette.bar);
            }
            let left = rect.left() + MARGIN;
            mark::paint(
                ui.painter(),
                pos2(left + MARK / 2.0, rect.center().y),
                MARK,
                state,
                &palette,
            );
            let at = pos2(left + 2.0 * MARK, rect.center().y - name.size().y / 2.0);
            ui.painter().galley(at, name, palette.ink);
            let command = Command::Show(step);
            if response
                .on_hover_text(command.hover_text(ui.ctx()))
                .clicked()
            {
                asked = Some(command);
            }
        }
    });
    ui.add_space(GUTTER - ui.spacing().item_spacing.y);
    asked
}
