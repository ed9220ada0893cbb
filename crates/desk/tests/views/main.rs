//! The front view and the sliders, worked by accessible name with pointer and keys.

mod drives;
mod handles;
mod looking;
mod menu;
mod outline;

use desk::samples;
use desk::window::state::Desk;
use desk::window::step::Step;
use desk::window::theme;
use desk::window::views::{Camera, front, pose, side};
use egui::{Event, Modifiers, PointerButton, Pos2, Rect, UiBuilder, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use layout::geometry::Point;
use layout::handle::Handle;

/// Room for rounding in places that were set in tenths of a millimetre, mm.
pub(crate) const ROUNDING: f64 = 1e-9;

pub(crate) struct Bench {
    pub(crate) desk: Desk,
    pub(crate) camera: Camera,
}

pub(crate) fn bench(step: Step) -> Harness<'static, Bench> {
    let mut desk = Desk::new(samples::DEFAULT.project(), None);
    desk.step = step;
    let bench = Bench {
        desk,
        camera: Camera::default(),
    };
    let mut harness = Harness::builder()
        .with_size(vec2(1000.0, 720.0))
        // As quick as a screen: two clicks a few frames apart are then a double click.
        .with_step_dt(1.0 / 60.0)
        .with_context_setup(theme::install)
        .build_ui_state(
            |ui, bench: &mut Bench| {
                let (desk, camera) = (&mut bench.desk, &mut bench.camera);
                let mut view = |x: [f32; 2], y: [f32; 2], add: &mut dyn FnMut(&mut egui::Ui)| {
                    let rect = Rect::from_x_y_ranges(x[0]..=x[1], y[0]..=y[1]);
                    ui.scope_builder(
                        UiBuilder::new()
                            .id_salt(x[0].to_bits() + y[0].to_bits())
                            .max_rect(rect),
                        add,
                    );
                };
                view([0.0, 640.0], [0.0, 720.0], &mut |ui| {
                    front::show(ui, desk, camera);
                });
                view([660.0, 1000.0], [0.0, 560.0], &mut |ui| {
                    side::show(ui, desk, camera);
                });
                view([660.0, 1000.0], [570.0, 720.0], &mut |ui| {
                    pose::show(ui, desk);
                });
            },
            bench,
        );
    harness.run();
    harness
}

pub(crate) fn place(harness: &Harness<'_, Bench>, handle: Handle) -> [f64; 2] {
    handle
        .at(harness.state().desk.project())
        .expect("the project has this handle")
}

pub(crate) fn on_screen(harness: &Harness<'_, Bench>, at: [f64; 2]) -> Pos2 {
    harness.state().camera.to_screen(Point::from(at))
}

pub(crate) fn spacing(harness: &Harness<'_, Bench>) -> f64 {
    let [a, b] = [0, 1].map(|eye| place(harness, Handle::Eye(eye)));
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Presses on the handle of this name and moves by some points, without letting go.
pub(crate) fn press_and_move(harness: &mut Harness<'_, Bench>, name: &str, by: Vec2) -> Pos2 {
    let from = harness.get_by_label(name).rect().center();
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for share in [0.3, 0.7, 1.0] {
        harness.hover_at(from + by * share);
        harness.run();
    }
    from + by
}

pub(crate) fn click(harness: &mut Harness<'_, Bench>, at: Pos2, button: PointerButton) {
    harness.hover_at(at);
    harness.run();
    for pressed in [true, false] {
        let modifiers = Modifiers::NONE;
        harness.event(Event::PointerButton {
            pos: at,
            button,
            pressed,
            modifiers,
        });
        harness.run();
    }
}

pub(crate) fn assert_place(harness: &Harness<'_, Bench>, handle: Handle, expected: [f64; 2]) {
    let at = place(harness, handle);
    let off = (at[0] - expected[0]).hypot(at[1] - expected[1]);
    assert!(
        off < ROUNDING,
        "{handle:?} is at {at:?}, not at {expected:?}"
    );
}
