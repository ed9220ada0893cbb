//! A sheet as pixels, by a PDF renderer that shares nothing with the writer.

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::hayro_syntax::page::Page;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};

/// Pixels in a millimetre at 254 dpi.
pub(crate) const PER_MM: f64 = 10.0;
/// Points in an inch, and millimetres.
const SCALE: f64 = PER_MM * 25.4 / 72.0;

/// A page as darkness from 0, white, to 1, black; row 0 is the lowest.
pub(crate) struct Raster {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Rows of the whole page, of which the renderer leaves out the lowest where it is not whole.
    rows: usize,
    darkness: Vec<f64>,
}

impl Raster {
    /// The first page.
    pub(crate) fn of(pdf: Vec<u8>) -> Self {
        Self::of_page(&Pdf::new(pdf).unwrap().pages()[0])
    }

    /// Every page.
    pub(crate) fn of_all(pdf: Vec<u8>) -> Vec<Self> {
        let pdf = Pdf::new(pdf).unwrap();
        pdf.pages().iter().map(Self::of_page).collect()
    }

    fn of_page(page: &Page<'_>) -> Self {
        let pixmap = render(
            page,
            &RenderCache::new(),
            &InterpreterSettings::default(),
            &RenderSettings {
                hinting: false,
                ..RenderSettings::default()
            },
            &PixmapSettings {
                x_scale: SCALE as f32,
                y_scale: SCALE as f32,
                bg_color: WHITE,
            },
        );
        let (width, height) = (usize::from(pixmap.width()), usize::from(pixmap.height()));
        let dark = |p: &hayro::vello_cpu::color::PremulRgba8| {
            1.0 - (f64::from(p.r) + f64::from(p.g) + f64::from(p.b)) / (3.0 * 255.0)
        };
        Self {
            width,
            height,
            rows: (f64::from(page.render_dimensions().1) * SCALE).round() as usize,
            darkness: pixmap.data().iter().map(dark).collect(),
        }
    }

    /// Darkness of the pixel at a column and a row, counted from the lower left.
    pub(crate) fn at(&self, column: usize, row: usize) -> f64 {
        let from_top = self.rows - 1 - row;
        self.darkness
            .get(from_top * self.width + column)
            .copied()
            .unwrap_or(0.0)
    }

    /// The dark stretches along the row at height `y` from `from` to `to`, all mm.
    pub(crate) fn along_row(&self, y: f64, from: f64, to: f64) -> Vec<Stretch> {
        let row = pixel(y);
        stretches(from, to, |column| self.at(column, row))
    }

    /// The dark stretches up the column at `x` from `from` to `to`, all mm.
    pub(crate) fn up_column(&self, x: f64, from: f64, to: f64) -> Vec<Stretch> {
        let column = pixel(x);
        stretches(from, to, |row| self.at(column, row))
    }
}

/// Neighbouring pixels that are not white.
#[derive(Debug)]
pub(crate) struct Stretch {
    /// Its centre, weighted by darkness, mm.
    pub(crate) centre: f64,
    /// Width of the ink in it, mm.
    pub(crate) ink: f64,
}

/// The pixel that holds a place, mm.
pub(crate) fn pixel(mm: f64) -> usize {
    (mm * PER_MM).floor() as usize
}

fn stretches(from: f64, to: f64, darkness: impl Fn(usize) -> f64) -> Vec<Stretch> {
    /// Lighter is a trace of what lies beside.
    const FAINT: f64 = 0.02;
    let mut found = Vec::new();
    let (mut ink, mut moment) = (0.0, 0.0);
    for index in pixel(from)..=pixel(to) {
        let dark = darkness(index);
        if dark > FAINT {
            ink += dark;
            moment += dark * (index as f64 + 0.5);
        } else if ink > 0.0 {
            found.push(Stretch {
                centre: moment / ink / PER_MM,
                ink: ink / PER_MM,
            });
            (ink, moment) = (0.0, 0.0);
        }
    }
    found
}
