//! A slim slider for a turn that goes both ways from 0, and the rows of its panel.

use egui::accesskit::{Action, ActionData};
use egui::{
    Align2, EventFilter, FontId, Key, Pos2, Rect, Response, Sense, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};

use layout::limits::State;

use super::camera::points;
use super::handles::with_minus;
use crate::window::mark;
use crate::window::theme::{Palette, ROW, size};

/// Width of the name before the track, in points.
const NAME: f32 = 40.0;

/// Width of the figure after the track, in points.
const FIGURE: f32 = 84.0;

/// Radius of the thumb, in points.
const THUMB: f32 = 8.0;

/// How far one press of an arrow key turns, degrees: plain, with Shift, with Alt.
const STEP: [f64; 3] = [1.0, 5.0, 0.1];

/// The turns that a slider goes through, degrees.
#[derive(Clone, Copy, Debug)]
pub(super) struct Track {
    /// The end at the left.
    low: f64,
    /// The end at the right.
    high: f64,
    /// Where it rests: a double click goes back there.
    rest: f64,
    /// Where something holds it up on the way to the left and to the right end.
    held_up: [Option<f64>; 2],
}

impl Track {
    /// Both ways from straight ahead to `limit`, radians; something may hold it up at turns to either side.
    pub(super) fn both_ways(limit: f64, held_up: Option<[f64; 2]>) -> Self {
        let high = limit.to_degrees();
        let [left, right] = [0, 1].map(|side| held_up.map(|turns| turns[side].to_degrees()));
        Self {
            low: -high,
            high,
            rest: 0.0,
            held_up: [
                left.filter(|turn| *turn > -high),
                right.filter(|turn| *turn < high),
            ],
        }
    }

    /// From `shut` to `open`, radians, where it rests; something may hold it up on the way.
    pub(super) fn of_lid(shut: f64, open: f64, held_up: Option<f64>) -> Self {
        let (low, high) = (shut.to_degrees(), open.to_degrees());
        let held_up = held_up.map(|turn| turn.to_degrees().max(low));
        Self {
            low,
            high: high.max(low),
            rest: high,
            held_up: [None, held_up.filter(|turn| *turn < high)],
        }
    }

    /// Where it is held up, in words, and a note.
    fn told(self, note: Option<&str>) -> Option<String> {
        let turns: Vec<String> = { self.held_up.into_iter().flatten() }
            .map(in_degrees)
            .collect();
        let held_up = (!turns.is_empty()).then(|| format!("Held up at {}.", turns.join(" and ")));
        let all: Vec<String> = { held_up.into_iter() }
            .chain(note.map(str::to_owned))
            .collect();
        (!all.is_empty()).then(|| all.join(" "))
    }

    /// The stretches past what holds it up, each from its inner end.
    fn past(self) -> impl Iterator<Item = [f64; 2]> {
        let ends = self.held_up.into_iter().zip([self.low, self.high]);
        ends.filter_map(|(held_up, end)| Some([held_up?, end]))
    }

    fn has_room(self) -> bool {
        self.high > self.low
    }

    fn share(self, degrees: f64) -> f64 {
        if self.has_room() {
            (degrees - self.low) / (self.high - self.low)
        } else {
            0.5
        }
    }
}

