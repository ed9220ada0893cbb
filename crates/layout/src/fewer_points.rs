//! A drawn curve redrawn smoothly with few points: an outline from a file has hundreds, too many to
//! drag.

use crate::geometry::Point;
use crate::geometry::polygon;
use crate::geometry::segment::Line;

/// How far a curve may lie off its own mirror image, mm, and still be drawn in mirrored pairs: finer
/// than anything that is cut by hand.
const SYMMETRIC: f64 = 0.1;

/// Least number of places along a curve where a point of the new one may stand.
const PLACES: f64 = 600.0;

/// Places per mm that the new points keep.
const ROUNDING: f64 = 1_000.0;

/// The points of a smooth curve, mm, that stays `within` mm of the old one, which `points` give,
/// smoothed or straight; and the old one of it. Counter-clockwise like the old one, and mirrored where
/// that is. None if it takes no fewer points, or cannot be done.
pub fn fewer_points(points: &[[f64; 2]], smooth: bool, within: f64) -> Option<Vec<[f64; 2]>> {
    let old = polygon::through(points, smooth);
    let places = Places::along(&old)?;
    // What is rounded off in the end is kept back.
    let within = within - 1.0 / ROUNDING;
    let knots = places.thinned(places.enough(within, points.len())?, within);
    let new: Vec<[f64; 2]> = knots.iter().map(|&at| places.rounded(at)).collect();
    (new.len() < points.len()).then_some(new)
}

/// Places along a closed curve, close together.
struct Places {
    all: Vec<Point>,
    /// Whether the second half mirrors the first, which runs from one place on the centre line to
    /// another.
    mirrored: bool,
}

impl Places {
    fn along(curve: &[Point]) -> Option<Self> {
        if curve.len() < 3 {
            return None;
        }
        let length: f64 = polygon::edges(curve)
            .map(|edge| (edge.end - edge.start).norm())
            .sum();
        let step = length / PLACES;
        if !(step.is_normal() && step > 0.0) {
            return None;
        }
        let half = left_half(curve);
        let mirrored = half.is_some();
        let mut all = match &half {
            Some(half) => half
                .windows(2)
                .flat_map(|ends| divided(ends[0], ends[1], step))
                .collect(),
            None => polygon::edges(curve)
                .flat_map(|edge| divided(edge.start, edge.end, step))
                .collect::<Vec<Point>>(),
        };
        if let Some(end) = half.as_ref().and_then(|half| half.last()) {
            let back: Vec<Point> = { all[1..].iter().rev() }
                .map(|at| Point::new(-at.x, at.y))
                .collect();
            all.push(*end);
            all.extend(back);
        }
        Some(Self { all, mirrored })
    }

    /// The place across the centre line.
    fn partner(&self, at: usize) -> usize {
        if self.mirrored {
            (self.all.len() - at) % self.all.len()
        } else {
            at
        }
    }

    fn rounded(&self, at: usize) -> [f64; 2] {
        let Point { coords: at } = self.all[at];
        // What lies on the centre line has no side.
        [at.x, at.y].map(|along| (along * ROUNDING).round() / ROUNDING + 0.0)
    }

    /// The outermost places, in order.
    fn outermost(&self) -> Vec<usize> {
        let by = |measure: fn(&Point) -> f64| {
            let places = self.all.iter().enumerate();
            places
                .max_by(|a, b| measure(a.1).total_cmp(&measure(b.1)))
                .map(|(at, _)| at)
        };
        let far = [by(|p| p.x), by(|p| -p.x), by(|p| p.y), by(|p| -p.y)];
        let mut knots: Vec<usize> = far.into_iter().flatten().collect();
        if self.mirrored {
            knots.extend([0, self.all.len() / 2]);
        }
        self.with_partners(knots)
    }

