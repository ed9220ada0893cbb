//! What sets the window, in words.

use egui::{Label, Rect, RichText, ScrollArea, Ui, UiBuilder};
use layout::limits::Rule;
use layout::spacing::{SpacingWindow, Span};
use output::unit::LengthUnit;

use super::RULE;
use crate::window::pieces;
use crate::window::theme::{Palette, size};

/// Shows the verdict in a room of its own, where it scrolls if it has to.
pub(super) fn show(ui: &mut Ui, unit: LengthUnit, room: Rect, window: &SpacingWindow) {
    let builder = UiBuilder::new().id_salt("verdict").max_rect(room);
    ui.scope_builder(builder, |ui| {
        let area = ScrollArea::vertical().auto_shrink(false);
        area.show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.spacing_mut().interact_size.y = RULE;
            ui.horizontal_wrapped(|ui| {
                let said = sentences(unit, window).join(" ");
                ui.label(text(ui, &said));
                let so = ["fouls at every spacing", "foul at every spacing"];
                left_out(ui, &window.always_foul, so);
                let so = ["is clear at no spacing", "are clear at no spacing"];
                left_out(ui, &window.never_clear, so);
            });
        });
    });
}

fn text(ui: &Ui, said: &str) -> RichText {
    let ink = Palette::of(ui.ctx()).ink;
    RichText::new(said).size(size::SMALL).color(ink)
}

/// What contradicts first, then what sets the ends, or is broken, then where else the eyes could stand.
fn sentences(unit: LengthUnit, window: &SpacingWindow) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(now) = window.now() {
        said.push(bounds(unit, window, now));
    } else {
        let against = window.contradiction();
        if !against.is_empty() {
            said.push(format!(
                "No spacing holds, since these contradict each other: {}.",
                labels(&against)
            ));
        }
        said.push(format!("Fouls here: {}.", labels(&window.broken())));
    }
    let others = window.others();
    if !others.is_empty() {
        let also = if window.now().is_some() { "also " } else { "" };
        said.push(format!("Could {also}be {}.", listed(unit, &others)));
    }
    if !window.clear.is_empty() {
        said.push(format!(
            "Clear of all that the spacing can clear: {}.",
            listed(unit, &window.clear)
        ));
    }
    said
}

/// What sets the ends of where the eyes may stand.
fn bounds(unit: LengthUnit, window: &SpacingWindow, now: Span) -> String {
    let mut said = Vec::new();
    for (end, bound) in [(now.low, "not less than"), (now.high, "not more than")] {
        let rules = window.governing(end);
        if !rules.is_empty() {
            let length = unit.format_with_symbol(end);
            said.push(format!("{bound} {length}: {}", labels(&rules)));
        }
    }
    if said.is_empty() {
        said.push(format!("holds everywhere from {}", one(unit, now)));
    }
    pieces::capital(&said.join("; ")) + "."
}

/// What another spacing mends nothing about, as a sentence; many rules are counted, and named under the pointer.
fn left_out(ui: &mut Ui, rules: &[Rule], [one, many]: [&str; 2]) {
    match rules.len() {
        0 => {}
        1 => {
            let said = format!("{} {one}.", labels(rules));
            ui.label(text(ui, &pieces::capital(&said)));
        }
        count => {
            let said = Label::new(text(ui, &format!("{count} rules {many}.")).underline());
            ui.add(said).on_hover_text(labels(rules));
        }
    }
}

fn labels(rules: &[Rule]) -> String {
    let labels: Vec<_> = rules.iter().map(|rule| rule.info().label).collect();
    labels.join(", ")
}

fn listed(unit: LengthUnit, spans: &[Span]) -> String {
    let spans: Vec<_> = spans.iter().map(|span| one(unit, *span)).collect();
    spans.join(", ")
}

fn one(unit: LengthUnit, span: Span) -> String {
    let (low, high) = (unit.format(span.low), unit.format_with_symbol(span.high));
    format!("{low} to {high}")
}
