//! Rods against other rods, in poses that are really turned.

use layout::drive::{Moves, Turn};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::space::{Vector, add, less, lifted, off_segment, scaled, to_side};
use crate::common::{Random, chained_eyes, finding, rod, rodded_pair, side_of};

/// How far the two ways of looking may part, mm.
const AGREED: f64 = 0.02;

/// Steps by which each turn is looked over.
const STEPS: i32 = 12;

fn lift_of(eye: usize) -> Moves {
    let turn = Turn::Lift;
    Moves::Gaze { eye, turn }
}

/// The ends of two rods.
type TwoRods = [[Vector; 2]; 2];

/// Those ends where turns have been made, if both rods reach.
type EndsAt<'a> = dyn Fn(&[f64]) -> Option<TwoRods> + 'a;

/// A number of turns, and the ends of two rods in each pose.
struct Poses<'a> {
    ranges: Vec<[f64; 2]>,
    ends: Box<EndsAt<'a>>,
}

/// The ends of a rod between gazes where its driver has made a turn, and both eyes the other one.
fn ends(project: &Project, laid: &Laid, index: usize, own: f64, other: f64) -> Option<[Vector; 2]> {
    let followed = laid.rods[index].as_ref().ok()?.at(Pose { own, other })?;
    let rod = &project.rods[index];
    let end = |moves: Moves, tip, own| {
        let (side, lift) = match moves {
            Moves::Gaze {
                turn: Turn::Side, ..
            } => (own, other),
            Moves::Gaze { .. } | Moves::Lid { .. } => (other, own),
        };
        let [x, y] = project.eyes[moves.eye()].centre;
        add([x, y, 4.0], to_side(lifted(tip, lift), side))
    };
    Some([
        end(rod.driver, rod.driver_tip, own),
        end(rod.follower, rod.follower_tip, followed.own),
    ])
}

/// Distance between two straight ways. Along the one, the distance from the other first falls and then rises.
fn apart([one, other]: [[Vector; 2]; 2]) -> f64 {
    let at = |share: f64| {
        off_segment(
            add(one[0], scaled(less(one[1], one[0]), share)),
            other[0],
            other[1],
        )
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if at(a) < at(b) {
            high = b;
        } else {
            low = a;
        }
    }
    at((low + high) / 2.0)
}

/// The number of digits of the base three that there are numbers of `digits` of.
fn threes(digits: usize) -> usize {
    (0..digits).fold(1, |product, _| product * 3)
}

/// How near two middle lines come: in a grid of poses, and from the best on by steps along and aslant to all turns,
/// which are halved where none leads nearer. None if a rod does not reach.
fn nearest(poses: &Poses) -> Option<f64> {
    let mut at = vec![0_i32; poses.ranges.len()];
    let mut best = (Vec::new(), f64::INFINITY);
    let spans: Vec<f64> = poses.ranges.iter().map(|[low, high]| high - low).collect();
    'poses: loop {
        let turns = at.iter().zip(&poses.ranges).zip(&spans);
        let turns: Vec<f64> = turns
            .map(|((at, range), span)| range[0] + span * f64::from(*at) / f64::from(STEPS))
            .collect();
        let off = apart((poses.ends)(&turns)?);
        if off < best.1 {
            best = (turns, off);
        }
        for (at, span) in at.iter_mut().zip(&spans) {
            *at += 1;
            if *at <= STEPS && *span > 0.0 {
                continue 'poses;
            }
            *at = 0;
        }
        break;
    }
    let mut share = 1.0 / f64::from(STEPS);
    while share > 1e-6 {
        let ways = 0..threes(spans.len());
        let next = ways.filter_map(|way| {
            let (mut way, mut turns) = (way, best.0.clone());
            for ((turn, [low, high]), span) in turns.iter_mut().zip(&poses.ranges).zip(&spans) {
                let step = [0.0, 1.0, -1.0][way % 3] * share * span;
                *turn = (*turn + step).max(*low).min(*high);
                way /= 3;
            }
            let off = apart((poses.ends)(&turns)?);
            Some((turns, off))
        });
        let next = next.min_by(|a, b| a.1.total_cmp(&b.1))?;
        if next.1 < best.1 - 1e-9 {
            best = next;
        } else {
            share /= 2.0;
        }
    }
    Some(best.1)
}

