//! Finding the ring that the gaze needs, and charts of what the ring does.

use std::cmp::Ordering;

use egui::{TextStyle, Ui, Vec2b, vec2};
use egui_plot::{Corner, HLine, Legend, Line, LineStyle, Plot, PlotPoints, Points, VLine};
use layout::field::PartsOf;
use layout::limits::{Rule, TOLERANCE};
use layout::ring::RingFit;
use layout::ring_search::{self, NoRing, Wanted};
use layout::{Degrees, Edit, Finding, Report};
use output::unit::LengthUnit;

use crate::window::controls;
use crate::window::pieces;
use crate::window::state::{Desk, Notice};
use crate::window::theme::Palette;

/// What the project asks of its rings.
fn wanted(desk: &Desk) -> Wanted {
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
            format!("This ring leaves {} of play, instead of {}.", shown(is), shown(was))
        }
        (Some(_), Some(is)) => format!("No ring leaves less play than {}.", shown(is)),
        (_, is) => format!("This ring leaves {} of play.", is.map_or_else(String::new, shown)),
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
        [first, ..] => format!(" But now: {first} ({} more under the findings)", worse.len() - 1),
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

/// Both charts of the chosen eye's ring.
pub(super) fn charts(ui: &mut Ui, desk: &Desk) {
    let Some(Ok(ring)) = desk.laid().eyes.get(desk.chosen_eye).map(|eye| &eye.ring) else {
        pieces::hint(ui, "There is no ring to draw.");
        return;
    };
    let palette = Palette::of(ui.ctx());
    pieces::hint(
        ui,
        &format!("Ring to plate, {}, over the tilt, °", desk.unit.symbol()),
    );
    clearance_over_tilt(ui, desk, ring, &palette);
    ui.add_space(6.0);
    pieces::hint(
        ui,
        &format!("Over the ring's depth, {0}, in {0}", desk.unit.symbol()),
    );
    play_over_depth(ui, desk, ring, &palette);
}

/// Height of a chart, in points.
const HEIGHT: f32 = 150.0;

/// How many points a curve is drawn through.
const POINTS: usize = 96;

/// A chart that only shows. Its legend stands where its curves do not.
fn plot(name: &str, legend: Corner) -> Plot<'static> {
    Plot::new(name.to_owned())
        .height(HEIGHT)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_zoom(false)
        .allow_boxed_zoom(false)
        .show_grid(Vec2b::FALSE)
        .set_margin_fraction(vec2(0.0, 0.06))
        .legend(
            Legend::default()
                .position(legend)
                .text_style(TextStyle::Small),
        )
}

/// A curve through evenly spaced points, its values in the maker's unit.
fn curve(from: f64, to: f64, mut at: impl FnMut(f64) -> Option<[f64; 2]>) -> PlotPoints<'static> {
    let share = |step: usize| from + (to - from) * step as f64 / POINTS as f64;
    (0..=POINTS).filter_map(|step| at(share(step))).collect()
}

fn clearance_over_tilt(ui: &mut Ui, desk: &Desk, ring: &RingFit, palette: &Palette) {
    let working = desk.project().gaze.working_tilt();
    let limit = ring.tilt_limit();
    let unit = desk.unit;
    // A quarter beyond the farther of the two marks, and never nothing.
    let end = 1.25 * limit.unwrap_or(0.0).max(working).max(0.1);
    let degrees = |radians: f64| Degrees::from_radians(radians).0;
    let points = curve(0.0, end, |tilt| {
        Some([degrees(tilt), unit.from_mm(ring.clearance(tilt))])
    });
    plot("clearance over tilt", Corner::LeftBottom).show(ui, |plot| {
        plot.hline(HLine::new("", 0.0).color(palette.line).width(1.0));
        plot.line(
            Line::new("clearance", points)
                .color(palette.accent)
                .width(2.0),
        );
        if let Some(limit) = limit {
            let mark = VLine::new("tilt limit", degrees(limit)).color(palette.fouls);
            plot.vline(mark.style(LineStyle::dashed_dense()));
        }
        plot.vline(VLine::new("working tilt", degrees(working)).color(palette.ink));
    });
}

fn play_over_depth(ui: &mut Ui, desk: &Desk, ring: &RingFit, palette: &Palette) {
    let (seat, unit, wanted) = (ring.seat, desk.unit, wanted(desk));
    let [front, bevelled, ..] = ring.profile;
    let bevel = ring.profile[2].depth - bevelled.depth;
    let thickness = ring.profile[4].depth - front.depth;
    let show = |depth: f64, mm: f64| [unit.from_mm(depth), unit.from_mm(mm)];
    let (start, end) = (seat.back_depth, seat.ball_radius - thickness);
    let play = curve(start, end, |depth| Some(show(depth, depth - start)));
    let overlap = curve(start, end, |depth| {
        let mm = ring_search::largest_overlap(&seat, bevel, &wanted, depth)?;
        // Below nothing there is no ring, and far above the play none is wanted.
        (0.0..=end - start).contains(&mm).then(|| show(depth, mm))
    });
    let chosen = vec![
        show(front.depth, ring.play()),
        show(front.depth, ring.retention_overlap()),
    ];
    plot("play and overlap over depth", Corner::LeftTop).show(ui, |plot| {
        plot.line(Line::new("play", play).color(palette.tight).width(2.0));
        let most = Line::new("most overlap that clears", overlap);
        plot.line(most.color(palette.accent).width(2.0));
        plot.vline(VLine::new("chosen ring", unit.from_mm(front.depth)).color(palette.ink));
        plot.points(
            Points::new("chosen ring", chosen)
                .color(palette.ink)
                .radius(4.0),
        );
    });
}
