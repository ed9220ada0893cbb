//! Finds places on a page for the view and the parts of the sheet around it.

use layout::geometry::{Point, Vector};

use super::block::Block;
use super::room::Room;
use super::style::{FRAME_MARGIN, PART_GAP};
use crate::drawing::Bounds;

/// A part of the sheet that wants a place.
pub(super) struct Part {
    /// The shapes that it can take, the one liked best in front.
    pub(super) shapes: Vec<Block>,
    /// The corner of the frame that it should be near.
    pub(super) corner: Corner,
    /// Whether it may stand inside the head outline where the paper is scarce.
    pub(super) inside_head: bool,
    /// Whether it touches the frame.
    pub(super) at_frame: bool,
}

/// A corner of the frame.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Corner {
    LowerLeft,
    LowerRight,
    UpperRight,
}

/// A finished arrangement.
pub(super) struct Arrangement<'a> {
    /// Where the plate's origin comes to lie.
    pub(super) origin: Vector,
    /// Each part's chosen shape and its lower left corner.
    pub(super) parts: Vec<(&'a Block, Point)>,
}

/// Steps in which places are tried, mm.
const STEP: f64 = 3.0;
/// What a shape that is liked less costs, in mm of distance from its corner.
const OTHER_SHAPE: f64 = 12.0;
/// What a part costs that is in line with no other along one side, in mm of distance.
const OUT_OF_LINE: f64 = 8.0;

/// The frame's box on a page.
pub(super) fn frame(page: [f64; 2]) -> Bounds {
    Bounds::of_size(Point::origin(), page).grown(-FRAME_MARGIN)
}

/// Arranges everything within a frame by the first plan that fits: beside the head if possible, else
/// with some of it on the empty paper inside the head outline.
pub(super) fn arrange<'a>(
    frame: Bounds,
    view: &Room,
    plans: &'a [Vec<Part>],
) -> Option<Arrangement<'a>> {
    let tries = [false, true]
        .into_iter()
        .flat_map(|inside_head| plans.iter().map(move |parts| (parts, inside_head)));
    tries.into_iter().find_map(|(parts, inside_head)| {
        let mut best: Option<(Arrangement<'a>, f64)> = None;
        for (origin, cost) in origins(frame, view) {
            let limit = best.as_ref().map_or(f64::INFINITY, |best| best.1) - cost;
            let site = Site {
                frame,
                view,
                origin,
                inside_head,
            };
            if let Some((parts, own)) = site.place_all(parts, limit) {
                best = Some((Arrangement { origin, parts }, cost + own));
            }
        }
        best.map(|(arrangement, _)| arrangement)
    })
}

/// Arranges parts within a frame beside the head, where the view has its place: the frame is in the
/// view's own frame of reference.
pub(super) fn arrange_beside<'a>(
    frame: Bounds,
    view: &Room,
    parts: &'a [Part],
) -> Option<Arrangement<'a>> {
    let origin = Vector::zeros();
    let site = Site {
        frame,
        view,
        origin,
        inside_head: false,
    };
    let (parts, _) = site.place_all(parts, f64::INFINITY)?;
    Some(Arrangement { origin, parts })
}

/// Places for the plate's origin, each with what it costs: the middle of the page is liked best, and a
/// little above it. Empty if the view is larger than the frame.
fn origins(frame: Bounds, view: &Room) -> Vec<(Vector, f64)> {
    const SHARES: [f64; 5] = [0.5, 0.25, 0.75, 0.0, 1.0];
    /// Liked share of the free height that is left below the view.
    const LIKED_BELOW: f64 = 0.75;
    let free = frame.grown(-PART_GAP);
    let [width, height] = free.size();
    let [own_width, own_height] = view.bounds.size();
    let (across, up) = (width - own_width, height - own_height);
    if across < 0.0 || up < 0.0 {
        return Vec::new();
    }
    let to_low = free.low - view.bounds.low;
    let place = |x: f64, y: f64| {
        let cost = (x - 0.5).abs() * across + (y - LIKED_BELOW).abs() * up;
        (to_low + Vector::new(x * across, y * up), cost)
    };
    let all = SHARES
        .iter()
        .flat_map(|&x| SHARES.iter().map(move |&y| (x, y)));
    all.map(|(x, y)| place(x, y)).collect()
}