    fn with_partners(&self, knots: Vec<usize>) -> Vec<usize> {
        let partners: Vec<usize> = knots.iter().map(|&at| self.partner(at)).collect();
        let mut all = [knots, partners].concat();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Knots that keep the curve `within`, mm, and are fewer than `most`: one more where it strays most.
    fn enough(&self, within: f64, most: usize) -> Option<Vec<usize>> {
        let mut knots = self.outermost();
        while knots.len() < most {
            let (stray, at) = self.worst(&knots);
            if stray <= within {
                return Some(knots);
            }
            knots = self.with_partners([knots, vec![at?]].concat());
        }
        None
    }

    /// The knots without those that are not needed.
    fn thinned(&self, mut knots: Vec<usize>, within: f64) -> Vec<usize> {
        let mut index = 0;
        while index < knots.len() {
            let gone = [knots[index], self.partner(knots[index])];
            let left: Vec<usize> = { knots.iter().copied() }
                .filter(|at| !gone.contains(at))
                .collect();
            if left.len() >= 3 && self.worst(&left).0 <= within {
                knots = left;
            } else {
                index += 1;
            }
        }
        knots
    }

    /// How far the smooth curve through the knots and the old one stray from each other at most, and the
    /// place between two knots where another helps most. Each stretch is held against the same stretch of
    /// the other curve, which may lie farther than the nearest place, never nearer.
    fn worst(&self, knots: &[usize]) -> (f64, Option<usize>) {
        let through: Vec<[f64; 2]> = knots.iter().map(|&at| self.all[at].into()).collect();
        let new = polygon::through(&through, true);
        let mut worst = (0.0, None);
        let mut from = 0;
        for index in 0..knots.len() {
            let next = (index + 1) % knots.len();
            let end = self.all[knots[next]];
            let past = new[from + 1..]
                .iter()
                .position(|at| (at - end).norm() < 1e-9);
            let to = past.map_or(new.len(), |past| from + 1 + past);
            let mut stretch = new[from..to].to_vec();
            stretch.push(end);
            let (stray, at) = self.stray(knots[index], knots[next], &stretch);
            if stray > worst.0 {
                worst = (stray, at);
            }
            from = to;
        }
        worst
    }

    /// How far a stretch of the old curve and one of the new stray from each other, and where.
    fn stray(&self, from: usize, to: usize, new: &[Point]) -> (f64, Option<usize>) {
        let count = self.all.len();
        let steps = (to + count - from) % count;
        let steps = if steps == 0 { count } else { steps };
        let old: Vec<Point> = (0..=steps)
            .map(|step| self.all[(from + step) % count])
            .collect();
        let inside = |step: usize| step.clamp(1, steps.saturating_sub(1).max(1));
        let place = |step: usize| (steps > 1).then(|| (from + inside(step)) % count);
        let of_old = old
            .iter()
            .enumerate()
            .map(|(step, &at)| (off(at, new), step));
        let of_new = new.iter().map(|&at| {
            let distance = |step: &usize| (old[*step] - at).norm();
            let nearest = (0..old.len()).min_by(|a, b| distance(a).total_cmp(&distance(b)));
            (off(at, &old), nearest.unwrap_or_default())
        });
        let worst = of_old.chain(of_new).max_by(|a, b| a.0.total_cmp(&b.0));
        worst.map_or((0.0, None), |(stray, step)| (stray, place(step)))
    }
}

/// How far a place lies off a path.
fn off(at: Point, path: &[Point]) -> f64 {
    let lines = path.windows(2).map(|ends| Line {
        start: ends[0],
        end: ends[1],
    });
    let off = |line: Line| (line.nearest(at) - at).norm();
    lines.map(off).fold(f64::INFINITY, f64::min)
}

/// Places from one to the next, which is left out, at most `step` apart.
fn divided(from: Point, to: Point, step: f64) -> impl Iterator<Item = Point> {
    let pieces = ((to - from).norm() / step).ceil().clamp(1.0, PLACES);
    std::iter::successors(Some(0.0), move |at| {
        Some(at + 1.0).filter(|&at| at < pieces)
    })
    .map(move |at| from + (to - from) * (at / pieces))
}

/// The half of a curve that mirrors to the whole: from the centre line down the left to it again. None
/// if the curve is not symmetric.
fn left_half(curve: &[Point]) -> Option<Vec<Point>> {
    let mirrored: Vec<Point> = curve.iter().map(|at| Point::new(-at.x, at.y)).collect();
    let closed: Vec<Point> = mirrored.iter().chain(mirrored.first()).copied().collect();
    if curve.iter().any(|&at| off(at, &closed) > SYMMETRIC) {
        return None;
    }
    // Where it comes over to the left, and where it goes again.
    let crossing = |edge: &Line, into: bool| {
        let over = if into {
            edge.start.x >= 0.0 && edge.end.x < 0.0
        } else {
            edge.start.x < 0.0 && edge.end.x >= 0.0
        };
        let share = edge.start.x / (edge.start.x - edge.end.x);
        over.then(|| Point::new(0.0, edge.start.y + (edge.end.y - edge.start.y) * share))
    };
    let edges: Vec<Line> = polygon::edges(curve).collect();
    let crossings = |into: bool| {
        let found = edges.iter().enumerate();
        found.filter_map(move |(index, edge)| Some((index, crossing(edge, into)?)))
    };
    let ((start, first), (end, last)) = (crossings(true).next()?, crossings(false).next()?);
    if crossings(true).count() != 1 || crossings(false).count() != 1 {
        return None;
    }
    let count = curve.len();
    let between = (end + count - start) % count;
    let inside = (1..=between).map(|step| curve[(start + step) % count]);
    let distinct = |at: &Point| (at - first).norm() > 1e-6 && (at - last).norm() > 1e-6;
    Some(
        [first]
            .into_iter()
            .chain(inside.filter(distinct))
            .chain([last])
            .collect(),
    )
}
