//! Where the front view looks, and how large it shows what it sees. The side cut follows it.

use egui::{Pos2, Rect, Vec2, pos2, vec2};
use layout::Laid;
use layout::geometry::{Point, Vector};
use output::Seen;

/// Smallest scale, points per mm: two metres then fit on a screen.
const SMALLEST_SCALE: f64 = 0.2;

/// Largest scale, points per mm: a tenth of a millimetre is then wider than a finger's tremble.
const LARGEST_SCALE: f64 = 120.0;

/// Room around what is framed, for heading, dimension and labels, in points: left and right, top
/// and bottom.
const ROOM: Vec2 = vec2(34.0, 46.0);

/// Room that a view beside has below the front view's middle, in points, unless that is more than half of its own:
/// lower half of an eye that is framed with its head, with the dimension below it.
const BELOW_LEVEL: f32 = 112.0;

/// Half of the least width that framing a place shows, mm: its surroundings tell where it is.
const SURROUNDINGS: f64 = 22.0;

/// The eye on the desk: a scale and the place in the middle of the front view.
#[derive(Clone, Copy, Debug)]
pub struct Camera {
    /// The side from which the front view shows head and plate.
    pub seen: Seen,
    scale: f64,
    centre: Point,
    /// How far the view beside is moved from the middle that it starts with, mm.
    beside: f64,
    rect: Rect,
    fitted: bool,
    /// How often everything was framed.
    framings: u32,
}

impl Default for Camera {
    /// A camera that frames everything as soon as it knows the view's size.
    fn default() -> Self {
        Self {
            seen: Seen::Front,
            scale: 1.0,
            centre: Point::origin(),
            beside: 0.0,
            rect: Rect::NOTHING,
            fitted: false,
            framings: 0,
        }
        .asked_to_frame_all()
    }
}

impl Camera {
    /// Points of the screen per millimetre.
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// Where the front view lies on the screen.
    pub fn rect(&self) -> Rect {
        self.rect
    }

    /// Where a place of the plate's frame, mm, is on the screen.
    pub fn to_screen(&self, at: Point) -> Pos2 {
        let off = self.shown(at - self.centre) * self.scale;
        let middle = self.rect.center();
        pos2(middle.x + points(off.x), middle.y - points(off.y))
    }

    /// Which place of the plate's frame, mm, a point of the screen shows.
    pub fn to_plate(&self, at: Pos2) -> Point {
        let off = at - self.rect.center();
        self.centre + self.shown(Vector::new(f64::from(off.x), -f64::from(off.y))) / self.scale
    }

    /// How a way across the plate shows, and the other way about.
    fn shown(&self, way: Vector) -> Vector {
        self.seen.point(way.into()).coords
    }

    /// A length in mm as points of the screen.
    pub fn length(&self, mm: f64) -> f32 {
        points(mm * self.scale)
    }

    /// Moves what is seen by some points of the screen.
    pub fn pan(&mut self, by: Vec2) {
        self.centre -= self.shown(Vector::new(f64::from(by.x), -f64::from(by.y))) / self.scale;
        self.fitted = false;
    }

    /// Makes everything `factor` times as large; what lies under `fixed` stays there.
    pub fn zoom_about(&mut self, fixed: Pos2, factor: f64) {
        let held = self.to_plate(fixed);
        self.scale = (self.scale * factor).clamp(SMALLEST_SCALE, LARGEST_SCALE);
        let strayed = self.to_plate(fixed) - held;
        self.centre -= strayed;
        self.fitted = false;
    }

    /// Asks for everything to be framed when the front view is shown next.
    pub fn ask_to_frame_all(&mut self) {
        self.rect = Rect::NOTHING;
        self.fitted = true;
    }

    fn asked_to_frame_all(mut self) -> Self {
        self.ask_to_frame_all();
        self
    }

    /// Takes the place of the front view on the screen. While nobody has moved the camera, a view
    /// of another size still shows everything.
    pub fn show_in(&mut self, rect: Rect, laid: &Laid) {
        if self.rect != rect {
            if self.fitted {
                self.frame_all(laid, rect);
            }
            self.rect = rect;
        }
    }

    /// Shows the whole head and plate in `rect`, and all sheaths.
    pub fn frame_all(&mut self, laid: &Laid, rect: Rect) {
        self.rect = rect;
        let wall = laid.wall.iter().copied();
        let plate = laid.plate.bounds().into_iter().flatten();
        let routes = laid.drives.iter().filter_map(|drive| drive.route.as_ref());
        let places = routes.flat_map(|route| &route.points);
        let sheaths = places.map(|place| Point::new(place.x, place.y));
        if let Some([low, high]) = bounds(wall.chain(plate).chain(sheaths)) {
            self.fit(low, high);
        }
        self.beside = 0.0;
        self.fitted = true;
        self.framings = self.framings.wrapping_add(1);
    }

