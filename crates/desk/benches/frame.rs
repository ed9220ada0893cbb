//! How long a frame of the whole window takes while a lever's tip or a route's point is dragged: the pointer's
//! event, the change, its evaluation, both views, the fields, the charts and the findings, up to what is to be
//! painted. Nothing is painted. The change and its evaluation alone, which may cost 2 ms, are timed by the layout crate's
//! bench `evaluate`.

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

/// Frames until the window has found its layout, and until it knows what the pointer is on.
const SETTLING: usize = 8;

/// The window with its pointer over a handle.
struct Window {
    ctx: Context,
    app: App,
    at: Pos2,
    time: f64,
    /// Frames in which the pointer has moved.
    moves: u32,
}

impl Window {
    /// The pointer comes to the handle called `name` in the step where drives are worked.
    fn over(project: &Project, name: &str) -> Self {
        let at = place_of(project, name);
        let ctx = Context::default();
        theme::install(&ctx);
        let mut app = App::new(None, project.clone(), Surroundings::none());
        app.carry_out(Command::Show(Step::Drives), &ctx);
        let mut window = Self {
            ctx,
            app,
            at,
            time: 0.0,
            moves: 0,
        };
        for _ in 0..SETTLING {
            window.frame(Event::PointerMoved(at));
        }
        window
    }

    /// Takes hold of the handle.
    fn press(&mut self) {
        self.frame(Event::PointerButton {
            pos: self.at,
            button: PointerButton::Primary,
            pressed: true,
            modifiers: Modifiers::NONE,
        });
    }

    /// One frame in which the pointer moves on, to and fro; how many shapes it came to.
    fn moves(&mut self) -> usize {
        self.moves += 1;
        let off = if self.moves.is_multiple_of(2) {
            STRIDE
        } else {
            -STRIDE
        };
        self.frame(Event::PointerMoved(self.at + vec2(off, 2.0 * STRIDE)))
    }

    /// One frame with an event; how many shapes it came to.
    fn frame(&mut self, event: Event) -> usize {
        self.time += FRAME;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, START_SIZE.into())),
            time: Some(self.time),
            events: vec![event],
            ..RawInput::default()
        };
        let output = self.ctx.run_ui(input, |ui| self.app.show(ui));
        output.shapes.len()
    }
}

/// Where the middle of the handle called `name` is in a window of the same size.
fn place_of(project: &Project, name: &str) -> Pos2 {
    let mut app = App::new(None, project.clone(), Surroundings::none());
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
    harness.get_by_label(name).rect().center()
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
        let mut moving = Window::over(&project, &format!("{drive}, lever tip, in the cut"));
        criterion.bench_function(
            &format!("a frame in which the pointer only moves, {name}"),
            |bencher| bencher.iter(|| moving.moves()),
        );
        for handle in ["lever tip", "route point 1"] {
            let handle_name = format!("{drive}, {handle}, in the cut");
            let mut dragging = Window::over(&project, &handle_name);
            dragging.press();
            dragging.moves();
            assert_ne!(dragging.app.desk().project(), &project, "the drag moves it");
            criterion.bench_function(
                &format!("a frame of a drag of the {handle}, {name}"),
                |bencher| bencher.iter(|| dragging.moves()),
            );
        }
    }
    criterion.final_summary();
}
