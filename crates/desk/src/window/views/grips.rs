//! How handles look: at rest, under the pointer, selected, and with the keyboard on them.

use std::sync::Arc;

use egui::{Color32, FontId, Galley, Pos2, Rect, Stroke, Vec2, vec2};
use layout::geometry::Point;
use layout::handle::Handle;

use super::handles::{self, Plane, Touched};
use super::ink::Ink;
use super::labels::Labels;
use crate::window::state::Desk;
use crate::window::theme::{self, size};

/// Radius of an outline point, in points.
const POINT: f32 = 4.2;

/// How far the mark of a slot, hole or eye stands off it, in points.
const OFF: f32 = 4.0;

/// Draws all handles and keeps labels off them.
pub(super) fn draw(
    ink: &Ink<'_>,
    desk: &Desk,
    plane: Plane,
    touched: Touched,
    labels: &mut Labels,
) {
    for handle in handles::shown(desk, plane) {
        let Some(at) = plane.at(handle, desk) else {
            continue;
        };
        let centre = ink.camera.to_screen(at);
        let marked = Marked {
            hovered: touched.hovered == Some(handle) || touched.dragged == Some(handle),
            selected: desk.selected == Some(handle),
            focused: touched.focused == Some(handle),
        };
        match handle {
            Handle::Eye(_) => cross(ink, centre),
            Handle::OutlinePoint(..) | Handle::Drive(..) | Handle::Rod(..) => {
                point(ink, centre, marked);
            }
            Handle::Slot(_) | Handle::AnchorHole(_) => {}
        }
        ring(ink, handle, desk, centre, marked);
        let covered = handles::hit_radius(handle, desk.project(), ink.camera);
        labels.keep_free(Rect::from_center_size(centre, Vec2::splat(2.0 * covered)));
    }
}

#[derive(Clone, Copy)]
struct Marked {
    hovered: bool,
    selected: bool,
    focused: bool,
}

/// A cross on the pupil, light on dark and edged with dark on light.
fn cross(ink: &Ink<'_>, centre: Pos2) {
    /// Length of an arm, in points.
    const ARM: f32 = 5.5;
    for (width, colour) in [(3.4, ink.palette.pupil), (1.4, ink.palette.ball)] {
        let stroke = Stroke::new(width, colour);
        for arm in [vec2(ARM, 0.0), vec2(0.0, ARM)] {
            ink.painter
                .line_segment([centre - arm, centre + arm], stroke);
        }
    }
}

/// A point of a drawn curve, or a place of a drive.
fn point(ink: &Ink<'_>, centre: Pos2, marked: Marked) {
    let radius = if marked.hovered { POINT + 1.0 } else { POINT };
    let fill = if marked.selected {
        ink.palette.accent
    } else {
        ink.palette.paper
    };
    ink.painter
        .circle(centre, radius, fill, Stroke::new(1.6, ink.palette.accent));
}

/// The ring around a handle that is worked, or that can be and has no mark of its own.
fn ring(ink: &Ink<'_>, handle: Handle, desk: &Desk, centre: Pos2, marked: Marked) {
    let accent = ink.palette.accent;
    let radius = match handle {
        Handle::OutlinePoint(..) | Handle::Drive(..) | Handle::Rod(..) => POINT + OFF,
        Handle::Slot(index) => own(
            desk.project()
                .ties
                .get(index)
                .map(|slot| slot.half_diagonal()),
            ink,
        ),
        Handle::AnchorHole(index) => {
            let hole = desk.project().head.anchor_holes.get(index);
            own(hole.map(|hole| hole.diameter / 2.0), ink)
        }
        Handle::Eye(_) => handles::hit_radius(handle, desk.project(), ink.camera),
    };
    let has_no_mark = matches!(handle, Handle::Slot(_) | Handle::AnchorHole(_));
    let (fill, width) = match marked {
        Marked { selected: true, .. } => (accent.gamma_multiply(0.18), 2.0),
        Marked { hovered: true, .. } => (accent.gamma_multiply(0.10), 1.6),
        _ if has_no_mark => (Color32::TRANSPARENT, 1.0),
        _ => (Color32::TRANSPARENT, 0.0),
    };
    if width > 0.0 {
        ink.painter
            .circle(centre, radius, fill, Stroke::new(width, accent));
    }
    if marked.focused {
        ink.painter
            .circle_stroke(centre, radius + 3.5, Stroke::new(1.2, accent));
    }
}

