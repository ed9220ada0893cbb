//! The guard and what else moves before it: levers of lids and rods, place by place in poses that are really turned.

use layout::drive::{End, Moves};
use layout::guard::Guard;
use layout::hand::{GuardAxis, Hand};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::space::{Vector, add, dot, led_on, less, lifted, scaled, to_side};
use crate::common::{Random, finding, lidded_pair, rod, rodded_pair, side_of};
use crate::guard::{Section, across, hand};

/// Poses of a turn, and places along a lever or a rod.
const POSES: i32 = 150;
const PLACES: i32 = 150;

/// How far apart the two ways of looking may be, mm: places lie up to 0.3 mm apart.
const ROUGH: f64 = 0.2;

/// Half of a lever's width, mm.
const HALF_WIDTH: f64 = 2.5;

/// How much farther from its middle line the corner of a lever 3 mm thick lies than half of its width, mm.
const CORNER: f64 = 0.42;

fn spread(low: f64, high: f64, count: i32) -> impl Iterator<Item = f64> {
    (0..=count).map(move |step| low + (high - low) * f64::from(step) / f64::from(count))
}

/// How far a place is from the mesh; how deep it is where the hand is, negative.
pub(crate) fn off_guard(hand: &Hand, thickness: f64, place: Vector) -> f64 {
    let section = Section::of(hand, thickness);
    let point = across(hand.guard_axis, place.into());
    let along = match hand.guard_axis {
        GuardAxis::Y => place[1],
        GuardAxis::X => place[0],
    };
    let gap = section.gap(point);
    let within = [
        -gap,
        section.edge.y - point.y,
        section.edge.x - point.x.abs(),
        hand.guard_length / 2.0 - along.abs(),
    ];
    let deep = within.into_iter().fold(f64::INFINITY, f64::min);
    if deep > 0.0 {
        return -deep;
    }
    gap.abs()
        .hypot((along.abs() - hand.guard_length / 2.0).max(0.0))
}

fn least(project: &Project, places: impl Iterator<Item = Vector>) -> f64 {
    let off = places.map(|place| off_guard(&project.hand, project.plate.thickness, place));
    off.fold(f64::INFINITY, f64::min)
}

/// A guard that what stands as far out as `out` and as far behind as `depth` may meet.
fn near_guard(random: &mut Random, out: f64, depth: f64) -> Hand {
    loop {
        let mut hand = hand(random);
        hand.guard_length = random.between(30.0, 160.0);
        let reach = hand.guard_chord.max(hand.guard_length) / 2.0;
        if reach > out - 15.0 && hand.guard_edge < depth && Guard::of(&hand, 3.0).is_ok() {
            return hand;
        }
    }
}

#[test]
fn levers_of_lids_keep_from_the_guard_what_places_on_them_do_in_every_pose() {
    let mut random = Random::new(411);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..60 {
        let mut project = lidded_pair();
        project.drives.truncate(1);
        let drive = &mut project.drives[0];
        drive.moves = Moves::Lid {
            eye: 0,
            which: Which::Upper,
        };
        drive.near = End::Closed;
        drive.tip = [
            random.between(-32.0, -27.0),
            random.between(-20.0, 20.0),
            random.between(-35.0, -12.0),
        ];
        project.hand = near_guard(&mut random, 56.0, 30.0);
        let drive = &project.drives[0];
        let lids = project.parts.lids.unwrap();
        let lid = lids.upper.unwrap();
        let turn = (lid.open.0 - lid.closed.0).to_radians();
        let [x, y] = project.eyes[drive.moves.eye()].centre;
        let root = [x + drive.tip[0], y, 4.0];
        let arm = [0.0, drive.tip[1], drive.tip[2]];
        let places = spread(0.0, turn, POSES).flat_map(|turn| {
            let arm = lifted(arm, turn);
            spread(0.0, 1.0, PLACES).map(move |share| add(root, scaled(arm, share)))
        });
        let expected = least(&project, places) - HALF_WIDTH;
        let part = format!("lever of the {}", drive.name);
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &part);
        let value = found.value.unwrap();
        // How deep it is where the hand is, is measured on the line round what it passes alone.
        if expected > -HALF_WIDTH {
            let nearer = expected - value;
            assert!(
                (-ROUGH..CORNER + ROUGH).contains(&nearer),
                "{value} {expected}"
            );
        } else {
            assert!(value < -HALF_WIDTH + ROUGH, "{value} {expected}");
        }
        let least = report.figures.hand.guard_clearance_mm.unwrap();
        assert!(least <= value);
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
    }
    assert!(clear > 10 && fouls > 10, "{clear} {fouls}");
}

