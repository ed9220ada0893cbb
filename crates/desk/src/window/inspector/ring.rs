//! Finding the ring that the gaze needs.

use std::cmp::Ordering;

use egui::Ui;
use layout::field::PartsOf;
use layout::limits::{Rule, TOLERANCE};
use layout::ring_search::{self, NoRing, Wanted};
use layout::{Degrees, Edit, Finding, Report};
use output::unit::LengthUnit;

use crate::window::controls;
use crate::window::state::{Desk, Notice};

/// What the project asks of its rings.
pub(super) fn wanted(desk: &Desk) -> Wanted {
    let project = desk.project();
    let limit = |rule| project.limits.of(rule, project.plate.thickness).wanted;
    Wanted {
        tilt: project.gaze.working_tilt(),
        clearance: limit(Rule::RingClearance),
        overlap: limit(Rule::RetentionOverlap),
    }
}

/// The button that finds a ring.
pub(super) fn find(ui: &mut Ui, desk: &mut Desk, of: PartsOf) {
    let says = "The ring with the least play that holds on and clears at the working tilt";
    if !controls::outlined_button(ui, "Find a ring")
        .on_hover_text(says)
        .clicked()
    {
        return;
    }
    let (parts, thickness) = (
        desk.project().parts_of(desk.chosen_eye),
        desk.project().plate.thickness,
    );
    let wanted = wanted(desk);
    match ring_search::find_ring(parts, thickness, &wanted) {
        Ok(ring) => {
            let seat = parts.seat_fit(thickness);
            let ring = seat.map_or(ring, |seat| {
                ring_search::in_hundredths(&ring, &seat, &wanted)
            });
            let before = desk.report().clone();
            if desk.apply(&Edit::Ring(of, ring)).is_ok() {
                desk.notice = Some(Notice::good(what_it_changed(desk, &before)));
            }
        }
        Err(none) => {
            desk.notice = Some(Notice::trouble(why_none(&none, desk.unit)));
        }
    }
}

/// What a found ring changed: the play, and which findings came out better or worse.
fn what_it_changed(desk: &Desk, before: &Report) -> String {
    let play = |report: &Report| report.figures.eyes.get(desk.chosen_eye)?.ring_play_mm;
    let shown = |mm: f64| desk.unit.format_with_symbol(mm);
    let after = desk.report();
    let found = match (play(before), play(after)) {
        (Some(was), Some(is)) if (was - is).abs() > TOLERANCE => {
            format!(
                "This ring leaves {} of play, instead of {}.",
                shown(is),
                shown(was)
            )
        }
        (Some(_), Some(is)) => format!("No ring leaves less play than {}.", shown(is)),
        (_, is) => format!(
            "This ring leaves {} of play.",
            is.map_or_else(String::new, shown)
        ),
    };
    let state_before = |now: &Finding| {
        let same = |old: &&Finding| (old.id, &old.part) == (now.id, &now.part);
        before.findings.iter().find(same).map(|old| old.state)
    };
    let (mut better, mut worse) = (0, Vec::new());
    for finding in &after.findings {
        match state_before(finding).map(|old| finding.state.cmp(&old)) {
            Some(Ordering::Less) => better += 1,
            Some(Ordering::Greater) => worse.push(finding.sentence.as_str()),
            _ => {}
        }
    }
    let counted = match better {
        0 => String::new(),
        1 => " One finding is better than before.".to_owned(),
        more => format!(" {more} findings are better than before."),
    };
    let worse = match worse[..] {
        [] => String::new(),
        [first] => format!(" But now: {first}"),
        [first, ..] => format!(
            " But now: {first} ({} more under the findings)",
            worse.len() - 1
        ),
    };
    [found, counted, worse].concat()
}

/// Why no ring was found, and the single changes that would make room for one.
fn why_none(none: &NoRing, unit: LengthUnit) -> String {
    let length = |mm: f64| unit.format_with_symbol(mm);
    let changes: Vec<String> = [
        none.tilt
            .map(|tilt| format!("turn at most {:.1}°", Degrees::from_radians(tilt).0)),
        none.plate_thickness
            .map(|mm| format!("make the plate {} thick", length(mm))),
        none.centre_height
            .map(|mm| format!("put the ball's centre {} above the face", length(mm))),
    ]
    .into_iter()
    .flatten()
    .collect();
    let cause = "No ring both holds this eye and clears the plate at the working tilt.";
    if changes.is_empty() {
        format!("{cause} No single change makes room for one: ask less of the gaze and the plate.")
    } else {
        format!(
            "{cause} One of these makes room: {}.",
            changes.join(", or ")
        )
    }
}