/// Shows a slider for `turn`, radians; says whether it was worked. Dragging gives whole degrees. Under the
/// pointer it tells where it is held up, and what else there is to `note`.
pub(super) fn show(
    ui: &mut Ui,
    name: &str,
    turn: &mut f64,
    way: Track,
    note: Option<&str>,
) -> bool {
    let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    let track = track_of(row);
    let id = ui.scope_id().with(("turn", name));
    let response = ui.interact(
        track.expand2(vec2(THUMB, ROW / 2.0 - 2.0)),
        id,
        Sense::drag(),
    );
    let mut degrees = turn.to_degrees();
    let before = degrees;
    work(ui, &response, track, &mut degrees, way);
    degrees = degrees.clamp(way.low, way.high);
    let worked = degrees != before;
    if worked {
        *turn = degrees.to_radians();
    }
    response.widget_info(|| WidgetInfo::slider(ui.is_enabled(), degrees, name));
    response.ctx.accesskit_node_builder(response.id, |node| {
        node.set_min_numeric_value(way.low);
        node.set_max_numeric_value(way.high);
        node.set_numeric_value_step(STEP[0]);
        node.set_value(figure(degrees, way));
        node.add_action(Action::SetValue);
        node.add_action(Action::Increment);
        node.add_action(Action::Decrement);
    });
    draw(ui, name, row, &response, degrees, way);
    if let Some(told) = way.told(note) {
        response.on_hover_text(told);
    }
    worked
}

fn figure(degrees: f64, way: Track) -> String {
    format!("{} of {}", in_degrees(degrees), in_degrees(way.high))
}

/// Shows a figure in a row like a slider's.
pub(super) fn figure_row(ui: &mut Ui, name: &str, figure: &str) {
    let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    let palette = Palette::of(ui.ctx());
    let font = FontId::proportional(size::BODY);
    ui.painter().text(
        row.left_center(),
        Align2::LEFT_CENTER,
        name,
        font.clone(),
        palette.ink,
    );
    ui.painter().text(
        row.right_center(),
        Align2::RIGHT_CENTER,
        figure,
        font,
        palette.ink,
    );
}

fn track_of(row: Rect) -> Rect {
    let left = row.left() + NAME + THUMB;
    let right = (row.right() - FIGURE - THUMB).max(left + 1.0);
    Rect::from_min_max(pos2(left, row.center().y), pos2(right, row.center().y))
}

fn work(ui: &Ui, response: &Response, track: Rect, degrees: &mut f64, way: Track) {
    // The pointer may move and let go between two frames: the last way counts, too.
    let held = response.dragged() || response.drag_stopped();
    if let Some(pointer) = response.interact_pointer_pos().filter(|_| held) {
        let share = f64::from((pointer.x - track.left()) / track.width());
        *degrees = (way.low + share * (way.high - way.low)).round();
    }
    let twice = ui.input(|input| {
        input
            .pointer
            .button_double_clicked(egui::PointerButton::Primary)
    });
    if response.hovered() && twice {
        *degrees = way.rest;
    }
    if response.drag_started() {
        response.request_focus();
    }
    if response.has_focus() {
        let arrows = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        let turned: f64 = ui.input(|input| input.events.iter().filter_map(key_turn).sum());
        // To reach it by Tab moves nothing, whatever a wandering look left there.
        if turned != 0.0 {
            *degrees = tenths(*degrees + turned);
        }
    }
    ui.input(|input| {
        let times = |action| input.num_accesskit_action_requests(response.id, action);
        for _ in 0..times(Action::Increment) {
            *degrees += STEP[0];
        }
        for _ in 0..times(Action::Decrement) {
            *degrees -= STEP[0];
        }
        for request in input.accesskit_action_requests(response.id, Action::SetValue) {
            if let Some(ActionData::NumericValue(value)) = request.data {
                *degrees = value;
            }
        }
    });
}

/// How far a key turns, degrees.
fn key_turn(event: &egui::Event) -> Option<f64> {
    let egui::Event::Key {
        key,
        pressed: true,
        modifiers,
        ..
    } = event
    else {
        return None;
    };
    let way = match key {
        Key::ArrowRight | Key::ArrowUp => 1.0,
        Key::ArrowLeft | Key::ArrowDown => -1.0,
        _ => return None,
    };
    let step = match (modifiers.shift, modifiers.alt) {
        (true, _) => STEP[1],
        (_, true) => STEP[2],
        _ => STEP[0],
    };
    Some(way * step)
}

