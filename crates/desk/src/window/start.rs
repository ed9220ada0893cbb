//! Opens the window.

use std::fmt;
use std::path::PathBuf;

use eframe::NativeOptions;
use egui::{IconData, ViewportBuilder};
use layout::Project;

use super::app::App;
use super::surroundings::Surroundings;
use super::theme;

/// What the desktop calls the program: its Wayland app id and X11 class.
const APP_ID: &str = "gazewright";

/// Size of the window when it opens, in points.
pub const START_SIZE: [f32; 2] = [1280.0, 800.0];

/// Smallest size of the window, in points, at which nothing is cut off.
pub const LEAST_SIZE: [f32; 2] = [960.0, 640.0];

/// Why the window did not open: one sentence of the cause.
#[derive(Debug)]
pub struct StartError {
    sentence: String,
}

impl fmt::Display for StartError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence)
    }
}

impl std::error::Error for StartError {}

/// Opens the window on a project, with the file that it came from if it came from one, and
/// returns when the window is closed.
///
/// # Errors
/// A [`StartError`] if there is no display, or a system library is missing.
pub fn run(path: Option<PathBuf>, project: Project) -> Result<(), StartError> {
    let viewport = ViewportBuilder::default()
        .with_title("Gazewright")
        .with_app_id(APP_ID)
        .with_icon(icon())
        .with_inner_size(START_SIZE)
        .with_min_inner_size(LEAST_SIZE);
    let options = NativeOptions {
        viewport,
        renderer: eframe::Renderer::Glow,
        persist_window: false,
        ..NativeOptions::default()
    };
    let create = |creation: &eframe::CreationContext<'_>| {
        theme::install(&creation.egui_ctx);
        let app = App::new(path, project, Surroundings::of_desktop());
        Ok(Box::new(app) as Box<dyn eframe::App>)
    };
    eframe::run_native(APP_ID, options, Box::new(create)).map_err(|error| StartError {
        sentence: sentence(&error),
    })
}

fn sentence(error: &eframe::Error) -> String {
    match error {
        eframe::Error::NoGlutinConfigs(..)
        | eframe::Error::Glutin(_)
        | eframe::Error::OpenGL(_) => {
            "OpenGL does not work here (libGL and libEGL, on Debian `libgl1` and `libegl1`)"
                .to_owned()
        }
        other => other.to_string(),
    }
}

fn icon() -> IconData {
    // The picture is built in; a window without it would still be whole.
    eframe::icon_data::from_png_bytes(include_bytes!("../../../../assets/icon.png"))
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_icon_is_a_picture_of_256_pixels() {
        let icon = super::icon();
        assert_eq!((icon.width, icon.height), (256, 256));
        assert!(icon.rgba.chunks(4).any(|pixel| pixel[3] == 255));
    }
}
