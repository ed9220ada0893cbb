//! Two eyes put apart.

use crate::project::Project;

/// Puts two eyes `distance` apart, mm, about the point between them, along the line that they lie on; None
/// if there are no such two.
pub(super) fn set(p: &mut Project, [a, b]: [usize; 2], distance: f64) -> Option<()> {
    if a == b {
        return None;
    }
    let (from, to) = (p.eyes.get(a)?.at(), p.eyes.get(b)?.at());
    let middle = nalgebra::center(&from, &to);
    let along = (to - from)
        .try_normalize(0.0)
        .unwrap_or_else(nalgebra::Vector2::x);
    p.eyes[a].centre = (middle - along * (distance / 2.0)).into();
    p.eyes[b].centre = (middle + along * (distance / 2.0)).into();
    Some(())
}
