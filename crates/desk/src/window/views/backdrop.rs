//! The tracing picture under the front view.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use egui::epaint::{Mesh, Vertex};
use egui::{Color32, ColorImage, Context, Id, Pos2, TextureHandle, TextureOptions, pos2};
use layout::geometry::Vector;
use layout::tracing::Tracing;

use super::ink::Ink;
use crate::picture;
use crate::window::state::{Desk, Notice};

/// Longest side of the picture on the graphics card, pixels: every card takes that.
const LONGEST_SIDE: u32 = 4_096;

/// A picture as far as it is known.
#[derive(Clone)]
pub(crate) enum Backdrop {
    /// It is being read.
    Loading,
    /// It is there.
    Ready(Ready),
    /// It is not, for this reason.
    Missing(String),
}

/// A picture on the graphics card.
#[derive(Clone)]
pub(crate) struct Ready {
    texture: TextureHandle,
    /// Its own width and height, pixels.
    pub(crate) size: [f64; 2],
}

/// The picture that was asked for last.
#[derive(Clone)]
struct Asked {
    picture: String,
    answer: Arc<Mutex<Backdrop>>,
    told: bool,
}

/// The picture of this path; read on a thread of its own when it is first asked for.
pub(crate) fn of(ctx: &Context, picture: &str) -> Backdrop {
    let asked = asked(ctx, picture);
    let answer = asked.answer.lock().unwrap_or_else(PoisonError::into_inner);
    answer.clone()
}

/// Forgets the picture, so that it is read anew.
pub(crate) fn forget(ctx: &Context) {
    ctx.data_mut(|data| data.remove::<Asked>(memory()));
}

fn memory() -> Id {
    Id::unique("tracing picture")
}

fn asked(ctx: &Context, picture: &str) -> Asked {
    let known = ctx.data(|data| data.get_temp::<Asked>(memory()));
    if let Some(known) = known.filter(|known| known.picture == picture) {
        return known;
    }
    let asked = Asked {
        picture: picture.to_owned(),
        answer: Arc::new(Mutex::new(Backdrop::Loading)),
        told: false,
    };
    ctx.data_mut(|data| data.insert_temp(memory(), asked.clone()));
    let (ctx, path, answer) = (
        ctx.clone(),
        PathBuf::from(picture),
        Arc::clone(&asked.answer),
    );
    thread::spawn(move || {
        let read = read(&ctx, &path);
        *answer.lock().unwrap_or_else(PoisonError::into_inner) = read;
        ctx.request_repaint();
    });
    asked
}

fn read(ctx: &Context, path: &std::path::Path) -> Backdrop {
    let most = ctx.input(|input| input.max_texture_side);
    let most = u32::try_from(most)
        .unwrap_or(LONGEST_SIDE)
        .min(LONGEST_SIDE);
    match picture::read(path, most) {
        Ok(picture) => {
            let pixels = &picture.pixels;
            let size = [pixels.width(), pixels.height()].map(|side| side as usize);
            let image = ColorImage::from_rgba_unmultiplied(size, pixels.as_raw());
            let texture = ctx.load_texture("tracing picture", image, TextureOptions::LINEAR);
            Backdrop::Ready(Ready {
                texture,
                size: picture.size.map(f64::from),
            })
        }
        Err(why) => Backdrop::Missing(why),
    }
}

/// Says once that the picture is missing.
pub(super) fn tell_if_missing(ctx: &Context, desk: &mut Desk) {
    let Some(tracing) = &desk.project().tracing else {
        return;
    };
    let asked = asked(ctx, &tracing.picture);
    let answer = asked.answer.lock().unwrap_or_else(PoisonError::into_inner);
    if let (Backdrop::Missing(why), false) = (&*answer, asked.told) {
        desk.notice = Some(Notice::trouble(why.clone()));
        let told = Asked {
            told: true,
            ..asked.clone()
        };
        ctx.data_mut(|data| data.insert_temp(memory(), told));
    }
}

/// Draws the picture, if there is one.
pub(super) fn draw(ink: &Ink<'_>, tracing: Option<&Tracing>) {
    let Some(tracing) = tracing else {
        return;
    };
    let Backdrop::Ready(ready) = of(ink.painter.ctx(), &tracing.picture) else {
        return;
    };
    let [width, height] = ready.size;
    let corner = |x: f64, y: f64| -> Pos2 {
        let pixel = Vector::new((x - 0.5) * width, (0.5 - y) * height);
        ink.camera.to_screen(tracing.place(pixel))
    };
    let colour = Color32::WHITE.gamma_multiply(super::camera::points(tracing.strength));
    let vertex = |x: u8, y: u8| Vertex {
        pos: corner(f64::from(x), f64::from(y)),
        uv: pos2(f32::from(x), f32::from(y)),
        color: colour,
    };
    ink.painter.add(Mesh {
        indices: vec![0, 1, 2, 0, 2, 3],
        vertices: vec![vertex(0, 0), vertex(1, 0), vertex(1, 1), vertex(0, 1)],
        texture_id: ready.texture.id(),
    });
}
