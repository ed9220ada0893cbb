//! The SVG measures right when another program draws it at ten pixels to the millimetre.

use output::cut::{Cut, CutPart, Purpose};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use crate::contours::{cut, of_purpose, with_kerf};
use crate::projects::demos;

/// Pixels of a millimetre.
const PER_MM: f64 = 10.0;

/// What may be off, mm: half a pixel.
const TOLERANCE: f64 = 0.05;

/// A pixel, mm, and a little for rounding: what a line's outermost pixels may be off.
const PIXEL: f64 = 0.101;

/// Pixels of an inch in CSS and SVG (CSS Values and Units, absolute lengths), by mm of an inch.
const PX_PER_MM: f64 = 96.0 / 25.4;

struct Raster {
    pixmap: Pixmap,
}

/// Which ink is measured. Each is what its colour takes away from white and the others do not.
#[derive(Clone, Copy)]
enum Ink {
    /// Blue: what is cut inside.
    Inside,
    /// Red: what is cut outside.
    Outside,
}

impl Raster {
    /// `stretch` is what a reader might get wrong.
    fn of(svg: &[u8], stretch: f64) -> Self {
        let tree = Tree::from_data(svg, &Options::default()).unwrap();
        let scale = PER_MM / PX_PER_MM * stretch;
        let side = |px: f32| (f64::from(px) * scale).round() as u32;
        let (width, height) = (side(tree.size().width()), side(tree.size().height()));
        let mut pixmap = Pixmap::new(width, height).unwrap();
        pixmap.fill(resvg::tiny_skia::Color::WHITE);
        let scale = scale as f32;
        resvg::render(
            &tree,
            Transform::from_scale(scale, scale),
            &mut pixmap.as_mut(),
        );
        Self { pixmap }
    }

    fn dark(&self, ink: Ink, column: u32, row: u32) -> f64 {
        let Some(pixel) = self.pixmap.pixel(column, row) else {
            return 0.0;
        };
        let [red, blue] = [pixel.red(), pixel.blue()].map(f64::from);
        match ink {
            Ink::Inside => 1.0 - red / 255.0,
            Ink::Outside => 1.0 - blue / 255.0,
        }
    }

    /// Middle of the ink from `from` to `to` along a row or a column, mm; None if there is none.
    fn middle(
        &self,
        ink: Ink,
        [from, to]: [f64; 2],
        pixel: impl Fn(u32) -> [u32; 2],
    ) -> Option<f64> {
        let (mut sum, mut moment) = (0.0, 0.0);
        for index in (from * PER_MM) as u32..=(to * PER_MM) as u32 {
            let [column, row] = pixel(index);
            let dark = self.dark(ink, column, row);
            sum += dark;
            moment += dark * (f64::from(index) + 0.5);
        }
        (sum > 0.1).then(|| moment / sum / PER_MM)
    }

    fn across(&self, ink: Ink, y: f64, range: [f64; 2]) -> Option<f64> {
        let row = (y * PER_MM) as u32;
        self.middle(ink, range, |column| [column, row])
    }

    fn down(&self, ink: Ink, x: f64, range: [f64; 2]) -> Option<f64> {
        let column = (x * PER_MM) as u32;
        self.middle(ink, range, |row| [column, row])
    }

    /// Lowest and highest column and row that hold ink, as mm from the upper left.
    fn extent(&self, ink: Ink, rows: f64) -> [[f64; 2]; 2] {
        let (mut low, mut high) = ([f64::INFINITY; 2], [0.0_f64; 2]);
        for row in 0..(rows * PER_MM) as u32 {
            for column in 0..self.pixmap.width() {
                if self.dark(ink, column, row) > 0.3 {
                    let at = [column, row].map(|side| (f64::from(side) + 0.5) / PER_MM);
                    low = [low[0].min(at[0]), low[1].min(at[1])];
                    high = [high[0].max(at[0]), high[1].max(at[1])];
                }
            }
        }
        [low, high]
    }
}

/// Both diameters of a circle that lies about a place, mm from the page's upper left corner.
fn diameters(raster: &Raster, x: f64, y: f64, radius: f64) -> [f64; 2] {
    let near = |at: f64| [at - 0.6, at + 0.6];
    let across = |at: f64| raster.across(Ink::Inside, y, near(at)).unwrap();
    let down = |at: f64| raster.down(Ink::Inside, x, near(at)).unwrap();
    [
        across(x + radius) - across(x - radius),
        down(y + radius) - down(y - radius),
    ]
}

/// Where the page shows a place, and how large it is.
fn place(cut: &Cut, at: layout::geometry::Point) -> [f64; 2] {
    let page = cut.page();
    [at.x - page.low.x, page.high.y - at.y]
}

#[test]
fn openings_and_outline_measure_right_in_pixels() {
    for case in demos() {
        let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
        let raster = Raster::of(&output::svg::write(&found), 1.0);
        for contour in of_purpose(&found, Purpose::CutInside) {
            let Some(circle) = contour.circle() else {
                continue;
            };
            let [x, y] = place(&found, circle.centre);
            for diameter in diameters(&raster, x, y, circle.radius) {
                let off = diameter - 2.0 * circle.radius;
                assert!(
                    off.abs() < TOLERANCE,
                    "{}, {}: {off} mm off",
                    case.name,
                    contour.name
                );
            }
        }
        let [low, high] = case.laid.plate.bounds().unwrap();
        let last_row = place(&found, low)[1] + 1.0;
        let [left_top, right_bottom] = raster.extent(Ink::Outside, last_row);
        let measured = [right_bottom[0] - left_top[0], right_bottom[1] - left_top[1]];
        for (measured, side) in measured.into_iter().zip([high.x - low.x, high.y - low.y]) {
            assert!(
                (measured - side).abs() < PIXEL,
                "{}: {measured} for {side} mm",
                case.name
            );
        }
    }
}

#[test]
fn the_measure_sees_a_stretched_drawing() {
    let case = demos().remove(0);
    let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
    // One part in two hundred.
    let raster = Raster::of(&output::svg::write(&found), 1.005);
    let circle = found.contours.iter().find_map(|own| own.circle()).unwrap();
    let [x, y] = place(&found, circle.centre).map(|side| side * 1.005);
    let [across, _] = diameters(&raster, x, y, circle.radius);
    assert!((across - 2.0 * circle.radius).abs() > 2.0 * TOLERANCE);
}
