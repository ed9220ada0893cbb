//! The window, worked by accessible name without a display.

mod commands;
mod fields;
mod files;
mod findings;
mod import;
mod layout_of_window;
mod making;
mod measured_openings;
mod measured_plate;
mod measured_recovery;
mod mechanism;
mod placing;
mod printing;
mod recent;
mod recovery;
mod ring;
mod sheet;
mod shelf;
mod smallest_head;
mod spacing;
mod steps;
mod tracing;
mod working_the_eyes;

use std::path::{Path, PathBuf};

use desk::samples::Sample;
use desk::window::{App, Surroundings, theme};
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use layout::Project;

type Window = Harness<'static, App>;

const CTRL: Modifiers = Modifiers::COMMAND;

/// The window on the sample that it opens on.
fn window() -> Window {
    window_on(desk::samples::DEFAULT.project(), desk::window::START_SIZE)
}

/// The window on a sample.
fn window_on_sample(name: &str) -> Window {
    let sample = Sample::called(name).expect("there is such a sample");
    window_on(sample.project(), desk::window::START_SIZE)
}

fn window_on(project: Project, size: [f32; 2]) -> Window {
    window_with(None, project, size, Surroundings::none())
}

/// The window on a project of a file, with things around it.
fn window_with(
    file: Option<PathBuf>,
    project: Project,
    size: [f32; 2],
    around: Surroundings,
) -> Window {
    let mut harness = Harness::builder()
        .with_size(size)
        // A thread that comes to its end (the viewer's, a dialog's) may ask for frames of its own.
        .with_max_steps(32)
        .with_context_setup(theme::install)
        .build_ui_state(
            |ui, app: &mut App| app.show(ui),
            App::new(file, project, around),
        );
    harness.run();
    harness
}

/// A folder of its own for one test, emptied first.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("shell")
        .join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

fn save_as(window: &mut Window, path: &Path) {
    press(window, CTRL | Modifiers::SHIFT, Key::S);
    enter(window, "Path of the file", text_of(path));
}

fn open(window: &mut Window, path: &Path) {
    press(window, CTRL, Key::O);
    enter(window, "Path of the file", text_of(path));
}

fn text_of(path: &Path) -> &str {
    path.to_str().expect("a path in UTF-8")
}

/// Clicks what is called `name`.
fn click(window: &mut Window, name: &str) {
    window.get_by_label(name).click_accesskit();
    window.run();
}

/// Types into the field called `name` without leaving it.
fn type_into(window: &mut Window, name: &str, text: &str) {
    window.get_by_label(name).focus();
    window.run();
    window.get_by_label(name).type_text(text);
    window.run();
}

/// Types into the field called `name` and commits with Enter.
fn enter(window: &mut Window, name: &str, text: &str) {
    type_into(window, name, text);
    press(window, Modifiers::NONE, Key::Enter);
}

fn press(window: &mut Window, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run();
}

/// What the field called `name` shows.
fn shown(window: &Window, name: &str) -> String {
    window.get_by_label(name).value().unwrap_or_default()
}

fn project(window: &Window) -> &Project {
    window.state().desk().project()
}

/// Whether a text stands anywhere in the window.
fn says(window: &Window, text: &str) -> bool {
    let has = |value: Option<String>| value.is_some_and(|value| value.contains(text));
    let mut nodes = vec![window.root().accesskit_node()];
    while let Some(node) = nodes.pop() {
        if has(node.value()) || has(node.label()) {
            return true;
        }
        nodes.extend(node.children());
    }
    false
}
