//! Two eyes at another spacing, with what moves with them.

use nalgebra::{Vector2, center};

use crate::geometry::Point;
use crate::handle::MIRROR_REACH;
use crate::project::Project;

/// The project with two of its eyes `distance`, mm, apart about the point between them; None if there are no
/// such eyes. Slots move with the eye that they are nearest to, and stops, route points and exits with the eye
/// of their drive; what a slot has two nearest eyes for stays.
pub fn spaced(project: &Project, eyes: [usize; 2], distance: f64) -> Option<Project> {
    let mut moved = project.clone();
    set(&mut moved, eyes, distance)?;
    Some(moved)
}

/// See [`spaced`].
pub(crate) fn set(project: &mut Project, [a, b]: [usize; 2], distance: f64) -> Option<()> {
    if a == b {
        return None;
    }
    let (from, to) = (project.eyes.get(a)?.at(), project.eyes.get(b)?.at());
    let middle = center(&from, &to);
    let half = (to - from).try_normalize(0.0).unwrap_or_else(Vector2::x) * (distance / 2.0);
    let shifts = [(a, middle - half - from), (b, middle + half - to)];
    let shift_of = |eye: usize| {
        let own = shifts.iter().find(|(moved, _)| *moved == eye);
        own.map_or_else(Vector2::zeros, |(_, shift)| *shift)
    };
    let owners: Vec<_> = project
        .ties
        .iter()
        .map(|slot| owner(project, slot.at.into()))
        .collect();
    for (slot, owner) in project.ties.iter_mut().zip(owners) {
        let shift = owner.map_or_else(Vector2::zeros, shift_of);
        slot.at = (Point::from(slot.at) + shift).into();
    }
    for drive in &mut project.drives {
        let shift = shift_of(drive.moves.eye());
        let places = drive.stop.iter_mut().chain(&mut drive.via);
        for place in places.chain([&mut drive.exit]) {
            place[0] += shift.x;
            place[1] += shift.y;
        }
    }
    for (eye, shift) in shifts {
        project.eyes[eye].centre = (project.eyes[eye].at() + shift).into();
    }
    Some(())
}

/// The eye that a slot belongs to: the nearest, if no other is as near.
fn owner(project: &Project, at: Point) -> Option<usize> {
    let far = |eye: usize| (project.eyes[eye].at() - at).norm();
    let mut eyes: Vec<usize> = (0..project.eyes.len()).collect();
    eyes.sort_by(|&a, &b| far(a).total_cmp(&far(b)));
    match eyes[..] {
        [first, second, ..] if far(second) - far(first) <= MIRROR_REACH => None,
        [first, ..] => Some(first),
        [] => None,
    }
}

/// The eye that the spacing of `eye` is measured to: its partner across the centre line, else the nearest.
pub fn neighbour(project: &Project, eye: usize) -> Option<usize> {
    let centre = project.eyes.get(eye)?.at();
    project.mirror_eye(eye, MIRROR_REACH).or_else(|| {
        let others = (0..project.eyes.len()).filter(|&other| other != eye);
        let distance = |other: &usize| (project.eyes[*other].at() - centre).norm();
        others.min_by(|a, b| distance(a).total_cmp(&distance(b)))
    })
}

/// The pair whose spacing is meant where nobody says: the first that lies across the centre line, else the
/// first eye and the nearest to it.
pub fn pair(project: &Project) -> Option<[usize; 2]> {
    let mirrored = (0..project.eyes.len()).find_map(|eye| {
        let other = project.mirror_eye(eye, MIRROR_REACH)?;
        Some([eye, other])
    });
    mirrored.or_else(|| Some([0, neighbour(project, 0)?]))
}