    /// Which framing of everything is seen, if nobody has moved the camera since.
    pub(super) fn framing(&self) -> Option<u32> {
        self.fitted.then_some(self.framings)
    }

    /// Brings some places of the plate's frame, mm, into view if they are not, or too small to see.
    pub fn frame_points(&mut self, places: &[[f64; 3]]) {
        let plan = places.iter().map(|&[x, y, _]| Point::new(x, y));
        let Some([low, high]) = bounds(plan) else {
            return;
        };
        let inner = self.rect.shrink2(ROOM);
        let seen = [low, high].map(|at| self.to_screen(at));
        if seen.iter().all(|&at| inner.contains(at)) {
            return;
        }
        let around = Vector::repeat(SURROUNDINGS);
        if (high - low).amax() * self.scale > f64::from(inner.width().min(inner.height())) {
            self.fit(low - around, high + around);
        }
        self.centre = nalgebra::center(&low, &high);
        self.fitted = false;
    }

    /// The camera of a view beside the front one, at its scale and level: `rect` on the screen, with
    /// `middle`, mm, in the middle of its width. Where too little room is left below that level, it is higher.
    pub(super) fn beside(&self, rect: Rect, middle: f64) -> Self {
        let wanted = BELOW_LEVEL.min(rect.height() / 2.0);
        let lacks = wanted - (rect.bottom() - self.rect.center().y);
        let up = vec2(0.0, -lacks.max(0.0));
        Self {
            seen: Seen::Front,
            centre: Point::new(middle + self.beside, self.centre.y),
            rect: Rect::from_x_y_ranges(rect.x_range(), self.rect.translate(up).y_range()),
            ..*self
        }
    }

    /// Follows the view beside it, which was moved or zoomed since it was `before`.
    pub(super) fn follow(&mut self, before: &Self, beside: &Self) {
        let moved = beside.centre - before.centre;
        self.beside += moved.x;
        self.centre.y += moved.y;
        self.scale *= beside.scale / before.scale;
        self.fitted &= beside.fitted;
    }

    /// The same, so many times as large, and so many points higher.
    pub(super) fn scaled(self, times: f64, up: f32) -> Self {
        Self {
            scale: (self.scale * times).max(SMALLEST_SCALE),
            rect: self.rect.translate(vec2(0.0, -up)),
            ..self
        }
    }

    fn fit(&mut self, low: Point, high: Point) {
        let room = self.rect.shrink2(ROOM).size().max(Vec2::splat(1.0));
        let size = (high - low).map(|side| side.max(1.0));
        let scale = (f64::from(room.x) / size.x).min(f64::from(room.y) / size.y);
        self.scale = scale.clamp(SMALLEST_SCALE, LARGEST_SCALE);
        self.centre = nalgebra::center(&low, &high);
    }
}

/// A number of points as egui takes it.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a millionth of the screen is far below a pixel"
)]
pub fn points(value: f64) -> f32 {
    value as f32
}

