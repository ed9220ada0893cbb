//! The top view at 1:1, in the plate's frame: what is cut, the head, centre lines and labels.

use std::f64::consts::FRAC_PI_2;

use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::geometry::{Point, Vector};
use layout::{Laid, Project, Report};

use super::canvas::Canvas;
use super::dimension;
use super::label::{self, Label, Target};
use super::scene::{Edges, Scene};
use super::style::{CENTRE_PAST, NARROW, WIDE};
use super::tiles::Grid;
use super::{cables, dimensions, names, template};
use crate::cut::CutPart;
use crate::drawing::{Drawing, Layer, LineType, Stroke};
use crate::seen::Seen;
use crate::unit::LengthUnit;

/// Nearest that the two edges of a spherical seat are drawn to one another, mm: the least space between
/// parallel lines of ISO 128 and half of both widths.
const NEAREST_FAR_EDGE: f64 = 0.7 + (WIDE + NARROW) / 2.0;

/// Lengths nearer than this, mm, are one.
pub(super) const SAME: f64 = 0.005;

/// What the parts of a sheet are made from.
pub(super) struct Subject<'a> {
    pub(super) project: &'a Project,
    pub(super) laid: &'a Laid,
    pub(super) report: &'a Report,
    pub(super) unit: LengthUnit,
    /// The part that the view shows.
    pub(super) part: CutPart,
    /// How far the foam's holes stand off what the rings sweep, mm.
    pub(super) foam_clearance: f64,
    pub(super) seen: Seen,
    /// Date of issue, YYYY-MM-DD.
    pub(super) date: &'a str,
    pub(super) scene: Scene,
}

/// Draws the view. Its origin is the plate's. If it is to be cut into the windows of a grid, each of
/// its texts fits one of them.
pub(super) fn draw(subject: &Subject<'_>, grid: Option<Grid>) -> Drawing {
    let mut canvas = Canvas::cut_into(grid);
    cut_lines(&mut canvas, &subject.scene);
    head(&mut canvas, &subject.scene);
    cables::draw(&mut canvas, &subject.scene);
    centre_lines(&mut canvas, &subject.scene);
    dimensions::draw(&mut canvas, subject);
    rim(&mut canvas, subject);
    match subject.part {
        CutPart::Foam => template::hole_sizes(&mut canvas, subject),
        CutPart::Plate | CutPart::Guard | CutPart::Head | CutPart::SmallestHead => {
            openings(&mut canvas, subject);
        }
    }
    if let (CutPart::Guard, Ok(guard)) = (subject.part, &subject.laid.guard) {
        template::bend_axis(&mut canvas, guard);
    }
    labels(&mut canvas, &subject.scene);
    canvas.finish()
}

/// What is cut: plate outline, openings, slots and cable holes in wide lines. The other edge of a spherical seat is
/// narrow, so that the line on the side that is seen stands out; from the back it is hidden, and dashed.
fn cut_lines(canvas: &mut Canvas, scene: &Scene) {
    for outline in &scene.cut {
        canvas.stroke(Stroke::outline(
            outline,
            LineType::Continuous,
            WIDE,
            Layer::Plate,
        ));
    }
    for eye in &scene.eyes {
        if let Some(opening) = eye.opening {
            canvas.opening(opening);
        }
        let Some(Edges { near, far }) = eye.edges else {
            continue;
        };
        canvas.stroke(Stroke::circle(
            eye.centre,
            near.radius,
            LineType::Continuous,
            WIDE,
            Layer::Plate,
        ));
        if (far.radius - near.radius).abs() >= NEAREST_FAR_EDGE {
            let is_hidden = far.radius > near.radius;
            let line = if is_hidden {
                LineType::Dashed
            } else {
                LineType::Continuous
            };
            canvas.stroke(Stroke::circle(
                eye.centre,
                far.radius,
                line,
                NARROW,
                Layer::Plate,
            ));
        }
    }
}

fn head(canvas: &mut Canvas, scene: &Scene) {
    if !scene.wall.is_empty() {
        let wall = Outline::polygon(&scene.wall);
        let line = LineType::LongDashedDoubleDotted;
        canvas.stroke(Stroke::outline(&wall, line, NARROW, Layer::Head));
    }
    for hole in &scene.holes {
        canvas.stroke(Stroke::circle(
            hole.centre,
            hole.radius,
            LineType::Continuous,
            NARROW,
            Layer::Head,
        ));
    }
}

