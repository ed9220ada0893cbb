//! Sheaths and levers, against levers that are really turned.

use layout::drive::{Drive, End, Moves, Turn};
use layout::geometry::space::Piece;
use layout::lid::Which;
use layout::report::{Finding, Report};
use layout::rod::Rod;
use layout::route::Route;
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, State, evaluate};

use crate::common::routes::random_head;
use crate::common::space::{Vector, add, dot, led_on, less, lifted, off_segment, scaled, to_side};
use crate::common::{Random, lidded_pair, rod, side_of};

/// Random heads that are tried.
const HEADS: u32 = 100;

/// Distance between places of a sheath that are looked at, mm.
const STEP: f64 = 0.5;

/// Poses of each turn that are looked at.
const POSES: i32 = 40;

/// Half of a lever's thickness, and of its width, mm.
const HALF: [f64; 2] = [1.5, 2.5];

/// From `low` to `high`.
fn spread(low: f64, high: f64) -> impl Iterator<Item = f64> + Clone {
    (0..=POSES).map(move |pose| low + (high - low) * f64::from(pose) / f64::from(POSES))
}

/// The lever of a drive, from its axis or ball to its tip, from the ball's centre, in a pose: how far a lid has opened, or
/// an eye's turn to the side and up.
fn posed(project: &Project, drive: usize, [a, b]: [f64; 2]) -> [Vector; 2] {
    let drive = &project.drives[drive];
    match drive.moves {
        Moves::Lid { which, .. } => {
            let sign = if which == Which::Upper { 1.0 } else { -1.0 };
            [[drive.tip[0], 0.0, 0.0], lifted(drive.tip, sign * a)]
        }
        Moves::Gaze { .. } => {
            let start = scaled(drive.tip, 20.0 / dot(drive.tip, drive.tip).sqrt());
            [start, drive.tip].map(|at| to_side(lifted(at, b), a))
        }
    }
}

/// The least and the largest of both turns of a lever's poses.
fn turns(project: &Project, drive: usize) -> [[f64; 2]; 2] {
    match project.drives[drive].moves {
        Moves::Lid { which, .. } => {
            let lids = project.parts.lids.expect("lids");
            let lid = lids.lid(which).expect("the lid");
            [[0.0, (lid.open.0 - lid.closed.0).to_radians()], [0.0; 2]]
        }
        Moves::Gaze { .. } => [project.gaze.side, project.gaze.lift]
            .map(|turn| [-turn.0, turn.0].map(f64::to_radians)),
    }
}

/// Poses that are looked at first.
fn poses(project: &Project, drive: usize) -> Vec<[f64; 2]> {
    let [[from, to], [low, high]] = turns(project, drive);
    if low < high {
        let across = |b| spread(from, to).map(move |a| [a, b]);
        spread(low, high).flat_map(across).collect()
    } else {
        spread(from, to).map(|a| [a, low]).collect()
    }
}

/// How far a place is from the lever of a drive where it is posed, mm.
fn off_lever(project: &Project, drive: usize, [start, end]: [Vector; 2], place: Vector) -> f64 {
    let moves = project.drives[drive].moves;
    let [x, y] = project.eyes[moves.eye()].centre;
    let place = less(place, [x, y, 4.0]);
    if matches!(moves, Moves::Gaze { .. }) {
        return off_segment(place, start, end) - HALF[1];
    }
    let axial = place[0] - project.drives[drive].tip[0];
    let level = [project.drives[drive].tip[0], place[1], place[2]];
    let (beyond, off) = (
        axial.abs() - HALF[0],
        off_segment(level, start, end) - HALF[1],
    );
    if beyond < 0.0 && off < 0.0 {
        return beyond.max(off);
    }
    beyond.max(0.0).hypot(off.max(0.0))
}

/// How near a piece of a sheath comes to the lever of a drive in any pose.
fn near_lever(project: &Project, drive: usize, piece: &Piece) -> f64 {
    let levers = poses(project, drive).into_iter();
    let levers: Vec<_> = levers
        .map(|pose| (pose, posed(project, drive, pose)))
        .collect();
    let off = |lever: &[Vector; 2], place| off_lever(project, drive, *lever, place);
    let turned = |pose| Some(posed(project, drive, pose));
    near_posed(piece, &levers, turns(project, drive), turned, off)
}

