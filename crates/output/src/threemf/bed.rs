//! Where solids stand on the bed.

use crate::solid::Solid;

/// Room between two parts on the bed, mm: enough for a brim; own choice.
const ROOM: f64 = 6.0;

/// One solid on the bed.
pub(super) struct Place {
    /// Its index.
    pub(super) solid: usize,
    /// How far it is moved along x and y, mm.
    pub(super) shift: [f64; 2],
}

/// Every solid as often as it is needed, in rows from the bed's corner, no row longer than the
/// widest solid.
pub(super) fn side_by_side(solids: &[Solid]) -> Vec<Place> {
    let boxes: Vec<_> = solids.iter().map(|solid| solid.mesh().bounds()).collect();
    let width = boxes.iter().flatten().map(|[low, high]| high.x - low.x);
    let widest = width.fold(0.0, f64::max);
    let (mut places, mut at, mut next_row) = (Vec::new(), [0.0, 0.0], 0.0_f64);
    for (solid, bounds) in boxes.into_iter().enumerate() {
        let Some([low, high]) = bounds else {
            continue;
        };
        let size = high - low;
        for _ in 0..solids[solid].count() {
            if at[0] > 0.0 && at[0] + size.x > widest {
                at = [0.0, next_row];
            }
            places.push(Place {
                solid,
                shift: [at[0] - low.x, at[1] - low.y],
            });
            at[0] += size.x + ROOM;
            next_row = next_row.max(at[1] + size.y + ROOM);
        }
    }
    places
}
