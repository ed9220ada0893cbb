//! The top view at 1:1, in the plate's frame: what is cut, the head, centre lines and labels.

use std::f64::consts::FRAC_PI_2;

use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::geometry::{Point, Vector};
use layout::{Laid, Project, Report};

use super::canvas::{Canvas, bounds_of};
use super::dimension;
use super::label::{self, Label, Target};
use super::style::{CENTRE_PAST, NARROW, WIDE};
use super::{dimensions, names};
use crate::drawing::{Bounds, Drawing, Layer, LineType, Stroke};
use crate::unit::LengthUnit;

/// Nearest that the edge at the back of a spherical seat is drawn to the one at the front, mm: the
/// least space between parallel lines of ISO 128 and half of both widths.
const NEAREST_BACK_EDGE: f64 = 0.7 + (WIDE + NARROW) / 2.0;

/// Lengths nearer than this, mm, are one.
pub(super) const SAME: f64 = 0.005;

/// What the parts of a view are made from.
pub(super) struct Subject<'a> {
    pub(super) project: &'a Project,
    pub(super) laid: &'a Laid,
    pub(super) report: &'a Report,
    pub(super) unit: LengthUnit,
}

impl Subject<'_> {
    /// The box around everything that is cut, mm.
    pub(super) fn cut_bounds(&self) -> Bounds {
        let outlines = std::iter::once(&self.laid.plate).chain(&self.laid.slots);
        let boxes = outlines.filter_map(Outline::bounds);
        let openings = self.laid.eyes.iter().filter_map(|eye| eye.opening());
        let discs = openings.map(|disc| {
            let by = Vector::repeat(disc.radius);
            [disc.centre - by, disc.centre + by]
        });
        bounds_of(boxes.chain(discs).flatten())
    }
}

/// Draws the view. Its origin is the plate's.
pub(super) fn draw(subject: &Subject<'_>) -> Drawing {
    let mut canvas = Canvas::default();
    cut_lines(&mut canvas, subject.laid);
    head(&mut canvas, subject);
    centre_lines(&mut canvas, subject);
    dimensions::draw(&mut canvas, subject);
    rim(&mut canvas, subject);
    openings(&mut canvas, subject);
    labels(&mut canvas, subject);
    canvas.finish()
}

/// What is cut: plate outline, openings and slots in wide lines. The edge that a spherical seat has at
/// the back is seen through the opening; it is narrow, so that the line to cut along stands out.
fn cut_lines(canvas: &mut Canvas, laid: &Laid) {
    for outline in std::iter::once(&laid.plate).chain(&laid.slots) {
        canvas.stroke(Stroke::outline(
            outline,
            LineType::Continuous,
            WIDE,
            Layer::Plate,
        ));
    }
    for eye in &laid.eyes {
        let Ok(seat) = &eye.seat else {
            continue;
        };
        canvas.opening(Disc {
            centre: eye.centre,
            radius: seat.opening_front,
        });
        canvas.stroke(Stroke::circle(
            eye.centre,
            seat.opening_front,
            WIDE,
            Layer::Plate,
        ));
        if seat.opening_front - seat.opening_back >= NEAREST_BACK_EDGE {
            canvas.stroke(Stroke::circle(
                eye.centre,
                seat.opening_back,
                NARROW,
                Layer::Plate,
            ));
        }
    }
}

fn head(canvas: &mut Canvas, subject: &Subject<'_>) {
    let wall = Outline::polygon(&subject.laid.wall);
    let line = LineType::LongDashedDoubleDotted;
    canvas.stroke(Stroke::outline(&wall, line, NARROW, Layer::Head));
    for hole in &subject.project.head.anchor_holes {
        let centre = hole.at.into();
        canvas.stroke(Stroke::circle(
            centre,
            hole.diameter / 2.0,
            NARROW,
            Layer::Head,
        ));
    }
}

/// The centre line of the head, the level line through the origin, and one line each way through
/// every opening; openings in one row or column share theirs. Slots get their two axes.
fn centre_lines(canvas: &mut Canvas, subject: &Subject<'_>) {
    let cut = subject.cut_bounds();
    let head = bounds_of(subject.laid.wall.iter().copied()).with(cut);
    let mut levels = vec![(0.0, [cut.low.x, cut.high.x])];
    let mut uprights = vec![(0.0, [head.low.y, head.high.y])];
    for disc in subject.laid.eyes.iter().filter_map(|eye| eye.opening()) {
        let Disc { centre, radius } = disc;
        share(
            &mut levels,
            centre.y,
            [centre.x - radius, centre.x + radius],
        );
        share(
            &mut uprights,
            centre.x,
            [centre.y - radius, centre.y + radius],
        );
    }
    let mut line = |start: Point, end: Point| {
        let kind = LineType::LongDashedDotted;
        canvas.stroke(Stroke::line(start, end, kind, NARROW, Layer::Centre));
    };
    for (y, [low, high]) in levels {
        line(
            Point::new(low - CENTRE_PAST, y),
            Point::new(high + CENTRE_PAST, y),
        );
    }
    for (x, [low, high]) in uprights {
        line(
            Point::new(x, low - CENTRE_PAST),
            Point::new(x, high + CENTRE_PAST),
        );
    }
    for slot in &subject.project.ties {
        let [length, width] = slot.size();
        let along = slot.angle.radians();
        for (angle, size) in [(along, length), (along + FRAC_PI_2, width)] {
            let reach = Vector::new(angle.cos(), angle.sin()) * (size / 2.0 + SLOT_AXIS_PAST);
            let centre = Point::from(slot.at);
            // Too short for dashes: continuous, as small centre lines are.
            let kind = LineType::Continuous;
            canvas.stroke(Stroke::line(
                centre - reach,
                centre + reach,
                kind,
                NARROW,
                Layer::Centre,
            ));
        }
    }
}