/// How near a piece comes to something that is posed: at places and in poses that are spread, and from the best of them
/// on by steps that are halved where none leads nearer.
fn near_posed<T>(
    piece: &Piece,
    spread: &[([f64; 2], T)],
    turns: [[f64; 2]; 2],
    turned: impl Fn([f64; 2]) -> Option<T>,
    off: impl Fn(&T, Vector) -> f64,
) -> f64 {
    let length = piece.length();
    let count = (length / STEP).ceil().max(1.0);
    let mut best = ([0.0; 3], f64::INFINITY);
    let mut step = 0.0;
    while step <= count {
        let place = piece.at(step / count).into();
        for ([a, b], posed) in spread {
            let here = off(posed, place);
            if here < best.1 {
                best = ([length * step / count, *a, *b], here);
            }
        }
        step += 1.0;
    }
    let at = |[along, a, b]: [f64; 3]| {
        let place = piece.at(along / length).into();
        turned([a, b]).map_or(f64::INFINITY, |posed| off(&posed, place))
    };
    let ranges = [[0.0, length], turns[0], turns[1]];
    let [own, other] = turns.map(|[from, to]| (to - from) / f64::from(POSES));
    led_on(best, ranges, ([STEP, own, other], 1e-4), at)
}

/// The sheaths that can be laid, by their drives' indices: the route, the tube's radius, and what is found of it, mm.
fn sheaths<'a>(
    laid: &'a Laid,
    report: &'a Report,
) -> impl Iterator<Item = (usize, &'a Route, f64, f64)> {
    let drives = laid.drives.iter().zip(&report.figures.drives).enumerate();
    drives.filter_map(|(index, (drive, figures))| {
        let (route, found) = drive.sheath().zip(figures.sheath_lever_mm)?;
        Some((index, route, drive.sheath_radius, found))
    })
}

#[test]
fn sheaths_keep_from_levers_what_places_along_them_do_in_every_pose() {
    let mut random = Random::new(161);
    let (mut near, mut fouls, mut by_own) = (0, 0, 0);
    for _ in 0..HEADS {
        let mut project = random_head(&mut random);
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        let laid = Laid::out(&project);
        let report = evaluate(&project);
        for (index, route, radius, found) in sheaths(&laid, &report) {
            let (mut own, mut others) = (f64::INFINITY, f64::INFINITY);
            for (number, piece) in route.pieces.iter().enumerate() {
                for other in 0..project.drives.len() {
                    if other != index {
                        others = others.min(near_lever(&project, other, piece));
                    } else if number > 0 {
                        // The lead starts right before the tip of its own lever.
                        own = own.min(near_lever(&project, other, piece));
                    }
                }
            }
            by_own += u32::from(own < others);
            let margin = own.min(others) - radius;
            assert!((margin - found).abs() < 0.02, "{found} {margin}");
            near += u32::from(margin > 0.0 && margin < 20.0);
            fouls += u32::from(margin < 0.0);
        }
    }
    assert!(
        near > 20 && fouls > 10 && by_own > 20,
        "{near} {fouls} {by_own}"
    );
}

#[test]
fn a_bracket_keeps_from_levers_of_others_what_its_sleeve_does_in_every_pose() {
    /// Length of a bracket's sleeve, and its wall, mm.
    const SLEEVE: [f64; 2] = [6.0, 2.0];
    let mut random = Random::new(163);
    let (mut by_lever, mut fouls, mut compared) = (0, 0, 0);
    while compared < 100 {
        let mut project = random_head(&mut random);
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        // So much is wanted that each bracket's finding names what is nearest.
        project.limits.hardware = Some((0.0, 900.0).into());
        let laid = Laid::out(&project);
        let report = evaluate(&project);
        for (index, drive) in project.drives.iter().enumerate() {
            let Ok(pull) = &laid.drives[index].pull else {
                continue;
            };
            let mut found = report.findings.iter();
            let found = found.find(|found| found.id == "hardware" && found.part == drive.name);
            let Some(found) = found else {
                continue;
            };
            let sleeve = Piece::straight(pull.stop, pull.stop - pull.along * SLEEVE[0]);
            let others = (0..project.drives.len()).filter(|other| *other != index);
            let gaps = others.map(|other| near_lever(&project, other, &sleeve));
            let least = gaps.fold(f64::INFINITY, f64::min);
            let least = least - drive.cable.sheath_diameter / 2.0 - SLEEVE[1];
            let value = found.value.expect("a gap");
            assert!(value < least + 0.02, "{value} {least} {found:?}");
            if found.sentence.contains("lever") {
                assert!(value > least - 0.02, "{value} {least} {found:?}");
                by_lever += 1;
                fouls += u32::from(found.state == State::Fouls);
            }
            compared += 1;
        }
    }
    assert!(by_lever > 20 && fouls > 5, "{by_lever} {fouls}");
}