/// A frame with the view in it.
struct Site<'a> {
    frame: Bounds,
    view: &'a Room,
    origin: Vector,
    inside_head: bool,
}

impl Site<'_> {
    /// Places all parts in turn; None if one does not fit, or if it costs more than `limit`, mm.
    fn place_all<'a>(
        &self,
        parts: &'a [Part],
        limit: f64,
    ) -> Option<(Vec<(&'a Block, Point)>, f64)> {
        let (mut placed, mut taken, mut total) = (Vec::new(), Vec::new(), 0.0);
        for part in parts {
            let mut best: Option<(&Block, Point)> = None;
            let mut bound = limit - total;
            for (rank, shape) in part.shapes.iter().enumerate() {
                let extra = rank as f64 * OTHER_SHAPE;
                if let Some((at, cost)) = self.place(part, shape, &taken, bound - extra) {
                    best = Some((shape, at));
                    bound = cost + extra;
                }
            }
            let (shape, at) = best?;
            taken.push(shape.bounds_at(at));
            placed.push((shape, at));
            total += bound;
        }
        Some((placed, total))
    }

    /// The place of a shape that costs least, if less than `limit`: it should be near its part's corner,
    /// and in line with the frame or with parts that have their place already.
    fn place(
        &self,
        part: &Part,
        shape: &Block,
        taken: &[Bounds],
        limit: f64,
    ) -> Option<(Point, f64)> {
        let margin = if part.at_frame { 0.0 } else { PART_GAP };
        let within = self.frame.grown(-margin);
        let [right, up] = match part.corner {
            Corner::LowerLeft => [false, false],
            Corner::LowerRight => [true, false],
            Corner::UpperRight => [true, true],
        };
        let along = |axis: usize, high: bool| {
            let ranges: Vec<[f64; 2]> = taken
                .iter()
                .map(|own| [own.low[axis], own.high[axis]])
                .collect();
            places(
                [within.low[axis], within.high[axis]],
                shape.size[axis],
                high,
                &ranges,
            )
        };
        let (xs, ys) = (along(0, right), along(1, up));
        if part.at_frame {
            let corner = Point::new(xs.first()?.0, ys.first()?.0);
            return self
                .is_free(part, shape, taken, corner)
                .then_some((corner, 0.0));
        }
        let mut best: Option<(Point, f64)> = None;
        for &(x, cost_x) in &xs {
            for &(y, cost_y) in &ys {
                let cost = cost_x + cost_y;
                if cost >= best.map_or(limit, |best| best.1) {
                    break;
                }
                if self.is_free(part, shape, taken, Point::new(x, y)) {
                    best = Some((Point::new(x, y), cost));
                }
            }
        }
        best
    }

    /// Whether a shape at `at` keeps its distance from the view and from what is placed already.
    fn is_free(&self, part: &Part, shape: &Block, taken: &[Bounds], at: Point) -> bool {
        // What stands exactly at the distance is free.
        let around = shape.bounds_at(at).grown(PART_GAP - 1e-6);
        taken.iter().all(|other| !other.overlaps(&around))
            && self.view.is_free(
                around.moved(-self.origin),
                self.inside_head && part.inside_head,
            )
    }
}

/// Where a side of length `size` can start within a range, each with what it costs, the cheapest in
/// front: its distance from one end, and [`OUT_OF_LINE`] if it lines up with nothing.
fn places([low, high]: [f64; 2], size: f64, at_high: bool, taken: &[[f64; 2]]) -> Vec<(f64, f64)> {
    let last = high - size;
    let cost = |start: f64| if at_high { last - start } else { start - low };
    let in_line = taken
        .iter()
        .flat_map(|[from, to]| [*from, to - size, to + PART_GAP, from - PART_GAP - size])
        .chain([low, last])
        .map(|start| (start, cost(start)));
    let mut steps = Vec::new();
    let mut off = 0.0;
    while off <= last - low {
        let start = if at_high { last - off } else { low + off };
        steps.push((start, cost(start) + OUT_OF_LINE));
        off += STEP;
    }
    let mut all: Vec<(f64, f64)> = in_line
        .chain(steps)
        .filter(|&(start, _)| start >= low - 1e-9 && start <= last + 1e-9)
        .collect();
    all.sort_by(|a, b| a.1.total_cmp(&b.1));
    all
}
