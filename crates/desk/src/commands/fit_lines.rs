//! What `gazewright fit` says of one plate, line by line: sentences, and the figures behind them.

use layout::shelf::{Beyond, Difference, Drilling, Filing, Held, Lack, Placed, REACH, Work};
use layout::{Finding, Project, State};
use output::LengthUnit;

use super::fit::Ranked;
use super::table::mark;

/// All of it, no line twice.
pub(super) fn of(project: &Project, ranked: &Ranked) -> Vec<String> {
    let Ranked { fit, work, .. } = ranked;
    let mut lines = vec![ranked.sentence.clone()];
    lines.extend(fit.placed.iter().flat_map(placed));
    lines.extend(fit.differences.iter().map(difference));
    lines.extend(fit.measure.iter().map(|one| one.sentence()));
    if let Some(work) = work {
        lines.extend(to_do(project, work, ranked.middle));
    }
    let mut said = Vec::<String>::new();
    for line in lines {
        if !said.contains(&line) {
            said.push(line);
        }
    }
    said
}

/// What fails with a plate, what it lacks, and what is to be done to it.
fn to_do(project: &Project, work: &Work, middle: [f64; 2]) -> Vec<String> {
    let mut lines: Vec<String> = work.fails.iter().map(failing).collect();
    lines.extend(work.tight_words());
    lines.extend(work.lacks.iter().map(lack));
    lines.extend(work.beyond.iter().map(beyond));
    lines.extend(work.refused.iter().map(ToString::to_string));
    if !work.drilling.is_empty() || !work.filing.is_empty() {
        lines.push(format!(
            "Places are in the plate's own frame; the middle of its openings is at {} there.",
            at(middle)
        ));
    }
    lines.extend(work.drilling.iter().map(|own| drilling(project, own)));
    lines.extend(work.filing.iter().map(filing));
    lines
}

/// Where it goes, and what it comes to there.
fn placed(placed: &Placed) -> Vec<String> {
    let spacings = placed.spacings.iter().map(|own| mm(own.distance));
    let spacings: Vec<_> = spacings.collect();
    let spacing = if spacings.is_empty() {
        String::new()
    } else {
        format!(", spacing {} mm", spacings.join(", "))
    };
    let (margin, state) = (mm(placed.margin), placed.state.word());
    let mut lines = vec![
        format!("Margin to the wall {margin} mm ({state}){spacing}"),
        format!(
            "Its origin goes to {}, turned by {}°",
            at(placed.placement.shift),
            degrees(placed.placement.turn.0)
        ),
    ];
    if let Some(most) = placed.most {
        let most = mm(most);
        lines.push(format!(
            "Kept where the eyes are: {margin} mm; {most} mm would be the most"
        ));
    }
    if !placed.slots.is_empty() {
        lines.push(format!(
            "{} of its {} slots reach an anchor hole",
            placed.reaching(),
            placed.slots.len()
        ));
    }
    lines
}

fn difference(difference: &Difference) -> String {
    let sentence = difference.sentence();
    match (difference.shelf, difference.wanted) {
        (Held::Length(has), Held::Length(wanted)) => {
            format!("{sentence} {} mm, wants {} mm", mm(has), mm(wanted))
        }
        (Held::Count(has), Held::Count(wanted)) => format!("{sentence} {has}, wants {wanted}"),
        _ => sentence,
    }
}

fn failing(finding: &Finding) -> String {
    let bound = if finding.is_at_most() { "≤" } else { "≥" };
    let space = if finding.unit == "°" { "" } else { " " };
    let show = |value: f64| format!("{}{space}{}", mm(value), finding.unit);
    let figures = match (finding.value, finding.wanted) {
        (Some(value), Some(wanted)) => format!(" {}, wants {bound} {}", show(value), show(wanted)),
        (Some(value), None) => format!(" {}", show(value)),
        _ => String::new(),
    };
    format!("{} {}{figures}", mark(State::Fouls), finding.sentence)
}

fn lack(lack: &Lack) -> String {
    format!(
        "{} {} {} mm at {}, wants ≥ {} mm, {} mm short",
        mark(lack.state),
        lack.sentence(),
        mm(lack.web),
        at(lack.at_on_plate),
        mm(lack.wanted),
        mm(lack.by)
    )
}

fn beyond(beyond: &Beyond) -> String {
    let sentence = beyond.sentence();
    let figures = beyond.distance.map_or_else(String::new, |distance| {
        format!(" {} mm, wants ≤ {} mm", mm(distance), mm(REACH))
    });
    format!("{} {sentence}{figures}", mark(State::Fouls))
}

fn drilling(project: &Project, drilling: &Drilling) -> String {
    let [length, width] = drilling.size.map(mm);
    format!(
        "{} {length} × {width} mm at {}, long side at {}° (in the head at {}, {}°)",
        drilling.sentence(project),
        at(drilling.at_on_plate),
        degrees(drilling.angle_on_plate.0),
        at(drilling.at),
        degrees(drilling.angle.0)
    )
}

fn filing(filing: &Filing) -> String {
    format!(
        "{} {} mm deep at {}, {} mm long (in the head at {})",
        filing.sentence(),
        mm(filing.depth),
        at(filing.at_on_plate),
        mm(filing.length),
        at(filing.at)
    )
}

fn mm(length: f64) -> String {
    LengthUnit::Millimetre.format(length)
}

fn at([x, y]: [f64; 2]) -> String {
    format!("({}, {})", mm(x), mm(y))
}

/// One decimal; what rounds to nothing has no sign.
fn degrees(angle: f64) -> String {
    let text = format!("{angle:.1}");
    if text == "-0.0" {
        "0.0".to_owned()
    } else {
        text
    }
}