/// A stalk of the pair, turned to the side and up: a line from the ball's surface to the tip, and what lies round it, mm.
fn stalk_posed(project: &Project, eye: usize, tip: Vector, [side, lift]: [f64; 2]) -> Rounded {
    let [x, y] = project.eyes[eye].centre;
    let start = scaled(tip, 20.0 / dot(tip, tip).sqrt());
    let line = [start, tip].map(|at| add([x, y, 4.0], to_side(lifted(at, lift), side)));
    (line, HALF[1])
}

/// A rod from eye to eye and its driver's stalk, in a pose. None where it gets stuck.
fn rod_posed(project: &Project, laid: &Laid, [own, other]: [f64; 2]) -> Option<[Rounded; 2]> {
    let linkage = laid.rods[0].as_ref().ok()?;
    let follower = linkage.at(Pose { own, other })?;
    let rod = &project.rods[0];
    let driver = stalk_posed(project, 0, rod.driver_tip, [own, other]);
    let follower = stalk_posed(project, 1, rod.follower_tip, [follower.own, other]);
    Some([([driver.0[1], follower.0[1]], rod.diameter / 2.0), driver])
}

/// A line from place to place, and what lies round it, mm.
type Rounded = ([Vector; 2], f64);

/// Something in poses that are spread over both turns; None where it gets stuck in one.
fn over<T>(
    turns: [[f64; 2]; 2],
    posed: impl Fn([f64; 2]) -> Option<T>,
) -> Option<Vec<([f64; 2], T)>> {
    let [own, other] = turns.map(|[low, high]| spread(low, high));
    let poses = other.flat_map(|other| own.clone().map(move |own| [own, other]));
    poses.map(|pose| Some((pose, posed(pose)?))).collect()
}

/// The ranges of a rod's poses: both turns together, or each while the other rests.
fn rod_ranges(project: &Project) -> Vec<[[f64; 2]; 2]> {
    let [side, lift] = [project.gaze.side, project.gaze.lift]
        .map(|turn| [-turn.0.to_radians(), turn.0.to_radians()]);
    if project.gaze.together {
        vec![[side, lift]]
    } else {
        vec![[side, [0.0; 2]], [[0.0; 2], lift]]
    }
}

/// A rod between the eyes' side turns and sheaths that end behind the eyes, where rods and their levers are.
fn with_rod(random: &mut Random) -> Project {
    let mut project = random_head(random);
    project
        .drives
        .retain(|drive| matches!(drive.moves, Moves::Lid { .. }));
    project.gaze.side = Degrees(random.between(8.0, 32.0));
    project.gaze.lift = Degrees(random.between(0.0, 16.0));
    project.gaze.together = !random.one_in(4);
    let mut tip = || {
        [
            random.between(-6.0, 6.0),
            random.between(-14.0, 14.0),
            random.between(-38.0, -26.0),
        ]
    };
    let [driver_tip, follower_tip] = [tip(), tip()];
    project.rods = vec![Rod {
        follower_tip,
        ..rod(side_of(0), side_of(1), driver_tip)
    }];
    for drive in &mut project.drives {
        drive.exit = [
            random.between(-24.0, 24.0),
            random.between(-30.0, 30.0),
            random.between(-55.0, -28.0),
        ];
    }
    project
}

