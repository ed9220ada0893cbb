//! What a sheet shows of a part that is only cut: foam, guard and head templates.

use std::f64::consts::TAU;

use layout::geometry::hull::Disc;
use layout::geometry::segment::Segment;
use layout::geometry::{Point, Vector};
use layout::guard::Guard;
use layout::hand::GuardAxis;
use layout::{Laid, Project};

use super::SheetOptions;
use super::canvas::Canvas;
use super::error::SheetError;
use super::label::{self, Label, Target};
use super::scene::{Scene, SceneEye, cable_passages_of};
use super::view::{SAME, Subject, times};
use crate::cut::{CutOptions, CutPart, cut_drawing};
use crate::seen::Seen;

impl Scene {
    /// The shapes of a part as it is cut without kerf.
    ///
    /// # Errors
    /// If it cannot be cut.
    pub(super) fn of_template(
        options: &SheetOptions,
        project: &Project,
        laid: &Laid,
    ) -> Result<Self, SheetError> {
        let (part, seen) = (options.part, options.seen);
        let foam_clearance = options.foam_clearance;
        let uncut = CutOptions {
            foam_clearance,
            ..CutOptions::default()
        };
        let cut = cut_drawing(project, laid, part, &uncut)?;
        let mut scene = Self {
            falls_apart: cut.falls_apart(),
            // What is cut last, the edges, in front.
            cut: cut
                .contours
                .iter()
                .rev()
                .map(|contour| seen.outline(&contour.outline))
                .collect(),
            ..Self::default()
        };
        scene.plate = scene.cut.first().cloned().unwrap_or_default();
        match part {
            CutPart::Foam => {
                scene.plate = seen.outline(&laid.plate);
                let holes = laid.foam_holes(foam_clearance).into_iter();
                scene.eyes = holes.map(|hole| hole_behind(hole, seen)).collect();
                scene.cable_holes = cable_passages_of(laid, foam_clearance, seen);
                let passages = laid.foam_passages(project, foam_clearance).into_iter();
                scene.rod_passages = passages
                    .map(|(rod, edge)| (rod, seen.outline(&edge)))
                    .collect();
            }
            CutPart::Head => {
                let holes = project.head.anchor_holes.iter();
                let holes = holes.map(|hole| Disc {
                    centre: seen.point(hole.at.into()),
                    radius: hole.diameter / 2.0,
                });
                scene.holes = holes.collect();
            }
            CutPart::Plate | CutPart::Guard | CutPart::SmallestHead => {}
        }
        Ok(scene)
    }
}

/// A hole of the foam, whose edge is among what is cut.
fn hole_behind(hole: Disc, seen: Seen) -> SceneEye {
    let centre = seen.point(hole.centre);
    SceneEye {
        centre,
        opening: Some(Disc { centre, ..hole }),
        edges: None,
    }
}

/// The diameters of the foam's round holes: one label for all that are alike, at what is cut along one of
/// them.
pub(super) fn hole_sizes(canvas: &mut Canvas, subject: &Subject<'_>) {
    let alike = |a: &Disc, b: &Disc| (a.radius - b.radius).abs() < SAME;
    let holes: Vec<Disc> = subject.scene.openings().collect();
    for (index, hole) in holes.iter().enumerate() {
        if holes[..index].iter().any(|other| alike(other, hole)) {
            continue;
        }
        let own = holes[index..].iter().filter(|other| alike(other, hole));
        let count = own.clone().count();
        let Some(target) = own.filter_map(|own| cut_along(&subject.scene, own)).next() else {
            continue;
        };
        let diameter = subject.unit.format(2.0 * hole.radius);
        let label = Label::figure(vec![format!("{}Ø{diameter}", times(count))]);
        label::place(canvas, &label, target);
    }
}

/// The hole if it is cut whole, or else the middle of the longest arc that is cut along its edge; None
/// where others have taken all of it.
fn cut_along(scene: &Scene, hole: &Disc) -> Option<Target> {
    let pieces = scene.cut.iter().flat_map(|edge| &edge.segments);
    let arcs = pieces.filter_map(|piece| match piece {
        Segment::Arc(arc) => Some(arc),
        Segment::Line(_) => None,
    });
    let own = arcs.filter(|arc| {
        (arc.centre - hole.centre).norm() < SAME && (arc.radius - hole.radius).abs() < SAME
    });
    let longest = own.max_by(|a, b| a.sweep.abs().total_cmp(&b.sweep.abs()))?;
    let is_whole = longest.sweep.abs() > TAU - SAME;
    Some(if is_whole {
        Target::circle(*hole)
    } else {
        Target::on_edge(longest.at(longest.start_angle + longest.sweep / 2.0))
    })
}

/// Names the line about which the guard's mesh is bent, which is a centre line of the view.
pub(super) fn bend_axis(canvas: &mut Canvas, guard: &Guard) {
    /// How far along the axis, as a share of its half, the name points: off the middle.
    const ALONG: f64 = 0.6;
    let along = match guard.axis {
        GuardAxis::Y => Vector::y(),
        GuardAxis::X => Vector::x(),
    };
    let at = Point::origin() + along * (ALONG * guard.length / 2.0);
    let label = Label::figure(vec!["Bend about this line".to_owned()]);
    label::place(canvas, &label, Target::on_line(at));
}
