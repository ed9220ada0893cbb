//! Sheaths and the levers of other drives, against levers that are really turned.

use layout::drive::Moves;
use layout::lid::Which;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::Random;
use crate::common::routes::random_head;
use crate::common::space::{Vector, add, dot, less, lifted, scaled, to_side};

/// Distance between places of a sheath that are looked at, mm.
const STEP: f64 = 0.5;

/// Poses of each turn that are looked at.
const POSES: i32 = 40;

/// Half of a lever's thickness, and of its width, mm.
const HALF: [f64; 2] = [1.5, 2.5];

/// From `low` to `high`.
fn spread(low: f64, high: f64) -> impl Iterator<Item = f64> {
    (0..=POSES).map(move |pose| low + (high - low) * f64::from(pose) / f64::from(POSES))
}

fn off_segment(place: Vector, start: Vector, end: Vector) -> f64 {
    let along = less(end, start);
    let share = (dot(less(place, start), along) / dot(along, along)).clamp(0.0, 1.0);
    let off = less(place, add(start, scaled(along, share)));
    dot(off, off).sqrt()
}

/// The lever of a drive in each of its poses, from its axis or ball to its tip, from the ball's centre.
fn poses(project: &Project, drive: usize) -> Vec<[Vector; 2]> {
    let drive = &project.drives[drive];
    let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| turn.0.to_radians());
    match drive.moves {
        Moves::Lid { which, .. } => {
            let lids = project.parts.lids.expect("lids");
            let lid = lids.lid(which).expect("the lid");
            let [closed, open] = [lid.closed, lid.open].map(|angle| angle.0.to_radians());
            let sign = if which == Which::Upper { 1.0 } else { -1.0 };
            let tip = |open: f64| lifted(drive.tip, sign * (open - closed));
            let root = [drive.tip[0], 0.0, 0.0];
            spread(closed, open).map(|turn| [root, tip(turn)]).collect()
        }
        Moves::Gaze { .. } => {
            let start = scaled(drive.tip, 20.0 / dot(drive.tip, drive.tip).sqrt());
            let turned =
                |lift: f64, side: f64| [start, drive.tip].map(|at| to_side(lifted(at, lift), side));
            spread(-lift, lift)
                .flat_map(|lift| spread(-side, side).map(move |side| (lift, side)))
                .map(|(lift, side)| turned(lift, side))
                .collect()
        }
    }
}

/// How far a place is from the lever of a drive in all of its poses, mm.
fn off_lever(project: &Project, drive: usize, poses: &[[Vector; 2]], place: Vector) -> f64 {
    let moves = project.drives[drive].moves;
    let [x, y] = project.eyes[moves.eye()].centre;
    let place = less(place, [x, y, 4.0]);
    let nearest = |place| {
        let off = poses
            .iter()
            .map(|[start, end]| off_segment(place, *start, *end));
        off.fold(f64::INFINITY, f64::min)
    };
    if matches!(moves, Moves::Gaze { .. }) {
        return nearest(place) - HALF[1];
    }
    let axial = place[0] - project.drives[drive].tip[0];
    let level = [project.drives[drive].tip[0], place[1], place[2]];
    let (beyond, off) = (axial.abs() - HALF[0], nearest(level) - HALF[1]);
    if beyond < 0.0 && off < 0.0 {
        return beyond.max(off);
    }
    beyond.max(0.0).hypot(off.max(0.0))
}

#[test]
fn sheaths_keep_from_other_levers_what_places_along_them_do_in_every_pose() {
    let mut random = Random::new(161);
    let (mut near, mut fouls, mut compared) = (0, 0, 0);
    while compared < 100 {
        let mut project = random_head(&mut random);
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        let laid = Laid::out(&project);
        let report = evaluate(&project);
        let levers: Vec<_> = (0..project.drives.len())
            .map(|drive| poses(&project, drive))
            .collect();
        for (index, drive) in laid.drives.iter().enumerate() {
            let Some((route, found)) = drive
                .sheath()
                .zip(report.figures.drives[index].sheath_lever_mm)
            else {
                continue;
            };
            let mut least = f64::INFINITY;
            for piece in &route.pieces {
                let mut along = 0.0;
                while along <= piece.length() {
                    let place: Vector = piece.at(along / piece.length().max(STEP)).into();
                    for other in (0..levers.len()).filter(|other| *other != index) {
                        least = least.min(off_lever(&project, other, &levers[other], place));
                    }
                    along += STEP;
                }
            }
            let margin = least - drive.sheath_radius;
            // The search passes over 0.01 mm; places lie up to half a step off, poses of both turns half a degree.
            assert!((-0.02..0.6).contains(&(margin - found)), "{found} {margin}");
            near += u32::from(margin > 0.0 && margin < 20.0);
            fouls += u32::from(margin < 0.0);
            compared += 1;
        }
    }
    assert!(near > 20 && fouls > 10, "{near} {fouls}");
}