/// The centre line of the head, the level line through the origin, and one line each way through
/// every opening; openings in one row or column share theirs. Slots get their two axes.
fn centre_lines(canvas: &mut Canvas, scene: &Scene) {
    let (cut, head) = (scene.cut_bounds(), scene.bounds());
    let mut levels = vec![(0.0, [cut.low.x, cut.high.x])];
    let mut uprights = vec![(0.0, [head.low.y, head.high.y])];
    for disc in scene.openings() {
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
    for slot in scene.slots() {
        let [length, width] = slot.size;
        for (angle, size) in [(slot.angle, length), (slot.angle + FRAC_PI_2, width)] {
            let reach = Vector::new(angle.cos(), angle.sin()) * (size / 2.0 + SLOT_AXIS_PAST);
            let centre = slot.around.centre;
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
    let Some((value, [from, to])) = subject.scene.rim else {
        return;
    };
    let [from, to] = off_axis(&subject.scene, from, to);
    let label = Label::figure(vec![format!("Rim {}", subject.unit.format(value))]);
    dimension::between(canvas, from, to, &label);
}

/// Along an arc of the outline that runs round an opening the rim is the same everywhere: there it is
/// drawn half-way along the arc, off the centre lines. Elsewhere it stays where it is.
fn off_axis(scene: &Scene, from: Point, to: Point) -> [Point; 2] {
    let distance = (to - from).norm();
    let pieces = scene.plate.segments.iter();
    let arcs = pieces.filter_map(|piece| match piece {
        Segment::Arc(arc) => Some(arc),
        Segment::Line(_) => None,
    });
    for arc in arcs {
        let concentric = scene.openings().find(|opening| {
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
    let alike = |a: &Edges, b: &Edges| {
        (a.near.radius - b.near.radius).abs() < SAME && (a.far.radius - b.far.radius).abs() < SAME
    };
    let eyes = subject.scene.eyes.iter();
    let all: Vec<(Point, Edges)> = eyes
        .filter_map(|eye| Some((eye.centre, eye.edges?)))
        .collect();
    let mut told: Vec<Edges> = Vec::new();
    for (centre, edges) in &all {
        if told.iter().any(|other| alike(other, edges)) {
            continue;
        }
        told.push(*edges);
        let count = all.iter().filter(|(_, other)| alike(other, edges)).count();
        let times = times(count);
        let Edges { near, far } = edges;
        let [own, other] = [near, far].map(|edge| subject.unit.format(2.0 * edge.radius));
        let lines = if own == other {
            vec![format!("{times}Ø{own}")]
        } else {
            vec![
                format!("{times}Ø{own} {}", near.side),
                format!("Ø{other} {}", far.side),
            ]
        };
        let disc = Disc {
            centre: *centre,
            radius: near.radius,
        };
        label::place(canvas, &Label::figure(lines), Target::circle(disc));
    }
}

/// What stands before a figure that so many have in common.
pub(super) fn times(count: usize) -> String {
    if count > 1 {
        format!("{count} × ")
    } else {
        String::new()
    }
}

/// The numbers of openings, slots and anchor holes, of drives at their cable holes and exits, and of rods in
/// their passages.
fn labels(canvas: &mut Canvas, scene: &Scene) {
    let mut name = |name: String, around: Disc| {
        label::place(canvas, &Label::name(name), Target::around(around));
    };
    for (index, eye) in scene.eyes.iter().enumerate() {
        let centre = Disc {
            centre: eye.centre,
            radius: 0.0,
        };
        name(names::eye(index), centre);
    }
    for (index, slot) in scene.slots.iter().enumerate() {
        name(names::slot(index), slot.around);
    }
    for (index, hole) in scene.holes.iter().enumerate() {
        name(names::anchor(index), *hole);
    }
    let within = scene.bounds();
    for (of, hole) in &scene.cable_holes {
        name(of.clone(), hole.around);
    }
    for (rod, passage) in &scene.rod_passages {
        if let Some([low, high]) = passage.bounds() {
            let centre = nalgebra::center(&low, &high);
            let radius = 0.0;
            name(names::rod(*rod), Disc { centre, radius });
        }
    }
    for drive in &scene.drives {
        if let Some(centre) = drive.end_within(&within) {
            let radius = 0.0;
            name(names::drive(drive.index), Disc { centre, radius });
        }
    }
}
