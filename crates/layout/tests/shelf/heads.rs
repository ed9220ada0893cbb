//! Random heads and plates, concave ones and such as do not fit among them.

use layout::Project;
use layout::head;
use layout::shelf::ShelfPlate;

use crate::common::{Random, pair, star};

/// A head: an ellipse up to nearly a rectangle, a star, a room with a pillar in one wall, or a smooth
/// curve.
pub(super) fn random_head(random: &mut Random) -> Project {
    let mut project = pair();
    let (width, height) = (random.between(120.0, 220.0), random.between(120.0, 220.0));
    let squareness = random.between(0.0, 0.8);
    let count = 8 + random.below(12);
    (project.head.outline, project.head.smooth) = match random.below(4) {
        0 => (head::start_outline(width, height, squareness), false),
        1 => (star(random, count, 60.0, 120.0), false),
        2 => (with_pillar(random, width / 2.0, height / 2.0), false),
        _ => (star(random, 8, 70.0, 105.0), true),
    };
    project
}

/// A rectangle with a notch that comes in from its right wall.
fn with_pillar(random: &mut Random, x: f64, y: f64) -> Vec<[f64; 2]> {
    let (deep, low) = (random.between(5.0, 40.0), random.between(-0.8, 0.5) * y);
    let high = low + random.between(4.0, 25.0);
    vec![
        [-x, -y],
        [x, -y],
        [x, low],
        [x - deep, low],
        [x - deep, high],
        [x, high],
        [x, y],
        [-x, y],
    ]
}

/// A plate of a pair of eyes: a rectangle, a star, or a bow tie; of all sizes, about an origin of its
/// own.
pub(super) fn random_plate(random: &mut Random) -> ShelfPlate {
    let (x, y) = (random.between(30.0, 90.0), random.between(15.0, 60.0));
    let count = 5 + random.below(8);
    let outline = match random.below(3) {
        0 => vec![[-x, -y], [x, -y], [x, y], [-x, y]],
        1 => star(random, count, 20.0, x),
        _ => {
            let waist = random.between(0.2, 0.9) * y;
            vec![
                [-x, -y],
                [0.0, -waist],
                [x, -y],
                [x, y],
                [0.0, waist],
                [-x, y],
            ]
        }
    };
    let off = random.point(20.0);
    let moved = |[x, y]: [f64; 2]| [x + off.x, y + off.y];
    let eyes = [[-15.0, 0.0], [15.0, 0.0]].map(moved);
    ShelfPlate {
        outline: Some(outline.into_iter().map(moved).collect()),
        ..ShelfPlate::unmeasured("any", &eyes)
    }
}
