//! The limits: what each rule must hold and what is wanted of it.

use egui::Ui;
use layout::Edit;
use layout::field::Field;
use layout::limits::Rule;

use super::apply;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::NumberField;
use crate::window::pieces;
use crate::window::state::Desk;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk, shown: &mut bool) {
    let changed = Rule::ALL
        .iter()
        .filter(|&&rule| desk.project().limits.own(rule).is_some())
        .count();
    let changed = match changed {
        0 => "as they start".to_owned(),
        count => format!("{count} of your own"),
    };
    pieces::figure(ui, "What must hold, what is wanted", changed);
    if controls::outlined_button(
        ui,
        if *shown {
            "Hide the limits"
        } else {
            "Show the limits"
        },
    )
    .clicked()
    {
        *shown = !*shown;
    }
    if !*shown {
        return;
    }
    for rule in evaluated(desk) {
        one(ui, desk, rule);
    }
}

/// The rules that have a finding now, in their own order, and those that the project has a limit
/// of its own for. A rule about shape alone has no figure to limit.
fn evaluated(desk: &Desk) -> Vec<Rule> {
    let found = |rule: Rule| {
        desk.report()
            .findings
            .iter()
            .any(|finding| finding.id == rule.info().id)
    };
    let own = |rule: Rule| desk.project().limits.own(rule).is_some();
    let rules = Rule::ALL.iter().copied();
    rules
        .filter(|&rule| rule != Rule::RingShape && (found(rule) || own(rule)))
        .collect()
}

fn one(ui: &mut Ui, desk: &mut Desk, rule: Rule) {
    let info = rule.info();
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        ui.label(capital(info.label));
        if desk.project().limits.own(rule).is_some()
            && controls::link(ui, "reset")
                .on_hover_text("Back to the starting limit")
                .clicked()
        {
            apply(desk, &Edit::ResetLimit(rule));
        }
    });
    pieces::hint(ui, &format!("Starting values: {}.", info.source));
    let measure = match info.unit {
        "mm" => Measure::Length(desk.unit),
        "°" => Measure::Angle,
        _ => Measure::Plain,
    };
    for field in [Field::LimitLeast(rule), Field::LimitWanted(rule)] {
        let Some(value) = field.get(desk.project()).filter(|value| value.is_finite()) else {
            continue;
        };
        let label = field.label();
        NumberField {
            label,
            name: Some(format!("{}: {label}", info.label)),
            value,
            measure,
        }
        .show(ui, desk, |desk, value| desk.apply(&Edit::Set(field, value)));
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}
