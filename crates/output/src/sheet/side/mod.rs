//! The side cut: what an upright plane through the middle of an eye cuts, the audience at the left.
//!
//! In its own axes depth behind the plate's front face runs to the right and y up. Lengths in mm of the
//! part; the drawing is smaller by its scale.

mod drives;
mod hatch;
mod measures;
mod parts;

use layout::LaidEye;
use layout::geometry::segment::{Arc, Segment};
use layout::geometry::{Point, Vector};
use layout::seat::SeatFit;

use super::canvas::Canvas;
use super::label::{self, Label, Target};
use super::names;
use super::style::{CENTRE_PAST, FIGURE, NARROW, PART_GAP, WIDE};
use super::view::Subject;
use crate::drawing::{Anchor, Direction, Drawing, Layer, LineType, Stroke, Text};
use crate::font::Weight;

/// The scales that are tried in turn: full size and the reductions of ISO 5455:1979, one to so many.
pub(super) const SCALES: [u32; 6] = [1, 2, 5, 10, 20, 50];

/// The eyes that are cut, by their index: of each parts set the first that sits in a seat.
pub(super) fn eyes(subject: &Subject<'_>) -> Vec<usize> {
    let seated = subject.laid.eyes.iter().enumerate();
    let seated = seated.filter(|(_, eye)| eye.seat.is_ok());
    let mut cut: Vec<usize> = Vec::new();
    for (index, _) in seated {
        let parts = |eye: usize| subject.project.parts_of(eye);
        if !cut.iter().any(|&earlier| parts(earlier) == parts(index)) {
            cut.push(index);
        }
    }
    cut
}

/// Draws the cut through the eye of index `eye` at one to `scale`; None if it sits in no seat.
pub(super) fn draw(subject: &Subject<'_>, eye: usize, scale: u32) -> Option<Drawing> {
    let laid = subject.laid.eyes.get(eye)?;
    let cut = Cut {
        subject,
        index: eye,
        eye: laid,
        seat: laid.seat.as_ref().ok()?,
        share: 1.0 / f64::from(scale),
    };
    let mut canvas = Canvas::default();
    let mut labels = Vec::new();
    cut.plate(&mut canvas, &mut labels);
    cut.eye(&mut canvas, &mut labels);
    cut.lids(&mut canvas, &mut labels);
    cut.guard(&mut canvas, &mut labels);
    cut.centre_lines(&mut canvas);
    let drives = cut.drives(&mut canvas);
    cut.measures(&mut canvas);
    for (drive, around) in drives {
        let name = Label::name(names::drive(drive));
        label::place(&mut canvas, &name, Target::around(around));
    }
    for (lines, at) in labels {
        label::place(&mut canvas, &Label::figure(lines), Target::on_line(at));
    }
    if scale > 1 {
        say_scale(&mut canvas, scale);
    }
    Some(canvas.finish())
}

/// Says under a view that is not drawn in full size that it is not.
fn say_scale(canvas: &mut Canvas, scale: u32) {
    let Some(own) = canvas.bounds() else {
        return;
    };
    let under = Vector::new(0.0, PART_GAP + FIGURE);
    canvas.text(Text {
        at: Point::new((own.low.x + own.high.x) / 2.0, own.low.y) - under,
        text: format!("Drawn at 1:{scale}: read its figures, measure nothing on it."),
        cap_height: FIGURE,
        anchor: Anchor::Middle,
        weight: Weight::SemiBold,
        direction: Direction::Level,
        layer: Layer::Dimension,
    });
}

/// What is said of a part, and a place on its edge in the drawing.
type Labels = Vec<(Vec<String>, Point)>;

/// A cut in the making.
struct Cut<'a> {
    subject: &'a Subject<'a>,
    index: usize,
    eye: &'a LaidEye,
    seat: &'a SeatFit,
    /// Length in the drawing of a millimetre of the part.
    share: f64,
}

impl Cut<'_> {
    /// The plane that cuts.
    fn x(&self) -> f64 {
        self.eye.centre.x
    }

    /// Where the drawing shows a place of the plane.
    fn at(&self, depth: f64, y: f64) -> Point {
        Point::new(depth, y) * self.share
    }

    /// The ball's centre in the plane.
    fn centre(&self) -> Point {
        Point::new(-self.seat.centre_height, self.eye.centre.y)
    }

    /// A place by its distances from the ball's centre: backward and up.
    fn about_ball(&self, back: f64, up: f64) -> Point {
        (self.centre() + Vector::new(back, up)) * self.share
    }

    /// An arc about a place of the plane, angles from straight back toward up.
    fn arc(&self, centre: Point, radius: f64, from: f64, sweep: f64) -> Segment {
        Segment::Arc(Arc {
            centre: centre * self.share,
            radius: radius * self.share,
            start_angle: from,
            sweep,
        })
    }

    /// A closed line around what is cut, hatched.
    fn solid(&self, canvas: &mut Canvas, path: Vec<Segment>, layer: Layer, rising: bool) {
        let edge = Stroke {
            path,
            closed: true,
            line: LineType::Continuous,
            width: WIDE,
            layer,
        };
        for line in hatch::lines(&edge.flattened(), rising) {
            canvas.stroke(line);
        }
        canvas.stroke(edge);
    }

    /// The axes through the ball's centre.
    fn centre_lines(&self, canvas: &mut Canvas) {
        let reach = self.seat.ball_radius * self.share + CENTRE_PAST;
        let centre = self.centre() * self.share;
        for half in [Vector::x(), Vector::y()].map(|along| along * reach) {
            let kind = LineType::LongDashedDotted;
            let line = Stroke::line(centre - half, centre + half, kind, NARROW, Layer::Centre);
            canvas.stroke(line);
        }
    }
}

/// A narrow line of a part that carries or moves.
fn thin(path: Vec<Segment>, line: LineType) -> Stroke {
    Stroke {
        path,
        closed: false,
        line,
        width: NARROW,
        layer: Layer::Carried,
    }
}
