//! What a sheet shows of a part that is only cut: foam, guard and head template.

use layout::geometry::hull::Disc;
use layout::geometry::{Point, Vector};
use layout::guard::Guard;
use layout::hand::GuardAxis;
use layout::{Laid, Project};

use super::SheetOptions;
use super::canvas::Canvas;
use super::error::SheetError;
use super::label::{self, Label, Target};
use super::scene::{Edge, Edges, Scene, SceneEye};
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
        let edge = cut.contours.last().map(|contour| &contour.outline);
        let edge = if part == CutPart::Foam {
            // Holes are drawn whole where they meet each other or the edge, like openings.
            Some(&laid.plate)
        } else {
            edge
        };
        let mut scene = Self {
            plate: edge.map(|edge| seen.outline(edge)).unwrap_or_default(),
            ..Self::default()
        };
        match part {
            CutPart::Foam => {
                let holes = laid.foam_holes(foam_clearance).into_iter();
                scene.eyes = holes.map(|hole| hole_behind(hole, seen)).collect();
            }
            CutPart::Head => {
                let holes = project.head.anchor_holes.iter();
                let holes = holes.map(|hole| Disc {
                    centre: seen.point(hole.at.into()),
                    radius: hole.diameter / 2.0,
                });
                scene.holes = holes.collect();
            }
            CutPart::Plate | CutPart::Guard => {}
        }
        Ok(scene)
    }
}

/// A hole of the foam: a cylinder, with one edge like the other.
fn hole_behind(hole: Disc, seen: Seen) -> SceneEye {
    let hole = Disc {
        centre: seen.point(hole.centre),
        ..hole
    };
    let edge = |side| Edge {
        radius: hole.radius,
        side,
    };
    SceneEye {
        centre: hole.centre,
        opening: Some(hole),
        edges: Some(Edges {
            near: edge("front"),
            far: edge("back"),
        }),
    }
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