/// Checks what is found of two rods, in both orders in the file, against the nearest of some poses. If that is what one of
/// them is told to come nearest to, whether they touch.
fn compare(project: &Project, all: &[Poses]) -> Option<bool> {
    let nearest: Option<Vec<f64>> = all.iter().map(nearest).collect();
    let nearest = nearest?.into_iter().fold(f64::INFINITY, f64::min);
    let [one, other] = [0, 1].map(|rod| project.rods[rod].diameter / 2.0);
    let margin = nearest - one - other;
    let names = ["first link", "second link"];
    let found = |project: &Project| {
        let report = evaluate(project);
        names.map(|name| {
            let found = finding(&report, Rule::RodClear, name);
            (found.value.expect("it follows"), found.sentence.clone())
        })
    };
    // What is nearest is only told of what is not clear.
    let mut wide = project.clone();
    wide.limits.rod_clear = Some((-1e3, 1e3).into());
    let own = found(&wide);
    wide.rods.swap(0, 1);
    let swapped = found(&wide);
    let mut told = false;
    for (((own, sentence), (swapped, theirs)), other) in
        own.into_iter().zip(swapped).zip(names.iter().rev())
    {
        // How deep something runs into something else has several peaks, of which one is found.
        let agreed = if own.min(margin) < -1.0 { 0.1 } else { AGREED };

        // Something else may be nearer.
        assert!(own < margin + agreed, "{own} {margin}");
        // The other's levers are told as levers of it.
        let of_other = ["near", "into"].map(|verb| format!("{verb} the {other}."));
        if of_other.iter().any(|end| sentence.ends_with(end)) {
            // How far an eye's other turn goes can depend on which rod comes first: levers may be nearer in one order.
            if of_other.iter().any(|end| theirs.ends_with(end)) {
                assert!((own - swapped).abs() < agreed, "{own} {swapped}");
            }
            assert!((own - margin).abs() < agreed, "{own} {margin}");
            told = true;
        }
    }
    told.then_some(margin < 0.0)
}

/// A tip far behind an eye.
fn tip(random: &mut Random) -> Vector {
    [
        random.between(-8.0, 8.0),
        random.between(-13.0, 13.0),
        random.between(-52.0, -43.0),
    ]
}

/// Rods between some parts, their tips anywhere far behind the eyes.
fn with_rods(random: &mut Random, mut project: Project, parts: [[Moves; 2]; 2]) -> Project {
    project.drives.clear();
    let rods = parts.into_iter().zip(["first link", "second link"]);
    project.rods = rods
        .map(|([driver, follower], name)| {
            let mut rod = rod(driver, follower, tip(random));
            rod.follower_tip = tip(random);
            rod.name = name.to_owned();
            rod.diameter = random.between(0.8, 3.0);
            rod
        })
        .collect();
    project.gaze.side = Degrees(random.between(5.0, 22.0));
    project.gaze.lift = Degrees(random.between(2.0, 14.0));
    project.gaze.together = !random.one_in(3);
    project
}

fn turns(project: &Project) -> [[f64; 2]; 2] {
    [project.gaze.side, project.gaze.lift].map(|turn| [-turn.0.to_radians(), turn.0.to_radians()])
}

const REST: [f64; 2] = [0.0; 2];

/// The ranges of both turns in which a character uses them: together, or each with the other at rest.
fn ranges(project: &Project) -> Vec<Vec<[f64; 2]>> {
    let [side, lift] = turns(project);
    if project.gaze.together {
        vec![vec![side, lift]]
    } else {
        vec![vec![side, REST], vec![REST, lift]]
    }
}

/// Whether a rod cannot move its follower over its driver's whole turn.
fn gets_stuck(laid: &Laid) -> bool {
    laid.rods.iter().flatten().any(|rod| rod.follows.is_err())
}

#[test]
fn two_rods_between_the_same_eyes_keep_apart_by_what_is_found() {
    let mut random = Random::new(411);
    let mut seen = [0; 2];
    while seen[0] + seen[1] < 40 {
        let project = rodded_pair();
        // Which eye drives the lift does not matter.
        let lifts = if random.one_in(2) { [0, 1] } else { [1, 0] };
        let parts = [[side_of(0), side_of(1)], lifts.map(lift_of)];
        let project = with_rods(&mut random, project, parts);
        let laid = Laid::out(&project);
        let poses = |ranges| Poses {
            ranges,
            ends: Box::new(|turns| {
                Some([
                    ends(&project, &laid, 0, turns[0], turns[1])?,
                    ends(&project, &laid, 1, turns[1], turns[0])?,
                ])
            }),
        };
        let all: Vec<Poses> = ranges(&project).into_iter().map(poses).collect();
        if gets_stuck(&laid) {
            continue;
        }
        if let Some(touches) = compare(&project, &all) {
            seen[usize::from(touches)] += 1;
        }
    }
    assert!(seen[0] > 8 && seen[1] > 4, "{seen:?}");
}

#[test]
fn rods_of_a_chain_keep_apart_as_one_follows_the_other() {
    let mut random = Random::new(412);
    let mut seen = [0; 2];
    while seen[0] + seen[1] < 30 {
        let mut project = chained_eyes();
        project.eyes.truncate(3);
        // Or both follow one.
        let driver = random.below(2);
        let parts = [[0, 1], [driver, 2]].map(|eyes| eyes.map(side_of));
        let project = with_rods(&mut random, project, parts);
        let laid = Laid::out(&project);
        if gets_stuck(&laid) {
            continue;
        }
        let poses = |ranges| Poses {
            ranges,
            ends: Box::new(|turns| {
                let [own, other] = [turns[0], turns[1]];
                let first = laid.rods[0].as_ref().ok()?;
                let next = if driver == 1 {
                    first.at(Pose { own, other })?.own
                } else {
                    own
                };
                Some([
                    ends(&project, &laid, 0, own, other)?,
                    ends(&project, &laid, 1, next, other)?,
                ])
            }),
        };
        let all: Vec<Poses> = ranges(&project).into_iter().map(poses).collect();
        if let Some(touches) = compare(&project, &all) {
            seen[usize::from(touches)] += 1;
        }
    }
    assert!(seen[0] > 5 && seen[1] > 2, "{seen:?}");
}

