//! The side cut through the chosen eye, at the front view's scale and level, or smaller and higher where a step needs to
//! see more: the audience at the left, the hand at the right. It shows what the upright plane through the eye's centre cuts,
//! whichever way the eye is turned.

use egui::{Align2, FontId, Pos2, Rect, Sense, Stroke, Ui, pos2, vec2};
use layout::geometry::{Point, Vector};
use layout::report::EyeFigures;
use layout::ring::RingFit;
use layout::{LaidEye, State, plate_cut};

use super::camera::Camera;
use super::gaze::Cut;
use super::grips::{self, Tag};
use super::handles::{self, Plane};
use super::ink::{BOLD, FINE, Ink};
use super::labels::Labels;
use super::shapes::Shapes;
use super::{cut, drives, hand, lids, margins, navigate};
use crate::window::mark;
use crate::window::state::{Desk, Pose};
use crate::window::step::Step;
use crate::window::theme::{self, PADDING, Palette, size};

/// Distance of hatch lines, in points.
const HATCH: f32 = 4.5;

/// Shows the side cut in what is left of `ui`.
pub fn show(ui: &mut Ui, desk: &mut Desk, camera: &mut Camera) {
    let rect = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(rect);
    if desk.laid().eyes.get(desk.chosen_eye).is_none() {
        return;
    }
    let framed = Framed::of(ui, desk, camera, rect);
    let mut beside = camera
        .beside(rect, framed.middle)
        .scaled(framed.times, framed.up);
    let before = beside;
    let ground = ui.interact(rect, ui.scope_id().with("ground"), Sense::DRAG);
    navigate::by_pointer(ui, &ground, &mut beside, false);
    let touched = handles::work(ui, desk, &mut beside, Plane::Cut);
    camera.follow(&before, &beside);
    handles::point_at(ui, touched);
    let Some(eye) = desk.laid().eyes.get(desk.chosen_eye) else {
        return;
    };
    let ink = Ink {
        painter: ui.painter_at(rect),
        palette: Palette::of(ui.ctx()),
        camera: &beside,
    };
    let shapes = Shapes::of(ui, desk);
    let mut labels = Labels::within(rect.shrink(4.0));
    let level = ink.camera.to_screen(eye.centre).y;
    let level = ink.painter.round_to_pixel_center(level);
    let faint = Stroke::new(FINE, ink.palette.faint.gamma_multiply(0.7));
    ink.centre_line(
        &[pos2(rect.left(), level), pos2(rect.right(), level)],
        faint,
    );
    plate(&ink, desk, &shapes.plate_edge, eye.centre.x);
    let turned = Turned::of(eye, desk.pose_of(desk.chosen_eye));
    if let Ok(ring) = &eye.ring {
        turned.sweep(&ink, ring, eye.working_tilt);
        turned.ring(&ink, ring);
    }
    turned.ball(&ink, desk);
    lids::cut(&ink, desk, eye, turned.centre);
    drives::cut(&ink, desk);
    if desk.step == Step::Hand {
        hand::cut(&ink, &mut labels, desk, eye.centre.x);
    }
    figures(&ink, &mut labels, desk, eye);
    words(&ink, &mut labels, rect);
    let name = desk.project().eye_name(desk.chosen_eye);
    let shown = margins::shown(desk).into_iter();
    let in_cut = shown.filter(|margin| margin.lies_in_cut(&name, eye.centre.x));
    grips::draw(&ink, desk, Plane::Cut, touched, &mut labels);
    let tag = Tag::of(&ink, desk, Plane::Cut, touched);
    if let Some(tag) = &tag {
        labels.keep_free(tag.rect);
    }
    margins::draw(&ink, &mut labels, desk, in_cut, |[_, y, z]| {
        Point::new(-z, y)
    });
    if let Some(tag) = tag {
        tag.draw(&ink);
    }
    if let Err(problem) = &eye.ring {
        say(ui, rect, &problem.to_string());
    }
}

