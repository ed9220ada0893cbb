//! A smooth curve through points.

use kurbo::{CubicBez, PathSeg, Point, Vec2};

/// Rounds of correcting each slope by its neighbours: each leaves at most a quarter of the error.
const ROUNDS: usize = 40;

/// The cubic spline through points whose curvature never jumps, its parameter the length along the
/// chords; `tangents` are the directions at its ends, if given. Closed, it runs on to its first point.
pub(super) fn through(points: &[Point], closed: bool, tangents: [Option<Vec2>; 2]) -> Vec<PathSeg> {
    let mut points = points.to_vec();
    points.dedup();
    if closed && points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if points.len() < 2 {
        return Vec::new();
    }
    if closed {
        points.push(points[0]);
    }
    let chords: Vec<Vec2> = points.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let slopes = slopes(&chords, closed, tangents);
    let pieces = (0..chords.len()).map(|index| {
        let third = chords[index].hypot() / 3.0;
        let (from, to) = (points[index], points[index + 1]);
        PathSeg::Cubic(CubicBez::new(
            from,
            from + slopes[index] * third,
            to - slopes[index + 1] * third,
            to,
        ))
    });
    pieces.collect()
}

/// The slope at each point, found round by round: at every inner point it follows from the slopes
/// beside it and from the chords.
fn slopes(chords: &[Vec2], closed: bool, tangents: [Option<Vec2>; 2]) -> Vec<Vec2> {
    let count = chords.len();
    let along = |index: usize| chords[index].normalize();
    let long = |index: usize| chords[index].hypot();
    let inner = |before: usize, after: usize, last: Vec2, next: Vec2| {
        let (h, k) = (long(before), long(after));
        let pull = 3.0 * (along(before) * k + along(after) * h) - last * k - next * h;
        pull / (2.0 * (h + k))
    };
    let unit = |tangent: Option<Vec2>| tangent.filter(|t| t.hypot() > 0.0).map(Vec2::normalize);
    let [first, last] = tangents.map(unit);
    let mut slopes: Vec<Vec2> = (0..=count)
        .map(|index| along(index.min(count - 1)))
        .collect();
    for _ in 0..ROUNDS {
        for index in 1..count {
            slopes[index] = inner(index - 1, index, slopes[index - 1], slopes[index + 1]);
        }
        if closed {
            slopes[0] = inner(count - 1, 0, slopes[count - 1], slopes[1]);
            slopes[count] = slopes[0];
        } else {
            // Where no direction is given, the curve ends straight.
            slopes[0] = first.unwrap_or(along(0) * 1.5 - slopes[1] * 0.5);
            let free = along(count - 1) * 1.5 - slopes[count - 1] * 0.5;
            slopes[count] = last.unwrap_or(free);
        }
    }
    slopes
}
