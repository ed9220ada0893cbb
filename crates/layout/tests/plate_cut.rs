//! The plate's cut against the shapes that are cut out of it.

use approx::assert_abs_diff_eq;
use layout::drive::End;
use layout::geometry::polygon::FLATTENING;
use layout::{Laid, plate_cut};

use crate::common::lidded_pair;

#[test]
fn a_cable_hole_parts_the_plate_where_it_stands() {
    let mut project = lidded_pair();
    let drive = &mut project.drives[1];
    (drive.near, drive.tip, drive.exit) = (End::Closed, [29.5, -12.0, 0.0], [48.0, -60.0, -32.0]);
    let laid = Laid::out(&project);
    let hole = laid.drives[1].holes[0];
    let middle = hole.middle();
    let edge = laid.plate.flattened();
    let pieces = plate_cut::pieces(&project, &laid, &edge, middle.x);
    let walls = |pieces: &[plate_cut::Piece]| -> Vec<[f64; 2]> {
        let ends = pieces.iter();
        ends.map(|piece| [piece.lower[0].y, piece.upper[0].y])
            .collect()
    };
    let spans = walls(&pieces);
    assert!(
        spans
            .iter()
            .all(|[low, high]| !(*low..*high).contains(&middle.y))
    );
    // It leans in this plane, so that its whole length lies there, to the chords of its ends.
    let half = hole.size()[0] / 2.0;
    let below = spans
        .iter()
        .map(|span| span[1])
        .find(|high| (middle.y - high - half).abs() < FLATTENING);
    let above = spans
        .iter()
        .map(|span| span[0])
        .find(|low| (low - middle.y - half).abs() < FLATTENING);
    assert!(
        below.is_some() && above.is_some(),
        "{spans:?} about {middle}"
    );
    // Without it the plate is whole there.
    project.drives.clear();
    let laid = Laid::out(&project);
    let pieces = plate_cut::pieces(&project, &laid, &laid.plate.flattened(), middle.x);
    let [[low, high]] = walls(&pieces)[..] else {
        panic!("{} pieces", pieces.len());
    };
    assert!(low < middle.y && middle.y < high);
    assert_abs_diff_eq!(pieces[0].upper[0].x, 0.0);
}
