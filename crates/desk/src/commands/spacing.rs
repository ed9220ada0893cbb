//! `gazewright spacing`: how far apart two eyes may stand.

use layout::limits::Rule;
use layout::spacing::{self, Guide, SpacingWindow, Span};
use layout::{Project, State, evaluate, wording};
use serde::Serialize;

use super::arguments::Input;
use super::failure::Failure;
use super::{as_json, print, status};
use crate::spacing_search;

/// What `--json` prints. Spacings in mm.
#[derive(Serialize)]
struct Answer {
    eyes: [usize; 2],
    spacing_mm: f64,
    state: State,
    from_mm: f64,
    to_mm: f64,
    window: Option<[f64; 2]>,
    governed_by: Option<[Vec<&'static str>; 2]>,
    windows: Vec<[f64; 2]>,
    clear: Vec<[f64; 2]>,
    middle_mm: Option<f64>,
    rules: Vec<OfRule>,
    broken: Vec<&'static str>,
    contradiction: Vec<&'static str>,
    foul_at_every_spacing: Vec<&'static str>,
    clear_at_no_spacing: Vec<&'static str>,
    guides: Vec<OfGuide>,
}

#[derive(Serialize)]
struct OfRule {
    id: &'static str,
    holds: Vec<[f64; 2]>,
    clear: Vec<[f64; 2]>,
}

#[derive(Serialize)]
struct OfGuide {
    name: &'static str,
    ratio: f64,
    spacing_mm: f64,
}

pub(super) fn run(input: &Input, json: bool) -> Result<u8, Failure> {
    let project = input.project()?;
    let window = spacing::pair(&project).and_then(|eyes| spacing_search::window(&project, eyes));
    let window = window.ok_or_else(|| Failure {
        cause: format!("{} has no two eyes, and so no spacing.", project.name),
        remedy: "Add an eye.".to_owned(),
    })?;
    let guides = spacing::guides(&project, window.eyes);
    let report = evaluate(&project);
    let state = report.worst();
    let text = if json {
        as_json(&answer(&window, state, &guides))?
    } else {
        table(&project, &window, state, &guides)
    };
    print(&text)?;
    Ok(status(&report))
}

fn answer(window: &SpacingWindow, state: State, guides: &[Guide]) -> Answer {
    let governed = |span: Span| [span.low, span.high].map(|end| ids(&window.governing(end)));
    Answer {
        eyes: window.eyes,
        spacing_mm: window.present,
        state,
        from_mm: window.range.low,
        to_mm: window.range.high,
        window: window.now().map(ends),
        governed_by: window.now().map(governed),
        windows: all_ends(&window.holds),
        clear: all_ends(&window.clear),
        middle_mm: window.middle(),
        rules: window
            .rules
            .iter()
            .map(|own| OfRule {
                id: own.rule.info().id,
                holds: all_ends(&own.holds),
                clear: all_ends(&own.clear),
            })
            .collect(),
        broken: ids(&window.broken()),
        contradiction: ids(&window.contradiction()),
        foul_at_every_spacing: ids(&window.always_foul),
        clear_at_no_spacing: ids(&window.never_clear),
        guides: guides
            .iter()
            .map(|guide| OfGuide {
                name: guide.label,
                ratio: guide.ratio,
                spacing_mm: guide.spacing,
            })
            .collect(),
    }
}

fn ends(span: Span) -> [f64; 2] {
    [span.low, span.high]
}

fn all_ends(spans: &[Span]) -> Vec<[f64; 2]> {
    spans.iter().copied().map(ends).collect()
}

fn ids(rules: &[Rule]) -> Vec<&'static str> {
    rules.iter().map(|rule| rule.info().id).collect()
}

/// The window first, then what sets it, then every rule that the spacing changes.
fn table(project: &Project, window: &SpacingWindow, state: State, guides: &[Guide]) -> String {
    let names = window.eyes.map(|eye| project.eye_name(eye));
    let mut lines = vec![
        project.name.clone(),
        format!(
            "Spacing of {}: {:.2} mm",
            wording::pair(&names[0], &names[1]),
            window.present
        ),
        format!("The project as it stands: {}", state.word()),
    ];
    lines.extend(verdict(window));
    for (rules, so) in [
        (&window.always_foul, "Fouls at every spacing"),
        (&window.never_clear, "Clear at no spacing"),
    ] {
        if !rules.is_empty() {
            lines.push(format!("{so}, and is left out: {}.", labels(rules)));
        }
    }
    lines.push(String::new());
    for own in &window.rules {
        let label = own.rule.info().label;
        lines.push(format!("{label:<50} holds {}", listed(&own.holds)));
        lines.push(format!("{:<50} clear {}", "", listed(&own.clear)));
    }
    lines.push(String::new());
    for guide in guides {
        let Guide {
            label,
            ratio,
            spacing,
        } = guide;
        lines.push(format!(
            "By convention, {label} ({ratio:.2} of the face's width): {spacing:.1} mm"
        ));
    }
    lines.join("\n") + "\n"
}

fn verdict(window: &SpacingWindow) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(span) = window.now() {
        lines.push(format!("Can be {}", one(span)));
        for (end, which) in [(span.low, "not less"), (span.high, "not more")] {
            let rules = window.governing(end);
            if !rules.is_empty() {
                lines.push(format!("  {which}, for: {}", labels(&rules)));
            }
        }
    } else {
        let contradiction = window.contradiction();
        if !contradiction.is_empty() {
            lines.push(format!(
                "No spacing holds. These contradict each other: {}",
                labels(&contradiction)
            ));
        }
        lines.push(format!("Fouls here: {}", labels(&window.broken())));
    }
    let others = window.others();
    if !others.is_empty() {
        lines.push(format!("Could also be {}", listed(&others)));
    }
    lines.push(format!(
        "Clear of all that the spacing can clear: {}",
        listed(&window.clear)
    ));
    if let Some(middle) = window.middle() {
        lines.push(format!("Middle {middle:.2} mm"));
    }
    lines
}

fn labels(rules: &[Rule]) -> String {
    let labels: Vec<_> = rules.iter().map(|rule| rule.info().label).collect();
    labels.join(", ")
}

fn listed(spans: &[Span]) -> String {
    if spans.is_empty() {
        return "nowhere".to_owned();
    }
    let spans: Vec<_> = spans.iter().copied().map(one).collect();
    spans.join(", ")
}

fn one(span: Span) -> String {
    format!("{:.2} to {:.2} mm", span.low, span.high)
}
