//! The plate cut by an upright plane across x, in the side cut's own axes: depth behind the front face
//! to the right, y up, mm.

use layout::geometry::{Point, polygon};
use layout::seat::Seat;
use layout::{Laid, LaidEye, Project};

/// Steps through the plate's thickness in which a round wall is drawn: over a plate as thick as a ball's
/// radius they stay within a thousandth of that radius.
const STEPS: u32 = 16;

/// A hole in the plane: where it begins and ends along y at each depth.
type Hole = Vec<[f64; 2]>;

/// What holes, sorted by where they begin, leave of a span.
pub(super) fn without([low, high]: [f64; 2], holes: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let (mut left, mut from) = (Vec::new(), low);
    for &[start, end] in holes {
        left.push([from, start.min(high)]);
        from = from.max(end);
    }
    left.push([from, high]);
    left.retain(|[from, to]| from < to);
    left
}

/// The edges of the plate's pieces in the plane at `x`, from the lowest up.
pub(super) fn plate(project: &Project, laid: &Laid, x: f64) -> Vec<Vec<Point>> {
    let depths: Vec<f64> = (0..=STEPS)
        .map(|step| project.plate.thickness * f64::from(step) / f64::from(STEPS))
        .collect();
    let eyes = laid.eyes.iter().enumerate();
    let openings =
        eyes.filter_map(|(index, eye)| opening(eye, project.parts_of(index).seat, x, &depths));
    let cable_holes = laid
        .cable_holes()
        .map(layout::cable_hole::CableHole::outline);
    let straight: Vec<[f64; 2]> = laid
        .slots
        .iter()
        .cloned()
        .chain(cable_holes)
        .flat_map(|hole| polygon::spans(&hole.flattened(), x))
        .collect();
    let mut holes: Vec<Hole> = openings
        .chain(straight.into_iter().map(|span| vec![span; depths.len()]))
        .collect();
    holes.sort_by(|a, b| a[0][0].total_cmp(&b[0][0]));
    polygon::spans(&laid.plate.flattened(), x)
        .into_iter()
        .flat_map(|span| pieces(span, &holes, &depths))
        .collect()
}

/// The opening of an eye in the plane at `x`; None if the plane misses it.
fn opening(eye: &LaidEye, seat: Seat, x: f64, depths: &[f64]) -> Option<Hole> {
    let fit = eye.seat.as_ref().ok()?;
    let off = x - eye.centre.x;
    let radius = |depth: f64| match seat {
        Seat::Plain { .. } => fit.opening_front,
        // A zone of a sphere about the ball's centre.
        Seat::Spherical { .. } => {
            let sphere = fit.opening_front.hypot(fit.centre_height);
            let below = fit.centre_height + depth;
            (sphere * sphere - below * below).max(0.0).sqrt()
        }
    };
    let hole = depths.iter().map(|&depth| {
        let half = (radius(depth).powi(2) - off * off).max(0.0).sqrt();
        [eye.centre.y - half, eye.centre.y + half]
    });
    let hole: Hole = hole.collect();
    hole.iter().any(|[low, high]| low < high).then_some(hole)
}

/// What holes leave of a span of the plate, each piece by its edge.
fn pieces([low, high]: [f64; 2], holes: &[Hole], depths: &[f64]) -> Vec<Vec<Point>> {
    let wall = |y: f64| vec![y; depths.len()];
    let lower: Vec<Vec<f64>> = std::iter::once(wall(low))
        .chain(holes.iter().scan(wall(low), |reached, hole| {
            for (reached, [_, end]) in reached.iter_mut().zip(hole) {
                *reached = reached.max(*end);
            }
            Some(reached.clone())
        }))
        .collect();
    let starts = holes
        .iter()
        .map(|hole| hole.iter().map(|span| span[0].min(high)).collect());
    let upper = starts.chain([wall(high)]);
    let between = lower.iter().zip(upper);
    between
        .filter(|(lower, upper)| lower.iter().zip(upper).any(|(low, high)| low < high))
        .map(|(lower, upper)| {
            let up = depths
                .iter()
                .zip(lower)
                .map(|(&depth, &y)| Point::new(depth, y));
            let back = upper.iter().zip(lower).map(|(high, low)| high.max(*low));
            let down = depths
                .iter()
                .zip(back)
                .map(|(&depth, y)| Point::new(depth, y));
            up.chain(down.rev()).collect()
        })
        .collect()
}
