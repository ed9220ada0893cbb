//! Labels beside what they name, with a leader where they stand farther off.

use std::f64::consts::TAU;

use layout::geometry::hull::Disc;
use layout::geometry::{Point, Vector};

use super::canvas::{Canvas, bounds_of};
use super::dimension::{arrow, narrow, straight};
use super::pieces::crosses;
use super::style::{FIGURE, LINE_PITCH, NOTE, TEXT_GAP};
use crate::drawing::{Anchor, Bounds, Direction, Layer, Text};
use crate::font::{self, Weight};

/// One or more lines of text that belong to one place.
pub(super) struct Label {
    lines: Vec<String>,
    cap_height: f64,
    weight: Weight,
    /// Whether it may stand right beside its place, without a leader.
    beside: bool,
}

/// What a label points at.
#[derive(Clone, Copy)]
pub(super) struct Target {
    disc: Disc,
    /// Whether the leader ends with an arrowhead at the disc's edge, or plainly on a line.
    arrowhead: bool,
}

impl Label {
    /// A figure, at the end of a leader.
    pub(super) fn figure(lines: Vec<String>) -> Self {
        Self {
            lines,
            cap_height: FIGURE,
            weight: Weight::Regular,
            beside: false,
        }
    }

    /// A short name, beside its place if there is room.
    pub(super) fn name(name: String) -> Self {
        Self {
            lines: vec![name],
            cap_height: NOTE,
            weight: Weight::SemiBold,
            beside: true,
        }
    }

    /// Its lines around `centre`, all beginning at one x.
    fn texts(&self, centre: Point) -> Vec<Text> {
        let [width, height] = self.size();
        let left = centre.x - width / 2.0;
        let mut baseline = centre.y + height / 2.0 - self.cap_height;
        let mut texts = Vec::new();
        for line in &self.lines {
            texts.push(Text {
                at: Point::new(left, baseline),
                text: line.clone(),
                cap_height: self.cap_height,
                anchor: Anchor::Start,
                weight: self.weight,
                direction: Direction::Level,
                layer: Layer::Dimension,
            });
            baseline -= LINE_PITCH * self.cap_height;
        }
        texts
    }

    /// Width and height from the last baseline to the top of the capitals, mm.
    fn size(&self) -> [f64; 2] {
        let widths = self
            .lines
            .iter()
            .map(|line| font::width(line, self.weight, self.cap_height));
        let pitches = self.lines.len().saturating_sub(1) as f64 * LINE_PITCH;
        [
            widths.fold(0.0, f64::max),
            (1.0 + pitches) * self.cap_height,
        ]
    }

    /// The box around its lines when they stand around the origin.
    fn bounds(&self) -> Bounds {
        let texts = self.texts(Point::origin());
        let boxes = texts.iter().map(Text::bounds);
        boxes.reduce(Bounds::with).unwrap_or_else(|| bounds_of([]))
    }
}

impl Target {
    /// A circle, pointed at from outside.
    pub(super) fn circle(disc: Disc) -> Self {
        Self {
            disc,
            arrowhead: true,
        }
    }

    /// A point on an edge, pointed at.
    pub(super) fn on_edge(at: Point) -> Self {
        Self {
            arrowhead: true,
            ..Self::on_line(at)
        }
    }

    /// A point on a line.
    pub(super) fn on_line(at: Point) -> Self {
        Self {
            disc: Disc {
                centre: at,
                radius: 0.0,
            },
            arrowhead: false,
        }
    }

    /// Something small that lies within a disc.
    pub(super) fn around(disc: Disc) -> Self {
        Self {
            disc,
            arrowhead: false,
        }
    }
}

/// Directions in which a place is looked for.
const DIRECTIONS: u32 = 32;
/// Nearest a label may stand without a leader, mm.
const NEAREST: f64 = 1.0;
/// Farther off than this, mm, a label needs a leader.
const NEEDS_LEADER: f64 = 2.5;
/// Nearest at the end of a leader, mm: room for its arrowhead and its level end.
const NEAREST_AT_LEADER: f64 = 7.0;
/// Length of the leader's level end, mm.
const LEVEL_END: f64 = 2.0;
/// What one more interrupted line costs, in mm of distance.
const INTERRUPTION: f64 = 4.0;
/// What one more wide line under the leader costs, in mm of distance.
const CROSSING: f64 = 5.0;
/// What a figure costs that stands in an opening, in mm of distance.
const IN_OPENING: f64 = 25.0;
/// Where nothing nearer was free, a label goes farther than any sheet: the page is then refused.
const FARTHEST: f64 = 2_000.0;