fn draw(ui: &Ui, name: &str, row: Rect, response: &Response, degrees: f64, way: Track) {
    /// Half the height of the ticks at both ends and at 0, in points.
    const TICK: f32 = 5.0;
    /// Size of the mark where something holds it up, in points.
    const MARK: f32 = 7.0;
    let palette = Palette::of(ui.ctx());
    let painter = ui.painter();
    let track = track_of(row);
    let font = FontId::proportional(size::BODY);
    painter.text(
        row.left_center(),
        Align2::LEFT_CENTER,
        name,
        font.clone(),
        palette.ink,
    );
    let y = painter.round_to_pixel_center(track.center().y);
    let at = |degrees: f64| track.left() + points(way.share(degrees)) * track.width();
    painter.rect_filled(
        Rect::from_x_y_ranges(track.x_range(), y - 1.5..=y + 1.5),
        1.5,
        palette.line,
    );
    for mark in [way.low, way.rest, way.high] {
        let x = painter.round_to_pixel_center(at(mark));
        painter.vline(x, y - TICK..=y + TICK, Stroke::new(1.0, palette.faint));
    }
    let thumb: Pos2 = pos2(at(degrees), y);
    let worked = if way.has_room() {
        palette.accent
    } else {
        palette.line
    };
    let worked_way = Rect::from_two_pos(pos2(at(way.rest), y - 1.5), pos2(thumb.x, y + 1.5));
    painter.rect_filled(worked_way, 1.5, worked);
    for [limit, end] in way.past() {
        let (x, held_up) = (at(limit), palette.state(State::Fouls));
        let past = Rect::from_two_pos(pos2(x, y - 1.5), pos2(at(end), y + 1.5));
        painter.rect_filled(past, 1.5, held_up);
        let tick = Stroke::new(1.5, held_up);
        painter.vline(painter.round_to_pixel_center(x), y - TICK..=y + TICK, tick);
        mark::paint(
            painter,
            pos2(x, y - TICK - MARK),
            MARK,
            State::Fouls,
            &palette,
        );
    }
    let radius = if response.hovered() || response.dragged() {
        THUMB + 0.8
    } else {
        THUMB
    };
    painter.circle_filled(thumb, radius, worked);
    if response.has_focus() {
        painter.circle_stroke(thumb, radius + 3.0, Stroke::new(1.4, palette.accent));
    }
    painter.text(
        row.right_center(),
        Align2::RIGHT_CENTER,
        figure(degrees, way),
        font,
        palette.ink,
    );
}

fn tenths(degrees: f64) -> f64 {
    (degrees * 10.0).round() / 10.0
}

/// An angle with a decimal only where it has one.
fn in_degrees(degrees: f64) -> String {
    // What rounds to nothing has no sign.
    let tenths = tenths(degrees) + 0.0;
    with_minus(&format!("{tenths}°"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_holds_a_turn_up_before_its_end_is_shown_and_nothing_else_is() {
        let past = |way: Track| {
            way.past()
                .map(|ends| ends.map(f64::round))
                .collect::<Vec<_>>()
        };
        let [ten, twenty, thirty] = [10.0_f64, 20.0, 30.0].map(f64::to_radians);
        for free in [None, Some(thirty)] {
            let to_both_sides = free.map(|turn| [-turn, turn]);
            assert!(past(Track::both_ways(twenty, to_both_sides)).is_empty());
            assert!(past(Track::of_lid(ten, twenty, free)).is_empty());
        }
        let both = past(Track::both_ways(twenty, Some([-ten, ten])));
        assert_eq!(both, [[-10.0, -20.0], [10.0, 20.0]]);
        let one = past(Track::both_ways(twenty, Some([-thirty, ten])));
        assert_eq!(one, [[10.0, 20.0]]);
        let lid = past(Track::of_lid(ten, thirty, Some(twenty)));
        assert_eq!(lid, [[20.0, 30.0]]);
        let never_opens = past(Track::of_lid(ten, thirty, Some(-ten)));
        assert_eq!(never_opens, [[10.0, 30.0]]);
    }
}
