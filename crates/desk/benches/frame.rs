//! How long a frame of the whole window takes while a lever's tip or a route's point is dragged: the pointer's
//! event, the change, its evaluation, both views, the fields, the charts and the findings, made into triangles.
//! Nothing is sent to a screen.

use criterion::Criterion;
use desk::samples::Sample;
use desk::window::step::Step;
use desk::window::{App, Command, START_SIZE, Surroundings, theme};
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use layout::Project;
use layout::handle::Place;

/// Seconds from frame to frame of a usual screen.
const FRAME: f64 = 1.0 / 60.0;

/// How far the pointer goes to and fro, points.
const STRIDE: f32 = 3.0;

/// The window with its pointer held down on a handle.
struct Held {
    ctx: Context,
    app: App,
    at: Pos2,
    time: f64,
}

impl Held {
    /// Presses on the handle called `name` in the step where drives are worked.
    fn on(project: Project, name: &str) -> Self {
        let mut app = App::new(None, project, Surroundings::none());
        let mut harness = Harness::builder()
            .with_size(START_SIZE)
            .with_max_steps(32)
            .with_context_setup(theme::install)
            .build_ui_state(|ui, app: &mut &mut App| app.show(ui), &mut app);
        let ctx = harness.ctx.clone();
        harness
            .state_mut()
            .carry_out(Command::Show(Step::Drives), &ctx);
        harness.run();
        let at = harness.get_by_label(name).rect().center();
        harness.hover_at(at);
        harness.run();
        drop(harness);
        let mut held = Self {
            ctx,
            app,
            at,
            time: 1e3,
        };
        let modifiers = Modifiers::NONE;
        held.frame(Event::PointerButton {
            pos: at,
            button: PointerButton::Primary,
            pressed: true,
            modifiers,
        });
        held
    }

    /// One frame with an event; how many meshes it came to.
    fn frame(&mut self, event: Event) -> usize {
        self.time += FRAME;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, START_SIZE.into())),
            time: Some(self.time),
            events: vec![event],
            ..RawInput::default()
        };
        let output = self.ctx.run_ui(input, |ui| self.app.show(ui));
        let (shapes, scale) = (output.shapes, output.pixels_per_point);
        self.ctx.tessellate(shapes, scale).len()
    }

    /// Moves the pointer on, to and fro.
    fn drag(&mut self, turn: u32) -> usize {
        let off = if turn.is_multiple_of(2) {
            STRIDE
        } else {
            -STRIDE
        };
        self.frame(Event::PointerMoved(self.at + vec2(off, 2.0 * STRIDE)))
    }
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    for name in ["bramble", "nettle"] {
        let sample = Sample::called(name).expect("there is such a sample");
        let mut project = sample.project();
        let [from, to] = [Place::Stop, Place::Exit].map(|place| {
            let at = place.at(&project, 0).expect("a drive has its places");
            nalgebra::Point3::from(at)
        });
        project.drives[0].via = vec![nalgebra::center(&from, &to).into()];
        let drive = project.drives[0].name.clone();
        for handle in ["lever tip", "route point 1"] {
            let mut held = Held::on(project.clone(), &format!("{drive}, {handle}, in the cut"));
            let before = held.app.desk().project().clone();
            let mut turn = 0;
            criterion.bench_function(
                &format!("a frame of a drag of the {handle}, {name}"),
                |bencher| {
                    bencher.iter(|| {
                        turn += 1;
                        held.drag(turn)
                    });
                },
            );
            assert_ne!(held.app.desk().project(), &before, "the drag has moved it");
        }
    }
    criterion.final_summary();
}
