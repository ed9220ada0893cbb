//! What each part is made of before the tool is thought of.

use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::Line;
use layout::geometry::{Point, Vector, polygon};
use layout::guard::Guard;
use layout::hand::GuardAxis;
use layout::smallest_head::smallest_head;
use layout::{Laid, Problem, Project, wording};

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
        CutPart::Guard => (Outline::polygon(&flat_guard(laid)?), Vec::new()),
        CutPart::Head => (wall(laid), Vec::new()),
        CutPart::SmallestHead => (smallest_head(project, laid)?.outline, Vec::new()),
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
    let cable_holes = laid.named_cable_holes(project).into_iter();
    holes.extend(cable_holes.map(|(name, hole)| Hole {
        name,
        edge: hole.outline(),
    }));
    Ok(holes)
}

/// The passages of the cables through the foam, with a clearance, mm, around each.
fn cable_passages<'a>(
    project: &'a Project,
    laid: &'a Laid,
    clearance: f64,
) -> impl Iterator<Item = Hole> + 'a {
    let drives = project.drives.iter().zip(&laid.drives);
    drives.flat_map(move |(drive, laid)| {
        let own = laid.holes.iter().enumerate();
        own.map(move |(index, hole)| Hole {
            name: wording::cable_hole(index, &drive.name),
            edge: hole.outline_around(clearance),
        })
    })
}

/// The passages of the rods through the foam, with a clearance, mm, around each.
fn rod_passages<'a>(
    project: &'a Project,
    laid: &Laid,
    clearance: f64,
) -> impl Iterator<Item = Hole> + use<'a> {
    let passages = laid.foam_passages(project, clearance).into_iter();
    passages.map(|(rod, edge)| Hole {
        name: format!("passage of {}", of(&project.rods[rod].name)),
        edge,
    })
}

/// What each ring sweeps, and the passages of cables and rods, with a clearance, mm, around each.
fn foam_holes(project: &Project, laid: &Laid, clearance: f64) -> Result<Vec<Hole>, CutError> {
    let name = |index: usize| format!("hole behind {}", of(&project.eye_name(index)));
    for (index, eye) in laid.eyes.iter().enumerate() {
        if let Err(problem) = &eye.ring {
            return Err(CutError::no_hole(&name(index), problem));
        }
    }
    let holes = laid.foam_holes(clearance).into_iter().enumerate();
    let holes = holes.map(|(index, disc)| round_hole(name(index), disc.centre, disc.radius));
    let passages = cable_passages(project, laid, clearance);
    let passages = passages.chain(rod_passages(project, laid, clearance));
    Ok(holes.chain(passages).collect())
}

/// Corners of the guard's mesh before it is bent, counter-clockwise about the plate's origin.
fn flat_guard(laid: &Laid) -> Result<[Point; 4], CutError> {
    let guard = laid.guard.as_ref().map_err(Problem::clone)?;
    let [across, along] = [guard.flat_length() / 2.0, guard.length / 2.0];
    let [x, y] = match guard.axis {
        GuardAxis::Y => [across, along],
        GuardAxis::X => [along, across],
    };
    Ok([(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| Point::new(x, y)))
}

/// The line about which the guard is bent, and a cross at each of its ends.
fn guard_marks(guard: &Guard) -> Vec<Mark> {
    let along = match guard.axis {
        GuardAxis::Y => Vector::y(),
        GuardAxis::X => Vector::x(),
    };
    let half = guard.length / 2.0;
    let at = |along_axis: f64| Point::origin() + along * along_axis;
    let middle = Mark {
        name: "middle line".to_owned(),
        lines: vec![Line {
            start: at(-half),
            end: at(half),
        }],
    };
    // Within the mesh.
    let inset = (half - CROSS).max(0.0);
    let ends = [-inset, inset].map(|end| cross("end of the bend axis".to_owned(), at(end)));
    std::iter::once(middle).chain(ends).collect()
}

fn round_hole(name: String, centre: Point, radius: f64) -> Hole {
    Hole {
        name,
        edge: Outline::hull(&[Disc { centre, radius }]),
    }
}

/// The head's inside wall; empty where it crosses itself, where inside means nothing.
fn wall(laid: &Laid) -> Outline {
    if laid.wall.len() < 3 || polygon::self_crossing(&laid.wall).is_some() {
        return Outline::default();
    }
    Outline::polygon(&laid.wall)
}

/// The centre-line within the part's edge, the centres of the eyes, and those of slots or anchor holes; or a
/// guard's own.
pub(super) fn marks(project: &Project, laid: &Laid, part: CutPart, edge: &Outline) -> Vec<Mark> {
    if part == CutPart::Guard {
        return laid.guard.iter().flat_map(guard_marks).collect();
    }
    let eyes = laid.eyes.iter().enumerate();
    let eyes = eyes.map(|(index, eye)| {
        let name = format!("centre of {}", of(&project.eye_name(index)));
        cross(name, eye.centre)
    });
    let line = edge.bounds().and_then(centre_line);
    let mut marks: Vec<Mark> = line.into_iter().chain(eyes).collect();
    match part {
        CutPart::Plate | CutPart::Foam => {
            let slots = project.ties.iter().enumerate();
            marks.extend(slots.map(|(index, tie)| {
                cross(format!("centre of {}", wording::slot(index)), tie.at.into())
            }));
        }
        // The anchor holes are those of the wall that stands.
        CutPart::Guard | CutPart::SmallestHead => {}
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
