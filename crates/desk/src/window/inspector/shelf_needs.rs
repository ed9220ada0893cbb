//! What the plate that is chosen on the shelf gives, what fails with it, and what is to be done to it.

use egui::{Align, Layout, RichText, Sense, Ui, vec2};
use layout::shelf::{Difference, Drilling, Filing, Held, REACH, Work};
use layout::{Finding, State};

use crate::window::findings;
use crate::window::mark;
use crate::window::pieces;
use crate::window::shelf_work::LookedAt;
use crate::window::state::Desk;
use crate::window::theme::{self, Palette};

/// Width of a state's mark, in points.
const MARK: f32 = 9.0;

/// Whether it can be used, and its main figures.
pub(super) fn summary(ui: &mut Ui, desk: &Desk, LookedAt { fit, work }: &LookedAt) {
    pieces::hint(ui, &fit.sentence(work.as_ref()));
    if let Some(placed) = &fit.placed {
        let length = |mm: f64| in_words(desk, mm);
        pieces::figure(ui, "Margin to the wall", length(placed.margin));
        if let Some(most) = placed.most {
            let (kept, most) = (length(placed.margin), length(most));
            let kept = format!("Kept where the eyes are: {kept}; {most} would be the most.");
            pieces::hint(ui, &kept);
        }
        for spacing in &placed.spacings {
            pieces::figure(ui, "Spacing that it gives", length(spacing.distance));
        }
        pieces::figure(ui, "Turned by", degrees(placed.placement.turn.0));
        let slots = format!("{} of {}", placed.reaching(), placed.slots.len());
        pieces::figure(ui, "Slots that reach an anchor hole", slots);
    }
    if let Some(said) = work.as_ref().and_then(Work::tight_words) {
        pieces::hint(ui, &said);
    }
    if let Some(deepest) = work.as_ref().and_then(Work::deepest_filing) {
        pieces::figure(ui, "To be filed, most", in_words(desk, deepest));
    }
}

/// All else, sentence by sentence, with the figures behind each.
pub(super) fn details(
    ui: &mut Ui,
    desk: &Desk,
    LookedAt { fit, work }: &LookedAt,
    middle: [f64; 2],
) {
    for difference in &fit.differences {
        said(ui, &difference.sentence(), &lengths(desk, difference));
    }
    for measure in &fit.measure {
        pieces::hint(ui, &measure.sentence());
    }
    if let Some(work) = work {
        against(ui, desk, work);
        to_do(ui, desk, work, middle);
    }
}

/// What fails with it, the worst first.
fn against(ui: &mut Ui, desk: &Desk, work: &Work) {
    for finding in &work.fails {
        let figures = with_unit(desk, finding);
        stated(ui, State::Fouls, &finding.sentence, &figures);
    }
    for lack in &work.lacks {
        let figures = format!(
            "{} / ≥ {} at {}: {} short",
            number(desk, lack.web),
            number(desk, lack.wanted),
            place(desk, lack.at_on_plate),
            in_words(desk, lack.by)
        );
        stated(ui, lack.state, &lack.sentence(), &figures);
    }
    for beyond in &work.beyond {
        let figures = beyond.distance.map_or_else(String::new, |distance| {
            format!("{} / ≤ {}", number(desk, distance), in_words(desk, REACH))
        });
        stated(ui, State::Fouls, &beyond.sentence(), &figures);
    }
    if let Some(refused) = &work.refused {
        pieces::refusal(ui, &refused.to_string());
    }
}

/// The holes to make and the edge to file, with the numbers that the front view gives them.
fn to_do(ui: &mut Ui, desk: &Desk, work: &Work, middle: [f64; 2]) {
    let count = work.drilling.len() + work.filing.len();
    if count == 0 {
        return;
    }
    ui.add_space(4.0);
    pieces::hint(
        ui,
        &format!(
            "To be done, numbered in the front view. Places are in the plate's own frame; the middle of its \
             openings is at {} there.",
            place(desk, middle)
        ),
    );
    let drilling = work.drilling.iter();
    let holes = drilling.map(|own| (own.sentence(desk.project()), hole(desk, own)));
    let filing = work.filing.iter();
    let filed = filing.map(|own| (own.sentence().to_owned(), stretch(desk, own)));
    for (index, (sentence, figures)) in holes.chain(filed).enumerate() {
        said(ui, &format!("{}. {sentence}", index + 1), &figures);
    }
}

fn hole(desk: &Desk, drilling: &Drilling) -> String {
    format!(
        "{} at {}, long side at {}; in the head at {}",
        desk.in_words(drilling.size),
        place(desk, drilling.at_on_plate),
        degrees(drilling.angle_on_plate.0),
        place(desk, drilling.at)
    )
}

fn stretch(desk: &Desk, filing: &Filing) -> String {
    format!(
        "{} deep at {}, {} long; in the head at {}",
        in_words(desk, filing.depth),
        place(desk, filing.at_on_plate),
        in_words(desk, filing.length),
        place(desk, filing.at)
    )
}

/// What a plate has and what is wanted.
fn lengths(desk: &Desk, difference: &Difference) -> String {
    match (difference.shelf, difference.wanted) {
        (Held::Length(has), Held::Length(wanted)) => {
            format!("{}, wants {}", number(desk, has), in_words(desk, wanted))
        }
        (Held::Count(has), Held::Count(wanted)) => format!("{has}, wants {wanted}"),
        _ => String::new(),
    }
}

/// A finding's figures, with the rule that they are of.
fn with_unit(desk: &Desk, finding: &Finding) -> String {
    let figures = findings::figures(desk, finding);
    match (finding.rule().map(|rule| rule.info()), finding.unit) {
        _ if figures.is_empty() => figures,
        (Some(rule), "mm") => format!("{}: {figures} {}", rule.label, desk.unit.symbol()),
        (Some(rule), _) => format!("{}: {figures}", rule.label),
        (None, _) => figures,
    }
}

/// A sentence with the figures behind it.
fn said(ui: &mut Ui, sentence: &str, figures: &str) {
    pieces::hint(ui, sentence);
    if !figures.is_empty() {
        let figures = RichText::new(figures).size(theme::size::SMALL);
        ui.label(figures.family(theme::strong()));
    }
}

/// The same with a state's mark before it, and its word.
fn stated(ui: &mut Ui, state: State, sentence: &str, figures: &str) {
    let palette = Palette::of(ui.ctx());
    let word = state.word();
    let figures = if figures.is_empty() {
        word.to_owned()
    } else {
        format!("{word}, {figures}")
    };
    ui.with_layout(Layout::left_to_right(Align::Min), |ui| {
        let size = vec2(MARK, theme::size::SMALL * 1.3);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        mark::paint(ui.painter(), rect.center(), MARK, state, &palette);
        ui.vertical(|ui| said(ui, sentence, &figures));
    });
}

fn number(desk: &Desk, mm: f64) -> String {
    pieces::with_minus(&desk.unit.format(mm))
}

fn in_words(desk: &Desk, mm: f64) -> String {
    pieces::with_minus(&desk.unit.format_with_symbol(mm))
}

fn place(desk: &Desk, [x, y]: [f64; 2]) -> String {
    format!("({}, {})", number(desk, x), number(desk, y))
}

/// One decimal; what rounds to nothing has no sign.
fn degrees(angle: f64) -> String {
    let rounded = (angle * 10.0).round() / 10.0 + 0.0;
    pieces::with_minus(&format!("{rounded:.1}°"))
}
