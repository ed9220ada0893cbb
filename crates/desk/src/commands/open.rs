//! `gazewright [FILE]`: the window.

use std::fmt::Display;
use std::panic::{self, AssertUnwindSafe};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use layout::Project;

use super::NOTHING_FOULS;
use super::arguments::Source;
use super::failure::Failure;
use crate::samples;

const WITHOUT_WINDOW: &str = "`check`, `spacing`, `fit`, `sheet`, `cut` and `solids` need no window: see `gazewright --help`";

pub(super) fn run<E: Display>(
    source: Option<Source>,
    window: impl FnOnce(Option<PathBuf>, Project) -> Result<(), E>,
) -> Result<u8, Failure> {
    let source = source.unwrap_or(Source::Sample(samples::DEFAULT));
    let project = source.project()?;
    let path = match source {
        Source::File(path) => Some(path),
        Source::Sample(_) => None,
    };
    if !has_display() {
        return Err(Failure {
            cause: "There is no display to open a window on: neither `WAYLAND_DISPLAY` nor \
                    `DISPLAY` is set."
                .to_owned(),
            remedy: format!("Start it from a desktop; {WITHOUT_WINDOW}."),
        });
    }
    match caught(|| window(path, project)) {
        Ok(Ok(())) => Ok(NOTHING_FOULS),
        Ok(Err(error)) => Err(not_opened("cannot be opened", &error.to_string())),
        Err(panic) => Err(not_opened("stopped", &panic)),
    }
}

/// Whether there is something to draw a window on. Asked before the window is made, since its
/// libraries answer with a long list of what they tried.
fn has_display() -> bool {
    let is_set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let needs_one = cfg!(all(unix, not(target_os = "macos")));
    !needs_one
        || ["WAYLAND_DISPLAY", "WAYLAND_SOCKET", "DISPLAY"]
            .into_iter()
            .any(is_set)
}

/// Runs the window and gives what it panicked with, if it did: a missing system library shows
/// itself in no other way.
fn caught<T>(window: impl FnOnce() -> T) -> Result<T, String> {
    let said = Arc::new(Mutex::new(String::new()));
    let hook_said = Arc::clone(&said);
    let before = panic::take_hook();
    panic::set_hook(Box::new(move |panic| {
        *hook_said.lock().unwrap_or_else(PoisonError::into_inner) = one_line(&panic.to_string());
    }));
    let result = panic::catch_unwind(AssertUnwindSafe(window));
    panic::set_hook(before);
    result.map_err(|_| said.lock().unwrap_or_else(PoisonError::into_inner).clone())
}

fn not_opened(how: &str, why: &str) -> Failure {
    Failure {
        cause: format!("The window {how}: {}.", one_line(why).trim_end_matches('.')),
        remedy: format!(
            "It needs the libraries of X11 (libX11, libXcursor, libXi, libxkbcommon-x11) or \
             Wayland (libwayland-client, libxkbcommon) and OpenGL (libEGL or libGL): install what \
             is missing; {WITHOUT_WINDOW}."
        ),
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_window_that_panics_gives_one_line() {
        let lost = caught(|| panic!("libX11 is\nnot there")).unwrap_err();
        assert!(lost.ends_with("libX11 is not there"), "{lost}");
        assert!(!lost.contains('\n'));
    }
}