fn bounds(places: impl Iterator<Item = Point>) -> Option<[Point; 2]> {
    places
        .map(|at| [at, at])
        .reduce(|a, b| [a[0].inf(&b[0]), a[1].sup(&b[1])])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera() -> Camera {
        let mut camera = Camera::default();
        let rect = Rect::from_min_size(pos2(40.0, 90.0), vec2(600.0, 500.0));
        camera.rect = rect;
        camera.fit(Point::new(-80.0, -100.0), Point::new(80.0, 95.0));
        camera
    }

    #[test]
    fn zooming_keeps_the_place_under_the_pointer() {
        let mut camera = camera();
        for (at, factor) in [
            (pos2(100.0, 120.0), 1.7),
            (pos2(555.0, 410.0), 0.4),
            (pos2(340.0, 340.0), 30.0),
        ] {
            let held = camera.to_plate(at);
            let before = camera.scale();
            camera.zoom_about(at, factor);
            assert!(camera.scale() != before);
            approx::assert_abs_diff_eq!(camera.to_plate(at), held, epsilon = 1e-6);
        }
    }

    #[test]
    fn zooming_ends_at_the_largest_scale_and_keeps_the_place() {
        let mut camera = camera();
        let at = pos2(200.0, 300.0);
        let held = camera.to_plate(at);
        camera.zoom_about(at, 1e9);
        approx::assert_abs_diff_eq!(camera.scale(), LARGEST_SCALE);
        approx::assert_abs_diff_eq!(camera.to_plate(at), held, epsilon = 1e-6);
    }

    #[test]
    fn screen_and_plate_are_each_others_inverse() {
        let camera = camera();
        let at = Point::new(12.3, -45.6);
        approx::assert_abs_diff_eq!(camera.to_plate(camera.to_screen(at)), at, epsilon = 1e-4);
        // y grows upward on the plate and downward on the screen.
        assert!(camera.to_screen(Point::new(0.0, 10.0)).y < camera.to_screen(Point::origin()).y);
    }

    #[test]
    fn seen_from_the_back_right_is_on_the_left_and_up_stays_up() {
        let mut camera = camera();
        camera.seen = Seen::Back;
        let middle = camera.to_screen(Point::origin());
        let at = Point::new(12.0, 30.0);
        assert!(camera.to_screen(at).x < middle.x && camera.to_screen(at).y < middle.y);
        approx::assert_abs_diff_eq!(camera.to_plate(camera.to_screen(at)), at, epsilon = 1e-4);
        // What is taken by the pointer follows it.
        let held = camera.to_screen(at);
        camera.pan(vec2(25.0, -10.0));
        approx::assert_abs_diff_eq!(camera.to_screen(at).x, held.x + 25.0, epsilon = 1e-3);
        approx::assert_abs_diff_eq!(camera.to_screen(at).y, held.y - 10.0, epsilon = 1e-3);
    }

    #[test]
    fn a_view_beside_has_the_same_scale_and_level() {
        let camera = camera();
        let rect = Rect::from_min_size(pos2(660.0, 120.0), vec2(300.0, 400.0));
        let beside = camera.beside(rect, 7.0);
        for y in [-30.0, 0.0, 12.5] {
            let level = camera.to_screen(Point::new(0.0, y)).y;
            approx::assert_abs_diff_eq!(
                beside.to_screen(Point::new(7.0, y)).y,
                level,
                epsilon = 1e-3
            );
        }
        approx::assert_abs_diff_eq!(beside.to_screen(Point::new(7.0, 0.0)).x, rect.center().x);
        approx::assert_abs_diff_eq!(beside.length(10.0), camera.length(10.0));
    }

    #[test]
    fn a_view_beside_that_ends_soon_below_the_level_shows_it_higher() {
        let camera = camera();
        let level = |height: f32| {
            let rect = Rect::from_min_size(pos2(660.0, 120.0), vec2(300.0, height));
            let beside = camera.beside(rect, 7.0);
            rect.bottom() - beside.to_screen(Point::new(7.0, camera.centre.y)).y
        };
        approx::assert_abs_diff_eq!(level(250.0), BELOW_LEVEL, epsilon = 1e-3);
        approx::assert_abs_diff_eq!(level(100.0), 50.0, epsilon = 1e-3);
    }

    #[test]
    fn a_view_beside_that_is_moved_or_zoomed_takes_the_front_view_to_its_level_and_scale() {
        let mut camera = camera();
        let rect = Rect::from_min_size(pos2(660.0, 120.0), vec2(300.0, 200.0));
        let before = camera.beside(rect, 7.0);
        let mut beside = before;
        beside.pan(vec2(30.0, -12.0));
        beside.zoom_about(pos2(700.0, 150.0), 1.4);
        camera.follow(&before, &beside);
        let again = camera.beside(rect, 7.0);
        for at in [Point::new(7.0, 0.0), Point::new(-20.0, 31.0)] {
            let [now, then] = [again, beside].map(|view| view.to_screen(at));
            approx::assert_abs_diff_eq!(now.x, then.x, epsilon = 1e-3);
            approx::assert_abs_diff_eq!(now.y, then.y, epsilon = 1e-3);
        }
        assert!(!camera.fitted);
    }

    #[test]
    fn framing_a_place_brings_it_into_view_and_leaves_what_is_seen_alone() {
        let mut camera = camera();
        let before = camera;
        camera.frame_points(&[[10.0, 10.0, -3.0]]);
        assert_eq!(
            camera.to_plate(pos2(0.0, 0.0)),
            before.to_plate(pos2(0.0, 0.0))
        );
        camera.frame_points(&[[400.0, 10.0, 0.0], [410.0, 10.0, 0.0]]);
        assert!(
            camera
                .rect
                .contains(camera.to_screen(Point::new(400.0, 10.0)))
        );
        assert!(
            camera
                .rect
                .contains(camera.to_screen(Point::new(410.0, 10.0)))
        );
    }
}
