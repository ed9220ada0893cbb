//! Taking a picture to trace.

use std::path::{Path, absolute};

use egui::Context;
use layout::geometry::Point;
use layout::tracing::Tracing;
use layout::{Degrees, Edit};

use super::app::App;
use super::views::backdrop;
use crate::picture;

/// How much of a new picture shows: enough to trace it, and the lines over it stay clear.
const STRENGTH: f64 = 0.5;

impl App {
    /// Puts a picture under the front view: as high as the head, its middle at the head's. One that
    /// takes the place of another lies as that did.
    pub(crate) fn take_picture(&mut self, path: &Path, ctx: &Context) {
        let size = match picture::size(path) {
            Ok(size) => size.map(f64::from),
            Err(why) => return self.trouble(why),
        };
        let full = absolute(path).unwrap_or_else(|_| path.to_owned());
        let picture = full.display().to_string();
        let tracing = match self.desk.project().tracing.clone() {
            Some(before) => Tracing { picture, ..before },
            None => {
                let [low, high] = self.head_box();
                Tracing {
                    picture,
                    at: nalgebra::center(&low, &high).into(),
                    mm_per_pixel: (high.y - low.y) / size[1],
                    angle: Degrees(0.0),
                    strength: STRENGTH,
                }
            }
        };
        backdrop::forget(ctx);
        // The notice tells what stands in the way.
        let _told = self.desk.apply(&Edit::Tracing(Some(tracing)));
        self.carry_out(super::Command::Show(super::step::Step::Head), ctx);
    }

    /// The box around the head, mm.
    pub(crate) fn head_box(&self) -> [Point; 2] {
        let wall = self.desk.laid().wall.iter();
        wall.fold(None, |found: Option<[Point; 2]>, at| {
            let [low, high] = found.unwrap_or([*at, *at]);
            Some([low.inf(at), high.sup(at)])
        })
        .unwrap_or([Point::origin(), Point::origin()])
    }
}
