//! What stands on the plate and moves over it, in the top view: lugs, levers, cable lines and sheaths.

use layout::geometry::segment::{Line, Segment};
use layout::geometry::{Point, Vector};

use super::canvas::Canvas;
use super::pieces::{inside, kept};
use super::scene::Scene;
use super::style::NARROW;
use crate::drawing::{Bounds, Layer, LineType, Stroke};

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
        for places in [&drive.lever[..], &drive.cable, &drive.sheath] {
            line(canvas, &within, places);
        }
        tip(canvas, &within, drive.lever[1]);
    }
    for rod in &scene.rods {
        let ends = rod.levers.map(|lever| lever[1]);
        for places in [&rod.levers[0], &rod.levers[1], &ends] {
            line(canvas, &within, places);
        }
        for end in ends {
            tip(canvas, &within, end);
        }
    }
}

/// A line of something that moves, or of its sheath, through places, as far as a box reaches.
pub(super) fn line(canvas: &mut Canvas, within: &Bounds, places: &[Point]) {
    let stroke = Stroke {
        path: through(places),
        closed: false,
        line: LineType::LongDashedDoubleDotted,
        width: NARROW,
        layer: Layer::Drive,
    };
    if !stroke.path.is_empty() {
        for part in kept(&stroke, |piece| inside(piece, within)) {
            canvas.stroke(part);
        }
    }
}

/// The hole in a lever's tip, if a box holds it.
pub(super) fn tip(canvas: &mut Canvas, within: &Bounds, at: Point) {
    let reach = Vector::repeat(TIP);
    let around = Bounds {
        low: at - reach,
        high: at + reach,
    };
    if within.holds(&around) {
        let line = LineType::Continuous;
        canvas.stroke(Stroke::circle(at, TIP, line, NARROW, Layer::Drive));
    }
}

/// The straight lines from each place to the next.
pub(super) fn through(places: &[Point]) -> Vec<Segment> {
    let lines = places.windows(2).map(|pair| Line {
        start: pair[0],
        end: pair[1],
    });
    lines.map(Segment::Line).collect()
}
