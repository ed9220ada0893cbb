//! The eyes on the front view: ball, iris and pupil, and how far apart they stand.

use egui::{FontId, Pos2, Rect, Stroke, vec2};
use layout::geometry::polygon::convex_hull;
use layout::geometry::{Point, Vector};
use layout::ring::ProfilePoint;

use super::gaze::{Axes, circle_behind, circle_on_ball};
use super::ink::{BOLD, FINE, Ink};
use crate::window::state::Desk;
use crate::window::theme::{self, size};

/// Draws the balls, looking where the pose says.
pub(super) fn balls(ink: &Ink<'_>, desk: &Desk) {
    let project = desk.project();
    for (index, eye) in project.eyes.iter().enumerate() {
        let axes = Axes::of(desk.pose_of(index));
        let radius = project.parts_of(index).ball_diameter / 2.0;
        let edge = Stroke::new(BOLD, ink.palette.ink);
        ink.circle(eye.at(), radius, ink.palette.ball, edge);
        for (diameter, colour) in [
            (eye.iris_diameter, ink.palette.iris),
            (eye.pupil_diameter, ink.palette.pupil),
        ] {
            let seen = circle_on_ball(&axes, radius, diameter / 2.0);
            let places: Vec<Point> = seen.iter().map(|&off| eye.at() + off).collect();
            ink.convex(&places, colour, Stroke::NONE);
        }
    }
}

/// Draws the balls and their rings as they are seen from the back.
pub(super) fn rings(ink: &Ink<'_>, desk: &Desk) {
    for (index, eye) in desk.laid().eyes.iter().enumerate() {
        let axes = Axes::of(desk.pose_of(index));
        let at = |offs: Vec<Vector>| -> Vec<Point> {
            offs.into_iter().map(|off| eye.centre + off).collect()
        };
        if let Ok(seat) = &eye.seat {
            let edge = Stroke::new(BOLD, ink.palette.ink);
            ink.circle(eye.centre, seat.opening_back, ink.palette.ball, edge);
        }
        let Ok(ring) = &eye.ring else {
            continue;
        };
        let [_, _, outer, back, bore] = ring.profile;
        let circle = |p: ProfilePoint| at(circle_behind(&axes, p.radius, p.depth));
        let body = convex_hull(&[circle(outer), circle(back)].concat());
        let edge = Stroke::new(BOLD, ink.palette.ring_edge);
        ink.convex(&body, ink.palette.ring, edge);
        ink.convex(&circle(bore), ink.palette.ball, edge);
    }
}

/// Draws the distance between each eye and the one nearest to it; returns what the figures cover.
pub(super) fn spacings(ink: &Ink<'_>, desk: &Desk, plate_edge: &[Point]) -> Vec<Rect> {
    let eyes: Vec<Point> = desk.laid().eyes.iter().map(|eye| eye.centre).collect();
    neighbours(&eyes)
        .into_iter()
        .filter_map(|[a, b]| {
            let pairs = &desk.report().figures.pairs;
            let figures = pairs.iter().find(|pair| [pair.a, pair.b] == [a, b])?;
            let text = desk.unit.format_with_symbol(figures.spacing_mm?);
            let radius = desk.project().parts_of(a).ball_diameter / 2.0;
            Some(dimension(
                ink,
                [eyes[a], eyes[b]],
                radius,
                plate_edge,
                &text,
            ))
        })
        .collect()
}

/// Each eye with the one nearest to it, once, the lower index first.
fn neighbours(eyes: &[Point]) -> Vec<[usize; 2]> {
    let mut pairs: Vec<[usize; 2]> = (0..eyes.len())
        .filter_map(|one| {
            let others = (0..eyes.len()).filter(|&other| other != one);
            let distance = |other: &usize| (eyes[*other] - eyes[one]).norm();
            let nearest = others.min_by(|a, b| distance(a).total_cmp(&distance(b)))?;
            Some([one.min(nearest), one.max(nearest)])
        })
        .collect();
    pairs.sort_unstable();
    pairs.dedup();
    pairs
}

/// A dimension above two eyes, clear of their balls and of the plate's edge where that is near.
fn dimension(ink: &Ink<'_>, ends: [Point; 2], radius: f64, plate: &[Point], text: &str) -> Rect {
    /// How far beyond the plate's edge the dimension line lies, in points.
    const BEYOND: f32 = 20.0;
    /// How far extension lines begin off the ball and run on past the dimension line, in points.
    const EXTENSION: [f32; 2] = [3.0, 5.0];
    /// Farthest place of the line off the ball, mm: the plate may reach much higher.
    const FARTHEST: f64 = 16.0;
    let middle = nalgebra::center(&ends[0], &ends[1]);
    let along = (ends[1] - ends[0])
        .try_normalize(0.0)
        .unwrap_or_else(Vector::x);
    let up = Vector::new(-along.y, along.x);
    let up = if up.y < 0.0 { -up } else { up };
    let reach = plate
        .iter()
        .map(|at| (at - middle).dot(&up))
        .fold(radius, f64::max);
    let reach = reach.min(radius + FARTHEST);
    let stroke = Stroke::new(FINE, ink.palette.ink);
    let off = |at: Point, mm: f64, points: f32| {
        let toward = ink.camera.to_screen(at + up) - ink.camera.to_screen(at);
        ink.camera.to_screen(at + up * mm) + toward.normalized() * points
    };
    let [from, to] = ends.map(|end| {
        let line = [
            off(end, radius, EXTENSION[0]),
            off(end, reach, BEYOND + EXTENSION[1]),
        ];
        ink.painter.line_segment(line, stroke);
        off(end, reach, BEYOND)
    });
    let figure = ink.painter.layout_no_wrap(
        text.to_owned(),
        FontId::new(size::BODY, theme::strong()),
        ink.palette.ink,
    );
    let half = figure.size() / 2.0;
    let centre = figure_place(from, to, half.x);
    let covered = Rect::from_center_size(centre, figure.size()).expand2(vec2(5.0, 1.0));
    let span = to - from;
    let way = span.normalized();
    // Along the line, from the figure's middle to its edge, and a little more.
    let gap = (half.x / way.x.abs()).min(half.y / way.y.abs()) + 6.0;
    if span.length() > 2.0 * gap + 24.0 {
        ink.painter.line_segment([from, centre - way * gap], stroke);
        ink.painter.line_segment([centre + way * gap, to], stroke);
    } else {
        ink.painter.line_segment([from, to], stroke);
    }
    ink.arrow(from, span, ink.palette.ink);
    ink.arrow(to, -span, ink.palette.ink);
    ink.painter.galley(centre - half, figure, ink.palette.ink);
    covered
}

/// Where the figure stands: in the line if it is long enough, otherwise over it.
fn figure_place(from: Pos2, to: Pos2, half: f32) -> Pos2 {
    /// Room that arrow heads take, in points.
    const HEADS: f32 = 36.0;
    let middle = from + (to - from) / 2.0;
    if (to - from).length() > 2.0 * half + HEADS {
        middle
    } else {
        middle - vec2(0.0, 12.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_are_told_once() {
        let at = |x: f64, y: f64| Point::new(x, y);
        assert_eq!(neighbours(&[at(-29.0, 0.0), at(29.0, 0.0)]), [[0, 1]]);
        assert_eq!(
            neighbours(&[at(0.0, 30.0), at(-30.0, 0.0), at(28.0, 0.0)]),
            [[0, 1], [0, 2]]
        );
        assert!(neighbours(&[at(0.0, 0.0)]).is_empty());
    }
}
