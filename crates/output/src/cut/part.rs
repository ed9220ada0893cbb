//! What each part is made of before the tool is thought of.

use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Line;
use layout::geometry::{Point, Vector, polygon};
use layout::guard::Guard;
use layout::hand::GuardAxis;
use layout::{Laid, Project, wording};

use super::kerf::{Blank, Hole};
use super::words::of;
use super::{CutError, CutOptions, CutPart, Mark};

/// Half of the length of a cross's lines, mm: short enough for a slot's pad, long enough to find with a
/// punch. Own choice.
const CROSS: f64 = 2.0;

/// The part's edge and holes, as the finished part has them.
pub(super) fn blank(
    project: &Project,
    laid: &Laid,
    part: CutPart,
    options: &CutOptions,
) -> Result<Blank, CutError> {
    let (edge, holes) = match part {
        CutPart::Plate => (laid.plate.clone(), plate_holes(project, laid)?),
        CutPart::Foam => {
            let holes = foam_holes(project, laid, options.foam_clearance)?;
            (laid.plate.clone(), holes)
        }
        CutPart::Head => (wall(laid), Vec::new()),
        CutPart::Guard => (flat_guard(laid)?, Vec::new()),
    };
    if edge.is_empty() {
        return Err(CutError::no_edge(project, part));
    }
    Ok(Blank {
        name: part.noun(),
        edge,
        holes,
    })
}

/// The openings, each at its seat's smallest radius, the slots and the cable holes.
fn plate_holes(project: &Project, laid: &Laid) -> Result<Vec<Hole>, CutError> {
    let mut holes = Vec::with_capacity(laid.eyes.len() + laid.slots.len() + laid.drives.len());
    for (index, eye) in laid.eyes.iter().enumerate() {
        let name = format!("opening of {}", of(&project.eye_name(index)));
        let seat = eye.seat.as_ref();
        let seat = seat.map_err(|problem| CutError::no_hole(&name, problem))?;
        let radius = seat.opening_front.min(seat.opening_back);
        holes.push(round_hole(name, eye.centre, radius));
    }
    let slots = laid.slots.iter().enumerate();
    holes.extend(slots.map(|(index, edge)| Hole {
        name: wording::slot(index),
        edge: edge.clone(),
    }));
    for (drive, laid) in project.drives.iter().zip(&laid.drives) {
        let own = laid.holes.iter().enumerate();
        holes.extend(own.map(|(index, hole)| Hole {
            name: wording::cable_hole(index, &drive.name),
            edge: hole.outline(),
        }));
    }
    Ok(holes)
}

/// What each ring sweeps, and a clearance, mm, around it.
fn foam_holes(project: &Project, laid: &Laid, clearance: f64) -> Result<Vec<Hole>, CutError> {
    let names = laid.eyes.iter().enumerate().map(|(index, eye)| {
        let name = format!("hole behind {}", of(&project.eye_name(index)));
        let ring = eye.ring.as_ref();
        ring.map_err(|problem| CutError::no_hole(&name, problem))?;
        Ok(name)
    });
    // Every eye has its ring here, and so its hole.
    let names: Vec<String> = names.collect::<Result<_, CutError>>()?;
    let holes = names.into_iter().zip(laid.foam_holes(clearance));
    Ok(holes
        .map(|(name, hole)| round_hole(name, hole.centre, hole.radius))
        .collect())
}

fn round_hole(name: String, centre: Point, radius: f64) -> Hole {
    Hole {
        name,
        edge: Outline::hull(&[Disc { centre, radius }]),
    }
}

/// Half of the flat guard's size across and up.
fn half_of_guard(guard: &Guard) -> [f64; 2] {
    let (across, along) = (guard.flat_length() / 2.0, guard.length / 2.0);
    match guard.axis {
        GuardAxis::Y => [across, along],
        GuardAxis::X => [along, across],
    }
}

/// The guard laid flat about the plate's origin; empty if it has no size.
fn flat_guard(laid: &Laid) -> Result<Outline, CutError> {
    let guard = laid.guard.as_ref();
    let guard = guard.map_err(|problem| CutError::no_part(CutPart::Guard, problem))?;
    let [x, y] = half_of_guard(guard);
    if x <= 0.0 || y <= 0.0 {
        return Ok(Outline::default());
    }
    let corners = [(-x, -y), (x, -y), (x, y), (-x, y)];
    let corners = corners.map(|(x, y)| Point::new(x, y));
    Ok(Outline::polygon(&corners))
}

/// The line that the guard is bent about, from edge to edge, and its middle.
fn guard_marks(laid: &Laid) -> Vec<Mark> {
    let Ok(guard) = &laid.guard else {
        return Vec::new();
    };
    let [x, y] = half_of_guard(guard);
    let half = match guard.axis {
        GuardAxis::Y => Vector::y() * y,
        GuardAxis::X => Vector::x() * x,
    };
    let (start, end) = (Point::origin() - half, Point::origin() + half);
    let axis = Mark {
        name: "bend axis".to_owned(),
        lines: vec![Line { start, end }],
    };
    vec![axis, cross("middle".to_owned(), Point::origin())]
}

/// The head's inside wall; empty where it crosses itself, where inside means nothing.
fn wall(laid: &Laid) -> Outline {
    if laid.wall.len() < 3 || polygon::self_crossing(&laid.wall).is_some() {
        return Outline::default();
    }
    Outline::polygon(&laid.wall)
}

/// The centre-line, the centres of the eyes, and those of slots or anchor holes.
pub(super) fn marks(project: &Project, laid: &Laid, part: CutPart) -> Vec<Mark> {
    let edge = match part {
        CutPart::Guard => return guard_marks(laid),
        CutPart::Plate | CutPart::Foam => laid.plate.bounds(),
        CutPart::Head => wall(laid).bounds(),
    };
    let eyes = laid.eyes.iter().enumerate();
    let eyes = eyes.map(|(index, eye)| {
        let name = format!("centre of {}", of(&project.eye_name(index)));
        cross(name, eye.centre)
    });
    let line = edge.and_then(centre_line);
    let mut marks: Vec<Mark> = line.into_iter().chain(eyes).collect();
    match part {
        CutPart::Plate | CutPart::Foam => {
            let slots = project.ties.iter().enumerate();
            marks.extend(slots.map(|(index, tie)| {
                cross(format!("centre of {}", wording::slot(index)), tie.at.into())
            }));
        }
        // It has marks of its own.
        CutPart::Guard => {}
        CutPart::Head => {
            let holes = project.head.anchor_holes.iter().enumerate();
            marks.extend(holes.map(|(index, hole)| {
                cross(
                    format!("centre of anchor hole {}", index + 1),
                    hole.at.into(),
                )
            }));
        }
    }
    marks
}

/// The centre-line, from end to end of a box that it passes.
fn centre_line([low, high]: [Point; 2]) -> Option<Mark> {
    (low.x < 0.0 && high.x > 0.0).then(|| Mark {
        name: "centre-line".to_owned(),
        lines: vec![Line {
            start: Point::new(0.0, low.y),
            end: Point::new(0.0, high.y),
        }],
    })
}

fn cross(name: String, at: Point) -> Mark {
    let along = |half: Vector| Line {
        start: at - half,
        end: at + half,
    };
    Mark {
        name,
        lines: vec![along(Vector::x() * CROSS), along(Vector::y() * CROSS)],
    }
}