#[test]
fn rods_that_have_nothing_to_do_with_each_other_keep_apart_in_all_their_poses() {
    let mut random = Random::new(413);
    let mut seen = [0; 2];
    while seen[0] + seen[1] < 12 {
        let parts = [[0, 2], [1, 3]].map(|eyes| eyes.map(side_of));
        let mut project = with_rods(&mut random, chained_eyes(), parts);
        project.gaze.together = true;
        let laid = Laid::out(&project);
        if gets_stuck(&laid) {
            continue;
        }
        let [side, lift] = turns(&project);
        let all = [Poses {
            ranges: vec![side, lift, side, lift],
            ends: Box::new(|turns| {
                Some([
                    ends(&project, &laid, 0, turns[0], turns[1])?,
                    ends(&project, &laid, 1, turns[2], turns[3])?,
                ])
            }),
        }];
        if let Some(touches) = compare(&project, &all) {
            seen[usize::from(touches)] += 1;
        }
    }
    assert!(seen[0] > 1 && seen[1] > 1, "{seen:?}");
}

/// The pair with a rod for the side turn, and one for the lift, whose tips lie at these heights.
fn crossing(heights: [f64; 2]) -> Project {
    let mut project = rodded_pair();
    project.drives.clear();
    let side = rod(side_of(0), side_of(1), [0.0, 0.0, -45.0]);
    let [driver, follower] = heights.map(|height| [0.0, height, -45.0]);
    let mut lift = rod(lift_of(0), lift_of(1), driver);
    lift.follower_tip = follower;
    lift.name = "lifter".to_owned();
    project.rods = vec![side, lift];
    project.gaze.lift = Degrees(8.0);
    project
}

#[test]
fn a_rod_that_another_runs_into_is_told_by_its_name() {
    let said = |project: &Project, name: &str| {
        let found = finding(&evaluate(project), Rule::RodClear, name).clone();
        (found.state, found.sentence)
    };
    let project = crossing([10.0, -10.0]);
    let of_side = "The link runs into the lifter.".to_owned();
    assert_eq!(said(&project, "link"), (State::Fouls, of_side));
    let of_lift = "The lifter runs into the link.".to_owned();
    assert_eq!(said(&project, "lifter"), (State::Fouls, of_lift));
    assert_eq!(said(&crossing([35.0, 15.0]), "link").0, State::Clear);
}

#[test]
fn rods_that_hang_in_one_hole_do_not_run_into_each_other_there() {
    let mut project = crossing([0.0, -20.0]);
    // So much is wanted that what is nearest is told: the other's lever on the other eye.
    project.limits.rod_clear = Some((0.0, 900.0).into());
    let found = finding(&evaluate(&project), Rule::RodClear, "link").clone();
    assert!(found.value.unwrap() > 5.0, "{found:?}");
    let said = "The link comes near the lever of the lifter.";
    assert_eq!(found.sentence, said);
}

#[test]
fn a_rod_of_lids_is_held_against_one_of_gazes_in_every_pose_of_both() {
    let mut project = crossing([0.0, -20.0]);
    let upper = |eye| Moves::Lid {
        eye,
        which: Which::Upper,
    };
    project.rods[1].driver = upper(0);
    project.rods[1].follower = upper(1);
    let found = |project: &Project| {
        let found = finding(&evaluate(project), Rule::RodClear, "lifter").clone();
        (found.value.unwrap(), found.sentence)
    };
    // Its levers stand outside the lids; shut and open, they point at about half past four and seven o'clock.
    project.rods[1].driver_tip = [0.0, -40.0, -20.0];
    project.rods[1].follower_tip = [0.0, -32.0, -36.0];
    let (value, sentence) = found(&project);
    let laid = Laid::out(&project);
    let linkage = laid.rods[1].as_ref().unwrap();
    let [shut, open] = linkage.driver_range;
    let mut least = f64::INFINITY;
    for lid in 0..=200 {
        let own = shut + (open - shut) * f64::from(lid) / 200.0;
        let lids: [Vector; 2] = linkage
            .ends_at(Pose { own, other: 0.0 })
            .map(|at| [at.x, at.y, at.z]);
        let [[_, side], [_, lift]] = turns(&project);
        for step in 0..=400 {
            let (own, other) = (
                side * (f64::from(step % 21) / 10.0 - 1.0),
                lift * (f64::from(step / 21) / 9.5 - 1.0),
            );
            let gazes = ends(&project, &laid, 0, own, other).unwrap();
            least = least.min(apart([lids, gazes]));
        }
    }
    let margin = least - 1.2;
    if sentence.ends_with("into the link.") || sentence.ends_with("near the link.") {
        assert!((value - margin).abs() < 0.1, "{value} {margin}");
    } else {
        assert!(value < margin + AGREED, "{value} {margin}");
    }
}
