//! Charts of what the chosen drive does over its turn and along its sheath.

use egui::Ui;
use egui_plot::{Line, VLine};
use layout::Degrees;
use layout::drive::Drive;
use layout::force;
use layout::geometry::space::Piece;
use layout::pull::Pull;
use layout::turned::Pose;

use super::charts::{Look, curve, in_words, key, plot, tell};
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::theme::Palette;

/// Charts of drive `index`.
pub(super) fn show(ui: &mut Ui, desk: &Desk, index: usize) {
    let (drives, laid) = (&desk.project().drives, &desk.laid().drives);
    let Some((drive, laid)) = drives.get(index).zip(laid.get(index)) else {
        return;
    };
    let pull = match &laid.pull {
        Ok(pull) => pull,
        Err(problem) => return pieces::hint(ui, &problem.to_string()),
    };
    let palette = Palette::of(ui.ctx());
    let symbol = desk.unit.symbol();
    let over_turn = OverTurn { drive, pull };
    pieces::hint(ui, &format!("Wire drawn, {symbol}, over the turn, °"));
    let standoff = pull.standoff();
    over_turn.show(ui, desk, &palette, "wire out of the sheath", |pose| {
        desk.unit.from_mm(pull.at(pose).unsupported - standoff)
    });
    ui.add_space(6.0);
    pieces::hint(ui, "Moment arm, % of the lever, over the turn, °");
    // The cable turns the lever the one way or the other.
    over_turn.show(ui, desk, &palette, "moment arm", |pose| {
        100.0 * pull.at(pose).arm_share.abs()
    });
    ui.add_space(6.0);
    if !pull.moves_lid() {
        pieces::hint(
            ui,
            &format!("Gaze reached, % of its turn, over a finger's pull, {symbol}"),
        );
        reached_over_pull(ui, desk, pull, &palette);
        ui.add_space(6.0);
    }
    if laid.sheath().is_some() {
        let hint = format!("Pull, % of the hand's, along each sheath, {symbol}");
        pieces::hint(ui, &hint);
        tension_along_sheaths(ui, desk, index, &palette);
    }
}

fn degrees(radians: f64) -> f64 {
    Degrees::from_radians(radians).0
}

/// Charts over a drive's own turn, from its near end to its far one, in degrees of the moved thing.
struct OverTurn<'a> {
    drive: &'a Drive,
    pull: &'a Pull,
}

impl OverTurn<'_> {
    /// Shows something over the turn, and where the drive stands as the eyes are worked.
    fn show(
        &self,
        ui: &mut Ui,
        desk: &Desk,
        palette: &Palette,
        what: &str,
        value: impl Fn(Pose) -> f64,
    ) {
        let ends = [self.pull.near_pose.own, self.pull.far_pose.own];
        let points = curve(ends[0], ends[1], |own| {
            let other = 0.0;
            Some([degrees(own), value(Pose { own, other })])
        });
        let now = degrees(desk.stance_of(self.drive.moves).own);
        let words = in_words(what, &points);
        let chart = plot(what).show(ui, |plot| {
            plot.line(Line::new(what, points).color(palette.accent).width(2.0));
            plot.vline(VLine::new("now", now).color(palette.ink));
        });
        tell(&chart.response, words);
        let entries = [
            (palette.accent, Look::Line, what),
            (palette.ink, Look::Line, "now"),
        ];
        key(ui, &entries);
    }
}

/// How much of its turn an eye has made when a finger has pulled so far, from the end of the turn that
/// the wire is longest at.
fn reached_over_pull(ui: &mut Ui, desk: &Desk, pull: &Pull, palette: &Palette) {
    let at = |own: f64| pull.at(Pose { own, other: 0.0 }).unsupported;
    let (near, far) = (pull.near_pose.own, pull.far_pose.own);
    let pulled = |share: f64| desk.unit.from_mm(at(far) - at(far + (near - far) * share));
    let points = curve(0.0, 1.0, |share| Some([pulled(share), 100.0 * share]));
    let words = in_words("gaze reached", &points);
    let words = format!("{words}, half of it at {:.1}", pulled(0.5));
    let chart = plot("reached over pull").show(ui, |plot| {
        plot.line(Line::new("gaze", points).color(palette.accent).width(2.0));
    });
    tell(&chart.response, words);
    key(ui, &[(palette.accent, Look::Line, "gaze, from end to end")]);
}

/// The pull along the sheath of drive `index`, among those of all drives.
fn tension_along_sheaths(ui: &mut Ui, desk: &Desk, index: usize, palette: &Palette) {
    let drives = desk.project().drives.iter().zip(&desk.laid().drives);
    let sheaths = drives.enumerate().filter_map(|(at, (drive, laid))| {
        let route = laid.sheath()?;
        let friction = drive.cable.friction;
        let total = route.total_bend();
        let points = curve(0.0, route.length(), |along| {
            let left = total - bend_before(&route.pieces, along);
            let share = 100.0 * force::tension_share(friction, left);
            Some([desk.unit.from_mm(along), share])
        });
        Some((at, drive, points))
    });
    let mut words = String::new();
    let chart = plot("pull along sheaths").show(ui, |plot| {
        for (at, drive, points) in sheaths {
            let own = at == index;
            if own {
                words = in_words("pull along the sheath", &points);
            }
            let colour = if own { palette.accent } else { palette.faint };
            let width = if own { 2.0 } else { 1.0 };
            plot.line(Line::new(&drive.name, points).color(colour).width(width));
        }
    });
    tell(&chart.response, words);
    let entries = [
        (
            palette.accent,
            Look::Line,
            "this one, from the lever to the hand",
        ),
        (palette.faint, Look::Line, "others"),
    ];
    key(ui, &entries);
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
