//! A curve that is drawn point by point: the head outline, or a drawn plate outline.

use egui::Ui;
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::edit::HeadSide;
use layout::handle::Handle;

use super::{apply, mirror_switch, place, tracing};
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::views::handles;
use crate::window::work::Work;

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
    let trace = Work::Trace(curve, Vec::new());
    tracing::work_button(ui, desk, "Draw it point by point", trace);
    ui.add_space(4.0);
    match desk.selected {
        Some(handle @ Handle::OutlinePoint(of, index)) if of == curve => {
            chosen(ui, desk, handle, curve, index);
        }
        _ => pieces::hint(ui, "Pick a point on the front view to move or remove it."),
    }
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
    let edit = Edit::AddOutlinePoint {
        curve,
        after: index,
        at: [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0],
    };
    if desk.apply(&edit).is_ok() {
        desk.selected = Some(Handle::OutlinePoint(curve, index + 1));
    }
}