fn own(radius: Option<f64>, ink: &Ink<'_>) -> f32 {
    radius.map_or(0.0, |mm| ink.camera.length(mm)) + OFF
}

/// Shows where on the outline a click would add a point.
pub(super) fn ghost(ink: &Ink<'_>, at: Point) {
    let centre = ink.camera.to_screen(at);
    let accent = ink.palette.accent;
    ink.painter.circle(
        centre,
        POINT,
        ink.palette.paper.gamma_multiply(0.8),
        Stroke::new(1.2, accent),
    );
    for arm in [vec2(2.2, 0.0), vec2(0.0, 2.2)] {
        ink.painter
            .line_segment([centre - arm, centre + arm], Stroke::new(1.2, accent));
    }
}

/// What the handle under the pointer or the keyboard is called, and where it is.
pub(super) struct Tag {
    /// What the tag covers.
    pub(super) rect: Rect,
    name: Arc<Galley>,
    place: Arc<Galley>,
}

impl Tag {
    /// Room around the words, and between name and place, in points.
    const ROOM: Vec2 = vec2(8.0, 4.0);

    /// The tag of the handle that is worked; None if none is.
    pub(super) fn of(ink: &Ink<'_>, desk: &Desk, plane: Plane, touched: Touched) -> Option<Self> {
        let handle = touched.dragged.or(touched.hovered).or(touched.focused)?;
        let at = plane.at(handle, desk)?;
        let word = |text: String, family, colour| {
            let font = FontId::new(size::SMALL, family);
            ink.painter.layout_no_wrap(text, font, colour)
        };
        let name = word(
            handles::name(handle, desk.project()),
            theme::strong(),
            ink.palette.ink,
        );
        let place = plane.place_text(at, desk.unit);
        let place = word(place, egui::FontFamily::Proportional, ink.palette.faint);
        let height = name.size().y.max(place.size().y);
        let words = vec2(name.size().x + Self::ROOM.x + place.size().x, height);
        let rect = tag_place(ink, handle, desk, at, words + 2.0 * Self::ROOM);
        Some(Self { rect, name, place })
    }

    /// Draws it.
    pub(super) fn draw(self, ink: &Ink<'_>) {
        let palette = &ink.palette;
        let inside = egui::StrokeKind::Inside;
        ink.painter
            .rect(self.rect, 5.0, palette.paper, palette.hairline(), inside);
        let start = self.rect.min + Self::ROOM;
        let after = vec2(self.name.size().x + Self::ROOM.x, 0.0);
        ink.painter.galley(start, self.name, palette.ink);
        ink.painter.galley(start + after, self.place, palette.faint);
    }
}

/// Above the handle, or below it where the view ends, and always within the view.
fn tag_place(ink: &Ink<'_>, handle: Handle, desk: &Desk, at: Point, size: Vec2) -> Rect {
    /// Room between handle and tag, in points.
    const GAP: f32 = 8.0;
    let centre = ink.camera.to_screen(at);
    let off =
        handles::hit_radius(handle, desk.project(), ink.camera).min(40.0) + GAP + size.y / 2.0;
    let view = ink.camera.rect().shrink(4.0);
    let above = centre - vec2(0.0, off);
    let middle = if above.y - size.y / 2.0 < view.top() {
        centre + vec2(0.0, off)
    } else {
        above
    };
    let half = size / 2.0;
    let inside = view.shrink2(half);
    let middle = if inside.is_negative() {
        view.center()
    } else {
        inside.clamp(middle)
    };
    Rect::from_center_size(middle, size)
}