#[test]
fn sheaths_keep_from_rods_what_places_along_them_do_in_every_pose() {
    let mut random = Random::new(162);
    let (mut near, mut fouls, mut heads) = (0, 0, 0);
    while heads < HEADS {
        let project = with_rod(&mut random);
        let laid = Laid::out(&project);
        let spread: Vec<_> = rod_ranges(&project)
            .into_iter()
            .map(|turns| (turns, over(turns, |pose| rod_posed(&project, &laid, pose))))
            .collect();
        if spread.iter().any(|(_, posed)| posed.is_none()) {
            continue;
        }
        let follows = laid.rods[0].as_ref().unwrap().follows.clone().unwrap();
        let report = evaluate(&project);
        for (index, route, radius, found) in sheaths(&laid, &report) {
            // Of the rod and its driver's stalk, and of its follower's, which may stand anywhere in both its ranges.
            let mut of_each = [f64::INFINITY; 3];
            let mut of_lids = f64::INFINITY;
            let off = |(ends, round): &Rounded, place| off_segment(place, ends[0], ends[1]) - round;
            for (number, piece) in route.pieces.iter().enumerate() {
                for (turns, posed) in spread.iter().filter_map(|(t, p)| Some((t, p.as_ref()?))) {
                    for line in 0..2 {
                        let turned = |pose| rod_posed(&project, &laid, pose);
                        let off = |lines: &[Rounded; 2], place| off(&lines[line], place);
                        let near = near_posed(piece, posed, *turns, turned, off);
                        of_each[line] = of_each[line].min(near);
                    }
                    let side = if turns[0][0] < turns[0][1] {
                        follows
                    } else {
                        [0.0; 2]
                    };
                    let turns = [side, turns[1]];
                    let tip = project.rods[0].follower_tip;
                    let turned = |pose| Some(stalk_posed(&project, 1, tip, pose));
                    let posed = over(turns, turned).expect("it turns freely");
                    of_each[2] = of_each[2].min(near_posed(piece, &posed, turns, turned, off));
                }
                for other in (0..project.drives.len()).filter(|&other| other != index || number > 0)
                {
                    of_lids = of_lids.min(near_lever(&project, other, piece));
                }
            }
            let margin = of_each.into_iter().fold(of_lids, f64::min) - radius;
            assert!((margin - found).abs() < 0.02, "{found} {margin}");
            near += u32::from(of_each[0] < of_lids.min(of_each[1]).min(of_each[2]));
            fouls += u32::from(of_each[0] < radius);
        }
        heads += 1;
    }
    assert!(near > 8 && fouls > 3, "{near} {fouls}");
}

/// A pair with one stalk behind an eye, whose sheath leaves for `exit` round `via`.
fn with_stalk(exit: [f64; 3], via: &[[f64; 3]]) -> Project {
    let mut project = lidded_pair();
    project.gaze.lift = Degrees(8.0);
    let mut cable = project.drives[0].cable;
    cable.least_bend_radius = 4.0;
    let like = &project.drives[0];
    project.drives = vec![Drive {
        cable,
        name: "left gaze".to_owned(),
        moves: Moves::Gaze {
            eye: 0,
            turn: Turn::Side,
        },
        tip: [0.0, 0.0, -30.0],
        near: End::High,
        via: via.to_vec(),
        exit,
        ..like.clone()
    }];
    project
}

fn of_lever(project: &Project) -> Finding {
    let findings = evaluate(project).findings.into_iter();
    let mut of_lever = findings.filter(|finding| finding.id == "sheath_lever");
    of_lever.next().expect("there is a lever")
}

#[test]
fn a_sheath_that_comes_back_past_its_own_lever_fouls_it_and_its_lead_does_not() {
    // The stop stands 2 mm before the tip, a lever's half width less than its own from it.
    let away = of_lever(&with_stalk([-95.0, -10.0, -34.0], &[]));
    assert_eq!(away.state, State::Clear, "{away:?}");
    let back = of_lever(&with_stalk(
        [-10.0, -10.0, -28.0],
        &[[-70.0, 14.0, -28.0], [-45.0, 14.0, -28.0]],
    ));
    assert_eq!(back.state, State::Fouls, "{back:?}");
    let said = "The sheath of the left gaze stands in the way of the lever of the left gaze.";
    assert_eq!(back.sentence, said);
}

#[test]
fn two_cables_at_one_tip_count_its_lever_as_their_own() {
    let mut project = with_stalk([-95.0, -10.0, -34.0], &[]);
    let alone = of_lever(&project);
    let mut lift = project.drives[0].clone();
    lift.name = "left lift".to_owned();
    lift.moves = Moves::Gaze {
        eye: 0,
        turn: Turn::Lift,
    };
    project.drives.push(lift);
    let with_other = of_lever(&project);
    assert_eq!(with_other.value, alone.value);
    // Lower on the same stalk it is another's.
    project.drives[1].tip[2] = -29.0;
    let elsewhere = of_lever(&project);
    assert_eq!(elsewhere.state, State::Fouls, "{elsewhere:?}");
}