/// A place for a label.
struct Place {
    centre: Point,
    /// Tip, knee and level end of its leader.
    leader: Option<[Point; 3]>,
    cost: f64,
}

/// A label that looks for a place.
struct Search<'a> {
    canvas: &'a Canvas,
    label: &'a Label,
    /// Its [`Label::size`] and [`Label::bounds`], which cost more to find than a place does.
    size: [f64; 2],
    bounds: Bounds,
    target: Target,
}

/// Puts a label where it is free and near, and draws its leader.
pub(super) fn place(canvas: &mut Canvas, label: &Label, target: Target) {
    let search = Search {
        canvas,
        label,
        size: label.size(),
        bounds: label.bounds(),
        target,
    };
    let Some(place) = search.best() else {
        return;
    };
    if let Some([tip, knee, end]) = place.leader {
        canvas.stroke(narrow(tip, knee));
        canvas.stroke(narrow(knee, end));
        if target.arrowhead {
            canvas.fill(arrow(tip, (tip - knee).normalize()));
        }
    }
    for text in label.texts(place.centre) {
        canvas.text(text);
    }
}

impl Search<'_> {
    /// The place that costs least, farther and farther out until nothing cheaper can come.
    fn best(&self) -> Option<Place> {
        let mut best: Option<Place> = None;
        let mut distance = if self.label.beside {
            NEAREST
        } else {
            NEAREST_AT_LEADER
        };
        while distance < FARTHEST && best.as_ref().is_none_or(|best| best.cost > distance) {
            for step in 0..DIRECTIONS {
                // Half a step off the axes, where centre lines run.
                let angle = TAU * (f64::from(step) + 0.5) / f64::from(DIRECTIONS);
                let cheaper =
                    |place: &Place| best.as_ref().is_none_or(|best| place.cost < best.cost);
                if let Some(place) = self.at(distance, angle).filter(cheaper) {
                    best = Some(place);
                }
            }
            // Finer steps near the place, coarser ones farther off.
            distance += if distance < NEEDS_LEADER {
                0.5
            } else {
                0.1 * distance + 1.0
            };
        }
        best
    }

    /// The place at a distance from the target in a direction, radians, if it is free.
    fn at(&self, distance: f64, angle: f64) -> Option<Place> {
        let disc = self.target.disc;
        let direction = Vector::new(angle.cos(), angle.sin());
        let [width, height] = self.size;
        // The box's centre goes so far out that its nearest point is at about the distance.
        let own = (width / 2.0 * direction.x).hypot(height / 2.0 * direction.y);
        let centre = disc.centre + direction * (disc.radius + distance + own);
        let bounds = self.bounds.moved(centre.coords);
        if !self.canvas.has_room_for_text(&bounds) {
            return None;
        }
        let mut cost = distance + INTERRUPTION * self.canvas.interrupted_by(&bounds) as f64;
        if self.label.beside && distance <= NEEDS_LEADER {
            return Some(Place {
                centre,
                leader: None,
                cost,
            });
        }
        if !self.label.beside && self.canvas.is_in_opening(centre) {
            cost += IN_OPENING;
        }
        let side = if direction.x >= 0.0 { -1.0 } else { 1.0 };
        let end = centre + Vector::new(side * (width / 2.0 + TEXT_GAP), 0.0);
        let knee = end + Vector::new(side * LEVEL_END, 0.0);
        let tip = disc.centre + (knee - disc.centre).try_normalize(0.0)? * disc.radius;
        let leader = [straight(tip, knee), straight(knee, end)];
        let through = leader
            .iter()
            .any(|line| self.canvas.runs_through_text(line));
        if through || crosses(&leader[0], &bounds) {
            return None;
        }
        // A leader starts on its target: only what lies a little off it counts as crossed.
        let off = straight(tip + (knee - tip) * 0.02, knee);
        Some(Place {
            centre,
            leader: Some([tip, knee, end]),
            cost: cost + CROSSING * self.canvas.wide_lines_crossed(&off) as f64,
        })
    }
}
