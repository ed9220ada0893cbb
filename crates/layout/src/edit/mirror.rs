//! What is mirrored in the centre line.

use super::HeadSide;

/// Points nearer to the centre line than this, mm, lie on it.
const ON_LINE: f64 = 0.5;

/// The outline whose other side mirrors the one that is kept; None if nothing lies there. The kept
/// side must be one run of points.
pub(super) fn outline(outline: &[[f64; 2]], keep: HeadSide) -> Option<Vec<[f64; 2]>> {
    let sign = match keep {
        HeadSide::Left => -1.0,
        HeadSide::Right => 1.0,
    };
    let kept = |p: &[f64; 2]| p[0] * sign > ON_LINE;
    let count = outline.len();
    // The run starts where the outline comes over from the other side.
    let start =
        (0..count).find(|&i| kept(&outline[i]) && !kept(&outline[(i + count - 1) % count]))?;
    let run: Vec<_> = (0..count)
        .map(|step| outline[(start + step) % count])
        .take_while(kept)
        .collect();
    let on_line = |p: [f64; 2]| (p[0].abs() <= ON_LINE).then_some([0.0, p[1]]);
    let before = on_line(outline[(start + count - 1) % count]);
    let after = on_line(outline[(start + run.len()) % count]);
    let mirror = run.iter().rev().map(|&p| opposite(p));
    Some(
        before
            .into_iter()
            .chain(run.iter().copied())
            .chain(after)
            .chain(mirror)
            .collect(),
    )
}

/// The place opposite.
pub(super) fn opposite([x, y]: [f64; 2]) -> [f64; 2] {
    [-x, y]
}

/// A place, and the one opposite if it is `mirrored` and lies off the line.
pub(super) fn pair(at: [f64; 2], mirrored: bool) -> impl Iterator<Item = [f64; 2]> {
    let other = (mirrored && at[0] != 0.0).then(|| opposite(at));
    [at].into_iter().chain(other)
}