/// How the view shows what its step is about.
#[derive(Clone, Copy)]
struct Framed {
    /// The step, the eye, the framing of everything, and the place on the screen that it is for.
    of: (Step, usize, u32, Rect),
    /// The depth in the middle of its width, mm.
    middle: f64,
    /// How many times as large as the front view it shows everything: at most once.
    times: f64,
    /// How far above the front view's level its own lies, in points.
    up: f32,
}

impl Framed {
    /// It stays what it was while the camera is moved, and while something is dragged in it.
    fn of(ui: &Ui, desk: &Desk, camera: &Camera, rect: Rect) -> Self {
        let memory = ui.scope_id().with("framed");
        let kept = ui.data(|data| data.get_temp::<Self>(memory));
        let (step, eye) = (desk.step, desk.chosen_eye);
        let is_same = |kept: &Self| (kept.of.0, kept.of.1) == (step, eye);
        let kept = kept.filter(is_same);
        let framing = camera.framing();
        if let Some(kept) =
            kept.filter(|kept| framing.is_none_or(|now| (now, rect) == (kept.of.2, kept.of.3)))
        {
            return kept;
        }
        let Some((depths, [lowest, highest])) = needs(desk) else {
            let eye = desk.laid().eyes.get(eye);
            return Self {
                of: (step, desk.chosen_eye, framing.unwrap_or_default(), rect),
                middle: eye.map_or(0.0, |eye| middle(eye, desk)),
                times: 1.0,
                up: 0.0,
            };
        };
        let middle = f64::midpoint(depths[0], depths[1]);
        let level = camera.beside(rect, middle);
        let wide = f64::from(rect.width() - 2.0 * ASIDE) / (depths[1] - depths[0]);
        let tall = f64::from(rect.height() - 2.0 * BELOW) / (highest - lowest);
        let times = (wide.min(tall) / camera.scale()).min(1.0);
        let foot = level
            .scaled(times, 0.0)
            .to_screen(Point::new(middle, lowest));
        let framed = Self {
            of: (step, eye, framing.unwrap_or_default(), rect),
            middle,
            times,
            up: (foot.y - (rect.bottom() - BELOW)).max(0.0),
        };
        ui.data_mut(|data| data.insert_temp(memory, framed));
        framed
    }
}

/// Room left beside what a view frames, and above and below, in points.
const ASIDE: f32 = 44.0;
const BELOW: f32 = 34.0;

/// The depths that a step needs to see, mm, the foremost first, and the heights, the lowest first; None where ring and
/// ball will do.
fn needs(desk: &Desk) -> Option<([f64; 2], [f64; 2])> {
    let eye = desk.laid().eyes.get(desk.chosen_eye)?;
    let (near, y) = (-front(eye), eye.centre.y);
    let ball = eye.seat.as_ref().map_or(0.0, |seat| seat.ball_radius);
    let heights = [y - ball, y + ball];
    match desk.step {
        // The hand needs all of the cavity.
        Step::Hand => Some(([near, desk.project().head.cavity_depth], heights)),
        Step::Drives => {
            let drives = desk.project().drives.iter().zip(&desk.laid().drives);
            let own = drives.filter(|(drive, _)| drive.moves.eye() == desk.chosen_eye);
            let routes = own.filter_map(|(_, laid)| laid.route.as_ref());
            let places = routes.flat_map(|route| &route.points);
            let first = ([near, desk.project().plate.thickness], heights);
            Some(
                places.fold(first, |([nearest, deepest], [low, high]), place| {
                    let depths = [nearest.min(-place.z), deepest.max(-place.z)];
                    (depths, [low.min(place.y), high.max(place.y)])
                }),
            )
        }
        _ => None,
    }
}

/// The depth that stands in the middle of the view, mm: half way from the front of the ball to the
/// deepest sweep.
fn middle(eye: &LaidEye, desk: &Desk) -> f64 {
    let Ok(seat) = &eye.seat else {
        return 0.0;
    };
    let behind = eye.sweep_depth().unwrap_or(seat.ball_behind());
    (desk.project().plate.thickness + behind - front(eye)) / 2.0
}

