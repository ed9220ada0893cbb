//! A curve that is drawn point by point: the head outline, or a drawn plate outline.

use egui::Ui;
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::edit::HeadSide;
use layout::fewer_points::fewer_points;
use layout::handle::Handle;

use super::{apply, mirror_switch, place};
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::{Desk, Notice};
use crate::window::views::handles;
use crate::window::work::{GO_ON, Work};

/// Shows what can be done with a curve, if the project has it.
pub(super) fn show(ui: &mut Ui, desk: &mut Desk, curve: CurveOf) {
    let Some((points, smooth)) = curve.get(desk.project()) else {
        return;
    };
    let count = points.len();
    if controls::toggle(ui, "Smooth through its points", smooth) {
        apply(desk, &Edit::Smooth(curve, !smooth));
    }
    if curve == CurveOf::Head {
        mirror_switch(ui, desk);
    }
    pieces::figure(ui, "Points", count.to_string());
    ui.horizontal(|ui| {
        for (label, keep) in [
            ("Left half to the right", HeadSide::Left),
            ("Right half to the left", HeadSide::Right),
        ] {
            if controls::outlined_button(ui, label).clicked() {
                apply(desk, &Edit::MirrorOutline { curve, keep });
            }
        }
    });
    if count > FEW && controls::outlined_button(ui, "Fewer points").clicked() {
        thin(desk, curve);
    }
    draw(ui, desk, curve);
    ui.add_space(4.0);
    match desk.selected {
        Some(handle @ Handle::OutlinePoint(of, index)) if of == curve => {
            chosen(ui, desk, handle, curve, index);
        }
        _ => pieces::hint(ui, "Pick a point on the front view to move or remove it."),
    }
}

/// So few points are dragged one by one: no button offers to take fewer.
const FEW: usize = 24;

/// How far a curve may stray where it is redrawn with fewer points, mm: less than a wall gives way.
const STRAY: f64 = 0.5;

/// Redraws a curve smoothly with as few points as it needs.
fn thin(desk: &mut Desk, curve: CurveOf) {
    let Some((points, smooth)) = curve.get(desk.project()) else {
        return;
    };
    let stray = desk.unit.format_with_symbol(STRAY);
    let before = points.len();
    let Some(points) = fewer_points(points, smooth, STRAY) else {
        desk.notice = Some(Notice::good(format!(
            "The {} needs all its {before} points to stay within {stray} of what it is.",
            curve.noun()
        )));
        return;
    };
    let after = points.len();
    let edit = Edit::Outline {
        curve,
        points,
        smooth: true,
    };
    if desk.apply(&edit).is_ok() {
        desk.selected = None;
        desk.notice = Some(Notice::good(format!(
            "The {} runs through {after} points instead of {before} now, and strays by at most {stray}.",
            curve.noun()
        )));
    }
}

/// The buttons that draw a curve anew.
fn draw(ui: &mut Ui, desk: &mut Desk, curve: CurveOf) {
    let drawn = desk.draft(curve).map(|draft| draft.points.len());
    let under_way = desk.work == Work::Trace(curve);
    ui.horizontal(|ui| {
        if under_way {
            if drawn.is_some() && controls::outlined_button(ui, "Close the outline").clicked() {
                // The notice tells what stands in the way.
                let _told = desk.close_draft(curve);
            }
            if controls::outlined_button(ui, "Leave off").clicked() {
                desk.end_work();
            }
            return;
        }
        let label = drawn.map_or("Draw it point by point", |_| GO_ON);
        if controls::outlined_button(ui, label).clicked() {
            desk.start_work(Work::Trace(curve));
        }
        if let Some(count) = drawn {
            let drop = match count {
                1 => "Drop its new point".to_owned(),
                count => format!("Drop its {count} new points"),
            };
            if controls::outlined_button(ui, &drop).clicked() {
                apply(desk, &Edit::Draft(None));
            }
        }
    });
}

fn chosen(ui: &mut Ui, desk: &mut Desk, handle: Handle, curve: CurveOf, index: usize) {
    let name = pieces::capital(&handles::name(handle, desk.project()));
    pieces::figure(ui, "Chosen", name.clone());
    place(ui, desk, handle, &name);
    ui.horizontal(|ui| {
        if controls::outlined_button(ui, "Add a point after it").clicked() {
            add_after(desk, curve, index);
        }
        if controls::outlined_button(ui, "Remove it").clicked() {
            let mirrored = desk.mirror;
            apply(desk, &Edit::Remove { handle, mirrored });
        }
    });
}

/// Adds a point halfway to the next one.
fn add_after(desk: &mut Desk, curve: CurveOf, index: usize) {
    let next =
        |points: &[[f64; 2]]| Some((*points.get(index)?, points[(index + 1) % points.len()]));
    let Some((a, b)) = curve
        .get(desk.project())
        .and_then(|(points, _)| next(points))
    else {
        return;
    };
    let at = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    let edit = Edit::AddOutlinePoint {
        curve,
        after: index,
        at,
        mirrored: desk.mirror,
    };
    if desk.apply(&edit).is_ok() {
        // A partner before it shifts it.
        let added = curve.get(desk.project());
        let added = added.and_then(|(points, _)| points.iter().position(|&point| point == at));
        desk.selected = added.map(|index| Handle::OutlinePoint(curve, index));
    }
}
