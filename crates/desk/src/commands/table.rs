//! Findings as a table of text.

use std::cmp::Reverse;

use layout::{Finding, Report, State};

/// Titles of the columns.
const TITLES: [&str; COLUMNS] = ["state", "rule", "part", "is", "wants", "", "what it means"];

const COLUMNS: usize = 7;

/// The columns that hold numbers, which stand to the right.
const NUMBERS: [usize; 2] = [3, 4];

/// All findings, the worst first, and a line that sums them up.
pub(super) fn of(name: &str, report: &Report) -> String {
    let mut findings: Vec<&Finding> = report.findings.iter().collect();
    findings.sort_by_key(|finding| Reverse(finding.state));
    let rows: Vec<[String; COLUMNS]> = std::iter::once(TITLES.map(str::to_owned))
        .chain(findings.into_iter().map(row))
        .collect();
    let widths: [usize; COLUMNS] = std::array::from_fn(|column| {
        let cells = rows.iter().map(|row| row[column].chars().count());
        cells.max().unwrap_or(0)
    });
    let lines = rows.iter().map(|row| line(row, &widths) + "\n");
    lines.collect::<String>() + "\n" + &summary(name, report) + "\n"
}

/// How many findings are in each state.
fn summary(name: &str, report: &Report) -> String {
    let count = |state| report.findings.iter().filter(|f| f.state == state).count();
    let counts: Vec<_> = [State::Fouls, State::Tight, State::Clear, State::NotChecked]
        .map(|state| (count(state), state.word()))
        .into_iter()
        .filter(|&(count, _)| count > 0)
        .map(|(count, word)| match (count, word) {
            (1, "fouls") => "1 foul".to_owned(),
            (count, word) => format!("{count} {word}"),
        })
        .collect();
    format!("{name}: {}.", counts.join(", "))
}

fn row(finding: &Finding) -> [String; COLUMNS] {
    let bound = if finding.is_at_most() { "≤ " } else { "≥ " };
    [
        format!("{} {}", mark(finding.state), finding.state.word()),
        finding
            .rule()
            .map_or(finding.id, |rule| rule.info().label)
            .to_owned(),
        finding.part.clone(),
        finding.value.map_or_else(String::new, number),
        finding
            .wanted
            .map_or_else(String::new, |wanted| bound.to_owned() + &number(wanted)),
        finding.unit.to_owned(),
        finding.sentence.clone(),
    ]
}

/// A shape for each state, beside its word.
pub(super) fn mark(state: State) -> char {
    match state {
        State::Clear => '●',
        State::Tight => '▲',
        State::Fouls => '✕',
        State::NotChecked => '○',
    }
}

/// Two decimals; what rounds to nothing has no sign.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    match text.strip_prefix('-') {
        Some("0.00") => "0.00".to_owned(),
        _ => text,
    }
}

fn line(row: &[String; COLUMNS], widths: &[usize; COLUMNS]) -> String {
    let cells = row
        .iter()
        .zip(widths)
        .enumerate()
        .map(|(column, (cell, width))| {
            if NUMBERS.contains(&column) {
                format!("{cell:>width$}")
            } else {
                format!("{cell:<width$}")
            }
        });
    cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
}