/// How far the ball reaches before the plate's front face, mm.
fn front(eye: &LaidEye) -> f64 {
    let seat = eye.seat.as_ref();
    seat.map_or(0.0, |seat| seat.centre_height + seat.ball_radius)
}

fn plate(ink: &Ink<'_>, desk: &Desk, edge: &[Point], x: f64) {
    let stroke = Stroke::new(BOLD, ink.palette.accent);
    let hatch = Stroke::new(FINE, ink.palette.accent.gamma_multiply(0.55));
    for piece in plate_cut::pieces(desk.project(), desk.laid(), edge, x) {
        let walls = [&piece.lower, &piece.upper].map(|wall| ink.path(wall));
        // A round wall makes the piece hollow: it is filled by strips across its thickness.
        for (lower, upper) in walls[0].windows(2).zip(walls[1].windows(2)) {
            let strip = vec![lower[0], lower[1], upper[1], upper[0]];
            ink.painter.add(egui::Shape::convex_polygon(
                strip,
                ink.palette.plate,
                Stroke::new(0.5, ink.palette.plate),
            ));
        }
        let edge = piece.edge();
        ink.hatch(&ink.path(&edge), HATCH, hatch);
        ink.closed(&edge, stroke);
    }
}

/// An eye in the cut, turned as the pose says.
struct Turned {
    /// Its ball's centre.
    centre: Point,
    radius: f64,
    cut: Cut,
}

impl Turned {
    fn of(eye: &LaidEye, pose: Pose) -> Self {
        let seat = eye.seat.as_ref().ok();
        Self {
            centre: Point::new(-seat.map_or(0.0, |seat| seat.centre_height), eye.centre.y),
            radius: seat.map_or(0.0, |seat| seat.ball_radius),
            cut: Cut::of(pose),
        }
    }

    fn placed(&self, around: &[Point]) -> Vec<Point> {
        around.iter().map(|at| self.centre + at.coords).collect()
    }

    /// The ring at rest turned by the largest tilt either way, and the ways of its outer corners
    /// between.
    fn sweep(&self, ink: &Ink<'_>, ring: &RingFit, tilt: f64) {
        let stroke = Stroke::new(FINE, ink.palette.ring_edge.gamma_multiply(0.8));
        for lift in [-tilt, tilt] {
            let cut = Cut::of(Pose {
                lift,
                ..Pose::default()
            });
            for half in cut::ring(ring, &cut) {
                ink.dashed_closed(&self.placed(&half), stroke);
            }
        }
        for corner in &ring.profile[2..4] {
            for side in [1.0, -1.0] {
                let arc = arc(
                    corner.reach(),
                    side * (corner.angle() - tilt),
                    side * (corner.angle() + tilt),
                );
                ink.dashed(&ink.path(&self.placed(&arc)), stroke);
            }
        }
    }

    fn ring(&self, ink: &Ink<'_>, ring: &RingFit) {
        for half in cut::ring(ring, &self.cut) {
            let path = ink.path(&self.placed(&half));
            ink.painter.add(egui::Shape::convex_polygon(
                path.clone(),
                ink.palette.ring,
                Stroke::NONE,
            ));
            ink.hatch(
                &path,
                HATCH,
                Stroke::new(FINE, ink.palette.ring_edge.gamma_multiply(0.4)),
            );
            ink.painter.add(egui::Shape::closed_line(
                path,
                Stroke::new(1.3, ink.palette.ring_edge),
            ));
        }
    }

