//! Charts of what the chosen drive does over its turn and along its sheath.

use egui::Ui;
use egui_plot::{HLine, Line, VLine};
use layout::Degrees;
use layout::drive::Drive;
use layout::force;
use layout::geometry::space::Piece;
use layout::pull::Pull;
use layout::route::Route;
use layout::turned::Pose;

use super::charts::{Look, curve, key, plot};
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;
use crate::window::views::drive_pose;

/// Charts of drive `index`.
pub(super) fn show(ui: &mut Ui, desk: &Desk, index: usize) {
    let (drives, laid) = (&desk.project().drives, &desk.laid().drives);
    let Some((drive, laid)) = drives.get(index).zip(laid.get(index)) else {
        return;
    };
    let Ok(pull) = &laid.pull else {
        pieces::hint(ui, "There is no pull to draw.");
        return;
    };
    let palette = Palette::of(ui.ctx());
    let symbol = desk.unit.symbol();
    pieces::hint(ui, &format!("Wire drawn, {symbol}, over the turn, °"));
    wire_over_turn(ui, desk, drive, pull, &palette);
    ui.add_space(6.0);
    pieces::hint(ui, "Moment arm, % of the lever, over the turn, °");
    arm_over_turn(ui, desk, drive, pull, &palette);
    ui.add_space(6.0);
    if let Some(route) = laid.sheath() {
        pieces::hint(
            ui,
            &format!("Pull, % of the hand's, along the sheath, {symbol}"),
        );
        tension_along_sheath(ui, desk, drive, route, &palette);
    }
}

/// The drive's own turn, from its near end to its far one, in degrees of the moved thing.
fn over_turn(pull: &Pull, mut value: impl FnMut(Pose) -> f64) -> egui_plot::PlotPoints<'static> {
    curve(pull.near_pose.own, pull.far_pose.own, |own| {
        let other = 0.0;
        Some([degrees(own), value(Pose { own, other })])
    })
}

fn degrees(radians: f64) -> f64 {
    Degrees::from_radians(radians).0
}

/// Where the drive stands as the eyes are worked.
fn now(desk: &Desk, drive: &Drive, palette: &Palette) -> VLine {
    VLine::new("now", degrees(drive_pose(desk, drive).own)).color(palette.ink)
}

fn wire_over_turn(ui: &mut Ui, desk: &Desk, drive: &Drive, pull: &Pull, palette: &Palette) {
    let standoff = pull.standoff();
    let drawn = over_turn(pull, |pose| {
        desk.unit.from_mm(pull.at(pose).unsupported - standoff)
    });
    plot("wire over turn").show(ui, |plot| {
        plot.line(Line::new("wire", drawn).color(palette.accent).width(2.0));
        plot.vline(now(desk, drive, palette));
    });
    let entries = [
        (palette.accent, Look::Line, "wire out of the sheath"),
        (palette.ink, Look::Line, "now"),
    ];
    key(ui, &entries);
}

fn arm_over_turn(ui: &mut Ui, desk: &Desk, drive: &Drive, pull: &Pull, palette: &Palette) {
    // 1 is the whole lever; the cable turns it the one way or the other.
    let share = over_turn(pull, |pose| 100.0 * pull.at(pose).arm_share.abs());
    plot("arm over turn").show(ui, |plot| {
        plot.hline(HLine::new("", 100.0).color(palette.line).width(1.0));
        plot.line(Line::new("arm", share).color(palette.accent).width(2.0));
        plot.vline(now(desk, drive, palette));
    });
    let entries = [
        (palette.accent, Look::Line, "moment arm"),
        (palette.ink, Look::Line, "now"),
    ];
    key(ui, &entries);
}

fn tension_along_sheath(ui: &mut Ui, desk: &Desk, drive: &Drive, route: &Route, palette: &Palette) {
    let friction = drive.cable.friction;
    let total = route.total_bend();
    let pull = |along: f64| {
        let left = total - bend_before(&route.pieces, along);
        [
            desk.unit.from_mm(along),
            100.0 * force::tension_share(friction, left),
        ]
    };
    let curve = curve(0.0, route.length(), |along| Some(pull(along)));
    plot("pull along sheath").show(ui, |plot| {
        plot.line(Line::new("pull", curve).color(palette.accent).width(2.0));
    });
    key(
        ui,
        &[(
            palette.accent,
            Look::Line,
            "pull, from the lever to the hand",
        )],
    );
}

/// How far a way has bent after `along`, mm, radians.
fn bend_before(pieces: &[Piece], along: f64) -> f64 {
    let (mut left, mut bend) = (along, 0.0);
    for piece in pieces {
        let length = piece.length();
        if let Piece::Bend(own) = piece {
            bend += own.sweep * (left / length).clamp(0.0, 1.0);
        }
        left -= length;
    }
    bend
}
