//! Charts of what the chosen eye's ring does.

use egui::Ui;
use egui_plot::{HLine, Line, LineStyle, Points, VLine};
use layout::ring::RingFit;
use layout::{Degrees, ring_search};

use super::charts::{Look, curve, in_words, key, plot, tell};
use super::ring::wanted;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// Both charts of the chosen eye's ring.
pub(super) fn show(ui: &mut Ui, desk: &Desk) {
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
    let words = in_words("clearance", &points);
    let chart = plot("clearance over tilt").show(ui, |plot| {
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
    tell(&chart.response, words);
    let mut entries = vec![
        (palette.accent, Look::Line, "clearance"),
        (palette.ink, Look::Line, "working tilt"),
    ];
    if limit.is_some() {
        entries.push((palette.fouls, Look::Dashes, "tilt limit"));
    }
    key(ui, &entries);
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
    let words = in_words("play", &play);
    let chart = plot("play and overlap over depth").show(ui, |plot| {
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
    tell(&chart.response, words);
    let entries = [
        (palette.tight, Look::Line, "play"),
        (palette.accent, Look::Line, "overlap that clears"),
        (palette.ink, Look::Line, "chosen ring"),
    ];
    key(ui, &entries);
}