    fn ball(&self, ink: &Ink<'_>, desk: &Desk) {
        /// Thickness of iris and pupil as they are drawn, in points: they are a coat of paint.
        const COAT: f32 = 4.0;
        let edge = Stroke::new(BOLD, ink.palette.ink);
        ink.circle(self.centre, self.radius, ink.palette.ball, edge);
        let Some(eye) = desk.project().eyes.get(desk.chosen_eye) else {
            return;
        };
        let coat = self.radius - f64::from(COAT / 2.0) / ink.camera.scale();
        for (diameter, colour) in [
            (eye.iris_diameter, ink.palette.iris),
            (eye.pupil_diameter, ink.palette.pupil),
        ] {
            let cap = self.cut.cap(self.radius, diameter / 2.0);
            let cap: Vec<Point> = cap.iter().map(|at| at * (coat / self.radius)).collect();
            let path = ink.path(&self.placed(&cap));
            if path.len() > 1 {
                ink.painter
                    .add(egui::Shape::line(path, Stroke::new(COAT, colour)));
            }
        }
    }
}

/// Points at a distance from the ball's centre, from one angle to another, radians from the
/// hand's side upward.
fn arc(radius: f64, from: f64, to: f64) -> Vec<Point> {
    /// Steps that the arc is drawn in.
    const STEPS: u32 = 40;
    (0..=STEPS)
        .map(|step| from + (to - from) * f64::from(step) / f64::from(STEPS))
        .map(|angle| Point::from(Vector::new(angle.cos(), angle.sin()) * radius))
        .collect()
}

/// Draws the depth behind the plate and the tilt limit.
fn figures(ink: &Ink<'_>, labels: &mut Labels, desk: &Desk, eye: &LaidEye) {
    let Some(figures) = desk.report().figures.eyes.get(desk.chosen_eye) else {
        return;
    };
    if let Ok(ring) = &eye.ring {
        depth(ink, labels, desk, eye, ring, figures);
    }
    // Beside the hand's room there is none for what the eye can turn.
    let limit = figures.tilt_limit_deg.filter(|_| desk.step != Step::Hand);
    if let Some((limit, seat)) = limit.zip(eye.seat.as_ref().ok()) {
        let centre = Point::new(-seat.centre_height, eye.centre.y);
        tilt_limit(ink, labels, centre, seat.ball_radius, limit);
    }
}

/// The depth that ring and ball sweep behind the plate's back face, as a dimension below the sweep.
fn depth(
    ink: &Ink<'_>,
    labels: &mut Labels,
    desk: &Desk,
    eye: &LaidEye,
    ring: &RingFit,
    figures: &EyeFigures,
) {
    /// How far below the sweep the dimension line lies, and how far its extension lines run on, in
    /// points.
    const BELOW: [f32; 2] = [30.0, 5.0];
    let Some(depth) = figures.sweep_depth_mm else {
        return;
    };
    let reach = eye.sweep().map_or(0.0, |sweep| sweep.radius);
    let reach = reach.max(ring.seat.ball_radius);
    let back = desk.project().plate.thickness;
    let ends = [back, back + depth].map(|depth| Point::new(depth, eye.centre.y - reach));
    let stroke = Stroke::new(FINE, ink.palette.ink);
    let level = ink
        .painter
        .round_to_pixel_center(ink.camera.to_screen(ends[0]).y + BELOW[0]);
    let [from, to] = ends.map(|end| pos2(ink.camera.to_screen(end).x, level));
    let deepest = ink.camera.to_screen(Point::new(back + depth, eye.centre.y));
    ink.painter
        .vline(from.x, (level - BELOW[0])..=(level + BELOW[1]), stroke);
    ink.painter.vline(
        to.x,
        deepest.y..=(level + BELOW[1]),
        Stroke::new(FINE, ink.palette.faint),
    );
    ink.painter.line_segment([from, to], stroke);
    ink.arrow(from, to - from, ink.palette.ink);
    ink.arrow(to, from - to, ink.palette.ink);
    let text = format!("{} behind", desk.unit.format_with_symbol(depth));
    // The plate may reach down this far: the words stay on the hand's side of it.
    let at = from + vec2(4.0, 4.0);
    labels.keep_free(strong(ink, at, Align2::LEFT_TOP, &text));
}