#[test]
fn rods_keep_from_the_guard_what_places_along_them_do_in_every_pose() {
    let mut random = Random::new(412);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..60 {
        let mut project = rodded_pair();
        project.drives.clear();
        project.gaze.lift = Degrees(0.0);
        project.gaze.side = Degrees(random.between(5.0, 25.0));
        let tip = [
            0.0,
            random.between(-14.0, 14.0),
            random.between(-40.0, -26.0),
        ];
        project.rods = vec![rod(side_of(0), side_of(1), tip)];
        project.hand = near_guard(&mut random, 30.0, 30.0);
        let laid = Laid::out(&project);
        let linkage = laid.rods[0].as_ref().unwrap();
        let side = project.gaze.side.0.to_radians();
        let places = spread(-side, side, POSES).flat_map(|own| {
            let [from, to]: [Vector; 2] = linkage.ends_at(Pose { own, other: 0.0 }).map(Into::into);
            spread(0.0, 1.0, 2 * PLACES).map(move |share| add(from, scaled(less(to, from), share)))
        });
        let expected = least(&project, places) - project.rods[0].diameter / 2.0;
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &project.rods[0].name);
        let value = found.value.unwrap();
        assert!((value - expected).abs() < ROUGH, "{value} {expected}");
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
    }
    assert!(clear > 10 && fouls > 10, "{clear} {fouls}");
}

/// How near a gaze's lever comes to the guard over ranges of side and lift, from its middle line: in poses and at
/// places that are spread, and from the best on by steps that are halved where none leads nearer.
fn near_stalk(project: &Project, tip: Vector, ranges: [[f64; 2]; 2]) -> f64 {
    const SPREAD: i32 = 30;
    let [x, y] = project.eyes[0].centre;
    let ball = 20.0 / dot(tip, tip).sqrt();
    let off = |[side, lift, share]: [f64; 3]| {
        let at = to_side(lifted(scaled(tip, share), lift), side);
        least(project, std::iter::once(add([x, y, 4.0], at)))
    };
    let [sides, lifts] = ranges.map(|[low, high]| spread(low, high, SPREAD).collect::<Vec<_>>());
    let mut best = ([0.0; 3], f64::INFINITY);
    for &side in &sides {
        for &lift in &lifts {
            for share in spread(ball, 1.0, SPREAD) {
                let at = [side, lift, share];
                let here = off(at);
                if here < best.1 {
                    best = (at, here);
                }
            }
        }
    }
    let bounds = [ranges[0], ranges[1], [ball, 1.0]];
    let steps = bounds.map(|[low, high]| (high - low) / f64::from(SPREAD));
    led_on(best, bounds, (steps, 1e-7), off)
}

#[test]
fn levers_of_gazes_keep_from_the_guard_what_places_on_them_do_in_every_pose() {
    let mut random = Random::new(413);
    let (mut clear, mut fouls, mut behind) = (0, 0, 0);
    for _ in 0..100 {
        let mut project = lidded_pair();
        project.drives.truncate(1);
        project.gaze.side = Degrees(random.between(5.0, 30.0));
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        project.gaze.together = random.one_in(2);
        let tip = [
            random.between(-16.0, 16.0),
            random.between(-20.0, 20.0),
            random.between(-38.0, -20.0),
        ];
        project.drives[0].moves = side_of(0);
        project.drives[0].tip = tip;
        project.hand = near_guard(&mut random, 30.0, 30.0);
        let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| {
            let most = turn.0.to_radians();
            [-most, most]
        });
        let ranges = if project.gaze.together {
            vec![[side, lift]]
        } else {
            vec![[side, [0.0; 2]], [[0.0; 2], lift]]
        };
        let near = ranges.into_iter().map(|own| near_stalk(&project, tip, own));
        let expected = near.fold(f64::INFINITY, f64::min) - HALF_WIDTH;
        let part = format!("lever of the {}", project.drives[0].name);
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &part);
        let value = found.value.unwrap();
        assert!((value - expected).abs() < 0.02, "{value} {expected}");
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
        behind += u32::from(value < -HALF_WIDTH);
    }
    assert!(
        clear > 10 && fouls > 10 && behind > 3,
        "{clear} {fouls} {behind}"
    );
}
