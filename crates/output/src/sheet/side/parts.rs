//! The parts in the side cut: plate, ball and ring, lids and lug, foam and guard.

use std::f64::consts::{FRAC_PI_2, PI};

use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, polygon};
use layout::guard::Guard;
use layout::hand::{FOAM_CLEARANCE, GuardAxis};
use layout::lid::Which;
use layout::plate_cut;
use layout::ring::{ProfilePoint, RingFit};

use super::{Cut, Labels, thin};
use crate::drawing::{Layer, LineType, Stroke};
use crate::sheet::cables::through;
use crate::sheet::canvas::Canvas;
use crate::sheet::style::{NARROW, WIDE};
use crate::sheet::view::SAME;

impl Cut<'_> {
    pub(super) fn plate(&self, canvas: &mut Canvas, labels: &mut Labels) {
        let (project, laid) = (self.subject.project, self.subject.laid);
        for piece in plate_cut::pieces(project, laid, &laid.plate.flattened(), self.x()) {
            let mut edge: Vec<Point> = piece.edge().iter().map(|at| at * self.share).collect();
            edge.extend(edge.first().copied());
            self.solid(canvas, through(&edge), Layer::Plate, true);
        }
        if let Some([low, high]) = self.plate_ends() {
            let front = if self.eye.centre.y < (low + high) / 2.0 {
                high
            } else {
                low
            };
            let inward = (low + high) / 2.0 - front;
            let at = self.at(0.0, front + inward.signum() * inward.abs().min(3.0));
            labels.push((vec!["Plate".to_owned()], at));
        }
    }

    /// The lowest and the highest y of the plate in the plane; None where there is none.
    pub(super) fn plate_ends(&self) -> Option<[f64; 2]> {
        let spans = polygon::spans(&self.subject.laid.plate.flattened(), self.x());
        Some([spans.first()?[0], spans.last()?[1]])
    }

    /// The ball, which is not cut, and the ring at rest with what its deepest corner sweeps.
    pub(super) fn eye(&self, canvas: &mut Canvas, labels: &mut Labels) {
        let radius = self.seat.ball_radius;
        let (centre, line) = (self.centre() * self.share, LineType::Continuous);
        canvas.stroke(Stroke::circle(
            centre,
            radius * self.share,
            line,
            WIDE,
            Layer::Carried,
        ));
        let diameter = format!("Ball Ø{}", self.subject.unit.format(2.0 * radius));
        // A lid may cover the front: the label points at what stays bare.
        labels.push((vec![diameter], self.about_ball(-radius, 0.0)));
        let Ok(ring) = &self.eye.ring else {
            return;
        };
        for up in [1.0, -1.0] {
            self.ring(canvas, ring, up);
        }
        let [_, _, outer, back, _] = ring.profile;
        let middle = (outer.depth + back.depth) / 2.0;
        labels.push((
            vec!["Ring".to_owned()],
            self.about_ball(middle, -outer.radius),
        ));
    }

    /// The half of the ring above the axis, or below.
    fn ring(&self, canvas: &mut Canvas, ring: &RingFit, up: f64) {
        let place = |point: &ProfilePoint| self.about_ball(point.depth, up * point.radius);
        let corners: Vec<Point> = ring.profile.iter().map(place).collect();
        let [first, .., last] = ring.profile;
        let mut edge = through(&corners);
        let bore = last.angle();
        let turn = first.angle() - bore;
        edge.push(self.arc(self.centre(), self.seat.ball_radius, up * bore, up * turn));
        self.solid(canvas, edge, Layer::Carried, false);
        let deepest = self.deepest(ring);
        let tilt = self.eye.working_tilt;
        let from = deepest.angle() - tilt;
        let swept = self.arc(self.centre(), deepest.reach(), up * from, up * 2.0 * tilt);
        canvas.stroke(thin(vec![swept], LineType::LongDashedDoubleDotted));
    }

    /// The corner of the ring that reaches deepest.
    pub(super) fn deepest(&self, ring: &RingFit) -> ProfilePoint {
        let depth = |point: &ProfilePoint| point.swept_depth(self.eye.working_tilt);
        let rest = &ring.profile[1..];
        rest.iter().fold(ring.profile[0], |deepest, point| {
            if depth(point) > depth(&deepest) {
                *point
            } else {
                deepest
            }
        })
    }

    /// The lids at rest, and the lug behind the ball.
    pub(super) fn lids(&self, canvas: &mut Canvas, labels: &mut Labels) {
        let Some(lids) = &self.eye.lids else {
            return;
        };
        let unit = self.subject.unit;
        let radii = [lids.inner_radius, lids.outer_radius].map(|radius| unit.format(radius));
        for (which, name) in [(Which::Upper, "Upper lid"), (Which::Lower, "Lower lid")] {
            let Some(lid) = lids.lid(which) else {
                continue;
            };
            // From straight back toward up, as the drawing's angles run.
            let from = PI - which.sign() * lid.open;
            let sweep = -which.sign() * lid.extent;
            let inside = self.arc(self.centre(), lids.inner_radius, from, sweep);
            let outside = self.arc(self.centre(), lids.outer_radius, from + sweep, -sweep);
            let ends = [
                Line {
                    start: inside.end(),
                    end: outside.start(),
                },
                Line {
                    start: outside.end(),
                    end: inside.start(),
                },
            ]
            .map(Segment::Line);
            let middle = from + sweep / 2.0;
            let [trailing, leading] = ends;
            self.solid(
                canvas,
                vec![inside, trailing, outside, leading],
                Layer::Carried,
                false,
            );
            let said = format!("R{} inside, R{} outside", radii[0], radii[1]);
            let (back, up) = (middle.cos(), middle.sin());
            let at = self.about_ball(lids.outer_radius * back, lids.outer_radius * up);
            labels.push((vec![name.to_owned(), said], at));
        }
        self.lug(canvas, labels);
    }

    /// The lug behind the ball, hidden by it.
    fn lug(&self, canvas: &mut Canvas, labels: &mut Labels) {
        let Some([lug, _]) = &self.eye.lugs else {
            return;
        };
        // The profile's axes, y and z, a quarter turn on.
        let turned = |at: Point| self.at(-at.y, at.x);
        let profile = lug.profile().segments.into_iter().map(|piece| match piece {
            Segment::Line(Line { start, end }) => Segment::Line(Line {
                start: turned(start),
                end: turned(end),
            }),
            Segment::Arc(arc) => Segment::Arc(Arc {
                centre: turned(arc.centre),
                radius: arc.radius * self.share,
                start_angle: arc.start_angle + FRAC_PI_2,
                ..arc
            }),
        });
        canvas.stroke(thin(profile.collect(), LineType::Dashed));
        let pivot = self.centre() * self.share;
        let hole = lug.hole / 2.0 * self.share;
        let line = LineType::Continuous;
        canvas.stroke(Stroke::circle(pivot, hole, line, NARROW, Layer::Carried));
        let side = self.at(-lug.pivot_height / 2.0, self.eye.centre.y - lug.width / 2.0);
        let hole = format!("Lug, pivot hole Ø{}", self.subject.unit.format(lug.hole));
        labels.push((vec![hole], side));
    }

    /// The guard where the plane meets it, its middle and its edge where they lie elsewhere, and the
    /// foam between plate and guard.
    pub(super) fn guard(&self, canvas: &mut Canvas, labels: &mut Labels) {
        let Some(guard) = self.guard_met() else {
            return;
        };
        let [low, high] = guard_ends(guard);
        let line = match (guard.axis, guard.radius()) {
            (GuardAxis::X, Some(radius)) => {
                let centre = Point::new(-guard.deepest() - radius, 0.0);
                let half = guard.half_angle();
                vec![self.arc(centre, radius, -half, 2.0 * half)]
            }
            _ => through(&[low, high].map(|y| self.at(self.guard_depth(guard, y), y))),
        };
        canvas.stroke(Stroke {
            width: WIDE,
            ..thin(line, LineType::Continuous)
        });
        if guard.axis == GuardAxis::Y {
            let here = self.guard_depth(guard, 0.0);
            for depth in [-guard.edge, -guard.deepest()] {
                if (depth - here).abs() > SAME {
                    let ends = [low, high].map(|y| self.at(depth, y));
                    canvas.stroke(thin(through(&ends), LineType::LongDashedDoubleDotted));
                }
            }
        }
        let place = low + (high - low) * 0.9;
        labels.push((
            vec!["Guard".to_owned()],
            self.at(self.guard_depth(guard, place), place),
        ));
        self.foam(canvas, labels, guard);
    }

    /// The guard, if the plane meets it.
    pub(super) fn guard_met(&self) -> Option<&Guard> {
        let guard = self.subject.laid.guard.as_ref().ok()?;
        let half = match guard.axis {
            GuardAxis::Y => guard.half_chord,
            GuardAxis::X => guard.length / 2.0,
        };
        (self.x().abs() <= half).then_some(guard)
    }

    /// How deep the guard stands in the plane at a height.
    fn guard_depth(&self, guard: &Guard, y: f64) -> f64 {
        -guard.depth_at(match guard.axis {
            GuardAxis::Y => self.x(),
            GuardAxis::X => y,
        })
    }

    fn foam(&self, canvas: &mut Canvas, labels: &mut Labels, guard: &Guard) {
        let [low, high] = guard_ends(guard);
        let thickness = self.subject.project.plate.thickness;
        let laid = self.subject.laid;
        let eyes = laid.eyes.iter().zip(&self.subject.report.figures.eyes);
        let mut holes: Vec<[f64; 2]> = eyes
            .filter_map(|(eye, figures)| {
                let (radius, off) = (figures.foam_hole_mm?, self.x() - eye.centre.x);
                let half = (radius * radius - off * off).max(0.0).sqrt();
                (half > 0.0).then(|| [eye.centre.y - half, eye.centre.y + half])
            })
            .collect();
        let passages = laid.cable_passages();
        let passages = passages.map(|hole| hole.outline_around(FOAM_CLEARANCE));
        let rods = laid.foam_passages(self.subject.project, FOAM_CLEARANCE);
        let passages = passages.chain(rods.into_iter().map(|(_, edge)| edge));
        let passages = passages.map(|edge| edge.flattened());
        holes.extend(passages.flat_map(|edge| polygon::spans(&edge, self.x())));
        holes.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let spans = polygon::spans(&laid.plate.flattened(), self.x());
        let foam = spans
            .into_iter()
            .flat_map(|[from, to]| without([from.max(low), to.min(high)], &holes));
        for (index, span) in foam.enumerate() {
            let ends = span.map(|y| [thickness, self.guard_depth(guard, y)].map(|z| self.at(z, y)));
            for end in &ends {
                canvas.stroke(thin(through(end), LineType::Continuous));
            }
            if index == 0 {
                let at = nalgebra::center(&ends[0][0], &ends[0][1]);
                labels.push((vec!["Foam".to_owned()], at));
            }
        }
    }
}

/// Where the guard begins and ends along y.
pub(super) fn guard_ends(guard: &Guard) -> [f64; 2] {
    let half = match guard.axis {
        GuardAxis::Y => guard.length / 2.0,
        GuardAxis::X => guard.half_chord,
    };
    [-half, half]
}

/// What holes, sorted by where they begin, leave of a span.
fn without([low, high]: [f64; 2], holes: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let (mut left, mut from) = (Vec::new(), low);
    for &[start, end] in holes {
        left.push([from, start.min(high)]);
        from = from.max(end);
    }
    left.push([from, high]);
    left.retain(|[from, to]| from < to);
    left
}
