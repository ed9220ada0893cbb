//! What stands on the plate and moves over it, in the top view: lugs, levers, cable lines and sheaths.

use layout::geometry::segment::{Line, Segment};
use layout::geometry::{Point, Vector};

use super::canvas::Canvas;
use super::pieces::{inside, kept};
use super::scene::{Scene, SceneDrive};
use super::style::NARROW;
use crate::drawing::{Layer, LineType, Stroke};

/// Radius of the circle at a lever tip, mm: a small hole for the wire. Own choice.
const TIP: f64 = 0.8;

/// Draws all of them. Lugs are seen on the plate; what moves, and the sheaths, are adjacent parts of
/// ISO 128, in double-dotted lines. They end where head and plate do.
pub(super) fn draw(canvas: &mut Canvas, scene: &Scene) {
    for foot in &scene.lugs {
        let line = LineType::Continuous;
        canvas.stroke(Stroke::outline(foot, line, NARROW, Layer::Carried));
    }
    let within = scene.bounds();
    for drive in &scene.drives {
        for stroke in lines(drive) {
            for part in kept(&stroke, |piece| inside(piece, &within)) {
                canvas.stroke(part);
            }
        }
        let tip = drive.lever[1];
        let reach = Vector::repeat(TIP);
        if within.holds(&crate::drawing::Bounds {
            low: tip - reach,
            high: tip + reach,
        }) {
            let line = LineType::Continuous;
            canvas.stroke(Stroke::circle(tip, TIP, line, NARROW, Layer::Drive));
        }
    }
}

/// The lever, the cable line and the sheath's middle.
fn lines(drive: &SceneDrive) -> impl Iterator<Item = Stroke> {
    let paths = [&drive.lever[..], &drive.cable[..], &drive.sheath[..]];
    let strokes = paths.map(|places| Stroke {
        path: through(places),
        closed: false,
        line: LineType::LongDashedDoubleDotted,
        width: NARROW,
        layer: Layer::Drive,
    });
    strokes.into_iter().filter(|stroke| !stroke.path.is_empty())
}

/// The straight lines from each place to the next.
pub(super) fn through(places: &[Point]) -> Vec<Segment> {
    let lines = places.windows(2).map(|pair| Line {
        start: pair[0],
        end: pair[1],
    });
    lines.map(Segment::Line).collect()
}