/// The tilt limit, degrees, as an arc in front of the ball.
fn tilt_limit(ink: &Ink<'_>, labels: &mut Labels, centre: Point, radius: f64, limit: f64) {
    /// How far before the ball the arc lies, in points.
    const BEFORE: f64 = 12.0;
    let turn = limit.to_radians();
    let before = radius + BEFORE / ink.camera.scale();
    let front = std::f64::consts::PI;
    let stroke = Stroke::new(FINE, ink.palette.faint);
    let around = |arc: &[Point]| arc.iter().map(|at| centre + at.coords).collect::<Vec<_>>();
    let path = ink.path(&around(&arc(before, front - turn, front + turn)));
    let ends = path.first().copied().zip(path.last().copied());
    let middle = ink.camera.to_screen(centre);
    ink.painter.add(egui::Shape::line(path, stroke));
    if let Some((top, bottom)) = ends {
        for end in [top, bottom] {
            let out = (end - middle).normalized() * 4.0;
            ink.painter.line_segment([end - out, end + out], stroke);
        }
        let text = format!("{limit:.1}°");
        labels.keep_free(strong(
            ink,
            top + vec2(-4.0, -3.0),
            Align2::RIGHT_BOTTOM,
            &text,
        ));
    }
}

/// Writes a figure, on paper where something passes below it; gives what it covers.
fn strong(ink: &Ink<'_>, at: Pos2, align: Align2, text: &str) -> Rect {
    let font = FontId::new(size::SMALL, theme::strong());
    let text = ink
        .painter
        .layout_no_wrap(text.to_owned(), font, ink.palette.ink);
    let covered = align.anchor_size(at, text.size());
    let paper = ink.palette.paper.gamma_multiply(0.85);
    ink.painter.rect_filled(covered, 3.0, paper);
    ink.painter.galley(covered.min, text, ink.palette.ink);
    covered
}

/// Says which way is which.
fn words(ink: &Ink<'_>, labels: &mut Labels, rect: Rect) {
    let foot = rect.bottom() - 8.0;
    for (x, align, word) in [
        (rect.left() + PADDING, Align2::LEFT_BOTTOM, "audience"),
        (rect.right() - PADDING, Align2::RIGHT_BOTTOM, "hand"),
    ] {
        let at = pos2(x, foot);
        let font = FontId::proportional(size::SMALL);
        let word = ink
            .painter
            .layout_no_wrap(word.to_owned(), font, ink.palette.faint);
        let covered = align.anchor_size(at, word.size());
        ink.painter
            .rect_filled(covered.expand2(vec2(4.0, 1.0)), 4.0, ink.palette.paper);
        ink.painter.galley(covered.min, word, ink.palette.faint);
        labels.keep_free(covered);
    }
}

/// Says in place why there is no ring.
fn say(ui: &mut Ui, rect: Rect, sentence: &str) {
    /// Size of the mark before the sentence, and the room after it, in points.
    const MARK: [f32; 2] = [12.0, 8.0];
    /// Height that two or three lines of the sentence and the words below it take, in points.
    const HEIGHT: [f32; 2] = [58.0, 28.0];
    let palette = Palette::of(ui.ctx());
    let foot = rect.bottom() - HEIGHT[1];
    let covered =
        Rect::from_x_y_ranges(rect.x_range(), foot - HEIGHT[0]..=foot).shrink2(vec2(PADDING, 0.0));
    ui.painter().rect_filled(covered, 4.0, palette.paper);
    let first_line = pos2(
        covered.left() + MARK[0] / 2.0,
        covered.top() + size::BODY * 0.62,
    );
    mark::paint(ui.painter(), first_line, MARK[0], State::Fouls, &palette);
    let words = covered.with_min_x(covered.left() + MARK[0] + MARK[1]);
    let builder = egui::UiBuilder::new().id_salt("problem").max_rect(words);
    ui.scope_builder(builder, |ui| ui.label(sentence));
}