/// How far a slot's axis runs past it, mm.
const SLOT_AXIS_PAST: f64 = 1.2;

/// Lengthens the line at `place` to hold `reach`, or adds one.
fn share(lines: &mut Vec<(f64, [f64; 2])>, place: f64, reach: [f64; 2]) {
    match lines.iter_mut().find(|line| (line.0 - place).abs() < SAME) {
        Some((_, own)) => *own = [own[0].min(reach[0]), own[1].max(reach[1])],
        None => lines.push((place, reach)),
    }
}

/// The least rim, drawn where it occurs.
fn rim(canvas: &mut Canvas, subject: &Subject<'_>) {
    let rims = subject
        .report
        .findings
        .iter()
        .filter(|finding| finding.id == "rim");
    let least = rims
        .filter_map(|finding| Some((finding.value?, finding.place.as_slice())))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((value, &[from, to])) = least else {
        return;
    };
    let [from, to] = [from, to].map(|[x, y, _]| Point::new(x, y));
    let [from, to] = off_axis(subject, from, to);
    let label = Label::figure(vec![format!("Rim {}", subject.unit.format(value))]);
    dimension::between(canvas, from, to, &label);
}

/// Along an arc of the outline that runs round an opening the rim is the same everywhere: there it is
/// drawn half-way along the arc, off the centre lines. Elsewhere it stays where it is.
fn off_axis(subject: &Subject<'_>, from: Point, to: Point) -> [Point; 2] {
    let distance = (to - from).norm();
    let arcs = subject
        .laid
        .plate
        .segments
        .iter()
        .filter_map(|piece| match piece {
            Segment::Arc(arc) => Some(arc),
            Segment::Line(_) => None,
        });
    let openings: Vec<Disc> = subject
        .laid
        .eyes
        .iter()
        .filter_map(|eye| eye.opening())
        .collect();
    for arc in arcs {
        let concentric = openings.iter().find(|opening| {
            (opening.centre - arc.centre).norm() < SAME
                && (arc.radius - opening.radius - distance).abs() < SAME
        });
        if let Some(opening) = concentric {
            let middle = arc.start_angle + arc.sweep / 2.0;
            // An arc that is halved by a centre line is taken at a third instead.
            let on_axis =
                (middle.rem_euclid(FRAC_PI_2)).min(FRAC_PI_2 - middle.rem_euclid(FRAC_PI_2));
            let angle = if on_axis < arc.sweep.abs() / 8.0 {
                arc.start_angle + arc.sweep * 0.3
            } else {
                middle
            };
            let out = Vector::new(angle.cos(), angle.sin());
            return [opening.centre + out * opening.radius, arc.at(angle)];
        }
    }
    [from, to]
}

/// The diameters of the openings: one label for all that are alike.
fn openings(canvas: &mut Canvas, subject: &Subject<'_>) {
    let mut told: Vec<[f64; 2]> = Vec::new();
    let sizes: Vec<(Disc, [f64; 2])> = subject
        .laid
        .eyes
        .iter()
        .filter_map(|eye| {
            let seat = eye.seat.as_ref().ok()?;
            let disc = Disc {
                centre: eye.centre,
                radius: seat.opening_front,
            };
            Some((disc, [seat.opening_front, seat.opening_back]))
        })
        .collect();
    let alike =
        |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).abs() < SAME && (a[1] - b[1]).abs() < SAME;
    for (disc, size) in &sizes {
        if told.iter().any(|other| alike(other, size)) {
            continue;
        }
        told.push(*size);
        let count = sizes.iter().filter(|(_, other)| alike(other, size)).count();
        let times = if count > 1 {
            format!("{count} × ")
        } else {
            String::new()
        };
        let [front, back] = size.map(|radius| subject.unit.format(2.0 * radius));
        let lines = if front == back {
            vec![format!("{times}Ø{front}")]
        } else {
            vec![format!("{times}Ø{front} front"), format!("Ø{back} back")]
        };
        label::place(canvas, &Label::figure(lines), Target::circle(*disc));
    }
}

/// The numbers of openings, slots and anchor holes.
fn labels(canvas: &mut Canvas, subject: &Subject<'_>) {
    for (index, eye) in subject.laid.eyes.iter().enumerate() {
        let centre = Disc {
            centre: eye.centre,
            radius: 0.0,
        };
        label::place(
            canvas,
            &Label::name(names::eye(index)),
            Target::around(centre),
        );
    }
    for (index, slot) in subject.project.ties.iter().enumerate() {
        let around = Disc {
            centre: slot.at.into(),
            radius: slot.half_diagonal(),
        };
        label::place(
            canvas,
            &Label::name(names::slot(index)),
            Target::around(around),
        );
    }
    for (index, hole) in subject.project.head.anchor_holes.iter().enumerate() {
        let around = Disc {
            centre: hole.at.into(),
            radius: hole.diameter / 2.0,
        };
        label::place(
            canvas,
            &Label::name(names::anchor(index)),
            Target::around(around),
        );
    }
}
